// Writes the types of the document, `node typescript/types.mjs mendgauge.ts`. Words that a later version may add to keep
// their completion in an editor, and stay text to the compiler: `"repair" | "replace" | (string & {})`.
import { readFileSync, writeFileSync } from "node:fs";
import openapiTS, { astToString } from "openapi-typescript";
import ts from "typescript";

const { factory } = ts;
const anyText = factory.createIntersectionTypeNode([
  factory.createKeywordTypeNode(ts.SyntaxKind.StringKeyword),
  factory.createTypeLiteralNode([]),
]);

function openWords(schema) {
  const words = schema["x-extensible-enum"];
  if (!words || schema.type !== "string") return undefined;
  const literals = words.map((word) => factory.createLiteralTypeNode(factory.createStringLiteral(word)));
  return factory.createUnionTypeNode([...literals, anyText]);
}

const published = JSON.parse(readFileSync(new URL("../openapi.json", import.meta.url), "utf-8"));
// What has a default may be left out of a request.
const types = await openapiTS(published, { defaultNonNullable: false, transform: openWords });
writeFileSync(process.argv[2], astToString(types));
