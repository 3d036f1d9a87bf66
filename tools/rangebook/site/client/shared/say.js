// What is said on the screen: whole messages of one catalogue, with named placeholders. It stands in `words/`, by rooms, so that a page
// loads no other words than its own: who says something imports the words of its room.

import { LANGUAGE, SHARED } from "../words/shared.js";

/** @import { Child } from "./dom.js" */
/** @import { Id, Message, Values } from "../types/say.js" */

const PLURAL = new Intl.PluralRules(LANGUAGE);
const LIST = new Intl.ListFormat(LANGUAGE, { type: "conjunction" });
const PLACE = /\{(\w+)\}/;

/** @type {Record<string, Message>} */
const known = { ...SHARED };

/** Make the words of a room known. @template {Record<string, Message>} const W @param {W} words @returns {W} */
export function speak(words) {
  Object.assign(known, words);
  return words;
}

/** @param {Id} id @param {Record<string, unknown>} given @returns {string} */
function message(id, given) {
  const found = known[id];
  return typeof found === "string" ? found : (found[PLURAL.select(Number(given.count))] ?? found.other);
}

/**
 * A message as text.
 * @template {Id} K
 * @param {K} id
 * @param {Values<K, string | number>} values
 * @returns {string}
 */
export function say(id, ...values) {
  /** @type {Record<string, string | number>} */
  const given = values[0] ?? {};
  return message(id, given)
    .split(PLACE)
    .map((one, at) => (at % 2 ? given[one] : one))
    .join("");
}

/**
 * A message in pieces, for where something else than text stands in it: a number, a link, a sign.
 * @template {Id} K
 * @param {K} id
 * @param {Values<K, Child | number>} values
 * @returns {Child[]}
 */
export function phrase(id, ...values) {
  /** @type {Record<string, Child | number>} */
  const given = values[0] ?? {};
  return message(id, given)
    .split(PLACE)
    .map((one, at) => (at % 2 ? worded(given[one]) : one));
}

/** @param {Child | number} value @returns {Child} */
const worded = (value) => (typeof value === "number" ? String(value) : value);

/** `a`, `a and b`, `a, b and c`. @param {Iterable<string>} words */
export const listed = (words) => LIST.format(words);

/** The same of pieces: numbers, links. @param {readonly Child[]} pieces @returns {Child[]} */
export const listing = (pieces) => LIST.formatToParts(pieces.map((_, at) => String(at))).map((part) => (part.type === "element" ? pieces[Number(part.value)] : part.value));

/** A number with the language's own signs for thousands. @param {number} count */
export const figure = (count) => count.toLocaleString(LANGUAGE);
