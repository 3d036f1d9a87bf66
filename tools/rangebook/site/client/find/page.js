// The find page: what is typed, what is found, and the address that an answer can be sent by.

import { partAnswer, seatAnswer } from "../answer/answer.js";
import { counted, h } from "../shared/dom.js";
import { findNames, findNumbers, findVehicles, nearestNumbers, normalise, numberList, vehicleLines } from "../shared/search.js";

const MOST_ROWS = 24;
const AHEAD = 2;

const home = document.querySelector("[data-find]");
const box = home.querySelector("#q");
const form = home.querySelector("[data-find-form]");
const place = home.querySelector("[data-find-answer]");
const status = home.querySelector("[data-find-status]");
const start = document.querySelector("[data-find-start]");

const to = (url) => `${home.dataset.base}/${url}`;
const load = async (url) => {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
  return answer.json();
};

const kept = new Map();
/** A file, asked for once; one that failed is asked for again. */
function once(url) {
  if (!kept.has(url)) {
    const asked = load(url);
    asked.catch(() => kept.delete(url));
    kept.set(url, asked);
  }
  return kept.get(url);
}

const ready = () =>
  Promise.all([once(home.dataset.numbers), once(home.dataset.names)]).then(([index, names]) => {
    ready.value ??= { index, names, numbers: numberList(index), lines: vehicleLines(names, index) };
    return ready.value;
  });

const answersOf = (family) => once(to(`data/answers/${family}.json`));

/** What is asked for: the text in the box, and the seat that was chosen (`family/seat`), if any. */
function asked() {
  const query = new URLSearchParams(location.search);
  return { text: query.get("q") ?? "", seat: query.get("seat") };
}

function addressOf(text, seat) {
  const query = new URLSearchParams();
  if (text) query.set("q", text);
  if (seat) query.set("seat", seat);
  const search = query.toString();
  return search ? `?${search}` : location.pathname;
}

function go(text, seat = null) {
  return (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey || event.button > 0) return;
    event.preventDefault();
    history.pushState(null, "", addressOf(text, seat));
    box.value = text;
    show().then(() => home.scrollIntoView());
  };
}

let turn = 0;
/** Show what the address asks for. A later call wins over an earlier one that is still loading. */
async function show() {
  const mine = ++turn;
  const { text, seat } = asked();
  const typed = text.trim();
  start.hidden = typed !== "";
  document.body.classList.toggle("is-asked", typed !== "");
  if (!typed) {
    document.documentElement.classList.remove("is-coming");
    place.replaceChildren();
    status.textContent = "";
    return;
  }
  try {
    const found = await answer(await ready(), typed, seat);
    if (mine !== turn) return;
    place.replaceChildren(h("div", {}, found.pieces));
    document.documentElement.classList.remove("is-coming");
    status.textContent = found.said;
  } catch {
    if (mine !== turn) return;
    status.textContent = "The book could not be loaded.";
    place.replaceChildren(
      h("p", { class: "box" }, "The book could not be loaded. Is there a connection? ", h("button", { class: "button", type: "button", onclick: show }, "Try again")),
    );
  }
}

/** `{pieces, said}`: what to show, and the same in one sentence for those who hear it. */
async function answer(book, text, seat) {
  const { exact, holding } = findNumbers(book.numbers, text);
  const view = viewOf(book, text, seat);
  const parts = exact.filter((one) => one.kind === "part");
  askAhead(exact.length ? exact : holding);
  if (parts.length) {
    const [pieces, said] = await partPieces(parts[0], view);
    return { pieces: [pieces, moreNumbers(exact.slice(1).concat(holding), view)], said };
  }
  if (seat) {
    const data = await answersOf(seat.split("/")[0]);
    if (data.seats[seat]) {
      const back = h("p", {}, h("a", { class: "chip", href: addressOf(text), onclick: go(text) }, `All that is found for “${text}”`));
      return { pieces: [back, seatAnswer(seat, data, view)], said: `What fits ${data.seats[seat].vehicles[0]}.` };
    }
  }
  return names(book, text, view, exact.concat(holding));
}

/** What can only be one of few families is asked for while it is still being typed. */
function askAhead(numbers) {
  const families = new Set(numbers.filter((one) => one.kind === "part").map((one) => one.family));
  if (families.size <= AHEAD) for (const family of families) answersOf(family).catch(() => {});
}

async function names(book, text, view, numbers) {
  const vehicles = findVehicles(book.lines, text);
  const named = findNames(book.names, book.index, text);
  // A gearbox stands in every line of its vehicles: they are listed under it, unless their names say it too.
  const lines = named.gearboxes.length ? vehicles.byName : vehicles.all;
  const nothingElse = !lines.length && !named.gearboxes.length && !named.families.length && !named.connectors.length;
  if (numbers.length === 1 && nothingElse && numbers[0].kind === "part") {
    const [pieces, said] = await partPieces(numbers[0], view);
    return { pieces: [h("p", { class: "box" }, `The only number with “${text}” in it:`), pieces], said };
  }
  const seats = new Set(lines.map((line) => line.seat && `${line.family}/${line.seat}`));
  if (lines.length && seats.size === 1 && !seats.has(null) && !numbers.length && !named.gearboxes.length) {
    const [key] = seats;
    const data = await answersOf(key.split("/")[0]);
    return { pieces: [seatAnswer(key, data, view)], said: `What fits ${lines[0].vehicle}.` };
  }
  const groups = [
    numberRows(numbers, view),
    vehicleRows("Which one is it?", lines, view),
    ...named.gearboxes.map(([gearbox]) => gearboxRows(book, gearbox, vehicles.all, view)),
    pageRows("Switch families", named.families.map((one) => [one.title, "the whole page", `switches/${one.id}/`])),
    pageRows("Connectors", named.connectors.map(([title, url, cavities]) => [title, counted(cavities, "cavity", "cavities"), url])),
  ].filter(Boolean);
  if (groups.length) {
    return { pieces: groups, said: `${counted(numbers.length, "number")}, ${counted(lines.length, "vehicle line")} found.` };
  }
  return nothing(book, text, view);
}

