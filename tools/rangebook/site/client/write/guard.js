// Where a path must not be: the positions and the words are the linter's own, as Python has put them into the data. Nothing is judged here
// but whether a position is on the list.

import { say } from "../shared/say.js";
import "../words/write.js";

/** @import { Guard } from "../types/data.js" */
/** @import { Front, Value } from "./fields.js" */

const OPEN = "open";
const HOUSING = "case";

/**
 * What the linter will say of a contact: for each end that the list of circuits guards, and each position in which the contact makes a
 * path and must not, once.
 * @param {Guard[]} guards
 * @param {Front} contact
 * @param {Map<string, Value | undefined>} circuits of the pins, by cavity
 * @param {string} part
 */
export function notThere(guards, contact, circuits, part) {
  const pins = contact.get("pins");
  if (!Array.isArray(pins)) return [];
  /** @type {string[]} */
  const found = [];
  const order = [...circuits.keys()];
  const [a, b] = pins.map(String).sort((one, other) => order.indexOf(one) - order.indexOf(other));
  for (const [own, other] of [[a, b], [b, a]]) {
    const guard = guards.find((one) => one.circuit === circuits.get(own));
    // Of two pins of one circuit the first is told of.
    if (!guard || (own === b && circuits.get(a) === guard.circuit)) continue;
    for (const position of pathIn(contact)) {
      const words = other === HOUSING ? guard.words_housing : guard.words;
      if (!guard.joined_in.includes(position)) found.push(filled(words, { part, position, own, other, circuit: String(circuits.get(other) || say("write.not_known")) }));
    }
  }
  return found;
}

/** The positions in which there is a path of whatever resistance. @param {Front} contact */
function pathIn(contact) {
  /** @param {string} key */
  const listed = (key) => {
    const one = contact.get(key);
    return Array.isArray(one) ? one.map(String) : [];
  };
  const ohms = contact.get("ohms");
  const read = ohms instanceof Map ? [...ohms].filter(([, value]) => value !== OPEN).map(([position]) => position) : [];
  return [...new Set([...listed("closed"), ...listed("overlaps"), ...read])];
}

/** @param {string} words @param {Record<string, string>} values */
const filled = (words, values) => words.replace(/\{(\w+)\}/g, (all, name) => values[name] ?? all);
