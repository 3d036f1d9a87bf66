// The lever: slide it, and the contacts move; tap two pins, and the meter shows what to expect. Every reading was computed when the
// site was built and is looked up here.

import { numbered } from "../answer/pieces.js";
import { bookOf } from "../shared/book.js";
import { flat, h, need } from "../shared/dom.js";
import { s, swatch } from "../shared/drawing.js";
import { end, retitle, showPart } from "../shared/one_part.js";
import { phrase, say } from "../shared/say.js";
import { contactSign, drawWires, ground, layOut, setSign, stateOf, widthOf } from "./schematic.js";
import "../words/lever.js";

/** @import { LeverPart, LeverPlug, Levers, Reading } from "../types/data.js" */

const home = need(document, "[data-lever]", HTMLElement);
const place = need(home, "[data-lever-place]", HTMLElement);
const form = need(home, "[data-lever-form]", HTMLElement);
const head = need(home, "[data-lever-head]", HTMLElement);
const book = bookOf(home);
await book.renewSeat().catch(() => {});
const query = new URLSearchParams(location.search);

/** @type {Reading} */
const NOT_STATED = [2, say("lever.not_stated")];
/** @type {Reading} */
const OPEN = [0, say("lever.read.open")];
const SHORT = { open: "–", closed: "●", unknown: "?" };

/** @param {Levers} data @param {string} key @param {string} gone */
function part(data, key, gone) {
  const one = data.parts[key];
  const number = encodeURIComponent(one.number);
  head.replaceChildren(...flat(numbered(one.number, gone)));
  retitle(say("lever.title", { number: one.number }));
  const links = h(
    "p",
    { class: "noprint" },
    h("a", { href: book.to(one.url) }, data.family.title),
    " · ",
    h("a", { href: book.to(`prove/?part=${number}`) }, say("answer.link.prove")),
    " · ",
    h("a", { href: book.to(`?q=${number}`) }, say("part.what_fits")),
  );
  if (!one.terminals.length) {
    place.replaceChildren(h("p", { class: "box box--unknown" }, say("lever.no_pins")), links);
    return;
  }
  const body = h("div", {});
  const wanted = query.get("seat") ?? "";
  const asked = one.plugs.includes(wanted) ? wanted : "";
  const change = () => {
    open(choice.value);
  };
  const choice = h(
    "select",
    { class: "levers__plug", id: "lever-plug", onchange: change },
    h("option", { value: "" }, say("lever.no_plug")),
    one.plugs.map((seat) => h("option", { value: seat, selected: seat === asked }, plugWords(data.plugs[seat]))),
  );
  /** @param {string} seat */
  const open = (seat) => {
    note({ seat: seat || null });
    body.replaceChildren(schematic(data, one, seat ? data.plugs[seat] : null));
  };
  place.replaceChildren(one.plugs.length > 0 ? h("p", { class: "levers__choice" }, h("label", { for: "lever-plug" }, say("lever.which_plug")), " ", choice) : "", body, links);
  open(asked);
}

/** @param {LeverPlug} plug */
function plugWords(plug) {
  const [first, ...more] = plug.vehicles;
  const words = { plug: plug.name, vehicle: first ?? plug.title };
  return more.length ? say("lever.plug.more", { ...words, more: say("count.more_vehicles", { count: more.length }) }) : say("lever.plug", words);
}

/** Keep in the address what is shown, so that it can be sent. @param {Record<string, string | null>} facts */
function note(facts) {
  for (const [name, value] of Object.entries(facts)) {
    if (value === null) query.delete(name);
    else query.set(name, value);
  }
  history.replaceState(history.state, "", `?${query}`);
}

