// Keeps in a lock file only what pins a package: no address to fetch it from, nobody to pay for it. The lock is that of
// this folder, or the one that is named.
import { readFileSync, writeFileSync } from "node:fs";

const path = process.argv[2] ?? new URL("package-lock.json", import.meta.url);
const lock = JSON.parse(readFileSync(path, "utf8"));
for (const entry of Object.values(lock.packages)) {
  for (const name of ["resolved", "funding", "deprecated"]) delete entry[name];
}
writeFileSync(path, `${JSON.stringify(lock, null, 2)}\n`);
