// What the schema has against an entry: the very files that the linter checks with, and their own words for what is expected.

import { Validator } from "../vendor/json-schema/index.js";

const TOLD = new Set(["required", "pattern", "enum", "const", "type", "minLength", "maxLength", "minItems", "maxItems", "minProperties", "maxProperties", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "additionalProperties"]);

/** `(kind, front) -> [{path, missing, expected}]`; `schemas` are the files by name. A front is a Map of Maps, arrays, texts, numbers and truth values. */
export function checkerOf(schemas) {
  const made = new Map();
  const of = (kind) => {
    if (!made.has(kind)) {
      const validator = new Validator(schemas[kind], "2020-12", false);
      validator.addSchema(schemas.common);
      made.set(kind, validator);
    }
    return made.get(kind);
  };
  return (kind, front) => {
    const found = new Map();
    for (const error of of(kind).validate(plain(front)).errors) {
      if (!TOLD.has(error.keyword)) continue;
      const path = error.instanceLocation.replace(/^#\/?/, "").split("/").filter(Boolean).map((one) => one.replaceAll("~1", "/").replaceAll("~0", "~"));
      if (error.keyword === "required") {
        const key = /"([^"]+)"/.exec(error.error)?.[1] ?? "";
        tell(found, schemas, kind, [...path, key], true);
      } else if (error.keyword !== "additionalProperties") tell(found, schemas, kind, path, false);
    }
    return [...found.values()];
  };
}

function tell(found, schemas, kind, path, missing) {
  const node = nodeAt(schemas, kind, path);
  const expected = node?.enum ? `one of ${node.enum.join(", ")}` : (node?.["x-expected"] ?? "").replaceAll("`", "");
  found.set(path.join("/"), { path, missing, expected });
}

/** The schema of the value at the end of a path, references followed. */
function nodeAt(schemas, kind, path) {
  let home = kind;
  const follow = (node) => {
    let over = {};
    while (node?.$ref) {
      const { $ref, ...beside } = node;
      over = { ...beside, ...over };
      const [file, pointer] = $ref.split("#");
      home = file.replace(/\.json$/, "") || home;
      node = pointer.split("/").filter(Boolean).reduce((at, step) => at?.[step], schemas[home]);
    }
    return node && { ...node, ...over };
  };
  let node = follow(schemas[kind]);
  for (const step of path) node = follow(node?.properties?.[step] ?? node?.items ?? (typeof node?.additionalProperties === "object" ? node.additionalProperties : undefined));
  return node;
}

/** Maps as plain objects. */
export function plain(value) {
  if (value instanceof Map) return Object.fromEntries([...value].map(([key, inner]) => [key, plain(inner)]));
  return Array.isArray(value) ? value.map(plain) : value;
}
