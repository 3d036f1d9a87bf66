// The lever: slide it, and the contacts move; tap two pins, and the meter shows what to expect. Every reading was computed when the
// site was built and is looked up here.

import { bookOf } from "../shared/book.js";
import { counted, h } from "../shared/dom.js";
import { s, swatch } from "../shared/drawing.js";
import { end, showPart } from "../shared/one_part.js";
import { contactSign, drawWires, ground, layOut, setSign, stateOf, widthOf } from "./schematic.js";

const home = document.querySelector("[data-lever]");
const place = home.querySelector("[data-lever-place]");
const form = home.querySelector("[data-lever-form]");
const head = home.querySelector("[data-lever-head]");
const book = bookOf(home);
const query = new URLSearchParams(location.search);

const NOT_STATED = [2, "not stated"];
const SHORT = { open: "–", closed: "●", unknown: "?" };
const SAYS = {
  open: "Open. The meter shows OL, or more than 1 MΩ.",
  closed: "Closed. The meter shows less than 1 Ω.",
  unknown: "Not stated in the book: measure, and do not go by a guess.",
};

function part(data, key) {
  const one = data.parts[key];
  head.replaceChildren(h("span", { class: "number" }, one.number));
  document.title = `${one.number}: slide the lever · ${document.title.split(" · ").at(-1)}`;
  const links = h(
    "p",
    { class: "noprint" },
    h("a", { href: book.to(one.url) }, data.family.title),
    " · ",
    h("a", { href: book.to(`prove/?part=${encodeURIComponent(one.number)}`) }, "Prove it"),
    " · ",
    h("a", { href: book.to(`?q=${encodeURIComponent(one.number)}`) }, "What fits in its place"),
  );
  if (!one.terminals.length) {
    place.replaceChildren(h("p", { class: "box box--unknown" }, "Which cavities carry a pin is not in the book, so there is nothing to draw. Whoever can look may add it."), links);
    return;
  }
  const body = h("div", {});
  const asked = one.plugs.includes(query.get("seat")) ? query.get("seat") : "";
  const choice = h(
    "select",
    { class: "levers__plug", id: "lever-plug", onchange: () => open(choice.value) },
    h("option", { value: "" }, "No plug: the pins alone"),
    one.plugs.map((seat) => h("option", { value: seat, selected: seat === asked }, plugWords(data.plugs[seat]))),
  );
  const open = (seat) => {
    note({ seat: seat || null });
    body.replaceChildren(schematic(data, one, seat ? data.plugs[seat] : null));
  };
  place.replaceChildren(one.plugs.length > 0 ? h("p", { class: "levers__choice" }, h("label", { for: "lever-plug" }, "On which plug? "), choice) : "", body, links);
  open(asked);
}

function plugWords(plug) {
  const [first, ...more] = plug.vehicles;
  return `${plug.name}: ${first ?? plug.title}${more.length ? ` and ${counted(more.length, "more vehicle")}` : ""}`;
}

/** Keep in the address what is shown, so that it can be sent. */
function note(facts) {
  for (const [name, value] of Object.entries(facts)) {
    if (value === null) query.delete(name);
    else query.set(name, value);
  }
  history.replaceState(history.state, "", `?${query}`);
}

