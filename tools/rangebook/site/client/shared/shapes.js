// Small pictures for answers that are a shape: outlines of connectors, and holes for the selector shaft.

const SVG = "http://www.w3.org/2000/svg";

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

const HOLES = {
  "double-flat": [["path", { d: "M9.8 12h28.4a18.600 18.600 0 0 1 0 24H9.800a18.600 18.600 0 0 1 0-24z" }]],
  "single-flat": [["path", { d: "M9.8 12h28.4a18.600 18.600 0 1 1-28.400 0z" }]],
  square: [["rect", { x: 9, y: 9, width: 30, height: 30 }]],
  splined: [["path", { d: `M${spline()}z` }]],
  round: [["circle", { cx: 24, cy: 24, r: 18 }]],
  tongue: [["rect", { x: 4, y: 18, width: 40, height: 12, rx: 1.5 }]],
};

/** The picture of an answer, or null where it has none. */
export function picture(id, value) {
  const shapes = { outline: OUTLINES, shaft: HOLES }[id]?.[value];
  if (!shapes) return null;
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", "0 0 48 48");
  svg.setAttribute("class", `shape shape--${id}`);
  svg.setAttribute("aria-hidden", "true");
  for (const [tag, attributes] of shapes) {
    const shape = document.createElementNS(SVG, tag);
    for (const [name, number] of Object.entries(attributes)) shape.setAttribute(name, number);
    svg.append(shape);
  }
  return svg;
}
