// The proof sheet: which two pins to probe in each position, what to read, and what the readings tell.

import { bookOf } from "../shared/book.js";
import { counted, h, listed } from "../shared/dom.js";
import { end, showPart } from "../shared/one_part.js";
import { proofTable } from "./table.js";
import { expected, explain, fits, parseOhms } from "./match.js";

const MOST_CAUSES = 4;

const home = document.querySelector("[data-prove]");
const place = home.querySelector("[data-prove-place]");
const result = home.querySelector("[data-prove-result]");
const form = home.querySelector("[data-prove-form]");
const head = home.querySelector("[data-prove-head]");
const book = bookOf(home);
const query = new URLSearchParams(location.search);

function sheetsOf(data, key) {
  const part = data.parts[key];
  head.replaceChildren(h("span", { class: "number" }, part.number));
  document.title = `${part.number}: prove it · ${document.title.split(" · ").at(-1)}`;
  const seat = query.get("seat");
  // From an answer only that vehicle's plug is of use. The part in the hand comes first.
  const shown = part.sheets.filter((sheet) => !seat || !sheet.seats.length || sheet.seats.includes(seat));
  let chosen = 0;
  const body = h("div", {});
  const tabs = shown.map((sheet, at) =>
    h(
      "button",
      {
        class: "chip",
        type: "button",
        onclick: () => {
          chosen = at;
          open();
        },
      },
      sheet.short,
    ),
  );
  const open = () => {
    tabs.forEach((tab, at) => tab.setAttribute("aria-pressed", String(at === chosen)));
    body.replaceChildren(sheetOf(data, part, key, shown[chosen]));
  };
  place.replaceChildren(
    h("p", {}, h("a", { href: book.to(part.url) }, data.family.title), " · ", h("a", { href: book.to(`lever/?part=${encodeURIComponent(part.number)}`) }, "Slide the lever"), " · ", h("a", { href: book.to(`?q=${encodeURIComponent(part.number)}`) }, "What fits in its place")),
    tabs.length > 1 ? h("div", { class: "chips prove__where noprint", role: "group", "aria-label": "Where do you measure?" }, tabs) : "",
    body,
  );
  open();
}

function sheetOf(data, part, key, sheet) {
  const store = `rangebook-proof:${data.edition}:${key}:${part.sheets.indexOf(sheet)}`;
  const typed = kept(store);
  const rows = [];
  for (const [at, position] of sheet.positions.entries()) {
    for (const line of sheet.lines.keys()) {
      const wanted = expected(sheet, line, at);
      if (wanted !== null) rows.push({ id: `${line}/${at}`, line, at, position, wanted });
    }
  }
  const drawing = face(part);
  const paper = h("div", { class: "prove__paper" });
  const tell = () => {
    const readings = [];
    let unread = 0;
    let unclear = 0;
    for (const row of rows) {
      const text = typed[row.id] ?? "";
      const ohms = parseOhms(text);
      if (text.trim() === "") unread += 1;
      else if (ohms === null) unclear += 1;
      else readings.push([row.line, row.at, ohms]);
      row.mark?.(text, ohms);
    }
    paper.replaceChildren(proofTable(sheet, (line, at) => typed[`${line}/${at}`] ?? ""));
    result.hidden = rows.length === 0;
    result.replaceChildren(...says(data, sheet, readings, unread, unclear));
    result.dataset.state = result.firstElementChild?.dataset.state ?? "";
  };
  const told = (row, text) => {
    if (text) typed[row.id] = text;
    else delete typed[row.id];
    keep(store, typed);
    tell();
  };
  const pieces = sheet.positions.map((position, at) => {
    const own = rows.filter((row) => row.at === at);
    return h(
      "section",
      { class: "position", "aria-label": `Lever in ${position}` },
      h("h2", {}, h("span", { class: "lever" }, h("span", {}, position)), ` Lever in ${position}`),
      own.length ? own.map((row) => rowOf(sheet, row, typed[row.id] ?? "", told, drawing)) : h("p", { class: "soft" }, "What to read here is not stated in the book."),
    );
  });
  const clear = () => {
    keep(store, {});
    place.querySelector(`.chip[aria-pressed="true"]`)?.click() ?? sheetsOf(data, key);
  };
  queueMicrotask(tell);
  return h(
    "div",
    {},
    h("h2", { class: "prove__place" }, sheet.where),
    sheet.lines.length > 0
      ? [
          h("p", {}, data.meter),
          h("p", { class: "soft" }, "It proves the contacts, one fault at a time. It does not prove the insulation between them."),
          drawing.element && sheet.seats.length === 0 && h("div", { class: "rb-scroll prove__face" }, drawing.element),
        ]
      : h("p", { class: "box box--unknown" }, "Nothing can be proved here with a meter."),
    sheet.notes.length > 0 && h("ul", { class: "box box--unknown prove__notes" }, sheet.notes.map((note) => h("li", {}, note))),
    sheet.lines.length > 0 && [h("div", { class: "noprint" }, pieces), paper, h("p", { class: "noprint" }, h("button", { class: "button button--quiet", type: "button", onclick: clear }, "Clear the readings"), " ", h("button", { class: "button button--quiet", type: "button", onclick: () => print() }, "Print"))],
    part.signals.length > 0 && powered(part),
  );
}

