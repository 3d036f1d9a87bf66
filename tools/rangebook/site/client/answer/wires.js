// The vehicle's plug, and the one that takes its place, seen from where the wires go in, with each wire from the one to the other.

import { h } from "../shared/dom.js";
import { s } from "../shared/drawing.js";
import { listed, say } from "../shared/say.js";
import "../words/answer.js";

/** @import { Answers, Candidate, Colour, SeatAnswer } from "../types/data.js" */
/** @typedef {Map<string, { x: number, y: number }>} Places */

const CELL = 40;
const WIDTH = 320;
const BETWEEN = 76;
const HEAD = 24;

/** @param {SeatAnswer} seat @param {Candidate} one @param {Answers} data */
export function wires(seat, one, data) {
  const rows = data.faces[seat.face];
  if (!rows) return null;
  const newRows = one.renewed_to ? data.faces[one.renewed_to] : rows;
  const moves = one.moves ?? seat.wired.map(([cavity]) => ({ old: cavity, new: cavity }));
  const apart = one.renewed_to !== undefined || moves.some((move) => move.old !== move.new);
  const height = HEAD + rows.length * CELL + 8;
  const below = apart && newRows ? height + BETWEEN - HEAD : 0;
  const columns = Math.max(...[rows, newRows ?? []].flat().map((row) => row.length), 1);
  const width = Math.max(WIDTH, columns * CELL + 8);
  const svg = s("svg", { class: "wires", viewBox: `0 0 ${width} ${below ? below + 2 * HEAD + newRows.length * CELL + 8 : height}`, role: "img", "aria-label": words(seat, moves, data, apart) });
  const coloured = new Map(seat.wired.map(([cavity, code]) => [cavity, data.colours[code] ?? null]));
  const from = face(svg, rows, 0, width, say(apart ? "answer.wires.from" : "answer.wires.stay"), (label) => coloured.has(label));
  if (below && newRows) {
    const taken = new Set(moves.map((move) => move.new));
    const to = face(svg, newRows, below, width, say(one.seal ? "answer.wires.to.seal" : "answer.wires.to", { seal: one.seal ?? 0 }), (label) => taken.has(label));
    for (const moving of [false, true]) {
      for (const move of moves) {
        const [a, b] = [from.get(move.old), to.get(move.new)];
        if (a && b && (move.old !== move.new) === moving) wire(svg, a, b, coloured.get(move.old) ?? null, moving);
      }
    }
    for (const move of moves) end(svg, to.get(move.new), coloured.get(move.old) ?? null, move.new);
    bridges(svg, to, one.loops);
  }
  for (const [cavity, colour] of coloured) end(svg, from.get(cavity), colour, cavity);
  bridges(svg, from, seat.loops);
  return h("figure", { class: "wires__figure", id: "Wires" }, svg);
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
 * @param {SVGElement} svg @param {(string | null)[][]} rows @param {number} top @param {number} width @param {string} heading @param {(label: string) => boolean} wired
 */
function face(svg, rows, top, width, heading, wired) {
  const columns = Math.max(...rows.map((row) => row.length));
  const left = (width - columns * CELL) / 2;
  /** @type {Places} */
  const places = new Map();
  // The wires run between the two: what is said of a plug stands on its far side.
  svg.append(s("text", { class: "wires__head", x: width / 2, y: top ? top + HEAD + rows.length * CELL + 22 : 16, "text-anchor": "middle" }, heading));
  svg.append(s("rect", { class: "wires__shell", x: left - 4, y: top + HEAD - 2, width: columns * CELL + 8, height: rows.length * CELL + 6, rx: 12 }));
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

/** @param {SVGElement} svg @param {{ x: number, y: number } | undefined} at @param {Colour | null} colour @param {string} label */
function end(svg, at, colour, label) {
  if (!at) return;
  const [, base] = colour ?? ["", ""];
  svg.append(
    s("circle", { class: base ? `wires__end rb-wire-${base.toLowerCase()}` : "wires__end wires__end--plain", cx: at.x, cy: at.y, r: 15 }),
    s("circle", { class: "wires__plate", cx: at.x, cy: at.y, r: 10.5 }),
    s("text", { class: "wires__label", x: at.x, y: at.y + 5, "text-anchor": "middle" }, label),
  );
}
