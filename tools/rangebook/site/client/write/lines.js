// Some lines of an entry put anew, and no other touched. Which lines say what Python has written down; no YAML is read here.

import { Figure } from "./figure.js";
import { itemLines, lines } from "./yaml.js";

/** @import { EntryLines, StatedLines, TypedValue } from "../types/data.js" */
/** @import { Front, Value } from "./fields.js" */
/** Lines that go in before a line, in the place of `gone` ones. @typedef {{ at: number, gone: number, put: string[] }} Change */

const COMMENT = /^\s*#/;

/** A value as it was typed, with Maps. @param {TypedValue} typed @returns {Value} */
export function asTyped(typed) {
  if (typeof typed === "string") return typed;
  return Array.isArray(typed) ? typed.map(asTyped) : new Map(typed.pairs.map(([key, one]) => [key, asTyped(one)]));
}

/** A value as data of text alone: whoever typed it, `12` is `12`, and yes is `yes`. @param {Value} value @returns {TypedValue} */
export function asData(value) {
  if (value instanceof Map) return { pairs: [...value].map(([key, one]) => [key, asData(one)]) };
  if (Array.isArray(value)) return value.map(asData);
  if (typeof value === "boolean") return value ? "yes" : "no";
  return value instanceof Figure ? value.typed : String(value);
}

/** A value as text that is the same for what says the same in the same order. @param {Value | undefined} value */
export const written = (value) => (value === undefined ? "" : JSON.stringify(asData(value)));

/** The same whatever stands first. @param {TypedValue} data @returns {unknown} */
function inAnyOrder(data) {
  if (typeof data === "string") return data;
  if (Array.isArray(data)) return data.every((one) => typeof one === "string") ? [...data].sort() : data.map(inAnyOrder);
  return data.pairs.map(([key, one]) => [key, inAnyOrder(one)]).sort();
}

/** Whether two values say the same, in whatever order. @param {Value | undefined} one @param {Value | undefined} other */
export const alike = (one, other) => one !== undefined && other !== undefined && JSON.stringify(inAnyOrder(asData(one))) === JSON.stringify(inAnyOrder(asData(other)));

/** The text with changes made, and the line ends that the file has. @param {EntryLines} entry @param {Change[]} changes */
function changed(entry, changes) {
  const all = entry.text.split("\n");
  // What takes the place of lines goes before what is put in above them.
  for (const { at, gone, put } of [...changes].sort((one, other) => other.at - one.at || other.gone - one.gone)) all.splice(at, gone, ...put);
  return all.join(entry.crlf ? "\r\n" : "\n");
}

/**
 * The whole entry with items at the end of lists, or keys at the end of mappings; undefined where one of them is not written with lines of
 * its own.
 * @param {EntryLines} entry
 * @param {[key: string, value: Value[] | Front][]} added
 */
export function withAdded(entry, added) {
  /** @type {Change[]} */
  const changes = [];
  for (const [key, value] of added.filter(([, one]) => (one instanceof Map ? one.size : one.length))) {
    const place = entry.places[key];
    if (!place) return undefined;
    const put = value instanceof Map ? [...value].flatMap(([name, one]) => lines(name, one, place.indent)) : value.flatMap((one) => itemLines(one, place.indent, key === "parts"));
    changes.push({ at: place.line, gone: 0, put: place.heading ? [`${key}:`, ...put] : put });
  }
  // Two that go in before one line stand in the order in which they are given.
  return changed(entry, changes.reverse());
}

/**
 * The whole entry with a part said anew. `was` is what the form said of the part before anybody typed, `now` what it says: where the two
 * are alike the lines stay as they are, and so does what the form cannot say (`unsaid`). `more` are items that come to the end of a list.
 * @param {EntryLines} entry
 * @param {string} number
 * @param {Front} was
 * @param {Front} now
 * @param {string[]} order the keys of a part, in their order
 * @param {Record<string, Value[]>} [more]
 */
export function withPart(entry, number, was, now, order, more = {}) {
  const part = entry.parts.find((one) => one.number === number);
  if (!part) return entry.text;
  const all = entry.text.split("\n");
  const silent = new Set(unsaid(entry, number, was));
  /** @type {Change[]} */
  const changes = [];
  for (const one of part.keys) {
    const added = more[one.key] ?? [];
    const say = now.get(one.key);
    const same = written(say) === written(was.get(one.key));
    if (added.length) changes.push(appended(entry, all, part.indent, one, added));
    else if (!same && !silent.has(one.key)) changes.push(anew(entry, all, part.indent, one, say));
  }
  const there = part.keys.map((one) => one.key);
  for (const key of order.filter((one) => !there.includes(one))) {
    const value = more[key]?.length ? more[key] : now.get(key);
    if (value === undefined || (!more[key]?.length && written(value) === written(was.get(key)))) continue;
    const before = part.keys.filter((one) => order.indexOf(one.key) < order.indexOf(key));
    const after = before.length ? Math.max(...before.map((one) => one.after)) : part.keys[0].after;
    changes.push({ at: after, gone: 0, put: lines(key, value, part.indent) });
  }
  return changed(entry, changes.reverse());
}

