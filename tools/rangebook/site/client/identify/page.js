// The page that finds out which switch is in the hand: one question at a time, the answers in the address, what is left below.

import { partAnswer } from "../answer/answer.js";
import { counted, h, listed } from "../shared/dom.js";
import { OTHER, answerWords, everyQuestion, factWords, familiesOf, mirrored, narrow, nextQuestion, openTable, turn } from "./narrow.js";
import { fromQuery, toQuery } from "./address.js";
import { normalise } from "../shared/search.js";
import { picture } from "../shared/shapes.js";
import { tapFace } from "../shared/tap_face.js";
import { listenForVin } from "../shared/vin_box.js";

const MOST_BUTTONS = 12;
const MOST_FAMILIES = 8;
const MOST_SIZES = 8;
const MM_PER_INCH = 25.4;

const home = document.querySelector("[data-identify]");
const place = home.querySelector("[data-identify-place]");
const status = home.querySelector("[data-identify-status]");
const to = (url) => `${home.dataset.base}/${url}`;

const kept = new Map();
/** A file, asked for once; one that failed is asked for again. */
function once(url, how = "json") {
  if (!kept.has(url)) {
    const asked = fetch(url).then((answer) => {
      if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
      return answer[how]();
    });
    asked.catch(() => kept.delete(url));
    kept.set(url, asked);
  }
  return kept.get(url);
}
const ready = () =>
  once(home.dataset.table).then((data) => {
    ready.value ??= { table: openTable(data), titles: data.titles };
    return ready.value;
  });
const drawing = (face) => once(to(`data/faces/${face}.svg`), "text");

/** The question that somebody would rather answer, by its id. */
let wanted = null;
/** Cavities that were tapped and not yet said to be done, by the id of their question. */
let tapped = {};

const addressOf = (state) => {
  const query = toQuery(state);
  return query ? `?${query}` : location.pathname;
};

async function go(state) {
  wanted = null;
  tapped = {};
  history.pushState(null, "", addressOf(state));
  await show();
  const heading = place.querySelector("[data-identify-head]");
  heading?.focus({ preventScroll: true });
  heading?.scrollIntoView({ block: "nearest" });
}

let turns = 0;
/** Show what the address says is known. A later call wins over an earlier one that is still loading. */
async function show() {
  const mine = ++turns;
  try {
    const book = await ready();
    const found = await page(book, fromQuery(location.search));
    if (mine !== turns) return;
    place.replaceChildren(h("div", {}, found.pieces));
    status.textContent = found.said;
  } catch {
    if (mine !== turns) return;
    status.textContent = "The book could not be loaded.";
    place.replaceChildren(
      h("p", { class: "box" }, "The book could not be loaded. Is there a connection? ", h("button", { class: "button", type: "button", onclick: show }, "Try again")),
    );
  }
}

/** `{pieces, said}`: what to show, and the same in one sentence for those who hear it. */
async function page(book, state) {
  const { table } = book;
  const narrowed = narrow(table, state);
  const families = familiesOf(table, narrowed);
  const over = mirrored(table, state, narrowed);
  const every = everyQuestion(table, state, narrowed);
  const question = every.find((one) => one.id === wanted) ?? nextQuestion(table, state, true, narrowed);
  const count = countWords(narrowed.rows.length, families.length);
  const pieces = [said(book, state)];
  for (const one of over) pieces.push(mirrorBox(book, one, () => go(one.state)));
  if (!narrowed.rows.length) {
    if (!over.length) pieces.push(nothing(book, state));
    return { pieces, said: "Nothing in the book has all of that." };
  }
  if (question && narrowed.rows.length > 1) {
    pieces.push(left(book, narrowed, families), await asking(book, state, narrowed, question), others(every, question), rows(book, narrowed, families));
    return { pieces, said: `${count} left. ${question.words}` };
  }
  pieces.push(await result(book, narrowed, families));
  return { pieces, said: narrowed.rows.length === 1 ? `It is ${table.rows[narrowed.rows[0]].number}.` : `${count} left, and nothing more to ask.` };
}

const countWords = (parts, families) => `${counted(parts, "part")} of ${counted(families, "family", "families")}`;

