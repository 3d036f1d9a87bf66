// The page that finds out which switch is in the hand: one question at a time, the answers in the address, what is left below.

import { partAnswer } from "../answer/answer.js";
import { bookOf } from "../shared/book.js";
import { elsewhere, flat, h, need } from "../shared/dom.js";
import { notLoaded } from "../shared/one_part.js";
import { listed, phrase, say } from "../shared/say.js";
import { normalise } from "../shared/search.js";
import { picture } from "../shared/shapes.js";
import { tapFace } from "../shared/tap_face.js";
import { drawingOf } from "../shared/trusted.js";
import { listenForVin } from "../shared/vin_box.js";
import { fromQuery, toQuery } from "./address.js";
import { answerWords, confirmingQuestion, everyQuestion, factWords, familiesOf, mirrored, NotLoaded, narrow, nextQuestion, OTHER, openTable, questionWords, turn, wantedFor } from "./narrow.js";
import "../words/identify.js";

/** @import { Child } from "../shared/dom.js" */
/** @import { Tapped } from "../shared/tap_face.js" */
/** @import { View } from "../answer/answer.js" */
/** @import { Choice, Fact, Mirrored, Narrowed, Question, State, Table } from "./narrow.js" */
/**
 * The table with the titles of its families. Of a large book not everything is here: `need` has some families loaded and says whether there was
 * anything to load, `blocks` in how many pieces they are, and `asks` which questions there are about the vehicle.
 * @typedef {{ table: Table, titles: string[], asks: string[], need: (families: number[]) => Promise<boolean>, blocks: (families: number[]) => number }} Loaded
 */
/** Goes on with an answer to the question. @typedef {(value: Fact) => unknown} Answer */

const MOST_BUTTONS = 12;
const MOST_FAMILIES = 8;
const MOST_SIZES = 8;
const MOST_BLOCKS = 96;
const MM_PER_INCH = 25.4;

const home = need(document, "[data-identify]", HTMLElement);
const place = need(home, "[data-identify-place]", HTMLElement);
const status = need(home, "[data-identify-status]", HTMLElement);
const book = bookOf(home);
const { to } = book;

/** @type {Loaded | null} */
let loaded = null;
async function ready() {
  if (loaded) return loaded;
  const looks = await book.looks();
  loaded = looks ? (await import("./looks.js")).openLooks(looks, book.looked) : await wholeTable();
  return loaded;
}

/** @returns {Promise<Loaded>} */
async function wholeTable() {
  const data = await book.table();
  return { table: openTable(data), titles: data.titles, asks: [], need: async () => false, blocks: () => 0 };
}

/** Have that loaded of a large book which was missing; should that not do, or be much, all of it. @param {Loaded} known @param {State} state @param {number} turn */
async function more(known, state, turn) {
  const families = wantedFor(known.table, state, turn);
  if (families && known.blocks(families) <= MOST_BLOCKS) await known.need(families);
  else loaded = await wholeTable();
}

/** The question that somebody would rather answer, by its id. @type {string | null} */
let wanted = null;
/** Cavities that were tapped and not yet said to be done, by the id of their question. @type {Record<string, Tapped>} */
let tapped = {};

/** @param {State} state */
const addressOf = (state) => {
  const query = toQuery(state);
  return query ? `?${query}` : location.pathname;
};

/** What is known, without one answer. @param {State} state @param {string} id @returns {State} */
const without = (state, id) => Object.fromEntries(Object.entries(state).filter(([other]) => other !== id));

/** Go to where a screen reader and an eye read on. @param {string} [seen] */
function goToHead(seen = "[data-identify-head]") {
  const heading = place.querySelector("[data-identify-head]");
  if (heading instanceof HTMLElement) heading.focus({ preventScroll: true });
  place.querySelector(seen)?.scrollIntoView({ block: "nearest" });
}

/** @param {State} state */
async function go(state) {
  wanted = null;
  tapped = {};
  history.pushState(null, "", addressOf(state));
  await show();
  goToHead();
}

let turns = 0;
/** Show what the address says is known. A later call wins over an earlier one that is still loading. */
async function show() {
  const mine = ++turns;
  try {
    const found = await completed(fromQuery(location.search));
    if (mine !== turns) return;
    place.replaceChildren(h("div", {}, found.pieces));
    status.textContent = found.said;
  } catch {
    if (mine !== turns) return;
    status.textContent = say("load.failed.short");
    place.replaceChildren(notLoaded(say("load.failed"), show));
  }
}

