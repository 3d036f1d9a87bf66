// Pieces of drawings.

/** @import { Colour } from "../types/data.js" */

const SVG = "http://www.w3.org/2000/svg";

/**
 * An element of a drawing with attributes and children.
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, string | number>} [attributes]
 * @param {(Node | string)[]} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function s(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  element.append(...children);
  return element;
}

/**
 * The cavities of a face, each with its label.
 * @param {ParentNode} face
 * @returns {{ element: SVGElement, label: string }[]}
 */
export function cavitiesOf(face) {
  const found = [...face.querySelectorAll("[data-cavity]")].filter((one) => one instanceof SVGElement);
  return found.map((element) => ({ element, label: element.dataset.cavity ?? "" }));
}

/** A text in the middle of a cavity, `above` so many pixels over its lower edge. @param {Element} cavity @param {string} name @param {number} above @param {string} text */
export function inCavity(cavity, name, above, text) {
  const box = cavity.querySelector(".rb-box");
  /** @param {string} side */
  const side = (side) => Number(box?.getAttribute(side));
  return s("text", { class: name, x: side("x") + side("width") / 2, y: side("y") + side("height") - above, "text-anchor": "middle" }, text);
}

/** A length of wire in its colours; without a base only its edge. @param {Colour} colour */
export function swatch([, base, ...stripes]) {
  const svg = s("svg", { class: "swatch", viewBox: "0 0 36 16", "aria-hidden": "true", focusable: "false" });
  if (base) {
    svg.append(s("rect", { class: `rb-wire-${base.toLowerCase()}`, x: 1, y: 1, width: 34, height: 14, rx: 2 }));
    const band = 14 / (2 * stripes.length + 1);
    stripes.forEach((stripe, at) => {
      svg.append(s("rect", { class: `rb-wire-${stripe.toLowerCase()}`, x: 1, y: 1 + band * (2 * at + 1), width: 34, height: band }));
    });
  }
  svg.append(s("rect", { class: base ? "rb-wire-edge" : "rb-wire-none", x: 1, y: 1, width: 34, height: 14, rx: 2 }));
  return svg;
}
