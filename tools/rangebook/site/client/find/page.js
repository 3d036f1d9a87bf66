// The find page: what is typed, what is found, and the address that an answer can be sent by.

import { partAnswer, seatAnswer } from "../answer/answer.js";
import { bookOf, familyOfSeat } from "../shared/book.js";
import { elsewhere, flat, h, later, need } from "../shared/dom.js";
import { notLoaded } from "../shared/one_part.js";
import { phrase, say } from "../shared/say.js";
import { codeLike, codeMeant, findNames, findNumbers, findVehicles, lookAlikes, mayHaveSlips, asked as meantBy, nearestNumbers, normalise, numberList, restsOf, vehicleLines, withoutSlips, withoutTradeNames } from "../shared/search.js";
import "../words/find.js";

/** @import { Child } from "../shared/dom.js" */
/** @import { Line, Numbered, NumberedPart } from "../shared/search.js" */
/** @import { View } from "../answer/answer.js" */
/** @import { Shelf } from "../shared/shelf.js" */
/** @import { Answers, NameIndex, NumberIndex as Index } from "../types/data.js" */
/** What is searched: all of the book, or of a large one what the text can mean. @typedef {{ index: Pick<Index, "families" | "words">, names: NameIndex, numbers: Numbered[], shelf: Shelf, lines: Line[], whole: boolean }} Loaded */
/** What to show, and the same in one sentence for those who hear it. @typedef {{ pieces: Child, said: string }} Found */

const MOST_ROWS = 24;
const AT_ONCE = 10;
const AHEAD = 2;
const RESTS_MS = 900;
const FEW = 3;
const ENOUGH = 4;

const home = need(document, "[data-find]", HTMLElement);
const box = need(document, "#q", HTMLInputElement);
const form = need(document, "[data-find-form]", HTMLFormElement);
const place = need(home, "[data-find-answer]", HTMLElement);
const status = need(home, "[data-find-status]", HTMLElement);
const start = need(document, "[data-find-start]", HTMLElement);
const book = bookOf(home);
const { to } = book;

/** @returns {Promise<Loaded>} */
async function load() {
  const [index, names, numbers, shelf] = await Promise.all([book.index(), book.names(), book.numbers(), book.shelf()]);
  return { index, names, numbers, shelf, lines: vehicleLines(names, index), whole: true };
}

/** @type {Loaded | null} */
let loaded = null;
const ready = async () => (loaded ??= await load());

/** @type {NameIndex} */
const NO_NAMES = { gearboxes: [], vehicles: [], connectors: [], called: [], codes: [], marks: [] };

/** Of a book in pieces the numbers that a text can mean, else all there is. @param {string} typed @returns {Promise<Loaded>} */
async function knownFor(typed) {
  if (loaded || !book.inPieces()) return ready();
  const meant = meantBy(typed, []).text;
  const [words, numbers, shelf] = await Promise.all([book.words(), settled || normalise(meant).length >= FEW ? book.numbers(meant, ...restsOf(typed)) : [], book.shelf()]);
  return { index: { families: [], words }, names: NO_NAMES, numbers, shelf, lines: [], whole: false };
}

/** Whether somebody is done with what stands in the box: it was sent, or stands there for a while. Then it is worth to look through all of a large book. */
let settled = true;
/** Whether it was sent: then numbers that have it are not enough. */
let sent = true;
let rests = 0;
/** It is being typed. */
function unsettle() {
  clearTimeout(rests);
  settled = sent = loaded !== null || !book.inPieces();
  if (settled || normalise(box.value).length < ENOUGH) return;
  rests = setTimeout(() => {
    settled = true;
    show();
  }, RESTS_MS);
}

/** It is sent. */
function settle() {
  clearTimeout(rests);
  settled = sent = true;
}

/** What is asked for: the text in the box, and the seat that was chosen (`family/seat`), if any. */
function asked() {
  const query = new URLSearchParams(location.search);
  return { text: query.get("q") ?? "", seat: query.get("seat") };
}

/** @param {string} text @param {string | null} [seat] */
function addressOf(text, seat) {
  const query = new URLSearchParams();
  if (text) query.set("q", text);
  if (seat) query.set("seat", seat);
  const search = query.toString();
  return search ? `?${search}` : location.pathname;
}

/** @param {string} text @param {string | null} [seat] @returns {(event: MouseEvent) => void} */
function go(text, seat = null) {
  return (event) => {
    if (elsewhere(event)) return;
    event.preventDefault();
    history.pushState(null, "", addressOf(text, seat));
    box.value = text;
    settle();
    show().then(() => {
      home.scrollIntoView();
      place.focus({ preventScroll: true });
    });
  };
}