/** What to show, once all that is asked for is here. @param {State} state */
async function completed(state) {
  for (let turn = 0; ; turn++) {
    const known = await ready();
    try {
      return await page(known, state);
    } catch (error) {
      if (!(error instanceof NotLoaded)) throw error;
      await more(known, state, turn);
    }
  }
}

/** Every question that still splits what is left; as long as nothing is known of the vehicles, those about them too. @param {Loaded} known @param {State} state @param {Narrowed} narrowed */
function everyOne({ table, asks }, state, narrowed) {
  try {
    return everyQuestion(table, state, narrowed);
  } catch (error) {
    if (!(error instanceof NotLoaded) || asks.includes(wanted ?? "")) throw error;
    /** @type {Question[]} */
    const about = asks.filter((id) => !Object.hasOwn(state, id)).map((id) => ({ id, kind: "choice", face: null, words: questionWords(table, id), answers: [], families: 0, parts: 0 }));
    return [...everyQuestion(table, state, narrowed, false), ...about];
  }
}

/** What to show, and the same in one sentence for those who hear it. @param {Loaded} known @param {State} state */
async function page(known, state) {
  const { table } = known;
  const first = familiesOf(table, narrow(table, state));
  await known.need(first.slice(0, MOST_FAMILIES));
  const narrowed = narrow(table, state);
  const families = familiesOf(table, narrowed);
  const over = mirrored(table, state, narrowed);
  const every = everyOne(known, state, narrowed);
  const splits = narrowed.rows.length > 1 ? (every.find((one) => one.id === wanted) ?? nextQuestion(table, state, true, narrowed)) : null;
  const sure = splits ? null : confirmingQuestion(table, state, true, narrowed);
  const question = splits ?? sure;
  const left = countWords(narrowed.rows.length, families.length);
  /** @type {Child[]} */
  const pieces = [said(known, state)];
  for (const one of over) pieces.push(mirrorBox(known, one, () => go(one.state)));
  if (!narrowed.rows.length) {
    if (!over.length) pieces.push(nothing(known, state));
    return { pieces, said: say("identify.none.said") };
  }
  if (question) {
    pieces.push(leftOf(known, narrowed, left), sure && h("p", { class: "box", "data-confirm": sure.id }, say("identify.confirm")));
    pieces.push(await asking(known, state, narrowed, question), others(splits ? every : [], question), rows(known, narrowed, families));
    return { pieces, said: say("identify.left.said", { left, question: question.words }) };
  }
  pieces.push(await result(known, narrowed, families));
  return { pieces, said: narrowed.rows.length === 1 ? say("identify.it_is", { number: table.rows[narrowed.rows[0]].number }) : say("identify.left.done", { left }) };
}

/** @param {number} parts @param {number} families */
const countWords = (parts, families) => say("identify.parts_of", { parts: say("count.parts", { count: parts }), families: say("count.families", { count: families }) });

/** What was answered, each to be taken back. @param {Loaded} known @param {State} state */
function said(known, state) {
  const entries = Object.entries(state);
  if (!entries.length) return null;
  /** @param {[string, Fact]} entry */
  const chip = ([id, value]) => {
    const rest = without(state, id);
    const fact = factOf(known, id, value);
    const link = { class: "chip told", href: addressOf(rest), onclick: follow(() => go(rest)), "aria-label": say("identify.take_back", { fact }) };
    return h("li", {}, h("a", link, fact, h("span", { class: "told__x", "aria-hidden": true }, "×")));
  };
  const again = h("a", { class: "chip chip--quiet", href: addressOf({}), onclick: follow(() => go({})) }, say("identify.start"));
  return h("section", { "aria-label": say("identify.said") }, h("ul", { class: "chips" }, entries.map(chip), entries.length > 1 && h("li", {}, again)));
}

/** @param {Loaded} known @param {string} id @param {Fact} value */
const factOf = (known, id, value) => say("identify.fact", { fact: factWords(known.table, id), value: valueWords(known.table, id, value) });

/** @param {Table} table @param {string} id @param {Fact} value */
function valueWords(table, id, value) {
  if (value === null) return table.words.cannot_tell;
  if (value === OTHER) return table.words.none_of_these;
  if (Array.isArray(value)) return value.length === 2 ? say("vehicles.years", { year: value[0], other: value[1] }) : value.join(", ");
  if (typeof value === "object") {
    const cavities = value.yes.length ? listed(value.yes) : say("identify.tapped.none");
    return value.no.length ? cavities : say("identify.tapped.partly", { cavities });
  }
  return id === "across_mm" ? sizeWords(Number(value)) : answerWords(table, id, value);
}

