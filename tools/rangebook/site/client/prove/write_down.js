// From the proof to a record: with one tap what was measured is kept on the device, as contacts with their source, ready to be sent.

import { keepRecords, keptRecords, newId, today, withRecord } from "../records/keep.js";
import { measured } from "../records/measured.js";
import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { expected, fits } from "./match.js";
import "../words/records.js";

/** @import { ProofPart, ReadingRules, Sheet } from "../types/data.js" */
/** @import { Kept } from "../records/keep.js" */
/** @import { Readings } from "./match.js" */
/** @typedef {{ part: ProofPart, family: string, sheet: Sheet, readings: Readings, rules: ReadingRules, seat: string }} Proved */

/**
 * What readings come to for the entry, nothing where they tell of no contact.
 * @param {ProofPart} part @param {Sheet} sheet @param {Readings} readings @param {ReadingRules} rules
 */
export function measuredOn(part, sheet, readings, rules) {
  const ways = new Map(sheet.tells);
  const read = readings.flatMap(([line, at, ohms]) => {
    const way = ways.get(line);
    const position = part.positions.indexOf(sheet.positions[at]);
    return way && position >= 0 ? [{ way, at: position, ohms, fits: fits(expected(sheet, line, at), ohms, rules) }] : [];
  });
  const found = measured(part.contacts, part.positions, read, rules);
  if (!found) return null;
  const detail = say("records.detail", { count: new Set(readings.map(([line]) => line)).size, positions: sheet.positions.join(" "), place: sheet.short });
  return { ...found, unsettled: found.unsettled.length, detail };
}

/**
 * Keep it, with the record of this part that has not been sent, if there is one; the way to the form with it in, nothing where there is
 * nothing to keep or this browser keeps nothing.
 * @param {Proved} proof
 */
function writeDown({ part, family, sheet, readings, rules, seat }) {
  const found = measuredOn(part, sheet, readings, rules);
  if (!found) return null;
  const all = keptRecords();
  const before = all.find((one) => one.part === part.number && one.measured && !one.sent);
  /** @type {Kept} */
  const one = { ...(before ?? { on: today() }), id: before?.id ?? newId(all), part: part.number, family, measured: found };
  return keepRecords(withRecord(all, one)) ? `records/?${new URLSearchParams({ id: one.id, ...(seat && { seat }) })}` : null;
}

/** The button that does it, with what was read by then. @param {() => Proved} now @param {(url: string) => string} to */
export function writeDownButton(now, to) {
  const says = h("span", { role: "status", "aria-live": "polite" });
  const press = () => {
    const proved = now();
    const way = writeDown(proved);
    if (way) location.assign(to(way));
    else says.textContent = say(proved.readings.length ? "records.tells_nothing" : "records.nothing_read");
  };
  return h("p", { class: "noprint" }, h("button", { class: "button button--quiet", type: "button", onclick: press, "data-write-down": true }, say("records.write_down")), " ", says);
}
