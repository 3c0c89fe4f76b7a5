// The modules of the bench page are held to their types: those of the document, and of the library they are built with.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import openapiTS, { astToString } from "openapi-typescript";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const PAGE = join(HERE, "../../service/mendgauge/api/bench_page");
const STRICT = "--noEmit --allowJs --checkJs --strict --skipLibCheck --target ES2022 --module ES2022 --moduleResolution bundler".split(" ");

/** @type {string} */ let folder;

before(async () => {
  folder = mkdtempSync(join(tmpdir(), "page-types-"));
  cpSync(PAGE, folder, { recursive: true, filter: (path) => !path.endsWith("preact.js") });
  symlinkSync(join(HERE, "node_modules"), join(folder, "node_modules"));
  writeFileSync(join(folder, "preact.d.ts"), 'export * from "preact";\n');
  const published = JSON.parse(readFileSync(join(HERE, "../../openapi/openapi.json"), "utf8"));
  writeFileSync(join(folder, "api_types.d.ts"), astToString(await openapiTS(published, { defaultNonNullable: false })));
});
after(() => rmSync(folder, { recursive: true }));

/** Return what the compiler says of the modules. */
function compiled() {
  const compiler = join(HERE, "node_modules/typescript/bin/tsc");
  return spawnSync(process.execPath, [compiler, ...STRICT, "--lib", "ES2023,DOM,DOM.Iterable", "main.js"], { cwd: folder }).stdout.toString();
}

test("every module keeps to its types", () => assert.equal(compiled(), ""));

test("a field that the document does not have is noticed", () => {
  const path = join(folder, "answer.js");
  writeFileSync(path, readFileSync(path, "utf8").replace("state.check?.findings", "state.check?.discoveries"));
  assert.match(compiled(), /'discoveries' does not exist/);
});

test("the library is the one that the lock pins, unchanged", () => {
  const vendored = readFileSync(join(PAGE, "preact.js"));
  assert.ok(vendored.equals(readFileSync(join(HERE, "node_modules/preact/dist/preact.mjs"))));
});
