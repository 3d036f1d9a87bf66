// The finder on the page of vehicles: make, model, year and gearbox narrow the lines of the find index; what stays open is asked.

import { seatAnswer } from "../answer/answer.js";
import { bookOf } from "../shared/book.js";
import { h, need } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { vehicleLines } from "../shared/search.js";
import { listenForVin } from "../shared/vin_box.js";
import "../words/find.js";

/** @import { NumberIndex } from "../types/data.js" */
/** @import { Child } from "../shared/dom.js" */
/** @import { Line } from "../shared/search.js" */
/** @typedef {"make" | "model" | "year" | "gearbox"} Field */
/** @typedef {Partial<Record<Field, string>>} Chosen */
/** @typedef {{ index: NumberIndex, lines: Line[] }} Loaded */

const MOST_ROWS = 24;
/** @type {Field[]} */
const FIELDS = ["make", "model", "year", "gearbox"];

const home = need(document, "[data-finder]", HTMLElement);
const form = need(home, "[data-finder-form]", HTMLFormElement);
const place = need(home, "[data-finder-place]", HTMLElement);
const status = need(home, "[data-finder-status]", HTMLElement);
const vin = need(form, "#finder-vin", HTMLInputElement);
const list = need(document, "[data-vehicle-list]", HTMLElement);
const book = bookOf(home);
const { to } = book;

/** Make and model of a vehicle: the first word of its name, and the rest. The list below is sorted by the same. @param {Line} line */
const makeOf = (line) => line.vehicle.split(/\s+/)[0];
/** @param {Line} line */
const modelOf = (line) => line.vehicle.slice(makeOf(line).length).trim() || line.vehicle;

/** @type {Record<Field, (line: Line, value: string) => boolean>} */
const agrees = {
  make: (line, make) => makeOf(line) === make,
  model: (line, model) => modelOf(line) === model,
  // A line that states no years, or no gearbox, is never left out for it.
  year: (line, years) => !line.first || years.split(".").some((year) => line.first <= Number(year) && (!line.last || Number(year) <= line.last)),
  gearbox: (line, gearbox) => !line.gearbox || line.gearbox === gearbox,
};

/** @returns {Chosen} */
function asked() {
  const query = new URLSearchParams(location.search);
  return Object.fromEntries(FIELDS.map((name) => [name, query.get(name) ?? ""]).filter(([, value]) => value));
}

/** @param {Line[]} lines @param {Chosen} chosen @param {Field} [except] */
function matching(lines, chosen, except) {
  const known = FIELDS.filter((name) => name !== except && chosen[name]);
  return lines.filter((line) => known.every((name) => agrees[name](line, chosen[name] ?? "")));
}

/** @param {Line[]} lines @param {Field} name @param {number} newest */
function offers(lines, name, newest) {
  /** @type {Set<string>} */
  const found = new Set();
  for (const line of lines) {
    if (name === "make") found.add(makeOf(line));
    else if (name === "model") found.add(modelOf(line));
    else if (name === "year") for (let year = line.first; line.first && year <= (line.last || Math.max(newest, line.first)); year++) found.add(String(year));
    else if (line.gearbox) found.add(line.gearbox);
  }
  const words = [...found].sort((a, b) => a.localeCompare(b, "en", { numeric: true }));
  return name === "year" ? words.reverse() : words;
}

/** A year, or the two that a VIN may stand for. @param {string} value */
function yearWords(value) {
  const [year, other] = value.split(".");
  return other ? say("vehicles.years", { year, other }) : year;
}

/** @param {Loaded} loaded @param {Chosen} chosen */
function fill(loaded, chosen) {
  const newest = loaded.lines.reduce((most, line) => Math.max(most, line.first, line.last), 0);
  for (const name of FIELDS) {
    const select = need(form, `[name=${name}]`, HTMLSelectElement);
    const words = offers(matching(loaded.lines, chosen, name), name, newest);
    const value = chosen[name] ?? "";
    if (value && !words.includes(value)) words.unshift(value);
    select.replaceChildren(h("option", { value: "" }, say("vehicles.any")), ...words.map((word) => h("option", { value: word }, name === "year" ? yearWords(word) : word)));
    select.value = value;
    select.disabled = false;
  }
}

