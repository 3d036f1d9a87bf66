// The proof sheet: which two pins to probe in each position, what to read, and what the readings tell.

import { recordLink } from "../answer/next_steps.js";
import { numbered } from "../answer/pieces.js";
import { sendLink } from "../answer/send_link.js";
import { bookOf } from "../shared/book.js";
import { flat, h, need } from "../shared/dom.js";
import { swatch } from "../shared/drawing.js";
import { end, retitle, showPart } from "../shared/one_part.js";
import { listed, say } from "../shared/say.js";
import { faceOf } from "./face.js";
import { guide } from "./guide.js";
import { explainTogether, fits } from "./match.js";
import { asText, fromText, keep, kept, ohmsOf, unitsAsked } from "./readings.js";
import { answersOf, remedy, roadCheck } from "./remedy.js";
import { rowsOf } from "./rows.js";
import { causesOf, isGood, says } from "./says.js";
import { proofTable } from "./table.js";
import { writeDownButton } from "./write_down.js";
import "../words/prove.js";

/** @import { Child } from "../shared/dom.js" */
/** @import { Answers, Colour, ProofPart, Proofs, ReadingRules, Sheet } from "../types/data.js" */
/** @import { Face } from "./face.js" */
/** @import { Row } from "./rows.js" */
/** A part on one sheet; `seat` is the answer that one came from, if any. @typedef {{ data: Proofs, part: ProofPart, key: string, sheet: Sheet, seat: string, answers: Answers | null }} Proving */

const home = need(document, "[data-prove]", HTMLElement);
const place = need(home, "[data-prove-place]", HTMLElement);
const result = need(home, "[data-prove-result]", HTMLElement);
const form = need(home, "[data-prove-form]", HTMLElement);
const head = need(home, "[data-prove-head]", HTMLElement);
const cure = need(home, "[data-prove-remedy]", HTMLElement);
const road = need(home, "[data-prove-road]", HTMLElement);
const book = bookOf(home);
await book.renewSeat().catch(() => {});
const query = new URLSearchParams(location.search);

/** @param {Proofs} data @param {string} key @param {string} gone */
async function sheetsOf(data, key, gone) {
  const part = data.parts[key];
  head.replaceChildren(...flat(numbered(part.number, gone)));
  retitle(say("prove.title", { number: part.number }));
  const seat = query.get("seat") ?? "";
  const answers = await answersOf(book, seat);
  // From an answer only that vehicle's plug is of use, and the wires that it has come first.
  const own = part.sheets.filter((sheet) => seat && sheet.seats.includes(seat));
  const shown = seat ? [...own, ...part.sheets.filter((sheet) => !sheet.seats.length)] : part.sheets;
  const body = h("div", {});
  /** @param {number} chosen */
  const open = (chosen) => {
    choice.value = String(chosen);
    body.replaceChildren(sheetOf({ data, part, key, sheet: shown[chosen], seat, answers }, () => open(chosen)));
  };
  const choice = h("select", { class: "prove__choice" }, shown.map((sheet, at) => h("option", { value: at }, sheet.short)));
  choice.addEventListener("change", () => open(Number(choice.value)));
  const on = new URLSearchParams({ part: part.number, ...(seat && { seat }) });
  const back = new URLSearchParams({ q: (seat && answers?.seats[seat]?.came_with) || part.number, ...(seat && { seat }) });
  place.replaceChildren(
    h("p", {}, h("a", { href: book.to(part.url) }, data.family.title), " · ", h("a", { href: book.to(`lever/?${on}`) }, say("answer.link.lever")), " · ", h("a", { href: book.to(`?${back}`) }, say("part.what_fits"))),
    ...(part.layers ?? []).map((line) => h("p", { class: "soft" }, line)),
    shown.length > 1 ? h("p", { class: "prove__where noprint" }, h("label", {}, say("prove.where"), choice)) : "",
    body,
  );
  const asked = query.get("at") ?? "";
  open(Math.max(0, shown.findIndex((sheet) => (asked === "bench" ? !sheet.seats.length : sheet.plugs.includes(asked)))));
  roadCheck(road, `rangebook-road:${data.edition}:${key}:${seat}`, answers?.seats[seat]);
  // What came of it in the vehicle is known once the road check is done.
  road.querySelector("[data-record-link]")?.parentElement?.remove();
  road.append(recordLink(part, seat, book));
}