/** A VIN: 17 letters and figures that one can have. It names one vehicle, and belongs into no address. @param {string} text */
function vinIn(text) {
  const vin = text.replace(/[\s-]/g, "");
  return /^[A-Z0-9]{17}$/i.test(vin) && /[A-Z]/i.test(vin) && /\d{4}$/.test(vin) ? vin : "";
}

/** What a VIN says: the model year, and the vehicles of that year. @param {string} vin @returns {Promise<Found>} */
async function vinPieces(vin) {
  const { modelYear } = await import("../shared/vin.js");
  const { years, why } = modelYear(vin, new Date().getFullYear() + 1);
  const of = years.length > 0 && h("p", {}, h("a", { class: "button", href: to(`vehicles/?year=${years.join(".")}`) }, say("find.vin.vehicles", { years: years.join(" / ") })));
  return { pieces: h("div", { class: years.length ? "box" : "box box--unknown", "data-vin": years.join(".") }, h("h2", {}, say("find.vin")), h("p", {}, why), of), said: why };
}

let turn = 0;
/** Show what the address asks for. A later call wins over an earlier one that is still loading. */
async function show() {
  const mine = ++turn;
  const { text, seat } = asked();
  const vin = vinIn(box.value);
  if (vin && text) history.replaceState(null, "", addressOf(""));
  const typed = vin || text.trim();
  start.hidden = typed !== "";
  document.body.classList.toggle("is-asked", typed !== "");
  if (!typed) {
    document.documentElement.classList.remove("is-coming");
    place.replaceChildren();
    status.textContent = "";
    return;
  }
  try {
    const found = vin ? await vinPieces(vin) : await answer(await knownFor(typed), typed, seat);
    if (mine !== turn) return;
    put(flat([found.pieces]));
    document.documentElement.classList.remove("is-coming");
    status.textContent = found.said;
  } catch {
    if (mine !== turn) return;
    status.textContent = say("load.failed.short");
    place.replaceChildren(notLoaded(say("load.failed"), show));
  }
}

/** Show these pieces. One that stands there already stays where it is: each further sign of a number leads to the same answer. @param {(Node | string)[]} pieces */
function put(pieces) {
  const stays = pieces.find((one) => one instanceof Element && place.contains(one));
  if (!(stays instanceof Element)) return place.replaceChildren(h("div", {}, pieces));
  const at = pieces.indexOf(stays);
  for (const one of [...(stays.parentNode?.childNodes ?? [])]) if (one !== stays) one.remove();
  stays.before(...pieces.slice(0, at));
  stays.after(...pieces.slice(at + 1));
}

/** @param {Loaded} known @param {string} typed @param {string | null} stated @returns {Promise<Found>} */
async function answer(known, typed, stated) {
  const meant = meantBy(typed, known.numbers);
  const text = meant.text;
  const seat = stated ?? meant.seat;
  const { exact, holding } = findNumbers(known.numbers, text);
  const view = viewOf(known, text, seat);
  const [part] = exact.filter((one) => one.kind === "part");
  askAhead(exact.length ? exact : holding);
  if (part) {
    const { pieces, said } = await partPieces(part, view);
    return { pieces: [pieces, moreNumbers(exact.slice(1).concat(holding), view)], said };
  }
  if (seat && (await book.knows(familyOfSeat(seat)))) {
    const data = await book.answers(familyOfSeat(seat));
    if (Object.hasOwn(data.seats, seat)) {
      const back = h("p", {}, h("a", { class: "chip", href: addressOf(text), onclick: go(text) }, say("find.all_for", { text })));
      return { pieces: [seatAnswer(seat, data, view), back], said: say("find.what_fits", { vehicle: data.seats[seat].vehicles[0] }) };
    }
  }
  return known.whole ? names(known, text, view, exact.concat(holding)) : fromPieces(known, typed, text, view, exact.concat(holding));
}

/**
 * The answer that the pieces of a large book give. What has to look at all of it waits until what is typed stands still; where numbers were
 * found, until it is sent.
 * @param {Loaded} known @param {string} typed @param {string} text @param {View} view @param {Numbered[]} numbers @returns {Promise<Found>}
 */
