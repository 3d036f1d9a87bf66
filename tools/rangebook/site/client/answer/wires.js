// The vehicle's plug, and the one that takes its place, seen from where the wires go in, with each wire from the one to the other; and the
// seal behind it, hole by hole.

import { h } from "../shared/dom.js";
import { s } from "../shared/drawing.js";
import { listed, say } from "../shared/say.js";
import { shell } from "../shared/shapes.js";
import "../words/answer.js";

/** @import { Answers, Candidate, Colour, SeatAnswer } from "../types/data.js" */
/** @typedef {Map<string, { x: number, y: number }>} Places */
/** The faces that are drawn, and the colours. @typedef {Pick<Answers, "faces" | "outlines" | "colours">} Drawn */
/** A row of cavities, `null` where there is none. @typedef {(string | null)[][]} Rows */

const CELL = 40;
const SMALL = 26;
const WIDTH = 320;
const BETWEEN = 76;
const HEAD = 24;
const EDGE = 16;
const GAP = 16;

/** One connector of a face. @typedef {{ rows: Rows, outline: string, id: string, top: number }} Block */

/**
 * The connectors of a face, one below the other, `top` in cells of a size and gaps.
 * @param {string} face @param {Drawn} data @param {number} cell
 */
function blocksOf(face, data, cell) {
  const outlines = (data.outlines[face] ?? "").split("+");
  const ids = face.split("+");
  /** @type {Block[]} */
  const blocks = [];
  let top = 0;
  for (const row of data.faces[face]) {
    if (!row.length) top += GAP;
    if (!row.length || !blocks.length) blocks.push({ rows: [], outline: outlines[blocks.length], id: ids[blocks.length], top });
    if (!row.length) continue;
    blocks[blocks.length - 1].rows.push(row);
    top += cell;
  }
  return { blocks, height: top, columns: columnsOf(data.faces[face]) };
}

/** What is written on a cavity: its own label, without the name of its connector. @param {string} label */
const short = (label) => label.slice(label.indexOf(".") + 1);

/** @param {Rows} rows */
const columnsOf = (rows) => Math.max(...rows.map((row) => row.length), 1);

/** The colour of each wire by its cavity in the vehicle's plug. @param {Pick<SeatAnswer, "wired">} seat @param {Drawn} data */
const coloursOf = (seat, data) => new Map(seat.wired.map(([cavity, code]) => [cavity, data.colours[code] ?? null]));

