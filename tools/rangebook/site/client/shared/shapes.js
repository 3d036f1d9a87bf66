// Small pictures for answers that are a shape: outlines of connectors, and holes for the selector shaft.

import { s } from "./drawing.js";

/** @typedef {["rect" | "circle" | "path", Record<string, string | number>][]} Shape */

/** @type {Record<string, Shape>} */
const OUTLINES = {
  oval: [["rect", { x: 3, y: 13, width: 42, height: 22, rx: 11 }]],
  rectangular: [["rect", { x: 3, y: 13, width: 42, height: 22, rx: 3 }]],
  round: [["circle", { cx: 24, cy: 24, r: 19 }]],
  square: [["rect", { x: 6, y: 6, width: 36, height: 36, rx: 3 }]],
  "d-shaped": [["path", { d: "M5 10h38v9a19 19 0 0 1-38 0z" }]],
};

const spline = () =>
  Array.from({ length: 32 }, (_, at) => {
    const radius = at % 2 ? 15 : 19;
    return `${(24 + radius * Math.cos((at * Math.PI) / 16)).toFixed(1)} ${(24 + radius * Math.sin((at * Math.PI) / 16)).toFixed(1)}`;
  }).join("L");

/** @type {Record<string, Shape>} */
const HOLES = {
  "double-flat": [["path", { d: "M9.8 12h28.4a18.600 18.600 0 0 1 0 24H9.800a18.600 18.600 0 0 1 0-24z" }]],
  "single-flat": [["path", { d: "M9.8 12h28.4a18.600 18.600 0 1 1-28.400 0z" }]],
  square: [["rect", { x: 9, y: 9, width: 30, height: 30 }]],
  splined: [["path", { d: `M${spline()}z` }]],
  round: [["circle", { cx: 24, cy: 24, r: 18 }]],
  tongue: [["rect", { x: 4, y: 18, width: 40, height: 12, rx: 1.5 }]],
};

/**
 * The housing round a face of cavities: its outline by kind, drawn from corner to corner.
 * @param {string | undefined} outline @param {string} name @param {number} x @param {number} y @param {number} width @param {number} height
 */
export function shell(outline, name, x, y, width, height) {
  if (outline !== "d-shaped") {
    const rx = outline === "oval" || outline === "round" ? height / 2 : 5;
    return s("rect", { class: name, x, y, width, height, rx: outline === "round" ? Math.min(width, height) / 2 : rx });
  }
  const [r, deep] = [6, height * 0.6];
  return s("path", { class: name, d: `M${x + r} ${y}h${width - 2 * r}a${r} ${r} 0 0 1 ${r} ${r}v${height - deep - r}a${deep} ${deep} 0 0 1 ${-deep} ${deep}h${2 * deep - width}a${deep} ${deep} 0 0 1 ${-deep} ${-deep}v${deep + r - height}a${r} ${r} 0 0 1 ${r} ${-r}z` });
}

/** The picture of an answer, or null where it has none. @param {string} id @param {unknown} value */
export function picture(id, value) {
  const known = id === "outline" ? OUTLINES : id === "shaft" ? HOLES : {};
  const shapes = known[String(value)];
  if (!shapes) return null;
  return s("svg", { viewBox: "0 0 48 48", class: `shape shape--${id}`, "aria-hidden": "true" }, ...shapes.map(([tag, attributes]) => s(tag, attributes)));
}
