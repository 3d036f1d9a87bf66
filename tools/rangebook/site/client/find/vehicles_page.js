// The finder on the page of vehicles: make, model, year and gearbox narrow the lines of the find index; what stays open is asked.

import { seatAnswer } from "../answer/answer.js";
import { counted, h } from "../shared/dom.js";
import { vehicleLines } from "../shared/search.js";
import { listenForVin } from "../shared/vin_box.js";

const MOST_ROWS = 24;
const FIELDS = ["make", "model", "year", "gearbox"];

const home = document.querySelector("[data-finder]");
const form = home.querySelector("[data-finder-form]");
const place = home.querySelector("[data-finder-place]");
const status = home.querySelector("[data-finder-status]");
const list = document.querySelector("[data-vehicle-list]");
const to = (url) => `${home.dataset.base}/${url}`;

const kept = new Map();
function once(url) {
  if (!kept.has(url)) {
    const asked = fetch(url).then((answer) => {
      if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
      return answer.json();
    });
    asked.catch(() => kept.delete(url));
    kept.set(url, asked);
  }
  return kept.get(url);
}

/** Make and model of a vehicle: the first word of its name, and the rest. The list below is sorted by the same. */
const makeOf = (line) => line.vehicle.split(/\s+/)[0];
const modelOf = (line) => line.vehicle.slice(makeOf(line).length).trim() || line.vehicle;

const agrees = {
  make: (line, make) => makeOf(line) === make,
  model: (line, model) => modelOf(line) === model,
  // A line that states no years, or no gearbox, is never left out for it.
  year: (line, years) => !line.first || years.split(".").some((year) => line.first <= year && (!line.last || year <= line.last)),
  gearbox: (line, gearbox) => !line.gearbox || line.gearbox === gearbox,
};

function asked() {
  const query = new URLSearchParams(location.search);
  return Object.fromEntries(FIELDS.map((name) => [name, query.get(name) ?? ""]).filter(([, value]) => value));
}

function matching(lines, chosen, except = null) {
  const known = Object.entries(chosen).filter(([name]) => name !== except);
  return lines.filter((line) => known.every(([name, value]) => agrees[name](line, value)));
}

function offers(lines, name, newest) {
  const found = new Set();
  for (const line of lines) {
    if (name === "make") found.add(makeOf(line));
    else if (name === "model") found.add(modelOf(line));
    else if (name === "gearbox") line.gearbox && found.add(line.gearbox);
    else if (line.first) for (let year = line.first; year <= (line.last || Math.max(newest, line.first)); year++) found.add(String(year));
  }
  const words = [...found].sort((a, b) => a.localeCompare(b, "en", { numeric: true }));
  return name === "year" ? words.reverse() : words;
}

let book = null;
const newest = () => book.lines.reduce((most, line) => Math.max(most, line.first, line.last), 0);

function fill(chosen) {
  for (const name of FIELDS) {
    const select = form.elements[name];
    const words = offers(matching(book.lines, chosen, name), name, newest());
    const value = chosen[name] ?? "";
    if (value && !words.includes(value)) words.unshift(value);
    select.replaceChildren(h("option", { value: "" }, "any"), ...words.map((word) => h("option", { value: word }, word.replaceAll(".", name === "year" ? " or " : "."))));
    select.value = value;
    select.disabled = false;
  }
}

let turn = 0;
async function show() {
  const mine = ++turn;
  const chosen = asked();
  fill(chosen);
  const any = Object.keys(chosen).length > 0;
  list.hidden = any;
  if (!any) {
    place.replaceChildren();
    status.textContent = "";
    return;
  }
  const lines = matching(book.lines, chosen);
  const seats = new Set(lines.map((line) => line.seat && `${line.family}/${line.seat}`));
  const [only] = seats;
  let pieces;
  let said;
  if (!lines.length) {
    said = "No vehicle in the book has all of that.";
    pieces = h("p", { class: "box" }, `${said} Choose “any” for one of them.`);
  } else if (seats.size === 1 && only) {
    const data = await once(to(`data/answers/${lines[0].family}.json`));
    if (mine !== turn) return;
    const link = (key) => `${to("")}?${new URLSearchParams({ q: lines[0].vehicle, seat: key })}`;
    said = `What fits ${lines[0].vehicle}.`;
    pieces = seatAnswer(only, data, { words: book.index.words, to, seat: only, link, go: () => () => {} });
  } else {
    said = `${counted(lines.length, "vehicle line")} left.`;
    pieces = rows(lines);
  }
  place.replaceChildren(h("div", { class: "answer" }, pieces));
  status.textContent = said;
}

/** What remains open is asked: the lines that are left, with all that tells them apart. */
function rows(lines) {
  const row = (line) => {
    const words = [h("strong", {}, line.vehicle), h("span", {}, line.rest)];
    if (!line.seat) return h("a", { class: "row", href: to(`switches/${line.family}/#Vehicles`) }, words, h("span", {}, "Its plug or its part is not in the book: nothing can be said yet."));
    return h("a", { class: "row", href: `${to("")}?${new URLSearchParams({ q: line.vehicle, seat: `${line.family}/${line.seat}` })}`, "data-vehicle": line.vehicle }, words);
  };
  return h(
    "section",
    {},
    h("h2", {}, "Which one is it?"),
    h("ul", { class: "rows" }, lines.slice(0, MOST_ROWS).map((line) => h("li", {}, row(line)))),
    lines.length > MOST_ROWS && h("p", { class: "soft" }, `And ${lines.length - MOST_ROWS} more: choose more of it.`),
  );
}

function choose(changed) {
  const chosen = { ...asked(), ...changed };
  const query = new URLSearchParams(Object.entries(chosen).filter(([, value]) => value));
  history.pushState(null, "", query.size ? `?${query}` : location.pathname);
  show();
}

form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("change", ({ target }) => {
  if (!FIELDS.includes(target.name)) return;
  // Another make has other models; what was chosen after it would only get in the way.
  choose(target.name === "make" ? { make: target.value, model: "" } : { [target.name]: target.value });
});
form.addEventListener("reset", () => {
  form.querySelector("#finder-vin").value = "";
  form.querySelector("#finder-vin").dispatchEvent(new Event("input"));
  choose(Object.fromEntries(FIELDS.map((name) => [name, ""])));
});
addEventListener("popstate", show);
listenForVin(form.querySelector("#finder-vin"), home.querySelector("[data-finder-vin]"), () => once(home.dataset.vin), (years) => choose({ year: years ? years.join(".") : "" }));

Promise.all([once(home.dataset.numbers), once(home.dataset.names)])
  .then(([index, names]) => {
    book = { index, lines: vehicleLines(names, index) };
    home.hidden = false;
    return show();
  })
  .catch(() => {
    // The list below needs no script and says the same.
    home.hidden = true;
    list.hidden = false;
  });
