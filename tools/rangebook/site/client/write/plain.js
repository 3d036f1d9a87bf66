// The keys of the entry format that the form has no piece of its own for: what each is called and may be is what the schema says.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { nodeAt } from "./check.js";
import { figure, held, listOf, pick, row, same, several, split, text, textOf, textsOf } from "./fields.js";
import { figureOf } from "./figure.js";
import { NONE, stated } from "./yaml.js";
import "../words/write.js";

/** @import { SchemaNode } from "../types/data.js" */
/** @import { Kind, Schemas } from "./check.js" */
/** @import { Front, Stating, Value } from "./fields.js" */

const FIGURES = ["number", "integer"];
/** Asked for otherwise, or by hand. */
const NEVER = ["photos", "sources", "allow"];

/**
 * `way` are the keys and places that lead to the mapping, `own` the keys that are asked for elsewhere, with their values. `whole` puts
 * both together, in the order in which the keys stand in an entry. What is seldom stated is folded away, and what holds several things;
 * where it says under which words, all of it is.
 * @param {Schemas} schemas @param {Kind} kind @param {string[]} way @param {string[]} own @param {string} [words] @param {() => void} [changed]
 */
export function plainKeys(schemas, kind, way, own, words = "", changed = () => {}) {
  /** @type {Record<string, Stating<Value>>} */
  const asked = {};
  /** @type {Stating<Value>[]} */
  const often = [];
  /** @type {Stating<Value>[]} */
  const seldom = [];
  /** @type {Stating<Value>[]} */
  const wide = [];
  const order = Object.keys(nodeAt(schemas, kind, way)?.properties ?? {});
  // Where an engine cranks is known from somewhere of its own: only a source lets a module do it in gear.
  const never = way.includes("cranks") ? [] : way.length ? NEVER : ["kind", ...NEVER];
  for (const key of order.filter((one) => !own.includes(one) && !never.includes(one))) {
    const path = [...way, key];
    const line = pieceFor(schemas, kind, path);
    const piece = line ?? holderFor(schemas, kind, path, changed);
    if (!piece) continue;
    asked[key] = piece;
    (line ? (words || nodeAt(schemas, kind, path)?.["x-seldom"] ? seldom : often) : wide).push(piece);
  }
  /** @param {[string, Value | undefined][]} pairs */
  const whole = (...pairs) => {
    const all = [...pairs, ...Object.entries(asked).map(([key, one]) => pairOf(key, one.value()))];
    return stated(...all.sort(([a], [b]) => order.indexOf(a) - order.indexOf(b)));
  };
  const more = seldom.length || wide.length ? h("details", {}, h("summary", {}, words || say("write.seldom")), row(...seldom), wide.map((one) => one.element)) : "";
  return { element: h("div", {}, often.length ? row(...often) : "", more), whole, order, ...held(asked) };
}

/** @param {string} key @param {Value | undefined} value @returns {[string, Value | undefined]} */
const pairOf = (key, value) => [key, value];

/** What asks for one key; nothing where it is not one value or a list of such. @param {Schemas} schemas @param {Kind} kind @param {string[]} path @returns {Stating<Value> | undefined} */
function pieceFor(schemas, kind, path) {
  const node = nodeAt(schemas, kind, path);
  const words = labelOf(node, path);
  const help = helpOf(node);
  if (node?.type === "array") {
    const inner = nodeAt(schemas, kind, [...path, "0"]);
    if (inner?.type === "array" && isOneValue(nodeAt(schemas, kind, [...path, "0", "0"]))) {
      const line = text(words, { help: `${help} ${say("write.groups")}` });
      const none = () => line.value()?.trim().toLowerCase() === say("write.none");
      return { ...line, value: () => (none() ? NONE : split(line.value()).map((one) => split(one, /[+\s]+/))), from: (value) => (listOf(value).length ? listOf(value).map((one) => textsOf(one).join("+")).join(", ") : say("write.none")) };
    }
    if (!isOneValue(inner)) return undefined;
    const line = text(words, { help: `${help} ${say("write.commas")}` });
    return { ...line, value: () => listed(line.value(), FIGURES.includes(String(inner?.type))), from: commas };
  }
  if (isFigureOrRange(node)) {
    const line = text(words, { help: `${help} ${say("write.range")}` });
    return { ...line, value: () => rangeOf(line.value()), from: commas };
  }
  if (!isOneValue(node)) return undefined;
  if (node?.enum) return pick(words, same(node.enum.map(String)), { help });
  if (node?.type === "boolean") {
    const yes = pick(words, [["yes", say("write.connector.yes")], ["no", say("write.connector.no")]], { help });
    return { ...yes, value: () => yes.value() && yes.value() === "yes" };
  }
  return FIGURES.includes(String(node?.type)) ? figure(words, { help }) : text(words, { help });
}

