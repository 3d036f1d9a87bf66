// The vehicle's plug, and the one that takes its place, seen from where the wires go in, with each wire from the one to the other; and the
// seal behind it, hole by hole.

import { h } from "../shared/dom.js";
import { s } from "../shared/drawing.js";
import { listed, say } from "../shared/say.js";
import { shell } from "../shared/shapes.js";
import "../words/answer.js";

/** @import { Answers, Candidate, Colour, SeatAnswer } from "../types/data.js" */
/** @typedef {Map<string, { x: number, y: number }>} Places */
/** A row of cavities, `null` where there is none. @typedef {(string | null)[][]} Rows */

const CELL = 40;
const SMALL = 26;
const WIDTH = 320;
const BETWEEN = 76;
const HEAD = 24;
const EDGE = 16;

/** @param {Rows} rows */
const columnsOf = (rows) => Math.max(...rows.map((row) => row.length), 1);

/** The colour of each wire by its cavity in the vehicle's plug. @param {SeatAnswer} seat @param {Answers} data */
const coloursOf = (seat, data) => new Map(seat.wired.map(([cavity, code]) => [cavity, data.colours[code] ?? null]));

/** @param {SeatAnswer} seat @param {Candidate} one @param {Answers} data */
export function wires(seat, one, data) {
  const rows = data.faces[seat.face];
  if (!rows) return null;
  const newFace = one.renewed_to ?? seat.face;
  const newRows = data.faces[newFace];
  const moves = one.moves ?? seat.wired.map(([cavity]) => ({ old: cavity, new: cavity }));
  const apart = one.renewed_to !== undefined || moves.some((move) => move.old !== move.new);
  const height = HEAD + rows.length * CELL + 12;
  const below = apart && newRows ? height + BETWEEN - HEAD : 0;
  const width = Math.max(WIDTH, columnsOf([...rows, ...(newRows ?? [])]) * CELL + 2 * EDGE);
  const svg = s("svg", { class: "wires", viewBox: `0 0 ${width} ${below ? below + 2 * HEAD + newRows.length * CELL + 8 : height}`, role: "img", "aria-label": words(seat, moves, data, apart) });
  const coloured = coloursOf(seat, data);
  const from = face(svg, rows, data.outlines[seat.face], 0, width, say(apart ? "answer.wires.from" : "answer.wires.stay"), (label) => coloured.has(label));
  if (below && newRows) {
    const taken = new Set(moves.map((move) => move.new));
    const to = face(svg, newRows, data.outlines[newFace], below, width, say(one.renewed_to ? "answer.wires.to" : "answer.wires.same"), (label) => taken.has(label));
    for (const moving of [false, true]) {
      for (const move of moves) {
        const [a, b] = [from.get(move.old), to.get(move.new)];
        if (a && b && (move.old !== move.new) === moving) wire(svg, a, b, coloured.get(move.old) ?? null, moving);
      }
    }
    for (const move of moves) end(svg, to.get(move.new), coloured.get(move.old) ?? null, move.new, 15);
    bridges(svg, to, one.loops);
  }
  for (const [cavity, colour] of coloured) end(svg, from.get(cavity), colour, cavity, 15);
  bridges(svg, from, seat.loops);
  return h("figure", { class: "wires__figure", id: "answer-wires" }, svg, h("figcaption", { class: "soft" }, say(apart ? "answer.wires.apart" : "answer.wires.side")));
}

/**
 * The seal that goes in behind the new plug: a hole for each wire, at its cavity, and those that get a blanking plug. Where a hole too many
 * is in the seal, nobody knows until it is in the hand.
 * @param {SeatAnswer} seat @param {Candidate} one @param {Answers} data
 */
export function seal(seat, one, data) {
  const rows = one.renewed_to ? data.faces[one.renewed_to] : undefined;
  const blanks = one.blanks ?? 0;
  if (!rows || !(one.seal || blanks)) return null;
  const coloured = coloursOf(seat, data);
  const holes = new Map((one.moves ?? []).map((move) => [move.new, coloured.get(move.old) ?? null]));
  const svg = small(rows, data.outlines[one.renewed_to ?? ""], "seal", "seal__mat", (to, label, at) => {
    if (holes.has(label)) end(to, at, holes.get(label) ?? null, label, 11);
    else if (!one.seal) to.append(s("circle", { class: "seal__blank", cx: at.x, cy: at.y, r: 9 }));
  });
  const words = one.seal ? say(blanks ? "answer.seal.blanks" : "answer.seal", { count: one.seal, wires: holes.size, blanks }) : say("answer.seal.each", { count: blanks });
  const spare = one.seal ? Array.from({ length: blanks }, () => s("svg", { class: "seal__spare", viewBox: "0 0 24 24", "aria-hidden": "true" }, s("circle", { class: "seal__blank", cx: 12, cy: 12, r: 9 }))) : [];
  return h("figure", { class: "wires__figure seal__figure" }, svg, h("figcaption", {}, ...spare, " ", words));
}

/**
 * A plug from the wires' side, small, to choose by: its wires in their colours, and marked what no other of the choice has so.
 * @param {SeatAnswer} seat @param {Answers} data @param {Set<string>} marked
 */
export function plugPicture(seat, data, marked) {
  const rows = data.faces[seat.face];
  if (!rows) return null;
  const coloured = coloursOf(seat, data);
  return small(rows, data.outlines[seat.face], "plug", "wires__shell", (to, label, at) => {
    if (marked.has(label)) to.append(s("rect", { class: "plug__mark", x: at.x - 12.5, y: at.y - 12.5, width: 25, height: 25, rx: 6 }));
    if (coloured.has(label)) end(to, at, coloured.get(label) ?? null, label, 10);
    else to.append(s("circle", { class: "wires__hole wires__hole--shut", cx: at.x, cy: at.y, r: 9 }), s("text", { class: "wires__shut", x: at.x, y: at.y + 4, "text-anchor": "middle" }, label));
  });
}

