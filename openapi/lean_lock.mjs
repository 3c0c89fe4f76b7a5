// Keeps in package-lock.json only what pins a package: no address to fetch it from, nobody to pay for it.
import { readFileSync, writeFileSync } from "node:fs";

const path = new URL("package-lock.json", import.meta.url);
const lock = JSON.parse(readFileSync(path, "utf8"));
for (const entry of Object.values(lock.packages)) {
  for (const name of ["resolved", "funding", "deprecated"]) delete entry[name];
}
writeFileSync(path, `${JSON.stringify(lock, null, 2)}\n`);