/** What asks for a mapping, for a list of mappings, or for values by a name. @param {Schemas} schemas @param {Kind} kind @param {string[]} path @param {() => void} changed @returns {Stating<Value> | undefined} */
function holderFor(schemas, kind, path, changed) {
  const node = nodeAt(schemas, kind, path);
  const words = labelOf(node, path);
  const inner = nodeAt(schemas, kind, [...path, "0"]);
  if (node?.properties) return folded(words, () => mapping(schemas, kind, path, changed));
  if (node?.type === "object" && (isOneValue(inner) || inner?.anyOf) && !inner?.properties) {
    const line = text(words, { help: `${helpOf(node)} ${say("write.pairs")}` });
    return { ...line, value: () => pairsOf(line.value(), !isOneValue(inner) || FIGURES.includes(String(inner?.type))), from: (value) => (value instanceof Map ? [...value].map(([key, one]) => `${key}: ${textOf(one)}`).join(", ") : "") };
  }
  if (!inner?.properties) return undefined;
  const named = node?.type === "object";
  const list = several(
    { item: (at) => say("write.item", { what: words, at }), add: say("write.item.add", { what: words }), take: say("write.item.take") },
    () => (named ? byName(mapping(schemas, kind, [...path, "0"], changed)) : mapping(schemas, kind, [...path, "0"], changed)),
    changed,
  );
  return {
    ...list,
    value: () => {
      const items = list.value();
      return !items.length ? undefined : named ? new Map(items.flatMap((one) => (one instanceof Map ? [...one] : []))) : items;
    },
    from: (value) => (!(value instanceof Map) ? list.from(value) : [...value].map(([name, one]) => ({ name, piece: mapping(schemas, kind, [...path, "0"], changed).from?.(one) }))),
  };
}

/** @param {Schemas} schemas @param {Kind} kind @param {string[]} path @param {() => void} changed @returns {Stating<Front>} */
function mapping(schemas, kind, path, changed) {
  const made = plainKeys(schemas, kind, path, [], undefined, changed);
  return { ...made, value: () => made.whole() };
}

/** A mapping with the name that it has in another one. @param {Stating<Front>} piece @returns {Stating<Front>} */
function byName(piece) {
  const name = text(say("write.name"));
  return {
    element: h("div", {}, row(name), piece.element),
    value: () => {
      const [called, value] = [name.value(), piece.value()];
      return called && value ? new Map([[called, value]]) : undefined;
    },
    ...held({ name, piece }),
  };
}

/** A piece that is made when it is unfolded, or put back. @param {string} words @param {() => Stating<Front>} make @returns {Stating<Front>} */
function folded(words, make) {
  /** @type {Stating<Front> | undefined} */
  let made;
  const element = h("details", {}, h("summary", {}, words));
  const unfold = () => {
    if (!made) {
      made = make();
      element.append(made.element);
    }
    return made;
  };
  element.addEventListener("toggle", () => element.open && unfold());
  return {
    element,
    value: () => made?.value(),
    from: (value) => [make().from?.(value)],
    state: () => made && [made.state()],
    restore: async (state) => {
      const [was] = listOf(state);
      if (was === undefined) return;
      element.open = true;
      await unfold().restore(was);
    },
  };
}

/** @param {Value} value */
const commas = (value) => (Array.isArray(value) ? textsOf(value).join(", ") : textOf(value));

/** @param {SchemaNode | undefined} node */
const isOneValue = (node) => node !== undefined && (node.enum !== undefined || ["string", "boolean", ...FIGURES].includes(String(node.type)));

/** One number, or a least and a most. @param {SchemaNode | undefined} node */
const isFigureOrRange = (node) => Array.isArray(node?.anyOf) && node.anyOf.some((/** @type {SchemaNode} */ one) => FIGURES.includes(String(one.type)));

/** @param {string | undefined} typed @returns {Value | undefined} */
function rangeOf(typed) {
  const found = split(typed).map(figureOf);
  return found.length > 1 ? found : found[0];
}

/** `1: a, 2: b`; what is no pair is left for the check to tell. @param {string | undefined} typed @param {boolean} figures @returns {Front | undefined} */
function pairsOf(typed, figures) {
  /** @type {Front} */
  const found = new Map();
  for (const one of split(typed)) {
    const [key, ...rest] = one.split(/[:=]/).map((each) => each.trim());
    const value = rest.join(":");
    found.set(key, figures ? figureOf(value) : value);
  }
  return found.size ? found : undefined;
}

/** @param {string | undefined} typed @param {boolean} figures @returns {Value[] | undefined} */
const listed = (typed, figures) => (typed ? split(typed).map((one) => (figures ? figureOf(one) : one)) : undefined);

/** @param {SchemaNode | undefined} node */
const helpOf = (node) => String(node?.description ?? "").replaceAll("`", "");

/** What people call a key. @param {SchemaNode | undefined} node @param {string[]} path */
const labelOf = (node, path) => node?.["x-label"] ?? (path.at(-1) ?? "").replaceAll("_", " ");