/** A terminal with its wire's colour, and the pin that it meets where that has another label. @param {Proving} proving @returns {(terminal: string) => Child} */
function endsOf({ data, sheet, seat, answers }) {
  const own = sheet.seats.includes(seat) ? answers?.seats[seat]?.wired : undefined;
  const wired = new Map((own ?? sheet.wires).map(([cavity, code]) => [cavity, (own ? answers : data)?.colours[code]]));
  return (terminal) => {
    const colour = wired.get(terminal);
    const pin = sheet.pins[terminal];
    return h("span", { class: "prove__end" }, h("b", {}, end(terminal)), colour && [" ", swatch(colour), h("span", { class: "soft" }, " ", colour[0])], pin && h("span", { class: "soft" }, " ", say("prove.pin", { pin })));
  };
}

/** @param {Proving} proving @param {() => void} again */
function sheetOf(proving, again) {
  const { data, part, key, sheet, seat, answers } = proving;
  const store = `rangebook-proof:${data.edition}:${key}:${part.sheets.indexOf(sheet)}`;
  const sent = query.get("read");
  // What a link brings is of the sheet that it names, and is taken once: from then on it is kept here.
  const typed = sent === null ? kept(store) : fromText(sheet, sent);
  if (sent !== null) {
    keep(store, typed);
    note({ read: null });
  }
  const rows = rowsOf(sheet);
  const ends = endsOf(proving);
  const drawing = faceOf(book, data, part, sheet);
  const paper = h("div", { class: "prove__paper" });
  const send = h("div", {});
  let found = explainTogether(sheet, [], [], data.reading);
  /** @type {Node[]} */
  let words = [];
  const tell = () => {
    /** @type {[number, number, number][]} */
    const readings = [];
    /** @type {[number, number, number][]} */
    const sure = [];
    let left = 0;
    for (const row of rows) {
      const text = typed[row.ids[0]] ?? "";
      const ohms = ohmsOf(text, row.wanted, data.reading);
      if (ohms === null) left += 1;
      else {
        for (const at of row.ats) readings.push([row.line, at, ohms]);
        if (row.ats.length === 1 || fits(row.wanted, ohms, data.reading)) for (const at of row.ats) sure.push([row.line, at, ohms]);
      }
      row.mark?.(text);
    }
    mark();
    paper.replaceChildren(proofTable(sheet, (line, at) => typed[`${line}/${at}`] ?? ""), ...sheet.insulation.map(([, how]) => h("p", {}, how)));
    result.hidden = rows.length === 0;
    found = explainTogether(sheet, readings, sure, data.reading);
    const { state, pieces } = says(data, sheet, found, rows.length - left, left);
    words = pieces;
    result.replaceChildren(...pieces.map((one) => one.cloneNode(true)));
    result.dataset.state = state;
    const causes = isGood(found.told) ? [] : causesOf(found.told);
    cure.hidden = state !== "bad";
    cure.replaceChildren(...(state === "bad" ? flat(remedy({ book, data, part, key, seat, answers, causes })) : []));
    const folded = !send.querySelector("details")?.open;
    const link = sendLink(book.to(`prove/?${linkOf(proving, typed)}`), say("prove.title", { number: part.number }), say("guide.send"));
    link.open = !folded;
    send.replaceChildren(writeDownButton(() => ({ part, family: data.family.id, sheet, readings, rules: data.reading, seat }), book.to), link, Object.keys(typed).length && seat ? h("p", {}, h("a", { href: book.to(`job/?${jobOf(proving, typed)}`) }, say("answer.link.job"))) : "");
  };
  /** @param {Row} row @param {string} text */
  const told = (row, text) => {
    for (const id of row.ids) {
      if (text) typed[id] = text;
      else delete typed[id];
    }
    keep(store, typed);
    tell();
  };
  const guided = () => {
    note({ guide: "1" });
    guide({
      face: () => faceOf(book, data, part, sheet), sheet, rows, typed, rules: data.reading, told, ends,
      last: () => words,
      next: () => found.next,
      closed: () => {
        note({ guide: null });
        again();
      },
    });
  };
  const hows = new Map(sheet.insulation);
  const pieces = sheet.lines.map(([a, b, names], line) => {
    const how = hows.get(line);
    const heading = how ? say("prove.insulation", { pin: end(a) }) : say("pair", { a: end(a), b: end(b) });
    const own = rows.filter((row) => row.line === line);
    const how_far = h("span", { class: "position__state" });
    const fold = h(
      "details",
      { class: "position" },
      h("summary", {}, h("h2", {}, how ? heading : [ends(a), " – ", ends(b)]), h("span", { class: "soft" }, how ? "" : names), how_far),
      how && h("p", {}, how),
      sheet.asks.includes(line) && h("p", { class: "box box--unknown" }, say("prove.asks")),
      own.length ? own.map((row) => rowOf(data.reading, sheet, row, typed[row.ids[0]] ?? "", told, drawing)) : h("p", { class: "soft" }, say("prove.not_stated")),
    );
    fold.addEventListener("toggle", () => fold.open && drawing.point([a, b]));
    return { fold, own, how_far };
  });
  /** The pair in hand is open: the first of which a reading is left; the others say how far they are. */
  const mark = () => {
    for (const { own, how_far, fold } of pieces) {
      const states = own.map((row) => stateOf(data.reading, row, typed[row.ids[0]] ?? ""));
      const read = states.filter(isRead).length;
      const state = states.includes("wrong") ? "wrong" : own.length && read === own.length ? "right" : "";
      how_far.textContent = state === "wrong" ? say("prove.pair.wrong") : state ? say("prove.pair.right") : own.length ? say("prove.pair.left", { read, all: own.length }) : "";
      fold.dataset.state = state;
    }
    const next = pieces.find(({ own }) => own.some((row) => !isRead(stateOf(data.reading, row, typed[row.ids[0]] ?? ""))));
    if (next && !pieces.some(({ fold, own }) => fold.open && own.some((row) => !isRead(stateOf(data.reading, row, typed[row.ids[0]] ?? ""))))) next.fold.open = true;
  };
  const clear = () => {
    keep(store, {});
    again();
  };
  queueMicrotask(() => {
    tell();
    if (query.get("guide") && rows.length && !document.querySelector("dialog[open]")) guided();
  });
  return h(
    "div",
    {},
    h("h2", { class: "prove__place" }, sheet.where),
    sheet.lines.length > 0
      ? [
          rows.length > 0 && h("p", { class: "noprint" }, h("button", { class: "button", type: "button", onclick: guided, "data-guide": true }, say("guide.start"))),
          h("p", {}, data.meter),
          h("p", { class: "soft" }, say(sheet.insulation.length ? "prove.single.insulated" : "prove.single")),
          drawing.element && h("div", { class: "rb-scroll prove__face", tabindex: "0" }, drawing.element),
        ]
      : h("p", { class: "box box--unknown" }, say("prove.nothing")),
    sheet.notes.length > 0 && h("ul", { class: "box box--unknown prove__notes" }, sheet.notes.map((note) => h("li", {}, note))),
    sheet.lines.length > 0 && [
      h("div", { class: "noprint prove__pairs" }, pieces.map(({ fold }) => fold)),
      paper,
      h("p", { class: "noprint" }, h("button", { class: "button button--quiet", type: "button", onclick: clear }, say("prove.clear")), " ", h("button", { class: "button button--quiet", type: "button", onclick: () => print() }, say("prove.print"))),
      h("div", { class: "noprint" }, send),
    ],
    part.signals.length > 0 && powered(part),
  );
}