async function fromPieces(known, typed, text, view, numbers) {
  const found = settled || normalise(text).length >= FEW ? await book.namesOf(text) : null;
  if (found) {
    const { families, names, lines } = found;
    const near = { ...known, index: { ...known.index, families }, names, lines, numbers: [...known.numbers, ...numberList({ families, others: [], kits: [] })] };
    const listed = (await namesListed(near, text, view, numbers)) ?? (mayHaveSlips(text) || codeLike(await book.codes(), text) ? null : await looksAlike(known, text, view));
    if (listed) return listed;
  }
  if (settled && (sent || !numbers.length)) return answer(await ready(), typed, asked().seat);
  const more = h("p", { class: "box", "data-type-on": true }, say("find.missing.short"));
  return { pieces: [numberRows(numbers, view), more], said: say("find.missing.short") };
}

/** What can only be one of few families is asked for while it is still being typed. @param {Numbered[]} numbers */
function askAhead(numbers) {
  const families = new Set(numbers.flatMap((one) => (one.kind === "part" ? [one.family] : [])));
  if (families.size <= AHEAD) for (const family of families) book.answers(family).catch(() => {});
}

/** @param {Loaded} known @param {string} text @param {View} view @param {Numbered[]} numbers @returns {Promise<Found>} */
async function names(known, text, view, numbers) {
  return (await namesListed(known, text, view, numbers)) ?? meantOtherwise(known, text, view);
}

/** What has all words of a text; `null` where nothing has. @param {Loaded} known @param {string} text @param {View} view @param {Numbered[]} numbers @returns {Promise<Found | null>} */
async function namesListed(known, text, view, numbers) {
  const vehicles = findVehicles(known.lines, text);
  const named = findNames(known.names, known.index, text);
  // A gearbox stands in every line of its vehicles: they are listed under it, unless their names say it too.
  const lines = named.gearboxes.length ? vehicles.byName : vehicles.all;
  const nothingElse = !lines.length && !named.gearboxes.length && !named.families.length && !named.connectors.length && !named.codes.length && !named.marks.length;
  if (numbers.length === 1 && nothingElse && numbers[0].kind === "part") {
    const { pieces, said } = await partPieces(numbers[0], view);
    return { pieces: [h("p", { class: "box" }, say("find.only", { text })), pieces], said };
  }
  const [key, ...more] = new Set(lines.map((line) => line.seat && `${line.family}/${line.seat}`));
  if (key && !more.length && !numbers.length && !named.gearboxes.length) {
    const data = await book.answers(familyOfSeat(key));
    return { pieces: [seatAnswer(key, data, view)], said: say("find.what_fits", { vehicle: lines[0].vehicle }) };
  }
  const groups = [
    numberRows(numbers, view),
    ...named.codes.map(([code, families, meaning]) => codeRows(known, code, families, meaning)),
    markRows(known, named.marks, view),
    vehicleRows(lines),
    ...named.gearboxes.map(([gearbox, families]) => gearboxRows(known, gearbox, families, vehicles.all)),
    pageRows(say("find.families"), named.families.map((one) => [one.title, say("find.whole_page"), `switches/${one.id}/`])),
    pageRows(say("find.connectors"), named.connectors.map(([title, url, count]) => [title, say("find.cavities", { count }), url])),
  ].filter((one) => one !== null);
  return groups.length ? { pieces: groups, said: say("find.found", { numbers: say("count.numbers", { count: numbers.length }), lines: say("count.lines", { count: lines.length }) }) } : null;
}

/** What may be meant by a text that nothing has. @param {Loaded} known @param {string} text @param {View} view @returns {Promise<Found>} */
async function meantOtherwise(known, text, view) {
  const code = codeMeant(known.names, text);
  const mended = code ?? withoutSlips(known.lines, text);
  if (mended && (code || findVehicles(known.lines, mended).all.length)) {
    const found = await names(known, mended, view, []);
    return { ...found, pieces: [h("p", { class: "box box--unknown", "data-slip": true }, say("find.slip", { text, meant: mended })), found.pieces] };
  }
  const alike = await looksAlike(known, text, view);
  if (alike) return alike;
  const plain = withoutTradeNames(known.names, text);
  if (plain && (findVehicles(known.lines, plain).all.length || withoutSlips(known.lines, plain))) return names(known, plain, view, []);
  return nothing(known, text, view);
}

/** The numbers that look the same as a text; `null` where none does. @param {Loaded} known @param {string} text @param {View} view @returns {Promise<Found | null>} */
async function looksAlike(known, text, view) {
  const alike = lookAlikes(known.numbers, text);
  if (alike.length === 1 && alike[0].kind === "part") {
    const { pieces, said } = await partPieces(alike[0], view);
    return { pieces: [h("p", { class: "box box--unknown", "data-look-alike": true }, say("find.alike", { text, number: alike[0].number })), pieces], said };
  }
  if (alike.length) return { pieces: [h("p", { class: "box box--unknown", "data-look-alike": true }, say("find.alike.several", { text, count: alike.length })), rowsOf(alike, view, "alike")], said: say("find.missing.said", { number: text }) };
  return null;
}