/** Both units, first the one that the book is read in. @param {number} mm */
const sizeWords = (mm) =>
  say(document.documentElement.dataset.units === "us" ? "identify.size.us" : "identify.size", { mm, inch: (mm / MM_PER_INCH).toFixed(3) });

/** A link that goes by script unless it is to be opened elsewhere. @param {() => unknown} action */
function follow(action) {
  /** @param {MouseEvent} event */
  return (event) => {
    if (elsewhere(event)) return;
    event.preventDefault();
    action();
  };
}

/** @param {Loaded} known @param {Mirrored} one @param {() => unknown} turnOver */
function mirrorBox(known, one, turnOver) {
  const families = new Set(one.rows.map((at) => known.table.rows[at].family)).size;
  return h(
    "div",
    { class: "box box--unknown", "data-mirrored": one.id },
    h("h2", {}, say("identify.mirror")),
    h("p", {}, known.table.words.mirrored[one.id]),
    h("p", { class: "soft" }, say("identify.mirror.in", { parts: countWords(one.rows.length, families) })),
    h("button", { class: "button", type: "button", onclick: turnOver }, say("identify.mirror.turn")),
  );
}

/** Nothing has all of it: which answer alone stands in the way of how many. @param {Loaded} known @param {State} state */
function nothing(known, state) {
  const ways = Object.entries(state)
    .filter(([, value]) => value !== null)
    .map(([id, value]) => {
      const rest = without(state, id);
      return { rest, fact: factOf(known, id, value), count: narrow(known.table, rest).rows.length };
    })
    .filter((one) => one.count > 0);
  const entries = Object.entries(state);
  const last = entries[entries.length - 1];
  const disagrees = entries.length > 1 && narrow(known.table, without(state, last[0])).rows.length > 0;
  return h(
    "section",
    { class: "box", "data-nothing": true },
    h("h2", { "data-identify-head": true, tabindex: "-1" }, say("identify.none")),
    disagrees && h("p", { "data-disagrees": last[0] }, h("strong", {}, say("identify.disagrees", { fact: factOf(known, last[0], last[1]) }))),
    ways.length
      ? [
          h("p", {}, say("identify.none.ways")),
          h(
            "ul",
            { class: "rows rows--one" },
            ways.map(({ rest, fact, count }) =>
              h("li", {}, h("a", { class: "row", href: addressOf(rest), onclick: follow(() => go(rest)) }, h("strong", {}, say("identify.none.way", { fact })), h("span", {}, say("identify.none.then", { count })))),
            ),
          ),
        ]
      : h("p", {}, say("identify.none.two")),
    h("p", {}, phrase("identify.none.write", { link: h("a", { href: to("handbook/writing/") }, say("identify.none.write.link")) })),
  );
}

/** How many are left, of how many. @param {Loaded} known @param {Narrowed} narrowed @param {string} left */
function leftOf(known, narrowed, left) {
  const all = known.table.rows.length;
  const share = h("progress", { class: "left__bar", max: all, value: narrowed.rows.length, "aria-hidden": true });
  return h("div", { class: "left", "data-left": narrowed.rows.length }, h("p", {}, phrase("identify.left", { left: h("strong", {}, String(left)), all })), share);
}

// One question

/** @param {Loaded} known @param {State} state @param {Narrowed} narrowed @param {Question} question */
async function asking(known, state, narrowed, question) {
  /** @type {Answer} */
  const answer = (value) => go({ ...state, [question.id]: value });
  const head = h("h2", { "data-identify-head": true, tabindex: "-1" }, question.words);
  const [sole, ...more] = familiesOf(known.table, narrowed);
  const kicker = more.length || narrowed.rows.length === 1 ? say("identify.question", { count: Object.keys(state).length + 1 }) : say("identify.which", { family: known.titles[sole], count: narrowed.rows.length });
  const body = question.kind === "cavities" && question.face ? await cavities(known, state, question, question.face, answer) : await choices(known, question, answer);
  return h("section", { class: "ask", "data-question": question.id }, h("p", { class: "kicker" }, kicker), head, body);
}

/** @param {Loaded} known @param {Answer} answer */
const cannotTell = (known, answer) => h("button", { class: "button button--quiet ask__skip", type: "button", onclick: () => answer(null), "data-answer": "-" }, known.table.words.cannot_tell);

