// A pasted list of numbers: what to fit for each, as the answers have it, and one list of what to fetch or order for all of them.

import { jobUrl } from "../answer/next_steps.js";
import { letterOf, onShelf, orderWords } from "../answer/pieces.js";
import { bookOf, nearest } from "../shared/book.js";
import { badge, h, need } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { normalise } from "../shared/search.js";
import { countOn } from "../shared/shelf.js";
import { label } from "../label/label.js";
import { csv, readList } from "./list.js";
import { KINDS, pickOf } from "./pick.js";
import "../words/answer.js";
import "../words/several.js";

/** @import { Answers, Candidate, PartAnswer, StatusLetter, Words } from "../types/data.js" */
/** @import { Numbered } from "../shared/search.js" */
/** @import { Shelf } from "../shared/shelf.js" */
/** @import { Wanted } from "./list.js" */
/** @import { Kind, Picked } from "./pick.js" */
/** One thing that a number may come to: the plugs that get it, with their vehicles. `fit` is missing where nothing is known to fit. @typedef {{ id: string, seats: string[], vehicles: string[], plugs: string[], fit?: Candidate }} Choice */
/** One line of the list. `chosen` is a place in `choices`, -1 where the plug has to be told. @typedef {{ one: Wanted, count: number, number: string, status: StatusLetter, choices: Choice[], chosen: number, note: string, near: Numbered[] }} Line */

const MOST_NUMBERS = 2000;
const AT_ONCE = 6;
const MOST_ASIDE = 40;
const SHOWN = 2;
const MOST_PIECES = 9999;
/** Which lines come first: those that must not go on again, and those that are sold under another number. */
const FIRST = "ws";

const home = need(document, "[data-several]", HTMLElement);
const form = need(home, "[data-several-form]", HTMLFormElement);
const list = need(form, "textarea", HTMLTextAreaElement);
const place = need(home, "[data-several-place]", HTMLElement);
const picked = need(home, "[data-several-pick]", HTMLElement);
const labels = need(home, "[data-several-labels]", HTMLElement);
const status = need(home, "[data-several-status]", HTMLElement);
const book = bookOf(home);

/** What was chosen for something typed that the book does not have. @type {Map<string, Numbered>} */
const meant = new Map();

/** What lies on the shelf. @type {Shelf | undefined} */
let shelf;

let turn = 0;
async function show() {
  const mine = ++turn;
  place.replaceChildren();
  picked.replaceChildren();
  labels.replaceChildren();
  if (!list.value.trim()) {
    status.textContent = "";
    return;
  }
  try {
    const numbers = await book.numbers();
    const words = await book.words();
    shelf = await book.shelf();
    const { wanted, aside } = readList(list.value, numbers, meant);
    const taken = wanted.slice(0, MOST_NUMBERS);
    const families = [...new Set(taken.flatMap((one) => (one.kind === "part" ? [one.family] : [])))];
    for (let at = 0; at < families.length; at += AT_ONCE) {
      status.textContent = say("several.looking", { count: taken.length });
      await Promise.all(families.slice(at, at + AT_ONCE).map((family) => book.answers(family)));
      if (mine !== turn) return;
    }
    const lines = await Promise.all(taken.map((one) => lineOf(one, numbers)));
    if (mine !== turn) return;
    lines.sort((a, b) => rank(a) - rank(b));
    status.textContent = sumOf(taken, wanted.length - taken.length);
    const passed = `${aside.slice(0, MOST_ASIDE).join(" ")}${aside.length > MOST_ASIDE ? " …" : ""}`;
    place.replaceChildren(lines.length ? table(lines, words) : "", aside.length ? h("p", { class: "several__aside" }, say("several.aside", { words: passed })) : "");
    if (lines.length) showPick(lines, words);
  } catch {
    if (mine === turn) status.textContent = say("load.failed");
  }
}

