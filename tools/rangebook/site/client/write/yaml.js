// Values as front matter, as `rangebook new` writes them: one line for what is short, a line for each item of a list, quotes only where a
// reader would take the text for something else. Mappings are Maps, so that keys like `2` stay where they were put.

import { Figure } from "./figure.js";

/** @import { Front, Value } from "./fields.js" */

const WIDEST = 120;
const PLAIN = /^[\p{L}\p{N}][\p{L}\p{N}_ ./()+%;*=°<>$-]*$/u;
const PLAIN_IN_BLOCK = /^[\p{L}\p{N}][\p{L}\p{N}_ ./()+%;*=°<>$,'-]*$/u;
const MEANT_OTHERWISE = new Set(["y", "n", "yes", "no", "on", "off", "true", "false", "null"]);

/** @param {Value} value @returns {value is Front} */
const isMap = (value) => value instanceof Map;

/** One value; `inside` brackets, where commas part items. @param {string | number | boolean | Figure} value @param {boolean} [inside] */
export function scalar(value, inside = false) {
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (value instanceof Figure) return value.typed;
  if (typeof value === "number") return String(value);
  const plain = (inside ? PLAIN : PLAIN_IN_BLOCK).test(value) && !value.endsWith(" ");
  return plain && !(value.length > 1 && MEANT_OTHERWISE.has(value.toLowerCase())) ? value : JSON.stringify(value);
}

/** @param {string} text */
const keyOf = (text) => (PLAIN.test(text) && !text.endsWith(" ") ? text : JSON.stringify(text));

/** A value on one line. @param {Value} value @returns {string} */
export function flow(value) {
  if (isMap(value)) return `{${[...value].map(([key, inner]) => `${keyOf(key)}: ${flow(inner)}`).join(", ")}}`;
  if (Array.isArray(value)) return `[${value.map(flow).join(", ")}]`;
  return scalar(value, true);
}

/** `key` with its value as lines, indented by so many spaces. @param {string} key @param {Value} value @param {number} [indent] @returns {string[]} */
export function lines(key, value, indent = 0) {
  const space = " ".repeat(indent);
  const name = keyOf(key);
  if (!isMap(value) && !Array.isArray(value)) return [`${space}${name}: ${scalar(value)}`];
  if (fitsALine(value, `${space}${name}: `)) return [`${space}${name}: ${flow(value)}`];
  if (isMap(value)) return [`${space}${name}:`, ...[...value].flatMap(([inner, one]) => lines(inner, one, indent + 2))];
  return [`${space}${name}:`, ...value.flatMap((one) => itemLines(one, indent + 2))];
}

/** One item of a list as lines, the first with its dash; `whole` gives each key of a mapping a line in any case. @param {Value} value @param {number} indent @param {boolean} [whole] @returns {string[]} */
export function itemLines(value, indent, whole = false) {
  const space = " ".repeat(indent);
  const short = depth(value) <= 2 && flow(value).length + indent <= WIDEST + 30;
  if (!isMap(value) || !value.size || (short && !whole)) return [`${space}- ${flow(value)}`];
  const [first, ...rest] = [...value].flatMap(([key, one]) => lines(key, one, indent + 2));
  return [`${space}- ${first.trim()}`, ...rest];
}

/** A whole entry. @param {Front} front @param {string} [prose] */
export function entryText(front, prose = "") {
  const top = [...front].flatMap(([key, value]) =>
    key === "parts" && Array.isArray(value) ? ["parts:", ...value.flatMap((one) => itemLines(one, 2, true))] : lines(key, value),
  );
  return `---\n${top.join("\n")}\n---\n${prose ? `\n${prose}\n` : ""}`;
}

/** What a mapping or a list holds. @param {Value} value */
const innerOf = (value) => (value instanceof Map ? [...value.values()] : Array.isArray(value) ? value : []);

/** @param {Value} value @param {string} before */
function fitsALine(value, before) {
  const inner = innerOf(value);
  if (!inner.some((one) => isMap(one) || Array.isArray(one))) return true;
  if (!isMap(value)) return false;
  return Math.max(...inner.map(depth)) <= 1 && !inner.some(isMap) && before.length + flow(value).length <= WIDEST;
}

/** @param {Value} value @returns {number} */
function depth(value) {
  if (!isMap(value) && !Array.isArray(value)) return 0;
  return 1 + Math.max(0, ...innerOf(value).map(depth));
}

/** A list of which somebody says that nothing is in it; any other empty one says nothing. @type {Value[]} */
export const NONE = [];

/** A Map of what is stated, in the order given; undefined where nothing is. @param {[key: string, value: Value | undefined][]} pairs @returns {Front | undefined} */
export function stated(...pairs) {
  /** @type {Front} */
  const kept = new Map();
  for (const [key, value] of pairs) {
    const empty = value === undefined || (Array.isArray(value) && !value.length && value !== NONE) || (value instanceof Map && !value.size);
    if (!empty) kept.set(key, value);
  }
  return kept.size ? kept : undefined;
}