/** @param {Loaded} known @param {Question} question @param {Answer} answer @returns {Promise<Child>} */
async function choices(known, question, answer) {
  const { words } = known.table;
  const many = question.answers.length > MOST_BUTTONS;
  const faces = question.id === "face" ? await Promise.all(question.answers.map(([face]) => book.face(String(face)))) : [];
  /** @param {[Choice, string]} choice @param {number} at */
  const button = ([value, text], at) =>
    h(
      "button",
      { class: `ask__answer${faces.length ? " ask__answer--face" : ""}`, type: "button", onclick: () => answer(value), "data-answer": String(value) },
      picture(question.id, value),
      faces.length > 0 && bare(faces[at]),
      h("span", {}, question.kind === "size" ? sizeWords(Number(value)) : text),
    );
  const sizes = question.kind === "size";
  return [
    many ? longList(question, answer) : h("div", { class: `ask__answers${faces.length ? " ask__answers--faces" : ""}` }, question.answers.slice(0, sizes ? MOST_SIZES : MOST_BUTTONS).map(button)),
    sizes && sizeBox(answer),
    question.id === "year" && vinBox(answer),
    h("div", { class: "ask__rest" }, question.kind === "choice" && h("button", { class: "button button--quiet", type: "button", onclick: () => answer(OTHER), "data-answer": OTHER }, words.none_of_these), cannotTell(known, answer)),
  ];
}

/** More answers than a thumb wants to scroll through. @param {Question} question @param {Answer} answer */
function longList(question, answer) {
  const select = h("select", { id: "ask-list", "aria-label": question.words }, question.answers.map(([value, text], at) => h("option", { value: at }, question.kind === "size" ? sizeWords(Number(value)) : text)));
  return h("form", { class: "ask__list", onsubmit: stop(() => answer(question.answers[Number(select.value)][0])) }, select, h("button", { class: "button", type: "submit" }, say("identify.this")));
}

/** @param {Answer} answer */
function sizeBox(answer) {
  const box = h("input", { id: "ask-size", type: "text", inputmode: "decimal", autocomplete: "off", size: 6 });
  const help = h("p", { class: "soft", role: "status", "aria-live": "polite" });
  const take = () => {
    const size = Number(box.value.trim().replace(",", "."));
    if (size > 0) answer(size);
    else help.textContent = say("identify.size.wrong");
  };
  return [h("form", { class: "ask__list", onsubmit: stop(take) }, h("label", { for: "ask-size" }, say("identify.size.other")), box, h("button", { class: "button", type: "submit" }, say("identify.this"))), help];
}

/** @param {Answer} answer */
function vinBox(answer) {
  const input = h("input", { id: "ask-vin", type: "text", autocomplete: "off", autocapitalize: "characters", autocorrect: "off", spellcheck: "false" });
  const says = h("p", { class: "finder__vin", role: "status", "aria-live": "polite" });
  const button = h("button", { class: "button", type: "submit", disabled: true }, say("identify.vin.take"));
  /** @type {number[] | null} */
  let years = null;
  listenForVin(input, says, (found) => {
    years = found;
    button.disabled = !found;
  });
  const take = () => years && answer(years.length === 1 ? years[0] : years);
  return h("details", { class: "ask__vin" }, h("summary", {}, say("identify.vin")), h("form", { class: "ask__list", onsubmit: stop(take) }, h("label", { for: "ask-vin" }, say("identify.vin.box")), input, button), says);
}

/** @param {() => unknown} action */
function stop(action) {
  /** @param {Event} event */
  return (event) => {
    event.preventDefault();
    action();
  };
}

/** A drawing to look at, without anything to tap. @param {string} text */
function bare(text) {
  const svg = drawingOf(text);
  svg.setAttribute("aria-hidden", "true");
  svg.removeAttribute("role");
  return svg;
}

