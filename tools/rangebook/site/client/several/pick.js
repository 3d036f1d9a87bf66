// Lines of a list with what was found for each -> one list of what to fetch or order. Pure functions; nothing here judges a part.

/** @import { Candidate, Order } from "../types/data.js" */
/** What goes into the list of one line: a part with what is fitted in its place, or a kit by itself. @typedef {{ count: number, fit?: Candidate, kit?: Pick<Order, "number" | "title" | "url"> }} Chosen */
/** One thing: `what` is its number, or the thing itself; `seal` the wire holes of a seal and `of` the kit that it is in the bag of. @typedef {{ kind: Kind, what: string, count: number, title?: string, url?: string, seal?: number, of?: string, sold?: "set" | "assembly" }} Picked */
/** @typedef {"switch" | "kit" | "seal" | "blanks" | "part" | "work"} Kind */

/** The kinds in the order in which they stand in the list. @type {Kind[]} */
export const KINDS = ["switch", "kit", "seal", "blanks", "part", "work"];

/** Everything that the lines come to, the same things counted together. @param {Chosen[]} lines */
export function pickOf(lines) {
  /** @type {Map<string, Picked>} */
  const found = new Map();
  /** @param {Picked} one */
  const add = (one) => {
    if (!one.count) return;
    const id = JSON.stringify([one.kind, one.what, one.seal, one.of, one.sold]);
    const known = found.get(id);
    if (known) known.count += one.count;
    else found.set(id, { ...one });
  };
  for (const { count, fit, kit } of lines) {
    if (kit) add({ kind: "kit", what: kit.number, count, title: kit.title, url: kit.url });
    if (!fit) continue;
    add({ kind: "switch", what: fit.number, count, url: fit.url });
    for (const order of fit.orders ?? []) {
      add({ kind: "kit", what: order.number, count, title: order.title, url: order.url });
      if (order.seal) add({ kind: "seal", what: String(order.seal), seal: order.seal, of: order.number, count });
      if (order.more) add({ kind: "blanks", what: "", count: count * order.more });
    }
    for (const [kind, what, each] of fit.beside ?? []) add(besideOf(kind, what, count * each));
  }
  return [...found.values()].sort((a, b) => KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) || (a.what < b.what ? -1 : a.what > b.what ? 1 : 0));
}

/** @param {string} kind @param {string} what @param {number} count @returns {Picked} */
function besideOf(kind, what, count) {
  if (kind === "seal") return { kind, what, seal: Number(what), count };
  if (kind === "blanks") return { kind, what: "", count: count * Number(what) };
  if (kind === "kit" || kind === "work") return { kind, what, count };
  return { kind: "part", what, count, ...(kind === "set" || kind === "assembly" ? { sold: kind } : {}) };
}
