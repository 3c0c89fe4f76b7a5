// A service of its own for a test file, on a free port of this machine.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { createServer } from "node:net";
import { fileURLToPath } from "node:url";

const COMMAND = fileURLToPath(new URL("../../.venv/bin/mendgauge", import.meta.url));

/** Return a port that is free now. */
export async function freePort() {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  server.close();
  await once(server, "close");
  return port;
}

/** Start the service, and return its address and how to stop it.
 * @param {{port?: number, env?: Record<string, string>}} [options] */
export async function started({ port, env = {} } = {}) {
  const at = port ?? (await freePort());
  const settings = { ...process.env, MENDGAUGE_LOG_LEVEL: "error", MENDGAUGE_DRAIN_SECONDS: "0", ...env };
  const child = spawn(COMMAND, ["serve", "--port", String(at)], { env: settings, stdio: "inherit" });
  const address = `http://127.0.0.1:${at}`;
  for (;;) {
    if (child.exitCode !== null) throw new Error(`the service ended with ${child.exitCode}`);
    const ready = await fetch(`${address}/health/ready`).catch(() => undefined);
    if (ready?.ok) break;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return {
    address,
    port: at,
    async stop() {
      const ended = once(child, "exit");
      child.kill("SIGTERM");
      await ended;
    },
  };
}
