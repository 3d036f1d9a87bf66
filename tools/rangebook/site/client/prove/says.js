// The last word on a sheet, in one sentence and the causes.

import { h } from "../shared/dom.js";
import { end } from "../shared/one_part.js";
import { phrase, say } from "../shared/say.js";
import "../words/prove.js";

/** @import { Child } from "../shared/dom.js" */
/** @import { Proofs, Sheet } from "../types/data.js" */
/** @import { Told, explainTogether } from "./match.js" */

const MOST_CAUSES = 4;

/** @param {Proofs} data @param {Sheet} sheet @param {ReturnType<typeof explainTogether>} found what explains the readings @param {number} read @param {number} left */
export function says(data, sheet, found, read, left) {
  const all = read + left;
  /** @param {string} state @param {Child[]} pieces */
  const told = (state, ...pieces) => ({ state, pieces: [h("p", { "data-state": state }, pieces)] });
  if (!read) return told("", say("prove.to_take", { count: all }));
  const good = isGood(found.told);
  const causes = causesOf(found.told).map((one) => cause(data, one));
  if (good && left) return told("open", phrase("prove.so_far", { lead: h("b", {}, say("prove.so_far.lead")), read, all }));
  if (good && !causes.length && sheet.sure) return told("good", phrase("prove.good", { lead: h("b", {}, say("prove.good.lead")), all }));
  if (good) {
    const lead = h("b", {}, say("prove.partly.lead"));
    const faults = causes.slice(0, MOST_CAUSES).map((one) => one.what).join("; ");
    return told("open", sheet.notes.length ? phrase("prove.partly.listed", { lead }) : phrase("prove.partly.faults", { lead, faults }));
  }
  const lead = h("b", {}, say("prove.bad"));
  if (!causes.length) return told("bad", phrase("prove.bad.none", { lead }));
  const more = left ? say("prove.bad.left", { count: left }) : "";
  const [first, ...others] = causes;
  if (!others.length) return told("bad", h("b", {}, say("prove.bad.one", { fault: first.what })), " ", first.todo, more);
  const { state, pieces } = told("bad", phrase("prove.bad.count", { lead, count: causes.length, more }));
  const rest = causes.length - MOST_CAUSES;
  const list = h("ul", {}, causes.slice(0, MOST_CAUSES).map((one) => h("li", {}, say("prove.cause", { fault: one.what, todo: one.todo }))), rest > 0 && h("li", {}, say("prove.bad.rest", { count: rest })));
  const follow = found.next ? [h("p", {}, say("prove.next", { at: placeOf(sheet, ...found.next) }))] : [];
  return { state, pieces: [...pieces, list, ...follow] };
}

/** Whether nothing is wrong as far as was read. @param {Told[]} told */
export const isGood = (told) => told.some(({ kind }) => kind === "good" || kind === "not_proved");

/** What may be wrong. @param {Told[]} told */
export const causesOf = (told) => told.filter(({ kind }) => kind !== "good" && kind !== "not_proved");

/** @param {Sheet} sheet @param {number} line @param {number} at */
export function placeOf(sheet, line, at) {
  const [a, b] = sheet.lines[line];
  return say("prove.at", { pair: say("pair", { a: end(a), b: end(b) }), position: sheet.positions[at] });
}

/** A fault in words, or two of them: what it is, and what to do. @param {Proofs} data @param {Told} fault @returns {{ what: string, todo: string }} */
function cause(data, { kind, ends, of }) {
  if (of) {
    const [one, other] = of.map((each) => cause(data, each));
    return { what: say("prove.both", { one: one.what, other: other.what }), todo: one.todo };
  }
  const [what, todo] = data.faults[kind].map((text) => text.replace(/\{(\d)\}/g, (_, at) => end(ends[Number(at)])));
  return { what, todo };
}
