// A switch as a schematic: its terminals one below the other, its contacts beside them. Where a contact stands in which position was
// computed; here it is drawn.

import { s } from "../shared/drawing.js";

/** @import { ContactState, LeverPart } from "../types/data.js" */
/** @typedef {"open" | "closed" | "unknown"} Stated */
/** @typedef {ReturnType<typeof layOut>} Plan */

/** @type {Stated[]} */
const STATES = ["open", "closed", "unknown"];

const SWITCH = 66;
const LEFT = 16;
const LANE = 18;

/** What a state in the data stands for: `open`, `closed`, `unknown`, or `ohms` where it is a figure. @param {ContactState} state @returns {Stated | "ohms"} */
export const stateOf = (state) => (typeof state === "number" ? STATES[state] : "ohms");

/**
 * Which lines the terminals take: `{order, lines, contacts, lanes}`. `order` are the places of the terminals from the top, those that
 * contacts join beside each other, the housing last; `lines[terminal]` how many lines it takes. Each contact is `{at, terminal, line, lane}`:
 * drawn on a line of one of its ends, and led in a lane to the other end, whose last line it is.
 * @param {number} count
 * @param {LeverPart["contacts"]} contacts
 */
export function layOut(count, contacts) {
  const up = Array.from({ length: count }, (_, at) => at);
  /** @type {(at: number) => number} */
  const root = (at) => (up[at] === at ? at : root(up[at]));
  /** @type {number[]} */
  const uses = new Array(count).fill(0);
  for (const [a, b] of contacts) {
    up[root(b)] = root(a);
    uses[a] += 1;
    uses[b] += 1;
  }
  const last = root(count - 1);
  /** @type {Map<number, number[]>} */
  const groups = new Map();
  for (let at = 0; at < count; at += 1) groups.set(root(at), [...(groups.get(root(at)) ?? []), at]);
  const order = [...groups.entries()].sort(([a], [b]) => Number(a === last) - Number(b === last)).flatMap(([, members]) => members);
  /** @type {number[]} */
  const own = new Array(count).fill(0);
  const placed = contacts.map(([a, b], at) => {
    const [terminal, far] = uses[a] <= uses[b] ? [a, b] : [b, a];
    return { at, terminal, far, line: own[terminal]++ };
  });
  const isFar = new Set(placed.map((one) => one.far));
  const lines = own.map((number, at) => Math.max(1, number + Number(isFar.has(at))));
  /** @type {number[]} */
  const top = new Array(count).fill(0);
  let y = 0;
  for (const at of order) {
    top[at] = y;
    y += lines[at];
  }
  // One lane to each far end; two whose ways do not meet share one.
  const ways = [...isFar].map((far) => {
    const ends = [top[far] + lines[far] - 1, ...placed.filter((one) => one.far === far).map((one) => top[one.terminal] + one.line)];
    return { far, from: Math.min(...ends), to: Math.max(...ends) };
  });
  ways.sort((one, other) => one.to - one.from - (other.to - other.from) || one.from - other.from);
  /** @type {(typeof ways)[]} */
  const lanes = [];
  /** @type {Map<number, number>} */
  const laneOf = new Map();
  for (const way of ways) {
    let lane = lanes.findIndex((taken) => taken.every((other) => way.to < other.from || way.from > other.to));
    if (lane < 0) lane = lanes.push([]) - 1;
    lanes[lane].push(way);
    laneOf.set(way.far, lane);
  }
  return { order, lines, lanes: lanes.length, isFar, contacts: placed.map((one) => ({ ...one, lane: laneOf.get(one.far) ?? 0 })) };
}

/** How wide the drawing beside the terminals is. @param {Plan} plan */
export const widthOf = (plan) => (plan.contacts.length ? LEFT + SWITCH + 14 + plan.lanes * LANE : LEFT);

/**
 * Draw into an empty `svg`, whose height is that of the list of terminals. `middle(terminal, line)` is the height of a line.
 * The contacts are put in by hand with `symbols`, so that they move and are not made anew.
 * @param {SVGElement} svg
 * @param {Plan} plan
 * @param {SVGElement[]} symbols
 * @param {(terminal: number, line: number) => number} middle
 */
export function drawWires(svg, plan, symbols, middle) {
  /** @param {number} lane */
  const x = (lane) => LEFT + SWITCH + 14 + lane * LANE;
  const wires = s("g", { class: "sch__wires" });
  /** @param {[number, number][]} points */
  const line = (...points) => wires.append(s("polyline", { points: points.map((one) => one.join(",")).join(" ") }));
  /** @type {Map<number, number[]>} */
  const attached = new Map();
  for (const far of plan.isFar) attached.set(far, [middle(far, plan.lines[far] - 1)]);
  for (const one of plan.contacts) {
    const y = middle(one.terminal, one.line);
    attached.get(one.far)?.push(y);
    line([0, y], [LEFT, y]);
    line([LEFT + SWITCH, y], [x(one.lane), y]);
    symbols[one.at].setAttribute("transform", `translate(${LEFT} ${y})`);
  }
  const dots = s("g", { class: "sch__dots" });
  for (const [far, ys] of attached) {
    const lane = plan.contacts.find((one) => one.far === far)?.lane ?? 0;
    line([0, ys[0]], [x(lane), ys[0]]);
    line([x(lane), Math.min(...ys)], [x(lane), Math.max(...ys)]);
    for (const y of ys) if (y > Math.min(...ys) && y < Math.max(...ys)) dots.append(s("circle", { cx: x(lane), cy: y, r: 4 }));
  }
  plan.lines.forEach((number, terminal) => {
    if (number > 1) line([4, middle(terminal, 0)], [4, middle(terminal, number - 1)]);
  });
  svg.replaceChildren(wires, dots, ...symbols);
}

/** The sign of one contact: an arm that lies on its other end or stands off, a box with a figure, or a question mark. */
export function contactSign() {
  return s(
    "g",
    { class: "sch__contact" },
    s("path", { class: "sch__stub", d: `M0 0H10M${SWITCH - 10} 0H${SWITCH}` }),
    s("g", { class: "sch__arm", transform: "translate(10 0)" }, s("path", { d: `M0 0H${SWITCH - 20}` })),
    s("circle", { class: "sch__end", cx: 10, cy: 0, r: 4 }),
    s("circle", { class: "sch__end", cx: SWITCH - 10, cy: 0, r: 4 }),
    s("rect", { class: "sch__box", x: 4, y: -14, width: SWITCH - 8, height: 28, rx: 3 }),
    s("text", { class: "sch__figure", x: SWITCH / 2, y: 6, "text-anchor": "middle" }),
  );
}

/** Put a contact into a state of the data. @param {SVGElement} sign @param {ContactState} state */
export function setSign(sign, state) {
  const kind = stateOf(state);
  sign.dataset.state = kind;
  const figure = sign.querySelector(".sch__figure");
  if (figure) figure.textContent = kind === "ohms" ? String(state) : kind === "unknown" ? "?" : "";
}

/** The sign for the housing: ground. */
export const ground = () => s("svg", { class: "sch__ground", viewBox: "0 0 24 24", "aria-hidden": "true", focusable: "false" }, s("path", { d: "M12 2V11M3 11H21M6.5 15.5H17.5M10 20H14" }));