/** @param {Line} line */
const rank = (line) => (FIRST.includes(line.status) ? FIRST.indexOf(line.status) : line.number ? FIRST.length + 1 : FIRST.length);

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
  return say("sentence", { text: parts.filter(Boolean).join("; ") });
}

/** @param {Wanted} one @param {Numbered[]} numbers @returns {Promise<Line>} */
async function lineOf(one, numbers) {
  /** @type {Line} */
  const line = { one, count: one.count, number: "", status: "?", choices: [], chosen: -1, note: "", near: [] };
  if (one.kind === "missing") return { ...line, near: nearest(numbers, one.typed).slice(0, 3) };
  if (one.kind === "unclear") return { ...line, note: say("several.says.unclear.why", { number: one.number }) };
  const slip = one.slip ? say("several.slip", { typed: one.typed, number: one.number }) : "";
  if (one.kind === "kit") return { ...line, number: one.number, status: "c", note: slip || one.title };
  const data = await book.answers(one.family);
  const part = data.parts[one.key];
  const choices = choicesOf(part, data);
  return { ...line, number: part.number, status: letterOf(part.status), choices, chosen: choices.length === 1 ? 0 : -1, note: [slip, warningOf(part, choices)].filter(Boolean).join(" ") };
}

/**
 * One choice for each different answer: plugs that get the same thing share one. A part that is withdrawn may have been put in later: then it
 * is the plugs that warn of it.
 * @param {PartAnswer} part
 * @param {Answers} data
 */
function choicesOf(part, data) {
  const warning = () => Object.keys(data.seats).filter((key) => data.seats[key].candidates.some((one) => one.number === part.number && one.group === "withdrawn"));
  const seats = part.seats?.map(([key]) => key) ?? (part.status === "withdrawn" ? warning() : []);
  /** @type {Map<string, Choice>} */
  const found = new Map();
  for (const key of seats) {
    const seat = data.seats[key];
    const fit = seat.candidates.find((candidate) => candidate.group === "fit");
    const id = JSON.stringify([fit?.number, fit?.verdict, fit?.orders, fit?.also, fit?.moves_why]);
    const choice = found.get(id) ?? { id, seats: [], vehicles: [], plugs: [], fit };
    choice.seats.push(key);
    choice.vehicles.push(...seat.vehicles);
    const plug = say("answer.row", { count: seat.wires, title: seat.plug_title });
    if (!choice.plugs.includes(plug)) choice.plugs.push(plug);
    found.set(id, choice);
  }
  return [...found.values()];
}

/** What has to be known of the part that came off before anything: it must not go on again. @param {PartAnswer} part @param {Choice[]} choices */
function warningOf(part, choices) {
  const { number, status } = part;
  if (status === "superseded") return say("several.superseded", { number });
  if (status !== "withdrawn") return "";
  const instead = [...new Set(choices.map(({ fit }) => fit?.number ?? ""))].filter(Boolean);
  return instead.length ? say("several.withdrawn", { number, instead: instead.join(say("several.or")) }) : say("several.withdrawn.nothing", { number });
}

/** @param {Line[]} lines @param {Words} words */
function table(lines, words) {
  const head = [say("several.number"), say("several.count"), say("several.for"), say("several.fit"), say("several.orders"), say("several.note")];
  return h(
    "table",
    { class: "stack several__table" },
    h("thead", {}, h("tr", {}, head.map((word) => h("th", { scope: "col" }, word)))),
    h("tbody", {}, lines.map((line) => rowOf(line, lines, words))),
  );
}

