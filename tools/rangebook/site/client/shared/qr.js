// A QR code drawn from its modules, which were computed when the site was built.

const SVG = "http://www.w3.org/2000/svg";
const QUIET = 4;

/** The modules, row by row, as arrays of booleans. */
export function modulesOf({ size, bits }) {
  const all = [...bits].map((digit) => Number.parseInt(digit, 16).toString(2).padStart(4, "0")).join("");
  const whole = all.slice(-size * size).padStart(size * size, "0");
  return Array.from({ length: size }, (_, row) => [...whole.slice(row * size, (row + 1) * size)].map((one) => one === "1"));
}

/** The code as a drawing, black on white in any light, with the white that readers need round it. */
export function qr(code, label) {
  const side = code.size + 2 * QUIET;
  const svg = document.createElementNS(SVG, "svg");
  const set = (element, attributes) => Object.entries(attributes).forEach(([name, value]) => element.setAttribute(name, value));
  set(svg, { viewBox: `0 0 ${side} ${side}`, class: "qr", role: "img", "aria-label": label, "shape-rendering": "crispEdges" });
  const ground = document.createElementNS(SVG, "rect");
  set(ground, { width: side, height: side, fill: "#fff" });
  const path = document.createElementNS(SVG, "path");
  const runs = modulesOf(code).flatMap((row, y) => row.map((dark, x) => (dark ? `M${x + QUIET} ${y + QUIET}h1v1h-1z` : "")));
  set(path, { d: runs.join(""), fill: "#000" });
  svg.append(ground, path);
  return svg;
}
