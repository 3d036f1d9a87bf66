// Records as they stand in an entry: for each part its contacts as they were metered, what was tried, and the source of the two. Pure.

import { itemLines, stated } from "../write/yaml.js";

/** @import { Front, Value } from "../write/fields.js" */
/** @import { Kept, Metered } from "./keep.js" */

/** Families in the order of their records, each with its own. @param {Kept[]} records @returns {[family: string, records: Kept[]][]} */
export function byFamily(records) {
  /** @type {Map<string, Kept[]>} */
  const found = new Map();
  for (const one of records) found.set(one.family, [...(found.get(one.family) ?? []), one]);
  return [...found];
}

/** The items under `parts` that records of one family come to, a part once. @param {Kept[]} records @returns {Front[]} */
export function partsOf(records) {
  /** @type {Map<string, Kept[]>} */
  const found = new Map();
  for (const one of records) found.set(one.part, [...(found.get(one.part) ?? []), one]);
  return [...found].map(([number, its]) => {
    const metered = its.filter((one) => one.measured?.contacts.length);
    /** @type {Value[]} */
    const contacts = metered.at(-1)?.measured?.contacts.map(contactOf) ?? [];
    const part = stated(["number", number], ["contacts", contacts], ["fitted", its.flatMap((one) => triedOf(one) ?? [])], ["sources", metered.map(sourceOf)]);
    return part ?? new Map();
  });
}

/** @param {Kept} one @returns {Front | undefined} */
function triedOf({ outcome, on, by, vehicle, note }) {
  return outcome ? stated(["on", on], ["by", by], ["vehicle", vehicle], ["outcome", outcome], ["note", note]) : undefined;
}

/** @param {Kept} one @returns {Front} */
function sourceOf({ measured, on, by }) {
  return stated(["kind", "seen"], ["detail", measured?.detail], ["by", by], ["on", on], ["for", ["contacts"]]) ?? new Map();
}

/** @param {Metered} one @returns {Front} */
function contactOf({ pins, closed, overlaps, one_way, ohms, tolerance_percent, rated_a }) {
  /** @type {Front} */
  const made = new Map([["pins", pins]]);
  // Closed nowhere is an empty list, and stays.
  if (closed) made.set("closed", closed);
  for (const [key, value] of stated(["overlaps", overlaps], ["one_way", one_way], ["ohms", ohms && new Map(ohms)], ["tolerance_percent", tolerance_percent], ["rated_a", rated_a]) ?? []) made.set(key, value);
  return made;
}

/** What goes into the list `parts:` of one family's file. @param {Kept[]} records */
export const textOf = (records) => `${partsOf(records).flatMap((one) => itemLines(one, 2, true)).join("\n")}\n`;

/** All of them as one text, with the file that each piece goes into. @param {Kept[]} records */
export const wholeText = (records) => byFamily(records).map(([family, its]) => `# entries/switches/${family}.md\nparts:\n${textOf(its)}`).join("\n");