/** @param {Loaded} known @param {State} state @param {Question} question @param {string} faceId @param {Answer} answer @returns {Promise<Child>} */
async function cavities(known, state, question, faceId, answer) {
  const { table } = known;
  const id = question.id === "wired" ? "wired" : "pins";
  const words = { label: say("identify.face", { question: question.words }), yes: say(`identify.${id}.yes`), no: say(`identify.${id}.no`), mixed: say("identify.not_told") };
  const live = h("div", { class: "ask__live", role: "status", "aria-live": "polite" });
  const done = h("div", { class: "ask__rest" });
  const face = tapFace(await book.face(faceId), words, tapped[id], () => tell());
  const said = () => ({ face: faceId, ...face.value() });
  const whole = () => {
    const { yes } = face.value();
    return { face: faceId, yes, no: face.labels.filter((label) => !yes.includes(label)) };
  };
  async function tell() {
    try {
      count();
    } catch (error) {
      if (!(error instanceof NotLoaded)) throw error;
      loaded = await wholeTable();
      await show();
    }
  }
  function count() {
    const value = said();
    tapped[id] = { yes: value.yes, no: value.no };
    const told = value.yes.length + value.no.length;
    const open = face.labels.length - told;
    const next = { ...state, [id]: value };
    const narrowed = narrow(table, next);
    const left = h("strong", {}, countWords(narrowed.rows.length, familiesOf(table, narrowed).length));
    const turned = mirrored(table, next, narrowed).find((one) => one.id === id);
    const turnOver = () => {
      face.set(turn(table.faces[table.faceAt.get(faceId) ?? 0], value) ?? value);
      tell();
    };
    live.replaceChildren(
      h("p", {}, told ? phrase(`identify.${id}.left`, { left, count: value.yes.length }) : say(`identify.${id}.tap`)),
      turned ? mirrorBox(known, turned, turnOver) : "",
    );
    const all = value.yes.length > 0 && open > 0;
    done.replaceChildren(
      ...flat([
        all && h("button", { class: "button", type: "button", onclick: () => answer(whole()), "data-answer": "whole" }, say("identify.done.empty")),
        told > 0 && h("button", { class: all ? "button button--quiet" : "button", type: "button", onclick: () => answer(said()), "data-answer": "known" }, say(open ? "identify.done.partly" : "identify.done")),
        cannotTell(known, answer),
      ]),
    );
  }
  tell();
  return [h("div", { class: "rb-scroll ask__face", tabindex: "0" }, face.element), live, done];
}

/** Every other question that would help, for those who see that one better. @param {Question[]} every @param {Question} question */
function others(every, question) {
  const rest = every.filter((one) => one.id !== question.id);
  if (!rest.length) return null;
  /** @param {string} id */
  const pick = (id) => async () => {
    wanted = id;
    await show();
    goToHead(".ask");
  };
  return h("details", { class: "ask__others" }, h("summary", {}, say("identify.others", { count: rest.length })), h("ul", { class: "rows rows--one" }, rest.map((one) => h("li", {}, h("button", { class: "row", type: "button", onclick: pick(one.id), "data-pick": one.id }, one.words)))));
}

// What is left

/** @param {Table} table @param {number[]} parts */
function numberLinks(table, parts) {
  return h("ul", { class: "chips" }, parts.map((at) => h("li", {}, h("a", { class: "chip number", href: `${to("")}?q=${encodeURIComponent(table.rows[at].number)}` }, table.rows[at].number))));
}

/** @param {Loaded} known @param {Narrowed} narrowed @param {number[]} families */
function rows({ table, titles }, narrowed, families) {
  const shown = families.slice(0, MOST_FAMILIES);
  /** @param {number} family */
  const of = (family) => narrowed.rows.filter((at) => table.rows[at].family === family);
  return h(
    "section",
    { class: "still" },
    h("h2", {}, say("identify.still")),
    shown.map((family) => h("div", { class: "still__family", "data-family": table.families[family] }, h("h3", {}, h("a", { href: to(`switches/${table.families[family]}/`) }, titles[family])), numberLinks(table, of(family)))),
    families.length > shown.length && h("p", { class: "soft" }, say("identify.more", { count: families.length - shown.length })),
  );
}

/** @param {Loaded} known @param {Narrowed} narrowed @param {number[]} families */
async function result(known, narrowed, families) {
  if (narrowed.rows.length > 1) {
    return h(
      "section",
      { "data-alike": true },
      h("h2", { "data-identify-head": true, tabindex: "-1" }, say("identify.alike")),
      h("p", {}, say("identify.alike.help")),
      rows(known, narrowed, families),
    );
  }
  const { table } = known;
  const [at] = narrowed.rows;
  const row = table.rows[at];
  const data = await book.answers(table.families[row.family]);
  const part = data.parts[normalise(row.number)];
  const seats = new Set(narrowed.places.get(at)?.map((one) => table.places[one].seat));
  // Where something about the vehicle was said, only the plugs that agree with it.
  const kept = (part.seats ?? []).filter(([key]) => seats.has(key));
  const shown = kept.length ? { ...part, seats: kept } : part;
  const words = await book.words();
  /** @param {string | null} key */
  const link = (key) => `${to("")}?${new URLSearchParams({ q: row.number, ...(key ? { seat: key } : {}) })}`;
  /** @type {View} */
  const view = { words, to, seat: kept.length === 1 ? kept[0][0] : null, link };
  return h(
    "section",
    { "data-result": row.number },
    h("p", { class: "kicker" }, say("identify.found")),
    h("div", { "data-identify-head": true, tabindex: "-1" }, partAnswer(shown, data, view)),
    h("p", {}, h("a", { class: "chip", href: link(view.seat), "data-send": true }, say("identify.found.open"))),
  );
}

addEventListener("popstate", () => {
  wanted = null;
  show();
});
show();
