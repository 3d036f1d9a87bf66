// What the schema has against an entry: the very files that the linter checks with, and their own words for what is expected.

import { say } from "../shared/say.js";
import { Figure, figureOf } from "./figure.js";
import { Validator } from "../vendor/json-schema/index.js";
import "../words/write.js";

/** @import { SchemaNode, WriteData } from "../types/data.js" */
/** @import { Front, Value } from "./fields.js" */
/** @typedef {WriteData["schemas"]} Schemas */
/** @typedef {Exclude<keyof Schemas, "common">} Kind */
/** What is against a value: where it is, what people call that, whether it is not there, and what is expected. @typedef {{ path: string[], label: string, missing: boolean, expected: string }} Against */

const TOLD = new Set(["required", "pattern", "enum", "const", "type", "minLength", "maxLength", "minItems", "maxItems", "minProperties", "maxProperties", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"]);

/** What checks an entry of one kind. @param {Schemas} schemas @returns {(kind: Kind, front: Front) => Against[]} */
export function checkerOf(schemas) {
  /** @type {Map<Kind, Validator>} */
  const made = new Map();
  /** @param {Kind} kind */
  const of = (kind) => {
    const before = made.get(kind);
    if (before) return before;
    const validator = new Validator(schemas[kind], "2020-12", false);
    validator.addSchema(schemas.common);
    made.set(kind, validator);
    return validator;
  };
  /** @type {Map<string, boolean>} */
  const counted = new Map();
  /** Whether what stands at a place is a number, asked once of each. @param {Kind} kind @param {string[]} path */
  const counts = (kind, path) => {
    const key = [kind, ...path].join("/");
    const found = counted.get(key) ?? isFigure(nodeAt(schemas, kind, path));
    counted.set(key, found);
    return found;
  };
  return (kind, front) => {
    /** @type {Map<string, Against>} */
    const found = new Map();
    const whole = plain(front, (path) => counts(kind, path));
    for (const error of of(kind).validate(whole).errors) {
      if (!TOLD.has(error.keyword)) continue;
      const path = error.instanceLocation.replace(/^#\/?/, "").split("/").filter(Boolean).map((one) => one.replaceAll("~1", "/").replaceAll("~0", "~"));
      const missing = error.keyword === "required";
      for (const place of missing ? lacking(schemas, kind, path, whole) : [path]) {
        const node = nodeAt(schemas, kind, place);
        found.set(place.join("/"), { path: place, label: node?.["x-label"] ?? "", missing, expected: expectedOf(node) });
      }
    }
    return [...found.values()];
  };
}

/** The keys that the schema wants at the end of a path and that are not there. @param {Schemas} schemas @param {Kind} kind @param {string[]} path @param {unknown} whole */
function lacking(schemas, kind, path, whole) {
  /** @type {unknown} */
  let here = whole;
  for (const step of path) here = /** @type {Record<string, unknown>} */ (here)[step];
  const there = new Set(Object.keys(/** @type {object} */ (here)));
  return (nodeAt(schemas, kind, path)?.required ?? []).filter((key) => !there.has(key)).map((key) => [...path, key]);
}

/** @param {SchemaNode | undefined} node */
function expectedOf(node) {
  return node?.enum ? say("write.one_of", { values: node.enum.join(", ") }) : (node?.["x-expected"] ?? "").replaceAll("`", "");
}

/** The schema of the value at the end of a path, references followed. @param {Schemas} schemas @param {Kind} kind @param {string[]} path */
export function nodeAt(schemas, kind, path) {
  /** @type {Record<string, SchemaNode>} */
  const files = schemas;
  /** @type {string} */
  let home = kind;
  /** @param {SchemaNode | undefined} node */
  const follow = (node) => {
    let over = {};
    while (node?.$ref) {
      const { $ref, ...beside } = node;
      over = { ...beside, ...over };
      const [file, pointer] = $ref.split("#");
      home = file.replace(/\.json$/, "") || home;
      node = at(files[home], pointer.split("/").filter(Boolean));
    }
    if (!node) return undefined;
    // Of several ways to say it the one with keys of its own is the one that says all.
    const [full] = (node.anyOf ?? []).map((/** @type {SchemaNode} */ one) => [one, one.$ref ? at(files[one.$ref.split("#")[0].replace(/\.json$/, "") || home], one.$ref.split("#")[1].split("/").filter(Boolean)) : one]).filter(([, one]) => one?.properties);
    return { ...full?.[1], ...node, ...over };
  };
  let node = follow(schemas[kind]);
  for (const step of path) node = follow(node?.properties?.[step] ?? node?.items ?? (typeof node?.additionalProperties === "object" ? node.additionalProperties : undefined));
  return node;
}

/** What lies below a schema, by a pointer's steps; what is pointed at is a schema. @param {SchemaNode} node @param {string[]} steps @returns {SchemaNode | undefined} */
function at(node, steps) {
  const [step, ...rest] = steps;
  if (step === undefined) return node;
  const inner = node[step];
  return typeof inner === "object" && inner !== null ? at(/** @type {SchemaNode} */ (inner), rest) : undefined;
}

/** @param {SchemaNode | undefined} node */
const isFigure = (node) => [node, ...(node?.anyOf ?? [])].some((/** @type {SchemaNode | undefined} */ one) => one?.type === "number" || one?.type === "integer");

/**
 * Maps as plain objects, figures as the numbers that they are. What came from an entry is text; whether it `counts` as a number the schema
 * says of its place.
 * @param {Value} value @param {(path: string[]) => boolean} [counts] @param {string[]} [path] @returns {unknown}
 */
export function plain(value, counts = () => false, path = []) {
  if (value instanceof Figure) return Number(value.typed);
  if (typeof value === "string") return figureOf(value) instanceof Figure && counts(path) ? Number(value) : value;
  if (value instanceof Map) return Object.fromEntries([...value].map(([key, inner]) => [key, plain(inner, counts, [...path, key])]));
  return Array.isArray(value) ? value.map((one, at) => plain(one, counts, [...path, String(at)])) : value;
}
