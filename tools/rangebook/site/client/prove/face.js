// What the probes are held to: at a plug that from the side of its wires, in their colours; on the bench the face of the part's connector, the
// pins that are there filled in, empty cavities empty. The two in hand are marked.

import { plugPicture } from "../answer/wires.js";
import { h } from "../shared/dom.js";
import { cavitiesOf } from "../shared/drawing.js";
import { say } from "../shared/say.js";
import { drawingOf } from "../shared/trusted.js";
import "../words/prove.js";

/** @import { Book } from "../shared/book.js" */
/** @import { ProofPart, Proofs, Sheet } from "../types/data.js" */
/** `point` takes terminals of the sheet. @typedef {{ element: HTMLElement | null, point: (terminals: string[]) => void }} Face */

/** @param {Book} book @param {Proofs} data @param {ProofPart} part @param {Sheet} sheet @returns {Face} */
export const faceOf = (book, data, part, sheet) => (sheet.face ? faceOfPlug(data, sheet) : faceOfPart(book, part, sheet));

/** @param {Proofs} data @param {Sheet} sheet @returns {Face} */
function faceOfPlug(data, sheet) {
  const place = h("div", { class: "prove__plug", "aria-hidden": "true" });
  const wired = sheet.wires.map(([cavity, colour]) => /** @type {[string, string, string]} */ ([cavity, colour, ""]));
  const point = (/** @type {string[]} */ terminals) => place.replaceChildren(plugPicture({ face: sheet.face, wired }, data, new Set(terminals)) ?? "");
  point([]);
  return { element: h("div", {}, h("p", { class: "soft" }, say("prove.plug_side")), place), point };
}

/** @param {Book} book @param {ProofPart} part @param {Sheet} sheet @returns {Face} */
function faceOfPart(book, part, sheet) {
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
