// What comes next, where the thumb is: to order, to wire, to fit, to prove, to send.

import { fillAll, h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { jobUrl, mayBeFitted } from "./next_steps.js";
import "../words/answer.js";

/** @import { Candidate } from "../types/data.js" */
/** @typedef {{ to: (url: string) => string }} Way */

/** Null where nothing is to be fitted. @param {Candidate} one @param {string} seat @param {string} off @param {Way} view */
export function thumbBar(one, seat, off, view) {
  if (!mayBeFitted(one)) return null;
  const query = new URLSearchParams({ part: one.number, seat });
  /** @type {[string, string][]} */
  const steps = [
    ["#answer-order", say("answer.bar.order")],
    ["#answer-wires", say("answer.bar.wires")],
    [view.to(jobUrl(seat, one.number, off)), say("answer.bar.fit")],
    [view.to(`prove/?${query}`), say("answer.bar.prove")],
    ["#answer-send", say("answer.bar.send")],
  ];
  return h(
    "nav",
    { class: "thumb noprint", "aria-label": say("answer.bar") },
    steps.map(([href, words]) => h("a", { href, onclick: href.startsWith("#") ? (/** @type {MouseEvent} */ event) => within(event, href) : undefined }, words)),
  );
}

/** To a piece of this very page, which stays the answer that its address names. @param {MouseEvent} event @param {string} href */
function within(event, href) {
  fillAll();
  const place = document.querySelector(href);
  if (!(place instanceof HTMLElement)) return;
  event.preventDefault();
  if (place instanceof HTMLDetailsElement) place.open = true;
  place.scrollIntoView();
  const first = place.matches("[tabindex]") ? place : place.querySelector("summary, a, button, [tabindex]");
  if (first instanceof HTMLElement) first.focus({ preventScroll: true });
}
