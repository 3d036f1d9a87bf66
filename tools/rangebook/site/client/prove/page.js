// The proof sheet: which two pins to probe in each position, what to read, and what the readings tell.

import { numbered } from "../answer/pieces.js";
import { bookOf } from "../shared/book.js";
import { flat, h, need } from "../shared/dom.js";
import { cavitiesOf } from "../shared/drawing.js";
import { end, retitle, showPart } from "../shared/one_part.js";
import { listed, phrase, say } from "../shared/say.js";
import { drawingOf } from "../shared/trusted.js";
import { expected, explainTogether, fits, parseOhms } from "./match.js";
import { proofTable } from "./table.js";
import "../words/prove.js";

/** @import { Child } from "../shared/dom.js" */
/** @import { Expected, ProofPart, Proofs, ReadingRules, Sheet } from "../types/data.js" */
/** @import { Told } from "./match.js" */
/** One reading to take, in one position or with the lever moved through several; `mark` shows whether what was typed is right. @typedef {{ ids: string[], line: number, ats: number[], position: string, wanted: Expected, mark?: (text: string, ohms: number | null) => void }} Row */
/** The drawing of the face, the pins in hand marked on it. @typedef {{ element: HTMLElement | null, point: (pins: string[]) => void }} Face */
/** @typedef {Record<string, string>} Typed */

const MOST_CAUSES = 4;

const home = need(document, "[data-prove]", HTMLElement);
const place = need(home, "[data-prove-place]", HTMLElement);
const result = need(home, "[data-prove-result]", HTMLElement);
const form = need(home, "[data-prove-form]", HTMLElement);
const head = need(home, "[data-prove-head]", HTMLElement);
const book = bookOf(home);
const query = new URLSearchParams(location.search);

/** @param {Proofs} data @param {string} key @param {string} gone */
function sheetsOf(data, key, gone) {
  const part = data.parts[key];
  head.replaceChildren(...flat(numbered(part.number, gone)));
  retitle(say("prove.title", { number: part.number }));
  const seat = query.get("seat");
  // From an answer only that vehicle's plug is of use. The part in the hand comes first.
  const shown = part.sheets.filter((sheet) => !seat || !sheet.seats.length || sheet.seats.includes(seat));
  const body = h("div", {});
  /** @param {number} chosen */
  const open = (chosen) => {
    tabs.forEach((tab, at) => {
      tab.setAttribute("aria-pressed", String(at === chosen));
    });
    body.replaceChildren(sheetOf(data, part, key, shown[chosen], () => open(chosen)));
  };
  const tabs = shown.map((sheet, at) => h("button", { class: "chip", type: "button", onclick: () => open(at) }, sheet.short));
  const number = encodeURIComponent(part.number);
  place.replaceChildren(
    h("p", {}, h("a", { href: book.to(part.url) }, data.family.title), " · ", h("a", { href: book.to(`lever/?part=${number}`) }, say("answer.link.lever")), " · ", h("a", { href: book.to(`?q=${number}`) }, say("part.what_fits"))),
    tabs.length > 1 ? h("div", { class: "chips prove__where noprint", role: "group", "aria-label": say("prove.where") }, tabs) : "",
    body,
  );
  open(0);
}

