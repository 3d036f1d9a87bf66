// Where to go from an answer: the sheet to take along, and how the part is proved.

import { h } from "../shared/dom.js";

const GOES_ON = new Set(["straight", "with_parts", "rewire"]);

/** The address of the job sheet, from the top of the site. `seat` is `family/seat`, `off` the number that came off. */
export function jobUrl(seat, fit, off) {
  return `job/?${new URLSearchParams({ seat, fit, off })}`;
}

/** Links for one candidate, or null where it must not be fitted. */
export function nextSteps(one, seat, off, view) {
  if (!GOES_ON.has(one.verdict) || one.group === "withdrawn") return null;
  return h(
    "p",
    { class: "steps noprint" },
    h("a", { class: "button", href: view.to(jobUrl(seat, one.number, off)) }, "Job sheet"),
    " ",
    h("a", { class: "button button--quiet", href: view.to(`prove/?${new URLSearchParams({ part: one.number, seat })}`) }, "Prove it"),
    " ",
    h("a", { class: "button button--quiet", href: view.to(`lever/?${new URLSearchParams({ part: one.number, seat })}`) }, "Slide the lever"),
  );
}

/** A link to a candidate laid over the part that the vehicle came with, wire by wire. */
export function besideLink(one, seat, cameWith, view) {
  return h("p", { class: "noprint" }, h("a", { href: view.to(`compare/?${new URLSearchParams({ a: cameWith, b: one.number, seat })}`) }, `Lay it over ${cameWith}, wire by wire`));
}
