// Values as front matter, as `rangebook new` writes them: one line for what is short, a line for each item of a list, quotes only where a
// reader would take the text for something else. Mappings are Maps or arrays of pairs, so that keys like `2` stay where they were put.

const WIDEST = 120;
const PLAIN = /^[\p{L}\p{N}][\p{L}\p{N}_ ./()+%;*=°<>$-]*$/u;
const PLAIN_IN_BLOCK = /^[\p{L}\p{N}][\p{L}\p{N}_ ./()+%;*=°<>$,'-]*$/u;
const MEANT_OTHERWISE = new Set(["y", "n", "yes", "no", "on", "off", "true", "false", "null"]);

const isMap = (value) => value instanceof Map;

/** One value; `inside` brackets, where commas part items. */
export function scalar(value, inside = false) {
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return String(value);
  const plain = (inside ? PLAIN : PLAIN_IN_BLOCK).test(value) && !value.endsWith(" ");
  return plain && !(value.length > 1 && MEANT_OTHERWISE.has(value.toLowerCase())) ? value : JSON.stringify(value);
}

const keyOf = (text) => (PLAIN.test(text) && !text.endsWith(" ") ? text : JSON.stringify(text));

/** A value on one line. */
export function flow(value) {
  if (isMap(value)) return `{${[...value].map(([key, inner]) => `${keyOf(key)}: ${flow(inner)}`).join(", ")}}`;
  if (Array.isArray(value)) return `[${value.map(flow).join(", ")}]`;
  return scalar(value, true);
}

/** `key` with its value as lines, indented by so many spaces. */
export function lines(key, value, indent = 0) {
  const space = " ".repeat(indent);
  const name = keyOf(key);
  if (!isMap(value) && !Array.isArray(value)) return [`${space}${name}: ${scalar(value)}`];
  if (fitsALine(value, `${space}${name}: `)) return [`${space}${name}: ${flow(value)}`];
  if (isMap(value)) return [`${space}${name}:`, ...[...value].flatMap(([inner, one]) => lines(inner, one, indent + 2))];
  return [`${space}${name}:`, ...value.flatMap((one) => itemLines(one, indent + 2))];
}

/** One item of a list as lines, the first with its dash; `whole` gives each key of a mapping a line in any case. */
export function itemLines(value, indent, whole = false) {
  const space = " ".repeat(indent);
  const short = depth(value) <= 2 && flow(value).length + indent <= WIDEST + 30;
  if (!isMap(value) || !value.size || (short && !whole)) return [`${space}- ${flow(value)}`];
  const [first, ...rest] = [...value].flatMap(([key, one]) => lines(key, one, indent + 2));
  return [`${space}- ${first.trim()}`, ...rest];
}

/** A whole entry. */
export function entryText(front, prose = "") {
  const top = [...front].flatMap(([key, value]) =>
    key === "parts" ? ["parts:", ...value.flatMap((one) => itemLines(one, 2, true))] : lines(key, value),
  );
  return `---\n${top.join("\n")}\n---\n${prose ? `\n${prose}\n` : ""}`;
}

function fitsALine(value, before) {
  const inner = isMap(value) ? [...value.values()] : value;
  if (!inner.some((one) => isMap(one) || Array.isArray(one))) return true;
  if (!isMap(value)) return false;
  return Math.max(...inner.map(depth)) <= 1 && !inner.some(isMap) && before.length + flow(value).length <= WIDEST;
}

function depth(value) {
  if (!isMap(value) && !Array.isArray(value)) return 0;
  return 1 + Math.max(0, ...(isMap(value) ? [...value.values()] : value).map(depth));
}