/**
 * A plug or a seal from the wires' side, small; `draw` puts in what stands at each cavity.
 * @param {Rows} rows @param {string | undefined} outline @param {string} name @param {string} shape @param {(svg: SVGElement, label: string, at: { x: number, y: number }) => void} draw
 */
function small(rows, outline, name, shape, draw) {
  const wide = columnsOf(rows) * SMALL + EDGE;
  const high = rows.length * SMALL + 8;
  const svg = s("svg", { class: `wires ${name}`, viewBox: `0 0 ${wide} ${high}`, "aria-hidden": "true" }, shell(outline, shape, 1, 1, wide - 2, high - 2));
  rows.forEach((row, down) => {
    row.forEach((label, across) => {
      if (label !== null) draw(svg, label, { x: wide - EDGE / 2 - (across + 0.5) * SMALL, y: 4 + (down + 0.5) * SMALL });
    });
  });
  return svg;
}

/**
 * The same in words, for those who hear it.
 * @param {SeatAnswer} seat @param {{ old: string, new: string }[]} moves @param {Answers} data @param {boolean} apart
 */
function words(seat, moves, data, apart) {
  const names = new Map(seat.wired.map(([cavity, code, circuit]) => [cavity, [data.colours[code]?.[0], circuit].filter(Boolean).join(", ")]));
  const lines = moves.map((move) => say(apart ? "answer.wires.said" : "answer.wires.said.stay", { what: names.get(move.old) ?? "", old: move.old, new: move.new }));
  const bridged = (seat.loops ?? []).map((loop) => say("answer.wires.jumper", { cavities: listed(loop) }));
  return [say("answer.wires.side"), ...lines, ...bridged].join(" ");
}

/**
 * A face from the wires' side: the mirror image of what is seen looking into the switch. Gives the middle of each cavity.
 * @param {SVGElement} svg @param {Rows} rows @param {string | undefined} outline @param {number} top @param {number} width @param {string} heading @param {(label: string) => boolean} wired
 */
function face(svg, rows, outline, top, width, heading, wired) {
  const columns = columnsOf(rows);
  const left = (width - columns * CELL) / 2;
  /** @type {Places} */
  const places = new Map();
  // The wires run between the two: what is said of a plug stands on its far side.
  svg.append(s("text", { class: "wires__head", x: width / 2, y: top ? top + HEAD + rows.length * CELL + 22 : 16, "text-anchor": "middle" }, heading));
  svg.append(shell(outline, "wires__shell", left - EDGE / 2, top + HEAD - 2, columns * CELL + EDGE, rows.length * CELL + 6));
  rows.forEach((row, down) => {
    row.forEach((label, across) => {
      if (label === null) return;
      const x = left + (columns - across - 0.5) * CELL;
      const y = top + HEAD + 1 + (down + 0.5) * CELL;
      places.set(label, { x, y });
      svg.append(s("rect", { class: wired(label) ? "wires__hole" : "wires__hole wires__hole--shut", x: x - 17, y: y - 17, width: 34, height: 34, rx: 8 }));
      if (!wired(label)) svg.append(s("text", { class: "wires__shut", x, y: y + 5, "text-anchor": "middle" }, label));
    });
  });
  return places;
}

/** @param {SVGElement} svg @param {{ x: number, y: number }} a @param {{ x: number, y: number }} b @param {Colour | null} colour @param {boolean} moving */
function wire(svg, a, b, colour, moving) {
  const bend = (b.y - a.y) / 2;
  const d = `M${a.x} ${a.y}C${a.x} ${a.y + bend} ${b.x} ${b.y - bend} ${b.x} ${b.y}`;
  const name = moving ? "wires__wire wires__wire--moves" : "wires__wire";
  svg.append(s("path", { class: `${name} wires__edge`, d }));
  const [, base, stripe] = colour ?? ["", ""];
  if (base) svg.append(s("path", { class: `${name} rb-wire-${base.toLowerCase()}`, d }));
  if (stripe) svg.append(s("path", { class: `${name} wires__stripe rb-wire-${stripe.toLowerCase()}`, d }));
}

/** Jumpers inside the plug, each a bridge from cavity to cavity. @param {SVGElement} svg @param {Places} places @param {string[][]} [loops] */
function bridges(svg, places, loops = []) {
  for (const loop of loops) {
    const ends = loop.flatMap((label) => places.get(label) ?? []);
    if (ends.length > 1) svg.append(s("path", { class: "wires__jumper", d: ends.map(({ x, y }, at) => `${at ? "L" : "M"}${x} ${y - 13}`).join("") }));
    for (const { x, y } of ends) svg.append(s("circle", { class: "wires__jumper wires__jumper--end", cx: x, cy: y - 13, r: 3.5 }));
  }
}

/** @param {SVGElement} svg @param {{ x: number, y: number } | undefined} at @param {Colour | null} colour @param {string} label @param {number} r */
function end(svg, at, colour, label, r) {
  if (!at) return;
  const [, base] = colour ?? ["", ""];
  svg.append(
    s("circle", { class: base ? `wires__end rb-wire-${base.toLowerCase()}` : "wires__end wires__end--plain", cx: at.x, cy: at.y, r }),
    s("circle", { class: "wires__plate", cx: at.x, cy: at.y, r: r * 0.7 }),
    s("text", { class: r < 15 ? "wires__label wires__label--small" : "wires__label", x: at.x, y: at.y + r / 3, "text-anchor": "middle" }, label),
  );
}
