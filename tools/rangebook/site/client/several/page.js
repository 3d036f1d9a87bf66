// A pasted list of numbers, and what to fit for each, as the answers have it.

import { jobUrl } from "../answer/next_steps.js";
import { letterOf, numbered } from "../answer/pieces.js";
import { bookOf, nearest } from "../shared/book.js";
import { badge, h, need } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { csv, readList } from "./list.js";
import "../words/several.js";

/** @import { Answers, PartAnswer, VerdictWord, Words } from "../types/data.js" */
/** @import { Numbered } from "../shared/search.js" */
/** @import { Wanted } from "./list.js" */
/** One row of the answer; `verdict` is null where there is none. @typedef {{ typed: string, number: string, vehicles: string[], seats: string[], fit: string, verdict: VerdictWord | null, says: string, orders: string, wires: string, note: string, status: string, withdrawn: boolean }} Row */

const MOST_NUMBERS = 2000;
const AT_ONCE = 6;
const MOST_ASIDE = 40;
const SHOWN = 3;
const HEAD = [say("several.typed"), say("several.number"), say("several.for"), say("several.fit"), say("several.verdict"), say("several.orders"), say("several.wires"), say("several.note")];

const home = need(document, "[data-several]", HTMLElement);
const form = need(home, "[data-several-form]", HTMLElement);
const list = need(form, "textarea", HTMLTextAreaElement);
const place = need(home, "[data-several-place]", HTMLElement);
const status = need(home, "[data-several-status]", HTMLElement);
const file = need(home, "[data-several-file]", HTMLAnchorElement);
const book = bookOf(home);

let turn = 0;
async function show() {
  const mine = ++turn;
  file.hidden = true;
  place.replaceChildren();
  if (!list.value.trim()) {
    status.textContent = "";
    return;
  }
  try {
    const numbers = await book.numbers();
    const words = (await book.index()).words;
    const { wanted, aside } = readList(list.value, numbers);
    const taken = wanted.slice(0, MOST_NUMBERS);
    const families = [...new Set(taken.flatMap((one) => (one.kind === "part" ? [one.family] : [])))];
    for (let at = 0; at < families.length; at += AT_ONCE) {
      status.textContent = say("several.looking", { count: taken.length });
      await Promise.all(families.slice(at, at + AT_ONCE).map((family) => book.answers(family)));
      if (mine !== turn) return;
    }
    const rows = (await Promise.all(taken.map((one) => rowsOf(one, numbers, words)))).flat();
    if (mine !== turn) return;
    status.textContent = sumOf(taken, wanted.length - taken.length);
    const passed = `${aside.slice(0, MOST_ASIDE).join(" ")}${aside.length > MOST_ASIDE ? " …" : ""}`;
    place.replaceChildren(rows.length ? table(rows) : "", aside.length ? h("p", { class: "several__aside" }, say("several.aside", { words: passed })) : "");
    if (rows.length) offer(rows);
  } catch {
    if (mine === turn) status.textContent = say("load.failed");
  }
}

/** What came of it in one sentence. @param {Wanted[]} taken @param {number} over */
function sumOf(taken, over) {
  const missing = taken.filter((one) => one.kind === "missing").length;
  const unclear = taken.filter((one) => one.kind === "unclear").length;
  const parts = [
    say("several.read", { count: taken.length }),
    missing && say("several.missing", { count: missing }),
    unclear && say("several.unclear", { count: unclear }),
    over > 0 && say("several.left_out", { count: over, most: MOST_NUMBERS }),
  ];
  return say("several.sum", { sum: parts.filter(Boolean).join("; ") });
}