/** What was answered, each to be taken back. */
function said(book, state) {
  const entries = Object.entries(state);
  if (!entries.length) return null;
  const without = (id) => Object.fromEntries(entries.filter(([other]) => other !== id));
  const chip = ([id, value]) => {
    const words = `${factWords(book.table, id)}: ${valueWords(book, id, value)}`;
    return h(
      "li",
      {},
      h("a", { class: "chip told", href: addressOf(without(id)), onclick: follow(() => go(without(id))) }, h("span", { class: "sr-only" }, "Take back "), words, h("span", { class: "told__x", "aria-hidden": true }, "×")),
    );
  };
  return h("section", { "aria-label": "What you said" }, h("ul", { class: "chips" }, entries.map(chip), entries.length > 1 && h("li", {}, h("a", { class: "chip chip--quiet", href: addressOf({}), onclick: follow(() => go({})) }, "Start again"))));
}

function valueWords({ table }, id, value) {
  if (value === null) return table.words.cannot_tell;
  if (value === OTHER) return table.words.none_of_these;
  if (id === "pins" || id === "wired") return `${value.yes.length ? listed(value.yes) : "none"}${value.no.length ? "" : ", the others not told"}`;
  if (id === "across_mm") return sizeWords(value);
  if (id === "year") return [value].flat().join(" or ");
  return answerWords(table, id, value);
}

const sizeWords = (mm) => `${mm} mm (${(mm / MM_PER_INCH).toFixed(3)} in)`;

/** A link that goes by script unless it is to be opened elsewhere. */
function follow(action) {
  return (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey || event.button > 0) return;
    event.preventDefault();
    action();
  };
}

function mirrorBox(book, one, turnOver) {
  return h(
    "div",
    { class: "box box--unknown", "data-mirrored": one.id },
    h("h2", {}, "Fits only in mirror image"),
    h("p", {}, book.table.words.mirrored[one.id]),
    h("p", { class: "soft" }, `Turned over it is in ${countWords(one.rows.length, new Set(one.rows.map((at) => book.table.rows[at].family)).size)}.`),
    h("button", { class: "button", type: "button", onclick: turnOver }, "Turn it over"),
  );
}

/** Nothing has all of it: which answer alone stands in the way of how many. */
function nothing(book, state) {
  const { table } = book;
  const known = Object.entries(state).filter(([, value]) => value !== null);
  const ways = known
    .map(([id, value]) => {
      const rest = Object.fromEntries(Object.entries(state).filter(([other]) => other !== id));
      return { id, value, rest, count: narrow(table, rest).rows.length };
    })
    .filter((one) => one.count > 0);
  return h(
    "section",
    { class: "box", "data-nothing": true },
    h("h2", { "data-identify-head": true, tabindex: "-1" }, "Nothing in the book has all of that"),
    ways.length
      ? [
          h("p", {}, "Look once more. Without one of these answers something is left:"),
          h(
            "ul",
            { class: "rows rows--one" },
            ways.map((one) =>
              h("li", {}, h("a", { class: "row", href: addressOf(one.rest), onclick: follow(() => go(one.rest)) }, h("strong", {}, `Take back “${factWords(table, one.id)}: ${valueWords(book, one.id, one.value)}”`), h("span", {}, `then ${counted(one.count, "part is", "parts are")} left`))),
            ),
          ),
        ]
      : h("p", {}, "Two answers or more stand in the way. Take some back, or start again."),
    h("p", {}, "If it is all right, this switch is not in the book yet: ", h("a", { href: to("handbook/writing/") }, "put it in"), "."),
  );
}

/** How many are left, of how many. */
function left(book, narrowed, families) {
  const all = book.table.rows.length;
  const share = h("progress", { class: "left__bar", max: all, value: narrowed.rows.length, "aria-hidden": true });
  return h("div", { class: "left", "data-left": narrowed.rows.length }, h("p", {}, h("strong", {}, countWords(narrowed.rows.length, families.length)), ` left, of ${all}`), share);
}

// One question

async function asking(book, state, narrowed, question) {
  const answer = (value) => go({ ...state, [question.id]: value });
  const head = h("h2", { "data-identify-head": true, tabindex: "-1" }, question.words);
  const sole = familiesOf(book.table, narrowed);
  const kicker = sole.length === 1 ? `${book.titles[sole[0]]}. Which of its ${narrowed.rows.length} parts?` : `Question ${Object.keys(state).length + 1}`;
  const body = question.kind === "cavities" ? await cavities(book, state, question, answer) : await choices(book, question, answer);
  return h("section", { class: "ask", "data-question": question.id }, h("p", { class: "kicker" }, kicker), head, body);
}

const cannotTell = (book, answer, words = book.table.words.cannot_tell) => h("button", { class: "button button--quiet ask__skip", type: "button", onclick: () => answer(null), "data-answer": "-" }, words);

