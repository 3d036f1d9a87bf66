// A QR code drawn from its modules, which were computed when the site was built.

import { s } from "./drawing.js";

/** @import { Code } from "../types/data.js" */

const QUIET = 4;

/** The modules, row by row, as arrays of booleans. @param {Pick<Code, "size" | "bits">} code */
export function modulesOf({ size, bits }) {
  const all = [...bits].map((digit) => Number.parseInt(digit, 16).toString(2).padStart(4, "0")).join("");
  const whole = all.slice(-size * size).padStart(size * size, "0");
  return Array.from({ length: size }, (_, row) => [...whole.slice(row * size, (row + 1) * size)].map((one) => one === "1"));
}

/**
 * The code as a drawing, black on white in any light, with the white that readers need round it.
 * @param {Code} code
 * @param {string} label
 */
export function qr(code, label) {
  const side = code.size + 2 * QUIET;
  const runs = modulesOf(code).flatMap((row, y) => row.map((dark, x) => (dark ? `M${x + QUIET} ${y + QUIET}h1v1h-1z` : "")));
  return s(
    "svg",
    { viewBox: `0 0 ${side} ${side}`, class: "qr", role: "img", "aria-label": label, "shape-rendering": "crispEdges" },
    s("rect", { width: side, height: side, fill: "#fff" }),
    s("path", { d: runs.join(""), fill: "#000" }),
  );
}
