// A number has its unit: in its own name, in a field `unit` beside it, or in the name of its schema (`Minutes`).
export default function numberHasItsUnit(properties, { units, exempt }, { path }) {
  const schema = path[path.length - 2];
  const named = (name) => units.some((unit) => `_${name}_`.includes(`_${unit}_`));
  if ("unit" in properties || named(lastWord(schema))) return [];
  return Object.entries(properties)
    .filter(([name, field]) => isNumber(field) && !named(name) && !(`${schema}.${name}` in exempt))
    .map(([name]) => ({
      message: `${schema}.${name} is a number without a unit: put one of ${units.join(", ")} into its name`,
      path: [...path, name],
    }));
}

function isNumber(field) {
  // A multiple of 1 counts something, and a count has no unit.
  return field.type === "number" ? field.multipleOf !== 1 : (field.anyOf ?? []).some(isNumber);
}

function lastWord(schema) {
  return schema.match(/[A-Z][a-z]*$/)?.[0].toLowerCase() ?? "";
}