/** @param {Proofs} data @param {ProofPart} part @param {string} key @param {Sheet} sheet @param {() => void} again */
function sheetOf(data, part, key, sheet, again) {
  const store = `rangebook-proof:${data.edition}:${key}:${part.sheets.indexOf(sheet)}`;
  const typed = kept(store);
  /** @type {Row[]} */
  const rows = [];
  const insulated = new Set(sheet.insulation.map(([line]) => line));
  // One pair of probes, the lever through all positions, then the next pair.
  for (const line of sheet.lines.keys()) {
    for (const [at, position] of sheet.positions.entries()) {
      const wanted = expected(sheet, line, at);
      if (wanted === null) continue;
      const alike = insulated.has(line) ? rows.find((row) => row.line === line && String(row.wanted) === String(wanted)) : undefined;
      if (alike) {
        alike.ids.push(`${line}/${at}`);
        alike.ats.push(at);
        alike.position = listed(alike.ats.map((one) => sheet.positions[one]));
      } else rows.push({ ids: [`${line}/${at}`], line, ats: [at], position, wanted });
    }
  }
  const drawing = face(part);
  const paper = h("div", { class: "prove__paper" });
  const tell = () => {
    /** @type {[number, number, number][]} */
    const readings = [];
    /** @type {[number, number, number][]} */
    const sure = [];
    let left = 0;
    for (const row of rows) {
      const text = typed[row.ids[0]] ?? "";
      const ohms = parseOhms(text, data.reading);
      if (text.trim() === "" || ohms === null) left += 1;
      else {
        for (const at of row.ats) readings.push([row.line, at, ohms]);
        if (row.ats.length === 1 || fits(row.wanted, ohms, data.reading)) for (const at of row.ats) sure.push([row.line, at, ohms]);
      }
      row.mark?.(text, ohms);
    }
    paper.replaceChildren(proofTable(sheet, (line, at) => typed[`${line}/${at}`] ?? ""), ...sheet.insulation.map(([, how]) => h("p", {}, how)));
    result.hidden = rows.length === 0;
    const { state, pieces } = says(data, sheet, explainTogether(sheet, readings, sure, data.reading), rows.length - left, left);
    result.replaceChildren(...pieces);
    result.dataset.state = state;
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
  const hows = new Map(sheet.insulation);
  const pieces = sheet.lines.map(([a, b, names], line) => {
    const how = hows.get(line);
    const heading = how ? say("prove.insulation", { pin: end(a) }) : say("pair", { a: end(a), b: end(b) });
    const own = rows.filter((row) => row.line === line);
    return h(
      "section",
      { class: "position", "aria-label": heading },
      h("h2", {}, heading),
      h("p", how ? {} : { class: "soft" }, how ?? names),
      own.length ? own.map((row) => rowOf(data.reading, sheet, row, typed[row.ids[0]] ?? "", told, drawing)) : h("p", { class: "soft" }, say("prove.not_stated")),
    );
  });
  const clear = () => {
    keep(store, {});
    again();
  };
  queueMicrotask(tell);
  return h(
    "div",
    {},
    h("h2", { class: "prove__place" }, sheet.where),
    sheet.lines.length > 0
      ? [
          h("p", {}, data.meter),
          h("p", { class: "soft" }, say(sheet.insulation.length ? "prove.single.insulated" : "prove.single")),
          drawing.element && sheet.seats.length === 0 && h("div", { class: "rb-scroll prove__face", tabindex: "0" }, drawing.element),
        ]
      : h("p", { class: "box box--unknown" }, say("prove.nothing")),
    sheet.notes.length > 0 && h("ul", { class: "box box--unknown prove__notes" }, sheet.notes.map((note) => h("li", {}, note))),
    sheet.lines.length > 0 && [
      h("div", { class: "noprint" }, pieces),
      paper,
      h("p", { class: "noprint" }, h("button", { class: "button button--quiet", type: "button", onclick: clear }, say("prove.clear")), " ", h("button", { class: "button button--quiet", type: "button", onclick: () => print() }, say("prove.print"))),
    ],
    part.signals.length > 0 && powered(part),
  );
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
  row.mark = (now, ohms) => {
    const state = now.trim() === "" ? "" : ohms === null ? "unclear" : fits(row.wanted, ohms, rules) ? "right" : "wrong";
    element.dataset.state = state;
    verdict.textContent = state === "" ? "" : state === "wrong" ? say("prove.wrong", { expected: says[row.ats[0]] }) : say(`prove.${state}`);
    for (const one of states) one.element.setAttribute("aria-pressed", String(now === one.value));
  };
  return element;
}

/** The last word, in one sentence and the causes. @param {Proofs} data @param {Sheet} sheet @param {ReturnType<typeof explainTogether>} found what explains the readings @param {number} read @param {number} left */
function says(data, sheet, found, read, left) {
  const all = read + left;
  /** @param {string} state @param {Child[]} pieces */
  const told = (state, ...pieces) => ({ state, pieces: [h("p", { "data-state": state }, pieces)] });
  if (!read) return told("", say("prove.to_take", { count: all }));
  const good = found.told.some(({ kind }) => kind === "good" || kind === "not_proved");
  const causes = found.told.filter(({ kind }) => kind !== "good" && kind !== "not_proved").map((one) => cause(data, one));
  if (good && left) return told("open", phrase("prove.so_far", { lead: h("b", {}, say("prove.so_far.lead")), read, all }));
  if (good && !causes.length && sheet.sure) return told("good", phrase("prove.good", { lead: h("b", {}, say("prove.good.lead")), all }));
  if (good) {
    const lead = h("b", {}, say("prove.partly.lead"));
    const faults = causes.slice(0, MOST_CAUSES).map((one) => one.what).join("; ");
    return told("open", sheet.notes.length ? phrase("prove.partly.listed", { lead }) : phrase("prove.partly.faults", { lead, faults }));
  }
  const lead = h("b", {}, say("prove.bad"));
  if (!causes.length) return told("bad", phrase("prove.bad.none", { lead }));
  const more = left ? say("prove.bad.left", { count: left }) : "";
  const [first, ...others] = causes;
  if (!others.length) return told("bad", h("b", {}, say("prove.bad.one", { fault: first.what })), " ", first.todo, more);
  const { state, pieces } = told("bad", phrase("prove.bad.count", { lead, count: causes.length, more }));
  const rest = causes.length - MOST_CAUSES;
  const list = h("ul", {}, causes.slice(0, MOST_CAUSES).map((one) => h("li", {}, say("prove.cause", { fault: one.what, todo: one.todo }))), rest > 0 && h("li", {}, say("prove.bad.rest", { count: rest })));
  const follow = found.next ? [h("p", {}, say("prove.next", { at: placeOf(sheet, ...found.next) }))] : [];
  return { state, pieces: [...pieces, list, ...follow] };
}

/** @param {Sheet} sheet @param {number} line @param {number} at */
function placeOf(sheet, line, at) {
  const [a, b] = sheet.lines[line];
  return say("prove.at", { pair: say("pair", { a: end(a), b: end(b) }), position: sheet.positions[at] });
}

/** A fault in words, or two of them: what it is, and what to do. @param {Proofs} data @param {Told} fault @returns {{ what: string, todo: string }} */
function cause(data, { kind, ends, of }) {
  if (of) {
    const [one, other] = of.map((each) => cause(data, each));
    return { what: say("prove.both", { one: one.what, other: other.what }), todo: one.todo };
  }
  const [what, todo] = data.faults[kind].map((text) => text.replace(/\{(\d)\}/g, (_, at) => end(ends[Number(at)])));
  return { what, todo };
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

/** The face of the part's connector, the two pins of the row in hand marked on it. @param {ProofPart} part @returns {Face} */
function face(part) {
  if (!part.face) return { element: null, point() {} };
  const holder = h("div", { "aria-hidden": "true" });
  /** @type {string[]} */
  let points = [];
  const paint = () => {
    for (const one of cavitiesOf(holder)) one.element.classList.toggle("is-probed", points.includes(one.label));
  };
  book.face(part.face).then(
    (text) => {
      holder.replaceChildren(drawingOf(text));
      paint();
    },
    () => {},
  );
  return {
    element: holder,
    point(pins) {
      points = pins;
      paint();
    },
  };
}

/** @param {string} name @returns {Typed} */
function kept(name) {
  try {
    return JSON.parse(localStorage.getItem(name) ?? "{}") ?? {};
  } catch {
    return {};
  }
}

/** @param {string} name @param {Typed} value */
function keep(name, value) {
  try {
    if (Object.keys(value).length) localStorage.setItem(name, JSON.stringify(value));
    else localStorage.removeItem(name);
  } catch {
    // A browser that keeps nothing loses only what was read, when the page is loaded again.
  }
}

showPart({ book, form, place, failed: say("prove.failed"), load: book.proof, draw: sheetsOf });