function rowOf(sheet, row, text, told, drawing) {
  const [a, b, names, says] = sheet.lines[row.line];
  const pair = `${end(a)} – ${end(b)}`;
  const what = `${pair}, lever in ${row.position}`;
  const box = h("input", { class: "reading__box", type: "text", inputmode: "decimal", autocomplete: "off", autocapitalize: "off", spellcheck: "false", size: "7", "aria-label": `Ohms read at ${what}`, placeholder: "ohms" });
  const button = (word, value) =>
    h(
      "button",
      {
        class: "reading__state",
        type: "button",
        "aria-label": `${word}: ${what}`,
        onclick: () => {
          box.value = box.value === value ? "" : value;
          told(row, box.value);
        },
      },
      word,
    );
  // A meter that beeps or shows next to nothing stands for a closed contact, OL for an open one.
  const states = [
    [button("Closed", "0"), "0"],
    [button("Open", "OL"), "OL"],
  ];
  const verdict = h("p", { class: "reading__says" });
  const element = h(
    "div",
    { class: "reading", "data-line": row.line, "data-at": row.at },
    h("p", { class: "reading__pair" }, h("b", {}, pair), " ", h("span", { class: "reading__want" }, says[row.at])),
    h("p", { class: "soft reading__names" }, names),
    h("div", { class: "reading__tell" }, states.map(([one]) => one), box),
    verdict,
  );
  element.addEventListener("focusin", () => drawing.point([a, b]));
  box.value = text;
  box.addEventListener("input", () => told(row, box.value));
  row.mark = (now, ohms) => {
    const blank = now.trim() === "";
    const state = blank ? "" : ohms === null ? "unclear" : fits(row.wanted, ohms) ? "right" : "wrong";
    element.dataset.state = state;
    verdict.textContent = { "": "", right: "✓ as it should be", wrong: `✗ should be ${says[row.at]}`, unclear: "? write 0.3, 4.3k, 2M or OL" }[state];
    for (const [one, value] of states) one.setAttribute("aria-pressed", String(now === value));
  };
  return element;
}

/** The last word, in one sentence and the causes. */
function says(data, sheet, readings, unread, unclear) {
  const all = readings.length + unread + unclear;
  if (!readings.length) return [h("p", { "data-state": "" }, `${counted(all, "reading")} to take.`)];
  const found = explain(sheet, readings);
  const good = found.some(([kind]) => kind === "good");
  const causes = found.filter(([kind]) => kind !== "good");
  const left = unread + unclear;
  if (good && left) return [h("p", { "data-state": "open" }, h("b", {}, "So far as it should be."), ` ${readings.length} of ${all} read.`)];
  if (good && !causes.length && sheet.sure) return [h("p", { "data-state": "good" }, h("b", {}, "Good."), ` All ${all} readings are as they should be.`)];
  if (good) {
    const but = sheet.notes.length ? "what is listed above stays unproved" : `these readings would not show this either: ${causes.slice(0, MOST_CAUSES).map((one) => cause(data, one)[0]).join("; ")}`;
    return [h("p", { "data-state": "open" }, h("b", {}, "As it should be, as far as can be read here"), `; ${but}.`)];
  }
  if (!causes.length) return [h("p", { "data-state": "bad" }, h("b", {}, "Not good."), " No single fault explains these readings. Measure again; if they stand, there is more than one fault, or it is another part. Do not fit it.")];
  const more = left ? ` ${counted(left, "reading")} left to tell more.` : "";
  const [first, ...others] = causes;
  if (!others.length) {
    const [what, todo] = cause(data, first);
    return [h("p", { "data-state": "bad" }, h("b", {}, `Not good: ${what}.`), ` ${todo}`, more)];
  }
  return [
    h("p", { "data-state": "bad" }, h("b", {}, "Not good."), ` ${counted(causes.length, "fault")} would explain it:`, more),
    h("ul", {}, causes.slice(0, MOST_CAUSES).map((one) => h("li", {}, cause(data, one).join(". "))), causes.length > MOST_CAUSES && h("li", {}, `and ${causes.length - MOST_CAUSES} more: take the other readings.`)),
  ];
}

function cause(data, [kind, ends]) {
  return data.faults[kind].map((text) => text.replace(/\{(\d)\}/g, (_, at) => end(ends[at])));
}

/** Powered outputs: what to measure, as a table; nothing to enter. */
function powered(part) {
  return h(
    "section",
    {},
    h("h2", {}, "Under power"),
    h("p", {}, "Fed as on the vehicle, everything plugged in. Probe from the back of the plug; do not pierce a wire."),
    h(
      "div",
      { class: "scroll", tabindex: "0", role: "region", "aria-label": "What to measure under power" },
      h(
        "table",
        { class: "behaviour" },
        h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "At"), part.positions.map((position) => h("th", { scope: "col" }, position)))),
        h("tbody", {}, part.signals.map(([pin, name, unit, ends, values]) => h("tr", {}, h("th", { scope: "row" }, h("span", { class: "ends" }, pin), h("span", { class: "soft" }, listed([name, unit, ends].filter(Boolean)))), values.map((value) => h("td", { class: "state state--ohms" }, value))))),
      ),
    ),
  );
}

/** The face of the part's connector, the two pins of the row in hand marked on it. */
function face(part) {
  const holder = h("div", { "aria-hidden": "true" });
  if (!part.face) return { element: null, point() {} };
  let points = [];
  const paint = () => {
    for (const one of holder.querySelectorAll("[data-cavity]")) one.classList.toggle("is-probed", points.includes(one.dataset.cavity));
  };
  book.face(part.face).then(
    (text) => {
      holder.replaceChildren(document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true));
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

function kept(name) {
  try {
    return JSON.parse(localStorage.getItem(name)) ?? {};
  } catch {
    return {};
  }
}

function keep(name, value) {
  try {
    if (Object.keys(value).length) localStorage.setItem(name, JSON.stringify(value));
    else localStorage.removeItem(name);
  } catch {
    // A browser that keeps nothing loses only what was read, when the page is loaded again.
  }
}

showPart({ book, form, place, what: "The proof sheet", load: book.proof, draw: sheetsOf });