/** @param {Loaded} known @param {string} text @param {View} view @returns {Found} */
function nothing(known, text, view) {
  const near = nearestNumbers(known.numbers, text);
  const short = normalise(text).length < 4;
  return {
    said: say("find.missing.said", { number: text }),
    pieces: [
      h(
        "div",
        { class: "box", "data-not-in-book": true },
        h("h2", {}, say("find.missing", { number: text })),
        h("p", {}, say(short ? "find.missing.short" : "find.missing.again")),
        !short && h("p", {}, phrase("find.missing.write", { link: h("a", { href: to("write/") }, say("find.missing.write.link")) })),
      ),
      near.length > 0 && [h("h2", {}, say("find.nearest")), h("p", { class: "soft" }, say("find.nearest.not")), rowsOf(near, view, "nearest")],
    ],
  };
}

/** The answer that is shown, and what for. @type {{ of: string, data: Answers, piece: Element } | null} */
let shown = null;

/** @param {NumberedPart} one @param {View} asked @returns {Promise<Found>} */
async function partPieces(one, asked) {
  const data = await book.answers(one.family);
  const part = data.parts[one.key];
  // However it was spelt, its links lead on by the number that it has.
  const view = { ...asked, ...linksOf(part.number) };
  const of = JSON.stringify([one.family, one.key, view.seat]);
  if (shown?.of !== of || shown.data !== data || !place.contains(shown.piece)) shown = { of, data, piece: partAnswer(part, data, view) };
  const named = one.other !== undefined && h("p", { class: "box", "data-other-number": true }, say(one.whose ? "find.other" : "find.other.plain", { other: one.other, whose: one.whose ?? "", number: one.number }));
  return { pieces: [named, shown.piece], said: say("find.plugs", { number: part.number, count: (part.seats ?? []).length }) };
}

/** @param {Loaded} known @param {string} text @param {string | null} seat @returns {View} */
function viewOf(known, text, seat) {
  return { words: known.index.words, to, seat, shelf: known.shelf, ...linksOf(text) };
}

/** @param {string} text @returns {Pick<View, "link" | "go">} */
function linksOf(text) {
  return { link: (key) => addressOf(text, key), go: (key) => go(text, key) };
}

/** @param {Numbered[]} list @param {View} view */
function moreNumbers(list, view) {
  return list.length ? h("details", {}, h("summary", {}, say("find.others", { count: list.length })), rowsOf(list, view, "more")) : null;
}

/** @param {Numbered[]} list @param {View} view */
function numberRows(list, view) {
  return list.length ? h("section", {}, h("h2", {}, say("find.numbers")), rowsOf(list, view, "holding")) : null;
}

/** @param {Numbered[]} list @param {View} view @param {string} how */
function rowsOf(list, view, how) {
  /** @param {Numbered} one */
  const row = (one) => {
    const number = h("strong", { class: "number" }, "other" in one ? (one.other ?? one.number) : one.number);
    return h(
      "li",
      {},
      one.kind === "kit"
        ? h("a", { class: "row", href: to(one.url), "data-how": how }, number, h("span", {}, say("find.kit", { title: one.title })))
        : h("a", { class: "row", href: addressOf(one.number), onclick: go(one.number), "data-how": how }, number, h("span", {}, say("find.part", { title: one.title, status: statusWords(one, view) }))),
    );
  };
  return rowList(list, row);
}

/** @param {NumberedPart} one @param {View} view */
function statusWords(one, view) {
  /** @type {Record<string, string>} */
  const words = view.words.status;
  return words[one.status];
}

/** @param {Line[]} lines */
function vehicleRows(lines) {
  if (!lines.length) return null;
  return h("section", {}, h("h2", {}, say("find.which")), rowList(lines, vehicleRow));
}

/** @param {Line} line */
function vehicleRow(line) {
  const words = [h("strong", {}, line.vehicle), h("span", {}, line.rest)];
  if (!line.seat) {
    return h("li", {}, h("a", { class: "row", href: to(`switches/${line.family}/#Vehicles`) }, words, h("span", {}, say("find.no_seat"))));
  }
  const key = `${line.family}/${line.seat}`;
  return h("li", {}, h("a", { class: "row", href: addressOf(box.value.trim(), key), onclick: go(box.value.trim(), key), "data-vehicle": line.vehicle }, words));
}