/** One row for each different answer: vehicles that get the same thing share one. @param {Wanted} one @param {Numbered[]} numbers @param {Words} words @returns {Promise<Row[]>} */
async function rowsOf(one, numbers, words) {
  /** @type {Row} */
  const base = { typed: one.typed, number: "", vehicles: [], seats: [], fit: "", verdict: null, says: "", orders: "", wires: "", note: "", status: "", withdrawn: false };
  if (one.kind === "missing") {
    const near = nearest(numbers, one.typed).slice(0, 3).map((other) => other.number);
    return [{ ...base, says: say("several.says.missing"), note: near.length ? say("several.says.near", { numbers: near.join(", ") }) : "" }];
  }
  if (one.kind === "unclear") return [{ ...base, says: say("several.says.unclear"), note: say("several.says.unclear.why", { number: one.number }) }];
  if (one.kind === "kit") return [{ ...base, number: one.number, says: say("several.says.kit"), note: one.title }];
  const data = await book.answers(one.family);
  const part = data.parts[one.key];
  const known = { ...base, number: part.number, status: words.gone[letterOf(part.status)] ?? "", withdrawn: part.status === "withdrawn" };
  if (!part.seats?.length) return [{ ...known, verdict: "unknown", says: say("several.says.unknown"), note: warningOf(part, insteadOf(part, data)) || say("several.says.unknown.why") }];
  /** @type {Map<string, Row>} */
  const rows = new Map();
  for (const [key] of part.seats) {
    const seat = data.seats[key];
    const first = seat.candidates.find((candidate) => candidate.group === "fit");
    const kits = (first?.orders ?? []).map((order) => (order.uses ? say("several.order", { number: order.number, uses: order.uses }) : order.number));
    const orders = [...kits, ...(first?.also ?? [])].join("; ");
    const wires = first?.moves_why ?? "";
    const id = JSON.stringify([first?.number, first?.verdict, orders, wires]);
    const row = rows.get(id) ?? {
      ...known,
      vehicles: [],
      seats: [],
      fit: first?.number ?? "",
      verdict: first?.verdict ?? "unknown",
      says: first ? words.verdict[first.verdict] : say("answer.row.nothing"),
      orders,
      wires,
      note: warningOf(part, first?.number),
    };
    row.vehicles.push(...seat.vehicles);
    row.seats.push(key);
    rows.set(id, row);
  }
  return [...rows.values()];
}

/** What has to be known of the part that came off before anything: it must not go on again. @param {PartAnswer} part @param {string} [instead] */
function warningOf(part, instead) {
  if (part.status !== "withdrawn") return "";
  return instead ? say("several.withdrawn", { number: part.number, instead }) : say("several.withdrawn.nothing", { number: part.number });
}

/** What to fit where a part may have been that no vehicle is known to have come with: on the seats that warn of it. @param {PartAnswer} part @param {Answers} data */
function insteadOf(part, data) {
  const seats = Object.values(data.seats).filter((seat) => seat.candidates.some((one) => one.number === part.number && one.group === "withdrawn"));
  const found = new Set(seats.flatMap((seat) => seat.candidates.find((one) => one.group === "fit")?.number ?? []));
  return [...found].join(say("several.or"));
}

/** @param {Row[]} rows */
function table(rows) {
  return h(
    "table",
    { class: "stack several__table" },
    h("thead", {}, h("tr", {}, HEAD.map((word) => h("th", { scope: "col" }, word)))),
    h(
      "tbody",
      {},
      rows.map((row) =>
        h(
          "tr",
          { "data-found": row.number ? "yes" : "no" },
          h("th", { scope: "row" }, row.typed),
          h("td", { "data-label": say("several.number") }, row.number && numbered(row.number, row.status, book.to(`?q=${encodeURIComponent(row.number)}`))),
          h("td", { "data-label": say("several.for") }, short(row.vehicles)),
          h("td", { "data-label": say("several.fit") }, row.fit && (row.seats.length === 1 ? h("a", { class: "number", href: book.to(jobUrl(row.seats[0], row.fit, row.number)) }, row.fit) : h("span", { class: "number" }, row.fit))),
          h("td", { "data-label": say("several.verdict") }, row.verdict ? badge(row.verdict, row.says) : row.says),
          h("td", { "data-label": say("several.orders.short") }, row.orders),
          h("td", { "data-label": say("several.wires") }, row.wires),
          h("td", { "data-label": say("several.note") }, row.withdrawn ? badge("no", row.note) : row.note),
        ),
      ),
    ),
  );
}

/** @param {string[]} vehicles */
function short(vehicles) {
  return vehicles.length > SHOWN ? say("several.more", { vehicles: vehicles.slice(0, SHOWN).join("; "), count: vehicles.length - SHOWN }) : vehicles.join("; ");
}

let made = "";
/** @param {Row[]} rows */
function offer(rows) {
  if (made) URL.revokeObjectURL(made);
  const text = csv([[...HEAD.slice(0, 2), say("several.status"), ...HEAD.slice(2)], ...rows.map((row) => [row.typed, row.number, row.status, row.vehicles.join("; "), row.fit, row.says, row.orders, row.wires, row.note])]);
  made = URL.createObjectURL(new Blob([text], { type: "text/csv;charset=utf-8" }));
  file.href = made;
  file.hidden = false;
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  show();
});
show();