async function choices(book, question, answer) {
  const { words } = book.table;
  const many = question.answers.length > MOST_BUTTONS;
  const faces = question.id === "face" ? await Promise.all(question.answers.map(([face]) => drawing(face))) : [];
  const button = ([value, text], at) =>
    h(
      "button",
      { class: `ask__answer${faces.length ? " ask__answer--face" : ""}`, type: "button", onclick: () => answer(value), "data-answer": String(value) },
      picture(question.id, value),
      faces.length > 0 && bare(faces[at]),
      h("span", {}, question.kind === "size" ? sizeWords(value) : text),
    );
  const sizes = question.kind === "size";
  return [
    many ? longList(question, answer) : h("div", { class: `ask__answers${faces.length ? " ask__answers--faces" : ""}` }, question.answers.slice(0, sizes ? MOST_SIZES : MOST_BUTTONS).map(button)),
    sizes && sizeBox(answer),
    question.id === "year" && vinBox(answer),
    h("div", { class: "ask__rest" }, question.kind === "choice" && h("button", { class: "button button--quiet", type: "button", onclick: () => answer(OTHER), "data-answer": OTHER }, words.none_of_these), cannotTell(book, answer)),
  ];
}

/** More answers than a thumb wants to scroll through. */
function longList(question, answer) {
  const select = h("select", { id: "ask-list", "aria-label": question.words }, question.answers.map(([value, text], at) => h("option", { value: at }, question.kind === "size" ? sizeWords(value) : text)));
  return h("form", { class: "ask__list", onsubmit: stop(() => answer(question.answers[select.value][0])) }, select, h("button", { class: "button", type: "submit" }, "This one"));
}

function sizeBox(answer) {
  const box = h("input", { id: "ask-size", type: "text", inputmode: "decimal", autocomplete: "off", size: 6 });
  const help = h("p", { class: "soft", role: "status", "aria-live": "polite" });
  const take = () => {
    const size = Number(box.value.trim().replace(",", "."));
    if (size > 0) answer(size);
    else help.textContent = "Type a size in millimetres, such as 9.5.";
  };
  return [h("form", { class: "ask__list", onsubmit: stop(take) }, h("label", { for: "ask-size" }, "Another size, mm"), box, h("button", { class: "button", type: "submit" }, "This one")), help];
}

function vinBox(answer) {
  const input = h("input", { id: "ask-vin", type: "text", autocomplete: "off", autocapitalize: "characters", autocorrect: "off", spellcheck: "false" });
  const says = h("p", { class: "finder__vin", role: "status", "aria-live": "polite" });
  const button = h("button", { class: "button", type: "submit", disabled: true }, "Take this year");
  let years = null;
  listenForVin(input, says, () => once(home.dataset.vin), (found) => {
    years = found;
    button.disabled = !found;
  });
  const take = () => years && answer(years.length === 1 ? years[0] : years);
  return h("details", { class: "ask__vin" }, h("summary", {}, "Have the VIN at hand?"), h("form", { class: "ask__list", onsubmit: stop(take) }, h("label", { for: "ask-vin" }, "VIN, all 17 characters"), input, button), says);
}

function stop(action) {
  return (event) => {
    event.preventDefault();
    action();
  };
}

/** A drawing to look at, without anything to tap. */
function bare(text) {
  const svg = document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true);
  svg.setAttribute("aria-hidden", "true");
  svg.removeAttribute("role");
  return svg;
}

