// The face of the part's connector: the pins that are there filled in, empty cavities empty, the two in hand marked.

import { h } from "../shared/dom.js";
import { cavitiesOf } from "../shared/drawing.js";
import { drawingOf } from "../shared/trusted.js";

/** @import { Book } from "../shared/book.js" */
/** @import { ProofPart, Sheet } from "../types/data.js" */
/** `point` takes terminals of the sheet. @typedef {{ element: HTMLElement | null, point: (terminals: string[]) => void }} Face */

/** @param {Book} book @param {ProofPart} part @param {Sheet} sheet @returns {Face} */
export function faceOf(book, part, sheet) {
  if (!part.face) return { element: null, point() {} };
  const holder = h("div", { class: "prove__drawing", "aria-hidden": "true" });
  /** @type {(string | null)[]} */
  let points = [];
  const paint = () => {
    for (const { element, label } of cavitiesOf(holder)) {
      if (part.pins.length) {
        element.classList.remove("rb-cavity--bare");
        element.classList.toggle("rb-cavity--pin", part.pins.includes(label));
        element.classList.toggle("rb-cavity--empty", !part.pins.includes(label));
      }
      element.classList.toggle("is-probed", points.includes(label));
    }
  };
  book.face(part.face).then(
    (text) => {
      holder.replaceChildren(drawingOf(text));
      paint();
    },
    () => {},
  );
  return {
    element: holder,
    point(terminals) {
      points = terminals.map((one) => (one in sheet.pins ? sheet.pins[one] : one));
      paint();
    },
  };
}