/** @param {SeatAnswer} seat @param {Candidate} one @param {Answers} data */
export function wires(seat, one, data) {
  if (!data.faces[seat.face]) return null;
  const old = blocksOf(seat.face, data, CELL);
  const renewed = one.renewed_to ?? seat.face;
  const moves = one.moves ?? seat.wired.map(([cavity]) => ({ old: cavity, new: cavity }));
  // A lead that only goes between leaves the plug as it is.
  const apart = one.moves !== undefined && (one.renewed_to !== undefined || moves.some((move) => move.old !== move.new));
  const next = apart && data.faces[renewed] ? blocksOf(renewed, data, CELL) : null;
  const height = HEAD + old.height + 12;
  const below = next ? height + BETWEEN - HEAD : 0;
  const width = Math.max(WIDTH, Math.max(old.columns, next?.columns ?? 0) * CELL + 2 * EDGE);
  const svg = s("svg", { class: "wires", viewBox: `0 0 ${width} ${next ? below + 2 * HEAD + next.height + 8 : height}`, role: "img", "aria-label": words(seat, moves, data, apart) });
  const coloured = coloursOf(seat, data);
  const from = face(svg, old, 0, width, say(apart ? "answer.wires.from" : "answer.wires.stay"), (label) => coloured.has(label));
  if (next) {
    const taken = new Set(moves.map((move) => move.new));
    const to = face(svg, next, below, width, say(one.renewed_to ? "answer.wires.to" : "answer.wires.same"), (label) => taken.has(label));
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
 * is in the seal, nobody knows until it is in the hand. Of several plugs it is in the last that is new.
 * @param {SeatAnswer} seat @param {Candidate} one @param {Answers} data
 */
export function seal(seat, one, data) {
  const blanks = one.blanks ?? 0;
  if (!one.renewed_to || !data.faces[one.renewed_to] || !(one.seal || blanks)) return null;
  const before = seat.face.split("+");
  const { blocks } = blocksOf(one.renewed_to, data, SMALL);
  const block = blocks.filter(({ id }, at) => id !== before[at]).at(-1) ?? blocks[0];
  const coloured = coloursOf(seat, data);
  const holes = new Map((one.moves ?? []).map((move) => [move.new, coloured.get(move.old) ?? null]));
  const own = block.rows.flat().filter((label) => label !== null && holes.has(label)).length;
  const svg = small([{ ...block, top: 0 }], "seal", "seal__mat", (to, label, at) => {
    if (holes.has(label)) end(to, at, holes.get(label) ?? null, label, 11);
    else if (!one.seal) to.append(s("circle", { class: "seal__blank", cx: at.x, cy: at.y, r: 9 }));
  });
  const words = one.seal ? say(blanks ? "answer.seal.blanks" : "answer.seal", { count: one.seal, wires: own, blanks }) : say("answer.seal.each", { count: blanks });
  const spare = one.seal ? Array.from({ length: blanks }, () => s("svg", { class: "seal__spare", viewBox: "0 0 24 24", "aria-hidden": "true" }, s("circle", { class: "seal__blank", cx: 12, cy: 12, r: 9 }))) : [];
  return h("figure", { class: "wires__figure seal__figure" }, svg, h("figcaption", {}, ...spare, " ", words));
}

/**
 * A plug from the wires' side, small, to choose by: its wires in their colours, and marked what no other of the choice has so.
 * @param {Pick<SeatAnswer, "face" | "wired">} seat @param {Drawn} data @param {Set<string>} marked
 */
export function plugPicture(seat, data, marked) {
  if (!data.faces[seat.face]) return null;
  const coloured = coloursOf(seat, data);
  return small(blocksOf(seat.face, data, SMALL).blocks, "plug", "wires__shell", (to, label, at) => {
    if (marked.has(label)) to.append(s("rect", { class: "plug__mark", x: at.x - 12.5, y: at.y - 12.5, width: 25, height: 25, rx: 6 }));
    if (coloured.has(label)) end(to, at, coloured.get(label) ?? null, label, 10);
    else to.append(s("circle", { class: "wires__hole wires__hole--shut", cx: at.x, cy: at.y, r: 9 }), s("text", { class: "wires__shut", x: at.x, y: at.y + 4, "text-anchor": "middle" }, short(label)));
  });
}

/**
 * Plugs or a seal from the wires' side, small; `draw` puts in what stands at each cavity.
 * @param {Block[]} blocks @param {string} name @param {string} shape @param {(svg: SVGElement, label: string, at: { x: number, y: number }) => void} draw
 */
function small(blocks, name, shape, draw) {
  const last = blocks[blocks.length - 1];
  const wide = Math.max(...blocks.map(({ rows }) => columnsOf(rows))) * SMALL + EDGE;
  const svg = s("svg", { class: `wires ${name}`, viewBox: `0 0 ${wide} ${last.top + last.rows.length * SMALL + 8}`, "aria-hidden": "true" });
  for (const { rows, outline, top } of blocks) {
    const own = columnsOf(rows) * SMALL + EDGE;
    const left = (wide - own) / 2;
    svg.append(shell(outline, shape, left + 1, top + 1, own - 2, rows.length * SMALL + 6));
    rows.forEach((row, down) => {
      row.forEach((label, across) => {
        if (label !== null) draw(svg, label, { x: left + own - EDGE / 2 - (across + 0.5) * SMALL, y: top + 4 + (down + 0.5) * SMALL });
      });
    });
  }
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
 * @param {SVGElement} svg @param {{ blocks: Block[], height: number }} drawn @param {number} top @param {number} width @param {string} heading @param {(label: string) => boolean} wired
 */
function face(svg, drawn, top, width, heading, wired) {
  /** @type {Places} */
  const places = new Map();
  // The wires run between the two: what is said of a plug stands on its far side.
  svg.append(s("text", { class: "wires__head", x: width / 2, y: top ? top + HEAD + drawn.height + 22 : 16, "text-anchor": "middle" }, heading));
  for (const { rows, outline, id, top: own } of drawn.blocks) {
    const columns = columnsOf(rows);
    const left = (width - columns * CELL) / 2;
    const name = id.includes(".") ? id.slice(0, id.indexOf(".")) : "";
    svg.append(shell(outline, "wires__shell", left - EDGE / 2, top + HEAD + own - 2, columns * CELL + EDGE, rows.length * CELL + 6));
    if (name) svg.append(s("text", { class: "wires__name", x: 2, y: top + HEAD + own + (rows.length * CELL) / 2 }, name));
    rows.forEach((row, down) => {
      row.forEach((label, across) => {
        if (label === null) return;
        const x = left + (columns - across - 0.5) * CELL;
        const y = top + HEAD + 1 + own + (down + 0.5) * CELL;
        places.set(label, { x, y });
        svg.append(s("rect", { class: wired(label) ? "wires__hole" : "wires__hole wires__hole--shut", x: x - 17, y: y - 17, width: 34, height: 34, rx: 8 }));
        if (!wired(label)) svg.append(s("text", { class: "wires__shut", x, y: y + 5, "text-anchor": "middle" }, short(label)));
      });
    });
  }
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
    s("text", { class: r < 15 ? "wires__label wires__label--small" : "wires__label", x: at.x, y: at.y + r / 3, "text-anchor": "middle" }, short(label)),
  );
}
