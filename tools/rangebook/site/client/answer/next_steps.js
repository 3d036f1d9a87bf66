// Where to go from an answer: the sheet to take along, and how the part is proved.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";

/** @import { Candidate } from "../types/data.js" */
/** @typedef {{ to: (url: string) => string }} Way */

const GOES_ON = new Set(["straight", "with_parts", "rewire"]);

/** Whether a candidate may be fitted. @param {Pick<Candidate, "verdict" | "group">} one */
export const mayBeFitted = (one) => GOES_ON.has(one.verdict) && one.group !== "withdrawn";

/**
 * The address of the job sheet, from the top of the site. `seat` is `family/seat`, `off` the number that came off.
 * @param {string} seat
 * @param {string} fit
 * @param {string} off
 */
export function jobUrl(seat, fit, off) {
  return `job/?${new URLSearchParams({ seat, fit, off })}`;
}

/** Links for one candidate, or null where it must not be fitted. @param {Candidate} one @param {string} seat @param {string} off @param {Way} view */
export function nextSteps(one, seat, off, view) {
  if (!mayBeFitted(one)) return null;
  const query = new URLSearchParams({ part: one.number, seat });
  return h(
    "p",
    { class: "steps noprint" },
    h("a", { class: "button button--quiet", href: view.to(jobUrl(seat, one.number, off)) }, say("answer.link.job")),
    " ",
    h("a", { class: "button button--quiet", href: view.to(`prove/?${query}`) }, say("answer.link.prove")),
    " ",
    h("a", { class: "button button--quiet", href: view.to(`lever/?${query}`) }, say("answer.link.lever")),
  );
}

/** Where to write down what came of a candidate, whatever is computed of it. @param {{ number: string }} one @param {string} seat @param {Way} view */
export function recordLink(one, seat, view) {
  return h("p", { class: "noprint" }, h("a", { href: view.to(`records/?${new URLSearchParams({ part: one.number, ...(seat && { seat }) })}`), "data-record-link": true }, say("answer.link.record", { number: one.number })));
}

/** A link to a candidate laid over the part that the vehicle came with, wire by wire. @param {Candidate} one @param {string} seat @param {string} cameWith @param {Way} view */
export function besideLink(one, seat, cameWith, view) {
  const query = new URLSearchParams({ a: cameWith, b: one.number, seat });
  return h("p", { class: "noprint" }, h("a", { href: view.to(`compare/?${query}`) }, say("answer.link.compare", { number: cameWith })));
}
