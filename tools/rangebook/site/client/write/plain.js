// The plain keys of the entry format that the form has no piece of its own for: what each is called and may be is what the schema says.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { nodeAt } from "./check.js";
import "../words/write.js";
import { figure, held, pick, row, same, split, stated, text } from "./fields.js";
import "../words/write.js";

/** @import { SchemaNode } from "../types/data.js" */
/** @import { Kind, Schemas } from "./check.js" */
/** @import { Stating, Value } from "./fields.js" */

const FIGURES = ["number", "integer"];

/**
 * `way` are the keys and places that lead to the mapping, `own` the keys that are asked for elsewhere, with their values. `whole` puts
 * both together, in the order in which the keys stand in an entry.
 * @param {Schemas} schemas @param {Kind} kind @param {string[]} way @param {string[]} own
 */
export function plainKeys(schemas, kind, way, own) {
  /** @type {Record<string, Stating<Value>>} */
  const asked = {};
  /** @type {Stating<Value>[]} */
  const often = [];
  /** @type {Stating<Value>[]} */
  const seldom = [];
  const order = Object.keys(nodeAt(schemas, kind, way)?.properties ?? {});
  for (const key of order.filter((one) => !own.includes(one))) {
    const piece = pieceFor(schemas, kind, [...way, key]);
    if (!piece) continue;
    asked[key] = piece;
    (nodeAt(schemas, kind, [...way, key])?.["x-seldom"] ? seldom : often).push(piece);
  }
  /** @param {[string, Value | undefined][]} pairs */
  const whole = (...pairs) => {
    const all = [...pairs, ...Object.entries(asked).map(([key, one]) => pairOf(key, one.value()))];
    return stated(...all.sort(([a], [b]) => order.indexOf(a) - order.indexOf(b)));
  };
  const more = seldom.length ? h("details", {}, h("summary", {}, say("write.seldom")), row(...seldom)) : "";
  return { element: h("div", {}, often.length ? row(...often) : "", more), whole, ...held(asked) };
}

/** @param {string} key @param {Value | undefined} value @returns {[string, Value | undefined]} */
const pairOf = (key, value) => [key, value];

/** What asks for one key; nothing where it is not one value or a list of such. @param {Schemas} schemas @param {Kind} kind @param {string[]} path @returns {Stating<Value> | undefined} */
function pieceFor(schemas, kind, path) {
  const node = nodeAt(schemas, kind, path);
  const words = labelOf(node, path);
  const help = String(node?.description ?? "").replaceAll("`", "");
  if (node?.type === "array") {
    const inner = nodeAt(schemas, kind, [...path, "0"]);
    if (!isOneValue(inner)) return undefined;
    const line = text(words, { help: `${help} ${say("write.commas")}` });
    return { ...line, value: () => listed(line.value(), FIGURES.includes(String(inner?.type))) };
  }
  if (!isOneValue(node)) return undefined;
  if (node?.enum) return pick(words, same(node.enum.map(String)), { help });
  if (node?.type === "boolean") {
    const yes = pick(words, [["yes", say("write.connector.yes")], ["no", say("write.connector.no")]], { help });
    return { ...yes, value: () => yes.value() && yes.value() === "yes" };
  }
  return FIGURES.includes(String(node?.type)) ? figure(words, { help }) : text(words, { help });
}

/** @param {SchemaNode | undefined} node */
const isOneValue = (node) => node !== undefined && (node.enum !== undefined || ["string", "boolean", ...FIGURES].includes(String(node.type)));

/** @param {string | undefined} typed @param {boolean} figures @returns {Value[] | undefined} */
const listed = (typed, figures) => (typed ? split(typed).map((one) => (figures && /^-?\d+(\.\d+)?$/.test(one) ? Number(one) : one)) : undefined);

/** What people call a key. @param {SchemaNode | undefined} node @param {string[]} path */
const labelOf = (node, path) => node?.["x-label"] ?? (path.at(-1) ?? "").replaceAll("_", " ");