/** @param {Levers} data @param {LeverPart} one @param {LeverPlug | null} plug */
function schematic(data, one, plug) {
  const positions = plug ? plug.positions : one.positions;
  const at = positions.map((position) => one.positions.indexOf(position));
  const names = one.terminals.map(([name]) => name);
  const rows = new Map(one.pairs.map(([a, b, row]) => [`${a} ${b}`, one.rows[row]]));
  /** What is between two terminals, by position of the lever. @param {number} a @param {number} b @returns {Reading[]} */
  const between = (a, b) => {
    const row = rows.get(a < b ? `${a} ${b}` : `${b} ${a}`);
    return at.map((where) => (where < 0 ? NOT_STATED : row ? data.readings[row[where]] : OPEN));
  };
  const wires = new Map((plug?.wires ?? []).map((wire) => [wire[0], wire]));
  const first = one.contacts[0] ?? [0, one.terminals.length - 1];
  const [keptA, keptB] = ["a", "b"].map((name) => names.indexOf(query.get(name) ?? ""));
  const probes = keptA >= 0 && keptB >= 0 && keptA !== keptB ? [keptA, keptB] : [first[0], first[1]];
  let next = 0;
  let now = Math.max(0, positions.indexOf(query.get("at") ?? ""));

  const plan = layOut(names.length, one.contacts);
  const signs = one.contacts.map(() => contactSign());
  const svg = s("svg", { class: "sch", "aria-hidden": "true", focusable: "false", width: widthOf(plan) });
  const terminals = names.map((name, terminal) => {
    const lead = h("span", { class: "terminal__probe", "aria-hidden": "true" });
    const wire = wires.get(name);
    const element = h(
      "button",
      { class: `terminal terminal--lines${Math.min(plan.lines[terminal], 6)}`, type: "button", "data-terminal": name, onclick: () => probe(terminal) },
      lead,
      h("b", { class: "terminal__name" }, name === "case" ? ground() : name),
      h(
        "span",
        { class: "terminal__about" },
        h("span", {}, wire ? wire[2] : one.terminals[terminal][1]),
        wire && wireWords(data, wire),
        plug && !wire && name !== "case" && h("span", { class: "terminal__wire soft" }, say("lever.wire.none")),
      ),
    );
    return { element, lead };
  });
  const list = h("div", { class: "terminals" }, plan.order.map((terminal) => terminals[terminal].element));
  const figure = h("div", { class: "schematic", role: "group", "aria-label": say("lever.terminals") }, list, svg);
  const draw = () => {
    if (!list.offsetHeight) return;
    svg.setAttribute("height", String(list.offsetHeight));
    drawWires(svg, plan, signs, (terminal, line) => {
      const { element } = terminals[terminal];
      return element.offsetTop - list.offsetTop + (element.offsetHeight * (line + 0.5)) / plan.lines[terminal];
    });
  };
  new ResizeObserver(draw).observe(list);

  const pair = h("b", { class: "meter__pair" });
  const reading = h("b", { class: "meter__reading" });
  const says = h("span", { class: "meter__says" });
  const meter = h("p", { class: "meter", role: "status", "data-meter": true }, h("span", { class: "meter__top" }, pair, reading), says);
  const stops = positions.map((position, stop) => {
    const read = h("span", { class: "stop__reading" });
    return { read, element: h("button", { class: "stop", type: "button", onclick: () => move(stop) }, h("b", {}, position), read) };
  });
  const slider = h("input", { class: "lever__slide", type: "range", min: 0, max: Math.max(positions.length - 1, 1), step: 1, "aria-label": say("lever.slide"), "data-lever-slide": true });
  slider.addEventListener("input", () => move(Number(slider.value)));
  const closed = h("p", { class: "levers__now" });
  const powered = h("div", {});

  /** @param {number} stop */
  const move = (stop) => {
    now = stop;
    tell();
  };
  /** @param {number} terminal */
  const probe = (terminal) => {
    if (probes.includes(terminal)) next = probes.indexOf(terminal);
    else {
      probes[next] = terminal;
      next = 1 - next;
    }
    tell();
  };
  const tell = () => {
    const position = positions[now];
    note({ at: position, a: names[probes[0]], b: names[probes[1]] });
    slider.value = String(now);
    slider.setAttribute("aria-valuetext", position);
    for (const [contact, sign] of signs.entries()) setSign(sign, at[now] < 0 ? 2 : one.contacts[contact][2][at[now]]);
    for (const [terminal, { element, lead }] of terminals.entries()) {
      const held = probes.indexOf(terminal);
      element.dataset.lead = held < 0 ? "" : ["one", "two"][held];
      lead.textContent = held < 0 ? "" : ["1", "2"][held];
      element.setAttribute("aria-pressed", String(held >= 0));
    }
    const row = between(probes[0], probes[1]);
    const [state, words] = row[now];
    const kind = stateOf(state);
    // Positions and pins may both be called 1 and 2.
    const [a, b] = probes.map((terminal) => (names[terminal] === "case" ? say("part.housing") : say("part.pin", { name: names[terminal] })));
    pair.textContent = say("lever.pair", { position, a, b });
    reading.textContent = words;
    says.textContent = say(`lever.says.${kind}`);
    meter.dataset.state = kind;
    for (const [stop, { element, read }] of stops.entries()) {
      const [cell, reading] = row[stop];
      const known = stateOf(cell);
      read.textContent = known === "ohms" ? String(cell) : SHORT[known];
      element.dataset.state = known;
      element.setAttribute("aria-pressed", String(stop === now));
      element.setAttribute("aria-label", say("lever.stop", { position: positions[stop], reading }));
    }
    closed.textContent = closedWords(one, at[now], position);
    powered.replaceChildren(...(one.signals.length ? [signals(one, at[now], position)] : []));
  };
  tell();
  queueMicrotask(draw);
  const bare = (plug?.wires ?? []).map(([cavity]) => cavity).filter((cavity) => !names.includes(cavity));
  return h(
    "div",
    { class: "levers__in" },
    h(
      "div",
      {},
      h("p", {}, say("lever.tap")),
      !one.stated && h("p", { class: "box box--unknown" }, say("lever.unstated")),
      one.says.map((words) => h("p", { class: "box" }, words)),
      bare.length > 0 && h("p", { class: "box box--unknown" }, say("lever.bare", { count: bare.length, cavities: bare.join(", ") })),
      figure,
      closed,
      powered,
      h("p", { class: "soft" }, say("lever.between", { meter: data.meter })),
    ),
    h("div", { class: "console", role: "group", "aria-label": say("lever.console"), "data-stops": positions.length }, meter, h("div", { class: "lever__track" }, h("div", { class: "stops" }, stops.map((stop) => stop.element)), slider)),
  );
}

