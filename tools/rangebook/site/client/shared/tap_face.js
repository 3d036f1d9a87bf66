// The drawing of a connector's face to tap on: each cavity has something in it, has nothing, or cannot be told.

import { cavitiesOf, inCavity } from "./drawing.js";
import { drawingOf } from "./trusted.js";

/** @typedef {"true" | "false" | "mixed"} Pressed */
/** Labels that have something in them, and those that have nothing. @typedef {{ yes: string[], no: string[] }} Tapped */

/** @type {Record<Pressed, Pressed>} */
const NEXT = { mixed: "true", true: "false", false: "mixed" };
/** @type {Record<Pressed, string>} */
const STATE = { true: "pin", false: "empty", mixed: "bare" };
/** @type {Record<Pressed, string>} */
const SIGN = { mixed: "?", false: "–", true: "" };
/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * A face to tap on, from the text of a drawing. `words` say what it is and what a cavity is in each state; `value()` are the labels
 * that were tapped; `changed` is called after each tap. A tap, Enter or space goes on to the next of the three; the arrow keys go from
 * cavity to cavity.
 * @param {string} text
 * @param {{ label: string, yes: string, no: string, mixed: string }} words
 * @param {Partial<Tapped>} [start]
 * @param {() => unknown} [changed]
 */
export function tapFace(text, words, start = {}, changed = () => {}) {
  const element = drawingOf(text);
  // A picture has no parts for those who hear it; this one has.
  element.setAttribute("role", "group");
  element.removeAttribute("aria-labelledby");
  element.removeAttribute("aria-describedby");
  element.setAttribute("aria-label", words.label);
  for (const one of element.querySelectorAll(":scope > title, :scope > desc, [data-cavity] > title")) one.remove();
  element.classList.add("tap");
  /** @type {Record<Pressed, string>} */
  const called = { true: words.yes, false: words.no, mixed: words.mixed };
  const cavities = cavitiesOf(element).map((one) => {
    const sign = inCavity(one.element, "tap__mark rb-text", 9, "");
    sign.setAttribute("aria-hidden", "true");
    one.element.append(sign);
    return { ...one, sign, pressed: /** @type {Pressed} */ ("mixed") };
  });
  /** @typedef {typeof cavities[number]} Cavity */

  /** @param {Cavity} cavity @param {Pressed} pressed */
  const put = (cavity, pressed) => {
    cavity.pressed = pressed;
    cavity.element.setAttribute("aria-pressed", pressed);
    cavity.element.setAttribute("aria-label", `${cavity.label}: ${called[pressed]}`);
    for (const state of Object.values(STATE)) cavity.element.classList.toggle(`rb-cavity--${state}`, state === STATE[pressed]);
    cavity.sign.textContent = SIGN[pressed];
  };
  /** @param {Partial<Tapped>} tapped */
  const set = ({ yes = [], no = [] }) => {
    for (const cavity of cavities) put(cavity, yes.includes(cavity.label) ? "true" : no.includes(cavity.label) ? "false" : "mixed");
  };
  /** @param {Cavity} cavity */
  const tap = (cavity) => {
    put(cavity, NEXT[cavity.pressed]);
    changed();
  };
  /** @param {Cavity} cavity @param {[number, number]} by */
  const move = (cavity, [across, down]) => {
    const row = Number(cavity.element.dataset.row) + down;
    const column = Number(cavity.element.dataset.column) + across;
    cavities.find((one) => Number(one.element.dataset.row) === row && Number(one.element.dataset.column) === column)?.element.focus();
  };
  for (const cavity of cavities) {
    cavity.element.setAttribute("role", "button");
    cavity.element.setAttribute("tabindex", "0");
    cavity.element.addEventListener("click", () => tap(cavity));
    cavity.element.addEventListener("keydown", (event) => {
      if (event.key === "Enter" || event.key === " ") tap(cavity);
      else if (ARROWS[event.key]) move(cavity, ARROWS[event.key]);
      else return;
      event.preventDefault();
    });
  }
  set(start);
  /** @param {Pressed} pressed */
  const labels = (pressed) => cavities.filter((one) => one.pressed === pressed).map((one) => one.label);
  return { element, set, labels: cavities.map((one) => one.label), value: () => ({ yes: labels("true"), no: labels("false") }) };
}