/** @param {Line} line @param {Line[]} lines @param {Words} words */
function rowOf(line, lines, words) {
  const { one, number } = line;
  const gone = FIRST.includes(line.status);
  const choice = line.choices[line.chosen];
  const fit = choice?.fit;
  const row = h(
    "tr",
    { "data-found": number ? "yes" : "no", "data-gone": gone && line.status },
    h("th", { scope: "row" }, number ? h("a", { class: "number", href: book.to(`?q=${encodeURIComponent(number)}`) }, number) : one.typed, number && words.gone[line.status] && badge("no", words.gone[line.status]), number && one.typed !== number && h("span", { class: "soft" }, one.typed)),
    h("td", { "data-label": say("several.count") }, number && countBox(line, lines, words)),
    h("td", { "data-label": say("several.for") }, line.choices.length > 1 ? plugBox(line, lines, words) : choice && short(choice.vehicles)),
    h("td", { "data-label": say("several.fit") }, fit && [choice.seats.length === 1 ? h("a", { class: "number", href: book.to(jobUrl(choice.seats[0], fit.number, number)) }, fit.number) : h("span", { class: "number" }, fit.number), badge(fit.verdict, words.verdict[fit.verdict]), onShelf(fit.number, shelf)], says(line)),
    h("td", { "data-label": say("several.orders.short") }, fit && withIt(fit)),
    h("td", { "data-label": say("several.note") }, notes(line, gone)),
  );
  return row;
}

/** What is said where there is nothing to fit. @param {Line} line */
function says({ one, number, choices, chosen }) {
  if (one.kind === "kit") return say("several.says.kit");
  if (!number) return say(one.kind === "unclear" ? "several.says.unclear" : "several.says.missing");
  if (!choices.length) return badge("unknown", say("several.says.unknown"));
  if (chosen < 0) return say("several.which");
  return choices[chosen].fit ? "" : badge("unknown", say("answer.row.nothing"));
}

/** @param {Candidate} fit */
const withIt = (fit) => [
  (fit.orders ?? []).map((order) => h("p", {}, h("b", { class: "number" }, order.number), " ", orderWords(order))),
  (fit.also ?? []).map((what) => h("p", {}, say("sentence", { text: what }))),
  fit.moves_why && h("p", {}, say("sentence", { text: fit.moves_why })),
];

/** @param {Line} line @param {boolean} gone */
function notes(line, gone) {
  const { one, note, near } = line;
  const asked = one.figures.length > 1 && h("p", {}, say("several.counts", { counts: one.figures.join(say("several.or")) }));
  const take = near.map((other) => h("button", { class: "button button--quiet", type: "button", onclick: () => takeFor(one.typed, other) }, say("several.take", { number: other.number })));
  const unknown = one.kind === "part" && !line.choices.length && line.status !== "w" && say("several.says.unknown.why");
  return [note && h("p", { class: gone ? "several__gone" : undefined }, note), unknown, asked, take.length > 0 && [h("p", {}, say("several.says.near")), take]];
}

/** @param {string} typed @param {Numbered} other */
function takeFor(typed, other) {
  meant.set(normalise(typed), other);
  show();
}

/** @param {Line} line @param {Line[]} lines @param {Words} words */
function countBox(line, lines, words) {
  return h("input", {
    class: "several__count",
    type: "number",
    min: 0,
    max: MOST_PIECES,
    value: line.count,
    inputmode: "numeric",
    "aria-label": say("several.count.of", { number: line.number }),
    onchange: ({ target }) => {
      if (!(target instanceof HTMLInputElement)) return;
      const said = Math.trunc(Number(target.value));
      line.count = Math.min(Math.max(Number.isFinite(said) ? said : 0, 0), MOST_PIECES);
      target.value = String(line.count);
      showPick(lines, words);
    },
  });
}

/** @param {Line} line @param {Line[]} lines @param {Words} words */
function plugBox(line, lines, words) {
  /** @param {Choice} choice @param {number} at */
  const option = (choice, at) => h("option", { value: at, selected: at === line.chosen }, say("several.plug", { vehicles: short(choice.vehicles), plugs: choice.plugs.join(say("several.or")) }));
  return h(
    "select",
    {
      class: "several__plug",
      "aria-label": say("several.plug.of", { number: line.number }),
      onchange: ({ target }) => {
        if (!(target instanceof HTMLSelectElement)) return;
        line.chosen = Number(target.value);
        const row = rowOf(line, lines, words);
        target.closest("tr")?.replaceWith(row);
        row.querySelector("select")?.focus();
        showPick(lines, words);
      },
    },
    h("option", { value: -1, selected: line.chosen < 0 }, say("several.which")),
    line.choices.map(option),
  );
}

