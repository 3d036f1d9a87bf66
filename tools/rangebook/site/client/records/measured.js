// What a meter showed, as contacts of the part. Which lines tell of which contacts was found out in Python (`rangebook.desk.metered`); what
// is stated stays where a reading agrees with it, so that nobody's 4.28 k takes the place of a nominal 4.3 k. Pure.

/** @import { MeteredState, ReadingRules, StatedContact } from "../types/data.js" */
/** @import { Metered } from "./keep.js" */
/** One line that was read in one position: the contacts in series between its ends, where on the lever, and whether it is as stated. @typedef {{ way: number[], at: number, ohms: number, fits: boolean }} Reading */

/** Ohms as a state: under the limit closed, over the other open. @param {number} ohms @param {ReadingRules} rules @returns {number | "open"} */
const stateOf = (ohms, rules) => (ohms < rules.closed_below ? 0 : ohms > rules.open_above ? "open" : ohms);

/**
 * What each contact does in each position, as far as the readings tell: closed, all contacts on the way are; of those that are left when
 * the closed ones are taken out, one alone has what was read.
 * @param {number} count @param {string[]} positions @param {Reading[]} readings @param {ReadingRules} rules
 */
function told(count, positions, readings, rules) {
  return positions.map((_, at) => {
    /** @type {Map<number, { state: number | "open", fits: boolean }>} */
    const found = new Map();
    const here = readings.filter((one) => one.at === at && one.way.every((contact) => contact < count));
    for (const { way, ohms, fits } of here) if (stateOf(ohms, rules) === 0) for (const contact of way) found.set(contact, { state: 0, fits });
    for (const { way, ohms, fits } of here) {
      const left = way.filter((contact) => found.get(contact)?.state !== 0);
      const state = stateOf(ohms, rules);
      if (left.length === 1 && state !== 0 && !found.has(left[0])) found.set(left[0], { state, fits });
    }
    return found;
  });
}

/**
 * The contacts of a part with what was read in the place of what was stated otherwise, or not at all; what was not read stays as it is
 * stated. `differs` are those that were stated otherwise, each with its positions; `unsettled` are readings that are not as stated and of which
 * nobody can tell which contact it is, by their places; nothing where no reading tells of a contact.
 * @param {StatedContact[]} stated @param {string[]} positions @param {Reading[]} readings @param {ReadingRules} rules
 * @returns {{ contacts: Metered[], differs: [pins: [string, string], positions: string[]][], unsettled: number[] } | null}
 */
export function measured(stated, positions, readings, rules) {
  const by = told(stated.length, positions, readings, rules);
  if (!by.some((one) => one.size)) return null;
  /** @type {[pins: [string, string], positions: string[]][]} */
  const differs = [];
  const contacts = stated.map(({ states, ...one }, contact) => {
    /** @type {string[]} */
    const other = [];
    const now = states.map((was, at) => {
      const read = by[at].get(contact);
      if (!read || (read.fits && was !== null)) return was;
      if (was !== null && was !== read.state) other.push(positions[at]);
      return read.state;
    });
    if (other.length) differs.push([one.pins, other]);
    return now.some((state, at) => state !== states[at]) ? written(one, positions, now) : one;
  });
  const unsettled = [...readings.keys()].filter((place) => {
    const { way, at, fits } = readings[place];
    return !fits && !way.some((contact) => by[at].get(contact)?.fits === false);
  });
  return { contacts, differs, unsettled };
}

/** A contact with other states than it had. @param {Metered} one @param {string[]} positions @param {MeteredState[]} now @returns {Metered} */
function written({ pins, one_way, tolerance_percent, rated_a, ohms }, positions, now) {
  /** @type {Metered} */
  const made = { pins };
  if (one_way) made.one_way = one_way;
  if (rated_a !== undefined) made.rated_a = rated_a;
  // A position that is not known can only be left out of a list of resistances: out of the other it would be open.
  if (ohms || now.some((state) => state === null || (typeof state === "number" && state > 0))) {
    made.ohms = positions.flatMap((position, at) => pairOf(position, now[at]));
    if (tolerance_percent !== undefined) made.tolerance_percent = tolerance_percent;
  } else made.closed = positions.filter((_, at) => now[at] === 0);
  return made;
}

/** @param {string} position @param {MeteredState} state @returns {[string, number | "open"][]} */
const pairOf = (position, state) => (state === null ? [] : [[position, state]]);