async function cavities(book, state, question, answer) {
  const { table } = book;
  const wires = question.id === "wired";
  const what = wires ? "wire" : "pin";
  const words = { label: `${question.words} Each button is a cavity.`, yes: `${what} in it`, no: `no ${what}`, mixed: "not told" };
  const live = h("div", { class: "ask__live", role: "status", "aria-live": "polite" });
  const done = h("div", { class: "ask__rest" });
  const face = tapFace(await drawing(question.face), words, tapped[question.id], () => tell());
  const known = () => ({ face: question.face, ...face.value() });
  const whole = () => {
    const { yes } = face.value();
    return { face: question.face, yes, no: face.labels.filter((label) => !yes.includes(label)) };
  };
  function tell() {
    const value = known();
    tapped[question.id] = { yes: value.yes, no: value.no };
    const open = face.labels.length - value.yes.length - value.no.length;
    const next = { ...state, [question.id]: value };
    const narrowed = narrow(table, next);
    const turned = mirrored(table, next, narrowed).find((one) => one.id === question.id);
    live.replaceChildren(
      h("p", {}, value.yes.length + value.no.length ? [h("strong", {}, countWords(narrowed.rows.length, familiesOf(table, narrowed).length)), ` would be left: ${counted(value.yes.length, what)} tapped`] : `Tap each cavity with a ${what} in it. Tap again if it is empty, and once more if you cannot tell.`),
      turned
        ? mirrorBox(book, turned, () => {
            face.set(turn(table.faces[table.faceAt.get(question.face)], value));
            tell();
          })
        : "",
    );
    const all = value.yes.length > 0 && open > 0;
    done.replaceChildren(
      ...[
        all && h("button", { class: "button", type: "button", onclick: () => answer(whole()), "data-answer": "whole" }, "Done, all others are empty"),
        value.yes.length + value.no.length > 0 && h("button", { class: all ? "button button--quiet" : "button", type: "button", onclick: () => answer(known()), "data-answer": "known" }, open ? "Done, the others I can't tell" : "Done"),
        cannotTell(book, answer),
      ].filter(Boolean),
    );
  }
  tell();
  return [h("div", { class: "rb-scroll ask__face", tabindex: face.element.classList.contains("rb-drawing--wide") ? "0" : null }, face.element), live, done];
}

/** Every other question that would help, for those who see that one better. */
function others(every, question) {
  const rest = every.filter((one) => one.id !== question.id);
  if (!rest.length) return null;
  const pick = (id) => async () => {
    wanted = id;
    await show();
    place.querySelector("[data-identify-head]")?.focus({ preventScroll: true });
    place.querySelector(".ask")?.scrollIntoView({ block: "nearest" });
  };
  return h("details", { class: "ask__others" }, h("summary", {}, `Rather say something else (${rest.length})`), h("ul", { class: "rows rows--one" }, rest.map((one) => h("li", {}, h("button", { class: "row", type: "button", onclick: pick(one.id), "data-pick": one.id }, one.words)))));
}

// What is left

function numberLinks(book, parts) {
  return h("ul", { class: "chips" }, parts.map((at) => h("li", {}, h("a", { class: "chip number", href: `${to("")}?q=${encodeURIComponent(book.table.rows[at].number)}` }, book.table.rows[at].number))));
}

function rows(book, narrowed, families) {
  const shown = families.slice(0, MOST_FAMILIES);
  const of = (family) => narrowed.rows.filter((at) => book.table.rows[at].family === family);
  return h(
    "section",
    { class: "still" },
    h("h2", {}, "Still possible"),
    shown.map((family) => h("div", { class: "still__family", "data-family": book.table.families[family] }, h("h3", {}, h("a", { href: to(`switches/${book.table.families[family]}/`) }, book.titles[family])), numberLinks(book, of(family)))),
    families.length > shown.length && h("p", { class: "soft" }, `And ${counted(families.length - shown.length, "more family", "more families")}.`),
  );
}

async function result(book, narrowed, families) {
  if (narrowed.rows.length > 1) {
    return h(
      "section",
      { "data-alike": true },
      h("h2", { "data-identify-head": true, tabindex: "-1" }, "These are left, and nothing more to ask tells them apart"),
      h("p", {}, "Read the number on the part. If it cannot be read, meter it: each family's page says what to find between which pins."),
      rows(book, narrowed, families),
    );
  }
  const [at] = narrowed.rows;
  const row = book.table.rows[at];
  const data = await once(to(`data/answers/${book.table.families[row.family]}.json`));
  const part = data.parts[normalise(row.number)];
  const seats = new Set(narrowed.places.get(at).map((one) => book.table.places[one].seat));
  // Where something about the vehicle was said, only the plugs that agree with it.
  const kept = (part.seats ?? []).filter(([key]) => seats.has(key));
  const shown = kept.length ? { ...part, seats: kept } : part;
  const index = await once(home.dataset.numbers);
  const link = (key) => `${to("")}?${new URLSearchParams({ q: row.number, ...(key ? { seat: key } : {}) })}`;
  const view = { words: index.words, to, seat: kept.length === 1 ? kept[0][0] : null, link, go: () => () => {} };
  return h(
    "section",
    { "data-result": row.number },
    h("p", { class: "kicker" }, "It is this one"),
    h("div", { "data-identify-head": true, tabindex: "-1" }, partAnswer(shown, data, view)),
    h("p", {}, h("a", { class: "chip", href: link(view.seat), "data-send": true }, "Open this answer on a page of its own")),
  );
}

addEventListener("popstate", () => {
  wanted = null;
  show();
});
show();