let turn = 0;
/** @param {Loaded} loaded */
async function show(loaded) {
  const mine = ++turn;
  const chosen = asked();
  fill(loaded, chosen);
  const any = Object.keys(chosen).length > 0;
  list.hidden = any;
  if (!any) {
    place.replaceChildren();
    status.textContent = "";
    return;
  }
  const lines = matching(loaded.lines, chosen);
  const [only, ...more] = new Set(lines.map((line) => line.seat && `${line.family}/${line.seat}`));
  /** @type {Child} */
  let pieces;
  let said;
  if (!lines.length) {
    said = say("vehicles.none");
    pieces = h("p", { class: "box" }, say("vehicles.none.help"));
  } else if (only && !more.length) {
    const data = await book.answers(lines[0].family);
    if (mine !== turn) return;
    said = say("find.what_fits", { vehicle: lines[0].vehicle });
    pieces = seatAnswer(only, data, { words: loaded.index.words, to, seat: only, link: (key) => linkTo(lines[0].vehicle, key ?? "") });
  } else {
    said = say("vehicles.left", { count: lines.length });
    pieces = rows(lines);
  }
  place.replaceChildren(h("div", { class: "answer" }, pieces));
  status.textContent = said;
}

/** The address of an answer. @param {string} vehicle @param {string} seat */
const linkTo = (vehicle, seat) => `${to("")}?${new URLSearchParams({ q: vehicle, seat })}`;

/** What remains open is asked: the lines that are left, with all that tells them apart. @param {Line[]} lines */
function rows(lines) {
  /** @param {Line} line */
  const row = (line) => {
    const words = [h("strong", {}, line.vehicle), h("span", {}, line.rest)];
    if (!line.seat) return h("a", { class: "row", href: to(`switches/${line.family}/#Vehicles`) }, words, h("span", {}, say("find.no_seat")));
    return h("a", { class: "row", href: linkTo(line.vehicle, `${line.family}/${line.seat}`), "data-vehicle": line.vehicle }, words);
  };
  return h(
    "section",
    {},
    h("h2", {}, say("find.which")),
    h("ul", { class: "rows" }, lines.slice(0, MOST_ROWS).map((line) => h("li", {}, row(line)))),
    lines.length > MOST_ROWS && h("p", { class: "soft" }, say("vehicles.rest", { count: lines.length - MOST_ROWS })),
  );
}

/** @param {Loaded} loaded */
function start(loaded) {
  /** @param {Chosen} changed */
  const choose = (changed) => {
    const query = new URLSearchParams(Object.entries({ ...asked(), ...changed }).filter(([, value]) => value));
    history.pushState(null, "", query.size ? `?${query}` : location.pathname);
    show(loaded);
  };
  form.addEventListener("change", ({ target }) => {
    if (!(target instanceof HTMLSelectElement)) return;
    // Another make has other models; what was chosen after it would only get in the way.
    choose(target.name === "make" ? { make: target.value, model: "" } : { [target.name]: target.value });
  });
  form.addEventListener("reset", () => {
    vin.value = "";
    vin.dispatchEvent(new Event("input"));
    choose({ make: "", model: "", year: "", gearbox: "" });
  });
  addEventListener("popstate", () => show(loaded));
  listenForVin(vin, need(home, "[data-finder-vin]", HTMLElement), (years) => choose({ year: years ? years.join(".") : "" }));
  home.hidden = false;
  return show(loaded);
}

form.addEventListener("submit", (event) => event.preventDefault());
Promise.all([book.index(), book.names()])
  .then(([index, names]) => start({ index, lines: vehicleLines(names, index) }))
  .catch(() => {
    // The list below needs no script and says the same.
    home.hidden = true;
    list.hidden = false;
  });