/** The keys of a part that the form cannot say as they stand. @param {EntryLines} entry @param {string} number @param {Front} was */
export function unsaid(entry, number, was) {
  const part = entry.parts.find((one) => one.number === number);
  return (part?.keys ?? []).filter((one) => !alike(asTyped(one.value), was.get(one.key))).map((one) => one.key);
}

/** The comments among lines, and behind them. @param {EntryLines} entry @param {string[]} all @param {number} first @param {number} after */
function commentsIn(entry, all, first, after) {
  const above = all.slice(first, after).filter((line) => COMMENT.test(line));
  const behind = Object.entries(entry.comments).filter(([line]) => Number(line) >= first && Number(line) < after);
  return { above, behind: behind.map(([, comment]) => comment) };
}

/** Lines with the comments that what they take the place of had. @param {{ above: string[], behind: string[] }} comments @param {string[]} put */
function commented({ above, behind }, put) {
  const [first, ...rest] = put;
  return first === undefined ? above : [...above, behind.length ? `${first} ${behind.join(" ")}` : first, ...rest];
}

/** @param {EntryLines} entry @param {string[]} all @param {number} indent @param {StatedLines} one @param {Value | undefined} value @returns {Change} */
function anew(entry, all, indent, one, value) {
  const { first, line, after } = one;
  const gone = after - first;
  if (value === undefined) return { at: first, gone, put: commentsIn(entry, all, first, after).above };
  if (!one.items.length || !Array.isArray(value) || !value.length) return { at: first, gone, put: commented(commentsIn(entry, all, first, after), asFirst(all, line, indent, lines(one.key, value, indent))) };
  const before = asTyped(one.value);
  const put = [...all.slice(first, one.items[0][0]), ...itemsAnew(entry, all, one, Array.isArray(before) ? before : [], value, dashOf(all, one))];
  return { at: first, gone, put };
}

/** Items of a list: what is still there keeps its lines, what is new comes in where it stands. @param {EntryLines} entry @param {string[]} all @param {StatedLines} one @param {Value[]} before @param {Value[]} value @param {number} dash */
function itemsAnew(entry, all, one, before, value, dash) {
  /** @type {string[]} */
  const put = [];
  let at = 0;
  const rest = (/** @type {Value[]} */ left) => before.findIndex((was, index) => index >= at && alike(was, left[0]));
  for (const [index, item] of value.entries()) {
    const found = rest(value.slice(index));
    if (found >= 0) {
      for (; at < found; at++) put.push(...commentsIn(entry, all, ...one.items[at]).above);
      put.push(...all.slice(...one.items[at]));
      at++;
    } else if (at < before.length && !value.slice(index + 1).some((later) => alike(before[at], later))) {
      put.push(...commented(commentsIn(entry, all, ...one.items[at]), itemLines(item, dash)));
      at++;
    } else put.push(...itemLines(item, dash));
  }
  for (; at < before.length; at++) put.push(...commentsIn(entry, all, ...one.items[at]).above);
  return put;
}

/** @param {EntryLines} entry @param {string[]} all @param {number} indent @param {StatedLines} one @param {Value[]} added @returns {Change} */
function appended(entry, all, indent, one, added) {
  if (one.items.length) return { at: one.after, gone: 0, put: added.flatMap((item) => itemLines(item, dashOf(all, one))) };
  const before = asTyped(one.value);
  return anew(entry, all, indent, one, [...(Array.isArray(before) ? before : []), ...added]);
}

/** How far the dashes of a list are indented. @param {string[]} all @param {StatedLines} one */
function dashOf(all, one) {
  const line = all.slice(...one.items[0]).find((text) => !COMMENT.test(text)) ?? "";
  return line.length - line.trimStart().length;
}

/** Lines of a key; of the first one of a part with its dash. @param {string[]} all @param {number} line @param {number} indent @param {string[]} put */
function asFirst(all, line, indent, put) {
  return [all[line].slice(0, indent) + put[0].slice(indent), ...put.slice(1)];
}