/** @param {Loaded} known @param {string} gearbox @param {number[]} at @param {Line[]} lines */
function gearboxRows(known, gearbox, at, lines) {
  const own = lines.filter((line) => line.gearbox === gearbox);
  const families = at.map((one) => known.index.families[one]);
  return h(
    "section",
    {},
    h("h2", {}, say("find.gearbox", { gearbox })),
    own.length > 0 && [h("h3", {}, say("find.gearbox.vehicles")), rowList(own, vehicleRow)],
    h("h3", {}, say("find.gearbox.switches")),
    rowList(families, familyRow),
  );
}

/** A code says which circuit is at fault, not which part. @param {Loaded} known @param {string} code @param {number[]} at @param {string} meaning */
function codeRows(known, code, at, meaning) {
  const families = at.map((one) => known.index.families[one]);
  return h(
    "section",
    {},
    h("h2", {}, say("find.code", { code, meaning })),
    h("p", { class: "box box--unknown" }, say("find.code.circuit")),
    rowList(families, familyRow),
  );
}

/** @param {Loaded} known @param {[stamped: string, parts: [family: number, part: number][]][]} marks @param {View} view */
function markRows(known, marks, view) {
  if (!marks.length) return null;
  const rows = marks.flatMap(([stamped, parts]) => parts.map(([family, part]) => ({ stamped, one: known.numbers.find((two) => two.kind === "part" && two.key === normalise(known.index.families[family][2][part])) })));
  return h(
    "section",
    {},
    h("h2", {}, say("find.stamped")),
    rowList(rows, ({ stamped, one }) => one?.kind === "part" && h("li", {}, h("a", { class: "row", href: addressOf(one.number), onclick: go(one.number), "data-how": "stamped" }, h("strong", { class: "number" }, one.number), h("span", {}, say("find.stamped.part", { stamped, title: one.title, status: statusWords(one, view) }))))),
  );
}

/** @param {[title: string, about: string, url: string]} page */
const pageRow = ([title, about, url]) => h("li", {}, h("a", { class: "row", href: to(url) }, h("strong", {}, title), h("span", {}, about)));
/** @param {Index["families"][number]} family */
const familyRow = ([id, title]) => pageRow([title, say("find.whole_page"), `switches/${id}/`]);

/** @param {string} heading @param {[title: string, about: string, url: string][]} rows */
function pageRows(heading, rows) {
  if (!rows.length) return null;
  return h("section", {}, h("h2", {}, heading), rowList(rows, pageRow));
}

/**
 * As many rows as one looks through, and how many more there are: those that a phone shows at once, the others when there is time.
 * @template T @param {T[]} list @param {(one: T) => Child} row
 */
function rowList(list, row) {
  const rows = h("ul", { class: "rows" }, list.slice(0, AT_ONCE).map(row));
  if (list.length > AT_ONCE) later(rows, () => list.slice(AT_ONCE, MOST_ROWS).map(row));
  return [rows, list.length > MOST_ROWS && h("p", { class: "soft" }, say("find.rest", { count: list.length - MOST_ROWS }))];
}

box.addEventListener("input", () => {
  history.replaceState(null, "", addressOf(vinIn(box.value) ? "" : box.value));
  unsettle();
  show();
});
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  settle();
  if (!vinIn(box.value)) history.replaceState(null, "", addressOf(box.value, asked().seat));
  await show();
  const found = place.querySelector("a.row, .choice__number a");
  if (found instanceof HTMLElement) found.focus({ preventScroll: true });
});
for (const example of document.querySelectorAll("[data-find-example]")) {
  if (example instanceof HTMLElement) example.addEventListener("click", go(example.dataset.findExample ?? ""));
}
for (const button of document.querySelectorAll("[data-scan]")) {
  if (!(button instanceof HTMLButtonElement)) continue;
  button.hidden = false;
  button.addEventListener("click", async () => {
    const { scan } = await import("../scan/dialog.js");
    scan((says) => {
      history.pushState(null, "", addressOf(says));
      box.value = says;
      settle();
      show();
    });
  });
}
addEventListener("popstate", () => {
  box.value = asked().text;
  settle();
  show();
});
// What was typed before the script was there stays.
if (box.value && !asked().text && !vinIn(box.value)) history.replaceState(null, "", addressOf(box.value));
else if (!box.value || asked().text) box.value = asked().text;
(book.inPieces() ? book.words() : ready()).catch(() => {});
if (asked().seat) book.renewSeat().catch(() => {}).then(show);
else show();