function nothing(book, text, view) {
  const near = nearestNumbers(book.numbers, text);
  const key = normalise(text);
  const short = key.length < 4;
  return {
    said: `${text} is not in the book.`,
    pieces: [
      h(
        "div",
        { class: "box", "data-not-in-book": true },
        h("h2", {}, `“${text}” is not in the book`),
        h(
          "p",
          {},
          short
            ? "Type at least four characters of a number, or a vehicle or gearbox."
            : "Read the number once more: O and 0, I and 1, B and 8 are easily mixed up. Or look by the vehicle or the gearbox.",
        ),
        !short && h("p", {}, "If it is in your hand and spelled right: ", h("a", { href: to("write/") }, "write it down"), "."),
      ),
      near.length > 0 && [h("h2", {}, "The nearest numbers in it"), h("p", { class: "soft" }, "None of these is the number that you typed."), rowsOf(near, view, "nearest")],
    ],
  };
}

async function partPieces(one, view) {
  const data = await answersOf(one.family);
  const part = data.parts[one.key];
  const seats = part.seats ?? [];
  return [partAnswer(part, data, view), `${part.number}: ${counted(seats.length, "plug")} in the book.`];
}

function viewOf(book, text, seat) {
  return { words: book.index.words, to, seat, link: (key) => addressOf(text, key), go: (key) => go(text, key) };
}

function moreNumbers(list, view) {
  return list.length ? h("details", {}, h("summary", {}, `${counted(list.length, "other number")} with the same characters in it`), rowsOf(list, view, "more")) : null;
}

function numberRows(list, view) {
  return list.length ? h("section", {}, h("h2", {}, "Numbers"), rowsOf(list, view, "holding")) : null;
}

function rowsOf(list, view, how) {
  const rows = list.slice(0, MOST_ROWS).map((one) =>
    h(
      "li",
      {},
      h(
        "a",
        one.kind === "kit" ? { class: "row", href: to(one.url), "data-how": how } : { class: "row", href: addressOf(one.number), onclick: go(one.number), "data-how": how },
        h("strong", { class: "number" }, one.number),
        h("span", {}, one.kind === "kit" ? `Kit: ${one.title}` : `${one.title}; ${view.words.status[one.status]}`),
      ),
    ),
  );
  return [h("ul", { class: "rows" }, rows), rest(list.length)];
}

function vehicleRows(heading, lines, view) {
  if (!lines.length) return null;
  return h("section", {}, h("h2", {}, heading), h("ul", { class: "rows" }, lines.slice(0, MOST_ROWS).map((line) => vehicleRow(line, view))), rest(lines.length));
}

function vehicleRow(line) {
  const words = [h("strong", {}, line.vehicle), h("span", {}, line.rest)];
  if (!line.seat) {
    return h("li", {}, h("a", { class: "row", href: to(`switches/${line.family}/#Vehicles`) }, words, h("span", {}, "Its plug or its part is not in the book: nothing can be said yet.")));
  }
  const key = `${line.family}/${line.seat}`;
  return h("li", {}, h("a", { class: "row", href: addressOf(box.value.trim(), key), onclick: go(box.value.trim(), key), "data-vehicle": line.vehicle }, words));
}

function gearboxRows(book, gearbox, lines, view) {
  const own = lines.filter((line) => line.gearbox === gearbox);
  const at = book.names.gearboxes.find(([name]) => name === gearbox)[1];
  const families = at.map((one) => book.index.families[one]);
  return h(
    "section",
    {},
    h("h2", {}, `Gearbox ${gearbox}`),
    own.length > 0 && [h("h3", {}, "Which vehicle is it in?"), h("ul", { class: "rows" }, own.slice(0, MOST_ROWS).map((line) => vehicleRow(line, view))), rest(own.length)],
    h("h3", {}, "Its switches"),
    h("ul", { class: "rows" }, families.map(([id, title]) => h("li", {}, h("a", { class: "row", href: to(`switches/${id}/`) }, h("strong", {}, title), h("span", {}, "the whole page"))))),
  );
}

function pageRows(heading, rows) {
  if (!rows.length) return null;
  return h(
    "section",
    {},
    h("h2", {}, heading),
    h("ul", { class: "rows" }, rows.slice(0, MOST_ROWS).map(([title, about, url]) => h("li", {}, h("a", { class: "row", href: to(url) }, h("strong", {}, title), h("span", {}, about))))),
    rest(rows.length),
  );
}

function rest(count) {
  return count > MOST_ROWS ? h("p", { class: "soft" }, `And ${count - MOST_ROWS} more: type more of it.`) : null;
}

box.addEventListener("input", () => {
  history.replaceState(null, "", addressOf(box.value));
  show();
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  history.replaceState(null, "", addressOf(box.value, asked().seat));
  show().then(() => place.querySelector("a.row, .choice__number a")?.focus({ preventScroll: true }));
});
for (const example of document.querySelectorAll("[data-find-example]")) {
  example.addEventListener("click", go(example.dataset.findExample));
}
addEventListener("popstate", () => {
  box.value = asked().text;
  show();
});
// What was typed before the script was there stays.
if (box.value && !asked().text) history.replaceState(null, "", addressOf(box.value));
else box.value = asked().text;
ready().catch(() => {});
show();