/** @param {Levers} data @param {LeverPlug["wires"][number]} wire */
function wireWords(data, [, colour, , noted]) {
  return h(
    "span",
    { class: "terminal__wire" },
    colour ? [swatch(data.colours[colour]), h("span", {}, data.colours[colour][0])] : say("part.colour.none"),
    noted && say("lever.wire.note", { note: noted }),
  );
}

/** Which contacts are closed; `at` is below 0 where the part has no such position. @param {LeverPart} one @param {number} at @param {string} position */
function closedWords(one, at, position) {
  if (!one.contacts.length) return "";
  const kinds = one.contacts.map(([, , states]) => (at < 0 ? "unknown" : stateOf(states[at])));
  const shut = one.contacts.filter((_, contact) => kinds[contact] === "closed").map(([a, b]) => say("pair", { a: end(one.terminals[a][0]), b: end(one.terminals[b][0]) }));
  return say(kinds.includes("unknown") ? "lever.shut.murky" : "lever.shut", { position, contacts: shut.join(", ") || say("lever.shut.none") });
}

/** Powered outputs in this position: an ohmmeter does not tell them. @param {LeverPart} one @param {number} at @param {string} position */
function signals(one, at, position) {
  return h(
    "section",
    { class: "box" },
    h("h2", {}, say("prove.power")),
    one.signals.map(([pin, name, unit, ends, values]) =>
      h("p", {}, phrase("lever.signal", { pin: h("b", { class: "number" }, pin), name, value: h("b", {}, at < 0 ? "?" : values[at]), position, unit: [unit, ends].filter(Boolean).join("; ") })),
    ),
  );
}

showPart({ book, form, place, failed: say("lever.failed"), load: book.lever, draw: part });