/** Where these readings are found again, on another device too. @param {Proving} proving @param {Record<string, string>} typed */
function linkOf({ part, sheet, seat }, typed) {
  return new URLSearchParams({ part: part.number, ...(seat && { seat }), at: sheet.plugs[0] ?? "bench", read: asText(sheet, typed) });
}

/** The job sheet with these readings. @param {Proving} proving @param {Record<string, string>} typed */
function jobOf({ part, sheet, seat, answers }, typed) {
  return new URLSearchParams({ seat, fit: part.number, off: answers?.seats[seat]?.came_with ?? "", at: sheet.plugs[0] ?? "bench", read: asText(sheet, typed) });
}

/** Keep in the address what is shown. @param {Record<string, string | null>} facts */
function note(facts) {
  for (const [name, value] of Object.entries(facts)) {
    if (value === null) query.delete(name);
    else query.set(name, value);
  }
  history.replaceState(history.state, "", `?${query}`);
}

/** @param {string} state */
const isRead = (state) => state === "right" || state === "wrong" || state === "noted";

/** What a text comes to: nothing, as it should be or not, a reading that the book does not know, or a question. @param {ReadingRules} rules @param {Row} row @param {string} text */
function stateOf(rules, row, text) {
  if (text.trim() === "") return "";
  if (unitsAsked(text, row.wanted, rules).length) return "which";
  const ohms = ohmsOf(text, row.wanted, rules);
  if (ohms !== null && row.wanted === null) return "noted";
  return ohms === null ? "unclear" : fits(row.wanted, ohms, rules) ? "right" : "wrong";
}