/** @param {string[]} vehicles */
function short(vehicles) {
  return vehicles.length > SHOWN ? say("several.more", { vehicles: vehicles.slice(0, SHOWN).join("; "), count: vehicles.length - SHOWN }) : vehicles.join("; ");
}

/** @param {Line[]} lines @param {Words} words */
function showPick(lines, words) {
  const list = pickOf(
    lines.map(({ one, count, choices, chosen }) => {
      if (one.kind === "kit") return { count, kit: one };
      return { count, fit: choices[chosen]?.fit };
    }),
  );
  labels.replaceChildren();
  const open = lines.filter(({ chosen, choices }) => choices.length > 1 && chosen < 0).length;
  const without = lines.filter(({ one, chosen, choices }) => one.kind !== "kit" && (choices.length <= 1 || chosen >= 0) && !choices[chosen]?.fit).length;
  const inside = [
    h("h2", {}, say("several.pick")),
    open > 0 && h("p", { class: "box box--unknown" }, say("several.pick.open", { count: open })),
    without > 0 && h("p", { class: "box box--unknown" }, say("several.pick.without", { count: without })),
    KINDS.map((kind) => section(kind, list.filter((one) => one.kind === kind))),
    h(
      "p",
      { class: "several__go noprint" },
      list.length > 0 && h("button", { class: "button", type: "button", onclick: () => print() }, say("several.pick.print")),
      list.length > 0 && h("button", { class: "button", type: "button", "data-several-make-labels": true, onclick: () => showLabels(list, words) }, say("several.pick.labels")),
      list.length > 0 && file("pick-list.csv", say("several.pick.csv"), pickRows(list)),
      file("what-fits.csv", say("several.lines.csv"), lineRows(lines, words)),
    ),
  ];
  picked.replaceChildren(h("div", {}, inside));
}

/** @param {Kind} kind @param {Picked[]} list */
function section(kind, list) {
  if (!list.length) return [];
  return [
    h("h3", {}, say(`several.pick.${kind}`)),
    h(
      "ul",
      { class: "order__list pick" },
      list.map((one) => h("li", { "data-kind": kind, "data-what": one.what, "data-count": one.count }, h("b", { class: "pick__count" }, say("several.times", { count: one.count })), " ", isNumber(one) && [one.url ? h("a", { class: "number", href: book.to(one.url) }, one.what) : h("b", { class: "number" }, one.what), " "], aboutOf(one), " ", isNumber(one) && onShelf(one.what, shelf))),
    ),
  ];
}

/** Whether what a thing is called is a number. @param {Picked} one */
const isNumber = (one) => one.kind === "switch" || one.kind === "kit" || (one.kind === "part" && !one.sold);

/** What a thing is, in words. @param {Picked} one */
function aboutOf({ kind, what, title, seal, of, sold }) {
  if (kind === "seal") return of ? say("several.pick.seal.of", { seal: seal ?? 0, kit: of }) : say("several.pick.seal.alone", { seal: seal ?? 0 });
  if (kind === "blanks") return say("several.pick.blanks.more");
  if (sold) return say(`several.pick.${sold}`, { number: what });
  return kind === "work" ? what : (title ?? "");
}

