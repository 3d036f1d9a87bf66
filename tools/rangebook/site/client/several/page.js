// A pasted list of numbers, and what to fit for each, as the answers have it.

import { bookOf, nearest } from "../shared/book.js";
import { counted, h, mark } from "../shared/dom.js";
import { jobUrl } from "../answer/next_steps.js";
import { csv, readList } from "./list.js";

const MOST_NUMBERS = 2000;
const AT_ONCE = 6;
const HEAD = ["Typed", "Number", "For", "Fit", "Verdict", "Order with it", "Wires", "Note"];

const home = document.querySelector("[data-several]");
const form = home.querySelector("[data-several-form]");
const list = form.querySelector("textarea");
const place = home.querySelector("[data-several-place]");
const status = home.querySelector("[data-several-status]");
const file = home.querySelector("[data-several-file]");
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
    const families = [...new Set(taken.filter((one) => one.kind === "part").map((one) => one.family))];
    for (let at = 0; at < families.length; at += AT_ONCE) {
      status.textContent = `Looking up ${counted(taken.length, "number")} …`;
      await Promise.all(families.slice(at, at + AT_ONCE).map((family) => book.answers(family)));
      if (mine !== turn) return;
    }
    const rows = (await Promise.all(taken.map((one) => rowsOf(one, numbers, words)))).flat();
    if (mine !== turn) return;
    const missing = taken.filter((one) => one.kind === "missing").length;
    const unclear = taken.filter((one) => one.kind === "unclear").length;
    status.textContent = [
      `${counted(taken.length, "number")} read`,
      missing && `${missing} not in the book`,
      unclear && `${unclear} not clear`,
      wanted.length > taken.length && `the last ${wanted.length - taken.length} left out: at most ${MOST_NUMBERS} at once`,
    ]
      .filter(Boolean)
      .join("; ")
      .concat(". Where a number has more than one row, go by the vehicle.");
    place.replaceChildren(rows.length ? table(rows, words) : "", aside.length ? h("p", { class: "several__aside" }, `Left aside: ${aside.slice(0, 40).join(" ")}${aside.length > 40 ? " …" : ""}`) : "");
    if (rows.length) offer(rows);
  } catch {
    if (mine === turn) status.textContent = "The book could not be loaded. Is there a connection?";
  }
}

/** One row for each different answer: vehicles that get the same thing share one. */
async function rowsOf(one, numbers, words) {
  const base = { typed: one.typed, number: "", for: "", fit: "", verdict: "", says: "", orders: "", wires: "", note: "" };
  if (one.kind === "missing") {
    const near = nearest(numbers, one.typed).slice(0, 3).map((other) => other.number);
    return [{ ...base, says: "not in the book", note: near.length ? `nearest in it: ${near.join(", ")}` : "" }];
  }
  if (one.kind === "unclear") return [{ ...base, says: "not clear", note: `a quantity, or the end of ${one.number}? Write it without spaces.` }];
  if (one.kind === "kit") return [{ ...base, number: one.number, says: "a kit", note: one.title }];
  const data = await book.answers(one.family);
  const part = data.parts[one.key];
  const known = { ...base, number: part.number };
  const note = part.status === "withdrawn" ? words.status.w : "";
  if (!part.seats?.length) return [{ ...known, verdict: "unknown", says: "not known", note: "no vehicle in the book is known to take it" }];
  const rows = new Map();
  for (const [key] of part.seats) {
    const seat = data.seats[key];
    const first = seat.candidates.find((candidate) => candidate.group === "fit");
    const orders = (first?.orders ?? []).map((order) => [order.number, order.uses].filter(Boolean).join(": ")).join("; ");
    const wires = first?.moves_why ?? "";
    const id = JSON.stringify([first?.number, first?.verdict, orders, wires]);
    const row = rows.get(id);
    if (row) {
      row.vehicles.push(...seat.vehicles);
      row.seats.push(key);
      continue;
    }
    rows.set(id, {
      ...known,
      vehicles: [...seat.vehicles],
      seats: [key],
      fit: first?.number ?? "",
      verdict: first?.verdict ?? "unknown",
      says: first ? words.verdict[first.verdict] : "nothing sold today is known to fit",
      orders,
      wires,
      note,
    });
  }
  return [...rows.values()].map((row) => ({ ...row, for: row.vehicles.join("; ") }));
}

const SHOWN = 3;
function table(rows, words) {
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
          h("td", { "data-label": "Number" }, row.number && h("a", { class: "number", href: book.to(`?q=${encodeURIComponent(row.number)}`) }, row.number)),
          h("td", { "data-label": "For" }, short(row.vehicles ?? [])),
          h("td", { "data-label": "Fit" }, row.fit && (row.seats.length === 1 ? h("a", { class: "number", href: book.to(jobUrl(row.seats[0], row.fit, row.number)) }, row.fit) : h("span", { class: "number" }, row.fit))),
          h("td", { "data-label": "Verdict" }, row.verdict ? h("span", { class: `badge badge--${row.verdict}` }, mark(row.verdict), row.says) : row.says),
          h("td", { "data-label": "With it" }, row.orders),
          h("td", { "data-label": "Wires" }, row.wires),
          h("td", { "data-label": "Note" }, row.note),
        ),
      ),
    ),
  );
}

function short(vehicles) {
  return vehicles.length > SHOWN ? `${vehicles.slice(0, SHOWN).join("; ")}; and ${vehicles.length - SHOWN} more` : vehicles.join("; ");
}

let made = null;
function offer(rows) {
  if (made) URL.revokeObjectURL(made);
  const text = csv([HEAD, ...rows.map((row) => [row.typed, row.number, row.for, row.fit, row.says, row.orders, row.wires, row.note])]);
  made = URL.createObjectURL(new Blob([text], { type: "text/csv;charset=utf-8" }));
  file.href = made;
  file.hidden = false;
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  show();
});
show();