/** @param {ReadingRules} rules @param {Sheet} sheet @param {Row} row @param {string} text @param {(row: Row, text: string) => void} told @param {Face} drawing */
function rowOf(rules, sheet, row, text, told, drawing) {
  const [a, b, , says] = sheet.lines[row.line];
  const pair = say("pair", { a: end(a), b: end(b) });
  const at = say("prove.at", { pair, position: row.position });
  const box = h("input", { class: "reading__box", type: "text", inputmode: "decimal", autocomplete: "off", autocapitalize: "off", spellcheck: "false", size: "7", "aria-label": say("prove.ohms_at", { at }), placeholder: say("prove.ohms") });
  /** @param {string} word @param {string} value */
  const button = (word, value) => {
    const press = () => {
      box.value = box.value === value ? "" : value;
      told(row, box.value);
    };
    return { value, element: h("button", { class: "reading__state", type: "button", "aria-label": say("prove.button", { word, at }), onclick: press }, word) };
  };
  // A meter that beeps or shows next to nothing stands for a closed contact, OL for an open one.
  const states = [button(say("prove.closed"), "0"), button(say("prove.open"), "OL")];
  const verdict = h("p", { class: "reading__says" });
  const element = h(
    "div",
    { class: "reading", "data-line": row.line, "data-at": row.ats[0] },
    h("p", { class: "reading__pair" }, h("b", {}, say("prove.lever", { position: row.position })), " ", h("span", { class: "reading__want" }, says[row.ats[0]])),
    h("div", { class: "reading__tell" }, states.map((one) => one.element), box),
    verdict,
  );
  element.addEventListener("focusin", () => drawing.point([a, b]));
  box.value = text;
  box.addEventListener("input", () => told(row, box.value));
  row.mark = (now) => {
    const units = unitsAsked(now, row.wanted, rules);
    const state = stateOf(rules, row, now);
    if (box.value !== now) box.value = now;
    element.dataset.state = state;
    verdict.replaceChildren(
      state === "" ? "" : state === "wrong" ? say("prove.wrong", { expected: says[row.ats[0]] }) : say(`prove.${state}`),
      ...units.flatMap((unit) => [" ", h("button", { class: "button button--quiet", type: "button", onclick: () => told(row, unit) }, unit)]),
    );
    for (const one of states) one.element.setAttribute("aria-pressed", String(now === one.value));
  };
  return element;
}

/** Powered outputs: what to measure, as a table; nothing to enter. @param {ProofPart} part */
function powered(part) {
  return h(
    "section",
    {},
    h("h2", {}, say("prove.power")),
    h("p", {}, say("prove.power.how")),
    h(
      "div",
      { class: "scroll", tabindex: "0", role: "region", "aria-label": say("prove.power.table") },
      h(
        "table",
        { class: "behaviour" },
        h("thead", {}, h("tr", {}, h("th", { scope: "col" }, say("prove.power.at")), part.positions.map((position) => h("th", { scope: "col" }, position)))),
        h("tbody", {}, part.signals.map(([pin, name, unit, ends, values]) => h("tr", {}, h("th", { scope: "row" }, h("span", { class: "ends" }, pin), h("span", { class: "soft" }, listed([name, unit, ends].filter(Boolean)))), values.map((value) => h("td", { class: "state state--ohms" }, value))))),
      ),
    ),
  );
}

// What has the focus, or is jumped to, does not come to stand behind the bar at the foot.
new ResizeObserver(() => {
  document.documentElement.style.scrollPaddingBottom = result.hidden || !result.dataset.state ? "" : `${result.offsetHeight + 16}px`;
}).observe(result);

showPart({ book, form, place, failed: say("prove.failed"), load: book.proof, draw: sheetsOf });