/** @param {Picked[]} list @param {Words} words */
async function showLabels(list, words) {
  const numbers = await book.numbers();
  const kits = await book.kits();
  const made = list.filter(({ kind }) => kind !== "work").map(async (one) => {
    const about = aboutOf(one);
    const says = isNumber(one) ? one.what : say(one.kind === "seal" ? "several.label.seal" : "several.label.other");
    if (one.kind === "kit") return label({ says, about, count: one.count, code: kits[normalise(one.what)]?.code });
    const part = one.kind === "switch" || one.kind === "part" ? numbers.find((two) => two.kind === "part" && two.number === one.what) : undefined;
    if (part?.kind !== "part") return label({ says, about, count: one.count });
    const proof = await book.proof(part.family);
    return label({ says, about: proof.family.title, count: one.count, code: proof.parts[part.key].code, status: words.gone[part.status], withdrawn: part.status === "w" });
  });
  labels.replaceChildren(h("p", { class: "noprint" }, h("button", { class: "button", type: "button", onclick: () => print() }, say("several.labels.print"))), h("div", { class: "labels__sheet" }, await Promise.all(made)));
  labels.scrollIntoView();
}

/** @type {string[]} */
const made = [];
/** A link to a table as a file. @param {string} name @param {string} words @param {string[][]} rows */
function file(name, words, rows) {
  // The two files of the list before are let go of.
  while (made.length > 1) URL.revokeObjectURL(made.shift() ?? "");
  const url = URL.createObjectURL(new Blob([csv(rows)], { type: "text/csv;charset=utf-8" }));
  made.push(url);
  return h("a", { class: "button button--quiet", href: url, download: name }, words);
}

/** @param {Picked[]} list */
const pickRows = (list) => [
  [say("several.count"), say("several.kind"), say("several.number"), say("several.note"), say("several.on_shelf")],
  ...list.map((one) => [String(one.count), say(`several.pick.${one.kind}`), isNumber(one) ? one.what : "", aboutOf(one), isNumber(one) ? String(countOn(shelf, one.what)) : ""]),
];

/** @param {Line[]} lines @param {Words} words */
function lineRows(lines, words) {
  const head = ["typed", "count", "number", "status", "for", "plug", "fit", "verdict", "orders", "wires", "note"];
  const rows = lines.flatMap((line) => {
    const { one, number } = line;
    const start = [one.typed, String(line.count), number, words.gone[line.status] ?? ""];
    const chosen = line.chosen < 0 ? line.choices : [line.choices[line.chosen]];
    const note = [line.note, line.near.map((other) => other.number).join(", ")].filter(Boolean).join(" ");
    if (!chosen.length) return [[...start, "", "", "", one.kind === "kit" ? say("several.says.kit") : say(number ? "several.says.unknown" : one.kind === "unclear" ? "several.says.unclear" : "several.says.missing"), "", "", note]];
    return chosen.map(({ vehicles, plugs, fit }) => {
      const kits = (fit?.orders ?? []).map((order) => (order.uses ? say("several.order", { number: order.number, uses: order.uses }) : order.number));
      const orders = [...kits, ...(fit?.also ?? [])].join("; ");
      return [...start, vehicles.join("; "), plugs.join("; "), fit?.number ?? "", fit ? words.verdict[fit.verdict] : say("answer.row.nothing"), orders, fit?.moves_why ?? "", note];
    });
  });
  return [head.map((name) => say(HEADS[/** @type {keyof typeof HEADS} */ (name)])), ...rows];
}

/** The headings of the file of lines. */
const HEADS = /** @type {const} */ ({
  typed: "several.typed",
  count: "several.count",
  number: "several.number",
  status: "several.status",
  for: "several.for",
  plug: "several.plug.head",
  fit: "several.fit",
  verdict: "several.verdict",
  orders: "several.orders",
  wires: "several.wires",
  note: "several.note",
});

const scanner = need(form, "[data-scan]", HTMLButtonElement);
scanner.hidden = false;
scanner.addEventListener("click", async () => {
  const { scan } = await import("../scan/dialog.js");
  scan((says) => {
    list.value = `${list.value.trim()}\n${says}\n`.trimStart();
    show();
  });
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  show();
});
show();
