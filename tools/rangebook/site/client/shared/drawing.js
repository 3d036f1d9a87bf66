// Pieces of drawings.

const SVG = "http://www.w3.org/2000/svg";

/** An element of a drawing with attributes and children. */
export function s(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/** A length of wire in its colours, `[name, base, ...stripes]`; without a base only its edge. */
export function swatch([, base, ...stripes]) {
  const svg = s("svg", { class: "swatch", viewBox: "0 0 36 16", "aria-hidden": "true", focusable: "false" });
  if (base) {
    svg.append(s("rect", { class: `rb-wire-${base.toLowerCase()}`, x: 1, y: 1, width: 34, height: 14, rx: 2 }));
    const band = 14 / (2 * stripes.length + 1);
    stripes.forEach((stripe, at) => svg.append(s("rect", { class: `rb-wire-${stripe.toLowerCase()}`, x: 1, y: 1 + band * (2 * at + 1), width: 34, height: band })));
  }
  svg.append(s("rect", { class: base ? "rb-wire-edge" : "rb-wire-none", x: 1, y: 1, width: 34, height: 14, rx: 2 }));
  return svg;
}