function schematic(data, one, plug) {
  const positions = plug ? plug.positions : one.positions;
  const at = positions.map((position) => one.positions.indexOf(position));
  const names = one.terminals.map(([name]) => name);
  const rows = new Map(one.pairs.map(([a, b, row]) => [`${a} ${b}`, one.rows[row]]));
  /** `[state or figure, words]` between two terminals, by position of the lever. */
  const between = (a, b) => {
    const row = rows.get(a < b ? `${a} ${b}` : `${b} ${a}`);
    return at.map((where) => (where < 0 ? NOT_STATED : row ? data.readings[row[where]] : [0, "open"]));
  };
  const wires = new Map((plug?.wires ?? []).map((wire) => [wire[0], wire]));
  const first = one.contacts[0] ?? [0, one.terminals.length - 1];
  const kept = [query.get("a"), query.get("b")].map((name) => names.indexOf(name));
  let probes = kept.every((found) => found >= 0) && kept[0] !== kept[1] ? kept : [first[0], first[1]];
  let next = 0;
  let now = Math.max(0, positions.indexOf(query.get("at")));

  const plan = layOut(names.length, one.contacts);
  const signs = one.contacts.map(() => contactSign());
  const svg = s("svg", { class: "sch", "aria-hidden": "true", focusable: "false", width: widthOf(plan) });
  const terminals = names.map((name, terminal) => {
    const wire = wires.get(name);
    const about = wire ? wire[2] : one.terminals[terminal][1];
    return h(
      "button",
      { class: `terminal terminal--lines${Math.min(plan.lines[terminal], 6)}`, type: "button", "data-terminal": name, onclick: () => probe(terminal) },
      h("span", { class: "terminal__probe", "aria-hidden": "true" }),
      h("b", { class: "terminal__name" }, name === "case" ? ground() : name),
      h(
        "span",
        { class: "terminal__about" },
        h("span", {}, about),
        wire && h("span", { class: "terminal__wire" }, wire[1] ? [swatch(data.colours[wire[1]]), h("span", {}, data.colours[wire[1]][0])] : "colour not stated", wire[3] ? `; ${wire[3]}` : ""),
        plug && !wire && name !== "case" && h("span", { class: "terminal__wire soft" }, "no wire in this plug, and that is right"),
      ),
    );
  });
  const list = h("div", { class: "terminals" }, plan.order.map((terminal) => terminals[terminal]));
  const figure = h("div", { class: "schematic", role: "group", "aria-label": "Terminals: tap the two that the meter is held to" }, list, svg);
  const draw = () => {
    if (!list.offsetHeight) return;
    svg.setAttribute("height", list.offsetHeight);
    drawWires(svg, plan, signs, (terminal, line) => terminals[terminal].offsetTop - list.offsetTop + (terminals[terminal].offsetHeight * (line + 0.5)) / plan.lines[terminal]);
  };
  new ResizeObserver(draw).observe(list);

  const pair = h("b", { class: "meter__pair" });
  const reading = h("b", { class: "meter__reading" });
  const says = h("span", { class: "meter__says" });
  const meter = h("p", { class: "meter", role: "status", "data-meter": true }, h("span", { class: "meter__top" }, pair, reading), says);
  const stops = positions.map((position, stop) => h("button", { class: "stop", type: "button", onclick: () => move(stop) }, h("b", {}, position), h("span", { class: "stop__reading" })));
  const slider = h("input", { class: "lever__slide", type: "range", min: 0, max: Math.max(positions.length - 1, 1), step: 1, "aria-label": "Lever", "data-lever-slide": true });
  slider.addEventListener("input", () => move(Number(slider.value)));
  const closed = h("p", { class: "levers__now" });
  const powered = h("div", {});

  const move = (stop) => {
    now = stop;
    tell();
  };
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
    slider.value = now;
    slider.setAttribute("aria-valuetext", position);
    signs.forEach((sign, contact) => setSign(sign, at[now] < 0 ? 2 : one.contacts[contact][2][at[now]]));
    terminals.forEach((button, terminal) => {
      const lead = probes.indexOf(terminal);
      button.dataset.lead = lead < 0 ? "" : ["one", "two"][lead];
      button.querySelector(".terminal__probe").textContent = lead < 0 ? "" : ["1", "2"][lead];
      button.setAttribute("aria-pressed", String(lead >= 0));
    });
    const row = between(...probes);
    const [state, words] = row[now];
    const kind = stateOf(state);
    // Positions and pins may both be called 1 and 2.
    pair.textContent = `In ${position}: ${probes.map((terminal) => (names[terminal] === "case" ? "housing" : `pin ${names[terminal]}`)).join(" to ")}`;
    reading.textContent = words;
    says.textContent = SAYS[kind] ?? "Resistance, with the least and the most that will do.";
    meter.dataset.state = kind;
    stops.forEach((button, stop) => {
      const [cell, cellWords] = row[stop];
      button.querySelector("span").textContent = SHORT[stateOf(cell)] ?? cell;
      button.dataset.state = stateOf(cell);
      button.setAttribute("aria-pressed", String(stop === now));
      button.setAttribute("aria-label", `Lever in ${positions[stop]}: ${cellWords}`);
    });
    const shut = one.contacts.filter(([, , states]) => at[now] >= 0 && stateOf(states[at[now]]) === "closed").map(([a, b]) => `${end(names[a])} – ${end(names[b])}`);
    const murky = one.contacts.some(([, , states]) => at[now] < 0 || stateOf(states[at[now]]) === "unknown");
    closed.textContent = one.contacts.length ? `Closed in ${position}: ${shut.length ? shut.join(", ") : "none"}.${murky ? " Some contacts are not stated." : ""}` : "";
    powered.replaceChildren(...(one.signals.length ? [signals(one, at[now], position)] : []));
  };
  tell();
  queueMicrotask(draw);
  const bare = (plug?.wires ?? []).filter(([cavity]) => !names.includes(cavity)).map(([cavity]) => cavity);
  return h(
    "div",
    { class: "levers__in" },
    h(
      "div",
      {},
      h("p", {}, "Tap the two pins that the meter is held to. Slide the lever."),
      !one.stated && h("p", { class: "box box--unknown" }, "What closes in which position is not in the book."),
      bare.length > 0 && h("p", { class: "box box--unknown" }, `The ${bare.length === 1 ? "wire" : "wires"} in ${bare.join(", ")} ${bare.length === 1 ? "meets" : "meet"} no pin.`),
      figure,
      closed,
      powered,
      h("p", { class: "soft" }, data.meter, " What a contact does between two positions is not in the book."),
    ),
    h("div", { class: "console", role: "group", "aria-label": "Lever and meter", "data-stops": positions.length }, meter, h("div", { class: "lever__track" }, h("div", { class: "stops" }, stops), slider)),
  );
}

/** Powered outputs in this position: an ohmmeter does not tell them. */
function signals(one, at, position) {
  return h(
    "section",
    { class: "box" },
    h("h2", {}, "Under power"),
    one.signals.map(([pin, name, unit, ends, values]) => h("p", {}, h("b", { class: "number" }, pin), ` ${name}: `, h("b", {}, at < 0 ? "?" : values[at]), ` in ${position}, ${[unit, ends].filter(Boolean).join("; ")}`)),
  );
}

showPart({ book, form, place, what: "The schematic", load: book.lever, draw: part });
