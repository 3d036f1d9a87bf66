// Two parts on one vehicle's plug, laid over each other. What is between two wires with each of them, and whether that is the same, was
// computed when the site was built; so were the verdicts. Here it is put side by side.

import { badgeOf, letterOf, numbered } from "../answer/pieces.js";
import { bookOf, familyOf, familyOfSeat } from "../shared/book.js";
import { flat, fold, h, mark, need } from "../shared/dom.js";
import { cavitiesOf, inCavity, swatch } from "../shared/drawing.js";
import { end, notInBook, notLoaded, retitle } from "../shared/one_part.js";
import { listed, phrase, say } from "../shared/say.js";
import { drawingOf } from "../shared/trusted.js";
import "../words/compare.js";

/** @import { Candidate, Compared, ComparedPart, ComparedSeat, Words } from "../types/data.js" */
/** Whether two are the same, not known to be, or different: from the best to the worst. @typedef {"=" | "?" | "!"} Mark */
/** Two wires, what is between them with each of the two parts, and whether that is the same in each position. @typedef {{ a: string, b: string, rows: string[][], marks: Mark[] }} Pair */
/** A part that is laid over, with the way of the wires onto its pins. @typedef {ComparedPart & Required<Pick<ComparedPart, "place" | "pins">>} Laid */

const home = need(document, "[data-compare]", HTMLElement);
const place = need(home, "[data-compare-place]", HTMLElement);
const form = need(home, "[data-compare-form]", HTMLElement);
const book = bookOf(home);
await book.renewSeat().catch(() => {});
const query = new URLSearchParams(location.search);

/** @type {Mark[]} */
const WORST = ["=", "?", "!"];
/** @type {Record<Mark, { sign: string, kind: "same" | "unknown" | "different" }>} */
const MARKS = { "=": { sign: "=", kind: "same" }, "?": { sign: "?", kind: "unknown" }, "!": { sign: "≠", kind: "different" } };

/** @param {Mark[]} marks */
const worst = (marks) => WORST[Math.max(0, ...marks.map((one) => WORST.indexOf(one)))];

async function show() {
  const [a, b, seat] = ["a", "b", "seat"].map((name) => (query.get(name) ?? "").trim());
  try {
    if (seat) await onSeat(seat, a, b);
    else if (a) await seatsOf(a, b);
    else form.hidden = false;
  } catch {
    place.replaceChildren(notLoaded(say("compare.failed"), show));
  }
}

/** @param {Record<string, string>} facts */
const address = (facts) => `?${new URLSearchParams(Object.entries(facts).filter(([, value]) => value))}`;

/** Without a plug nothing can be compared: which of those that the part goes on? @param {string} a @param {string} b */
async function seatsOf(a, b) {
  const found = familyOf(await book.numbers(a), a);
  if (!found) {
    form.hidden = false;
    need(form, "[name=a]", HTMLInputElement).value = a;
    place.replaceChildren(notInBook(await book.numbers(), a, (number) => address({ a: number, b })));
    return;
  }
  const data = await book.answers(found.family);
  const seats = data.parts[found.key].seats ?? [];
  /** @param {string} key */
  const row = (key) => {
    const { vehicles, plug_title, wires } = data.seats[key];
    const words = say("compare.plug", { count: wires, title: plug_title });
    const about = vehicles.length > 1 ? say("compare.plug.more", { more: say("count.more_vehicles", { count: vehicles.length - 1 }), plug: words }) : words;
    return h("li", {}, h("a", { class: "row", href: address({ a: found.number, b, seat: key }) }, h("strong", {}, vehicles[0]), h("span", {}, about)));
  };
  place.replaceChildren(
    seats.length
      ? h("section", {}, h("h2", {}, say("compare.which_plug")), h("ul", { class: "rows rows--one" }, seats.map(([key]) => row(key))))
      : h("p", { class: "box box--unknown" }, say("compare.no_vehicle", { number: found.number })),
  );
}

/** @param {string} key @param {string} a @param {string} b */
async function onSeat(key, a, b) {
  const family = familyOfSeat(key);
  const [data, answers] = await Promise.all([book.compare(family).catch(() => null), book.answers(family).catch(() => null)]);
  const seat = data?.seats[key];
  const verdicts = answers?.seats[key]?.candidates;
  if (!data || !seat || !verdicts) {
    form.hidden = false;
    place.replaceChildren(h("p", { class: "box box--unknown" }, say("compare.gone")));
    return;
  }
  const words = await book.words();
  const known = Object.keys(seat.parts);
  const first = verdicts.find((one) => one.group === "fit" && one.number !== seat.came_with) ?? verdicts.find((one) => one.number !== seat.came_with);
  const both = [a || seat.came_with, b || first?.number || seat.came_with];
  const numbers = await book.numbers(...both);
  const asked = both.map((text) => familyOf(numbers, text)?.number ?? text);
  const body = h("div", {});
  /** @param {number} side @param {string} label */
  const choose = (side, label) => {
    const id = `compare-${side}-choice`;
    const change = () => {
      asked[side] = select.value;
      fill();
    };
    const select = h(
      "select",
      { class: "levers__plug", id, onchange: change },
      !known.includes(asked[side]) && h("option", { value: asked[side], selected: true }, asked[side]),
      known.map((number) => h("option", { value: number, selected: number === asked[side] }, number === seat.came_with ? say("compare.came_with", { number }) : number)),
    );
    return h("p", {}, h("label", { for: id }, label), " ", select);
  };
  const fill = () => {
    history.replaceState(history.state, "", address({ a: asked[0], b: asked[1], seat: key }));
    retitle(say("compare.title", { a: asked[0], b: asked[1] }));
    body.replaceChildren(...beside(data, seat, verdicts, words, asked));
  };
  const on = { lead: h("b", {}, say("compare.on.lead")), vehicle: seat.vehicles[0] ?? "", plug: seat.plug };
  const more = seat.vehicles.length - 1;
  place.replaceChildren(
    h("p", {}, more > 0 ? phrase("compare.on.more", { ...on, more: say("count.more_vehicles", { count: more }) }) : phrase("compare.on", on)),
    ...seat.says.map((words) => h("p", { class: "box" }, words)),
    h("div", { class: "compare__choice" }, choose(0, say("compare.first")), choose(1, say("compare.second"))),
    body,
    h("p", { class: "noprint" }, h("a", { href: book.to(`?q=${encodeURIComponent(seat.came_with)}&seat=${encodeURIComponent(key)}`) }, say("compare.fits_here"))),
  );
  fill();
}

/** @param {Compared} data @param {ComparedSeat} seat @param {Candidate[]} verdicts @param {Words} words @param {string[]} asked */
function beside(data, seat, verdicts, words, asked) {
  const cards = h("div", { class: "compare__cards" }, asked.map((number) => card(number, verdicts.find((one) => one.number === number), seat, words)));
  const parts = asked.map((number) => laid(seat.parts[number])).filter((one) => one !== null);
  if (parts.length < asked.length) {
    const missing = asked.filter((number) => !laid(seat.parts[number]));
    return [cards, h("p", { class: "box box--unknown", "data-not-laid": true }, mark("unknown"), " ", say("compare.not_laid", { numbers: listed(new Set(missing)) }))];
  }
  const pairs = seat.pairs.map(([a, b, rows, marks, of]) => {
    const [one, other] = asked.map((number) => of[number]);
    // One sign for each position, as the data says.
    return { a, b, rows: [rows[one], rows[other]], marks: /** @type {Mark[]} */ ([...marks[one][other]]) };
  });
  const powered = parts.flatMap((part, at) => (part.powered ?? []).map(({ terminal, outcome, text }) => ({ number: asked[at], terminal, text, mark: /** @type {Mark} */ (outcome === "against" ? "!" : "?") })));
  /** @param {string} terminal */
  const markOf = (terminal) => {
    const all = pairs.filter((pair) => pair.a === terminal || pair.b === terminal).map((pair) => worst(pair.marks));
    if (asked[0] !== asked[1]) all.push(...powered.filter((one) => one.terminal === terminal).map((one) => one.mark));
    return worst(all);
  };
  const apart = pairs.filter((pair) => worst(pair.marks) !== "=");
  const alike = pairs.filter((pair) => worst(pair.marks) === "=");
  const [same, unknown, different] = WORST.map((kind) => seat.wires.filter(([cavity]) => markOf(cavity) === kind).length);
  return flat([
    cards,
    h(
      "section",
      {},
      h("h2", {}, say("compare.laid")),
      h("p", { "data-compare-sum": true }, phrase("compare.sum.means", { sum: h("b", {}, say("compare.sum", { count: same, different, unknown })) })),
      seat.face && face(seat, seat.face, markOf),
      h("h3", {}, say("compare.differ")),
      apart.length === 0 && !powered.length && h("p", { class: "box", "data-all-same": true }, say("compare.nowhere")),
      apart.length > 0 && h("div", { "data-differ": true }, table(apart, seat, asked)),
      powered.length > 0 && h("ul", { class: "checks" }, powered.map((one) => h("li", {}, sign(one.mark), " ", say("compare.powered", { number: one.number, text: one.text })))),
    ),
    h("section", {}, h("h2", {}, say("compare.wires")), wires(data, seat, parts, asked, markOf)),
    alike.length > 0 && fold({ class: "others" }, say("compare.alike", { count: alike.length }), () => table(alike, seat, asked)),
    h("p", { class: "soft" }, say("compare.not_listed")),
  ]);
}

/** @param {ComparedPart | undefined} part @returns {Laid | null} */
function laid(part) {
  return part?.place && part.pins ? { ...part, place: part.place, pins: part.pins } : null;
}

/** @param {Compared} data @param {ComparedSeat} seat @param {Laid[]} parts @param {string[]} asked @param {(terminal: string) => Mark} markOf */
function wires(data, seat, parts, asked, markOf) {
  return h(
    "table",
    { class: "stack compare__wires" },
    h("thead", {}, h("tr", {}, [say("compare.wire"), ...asked, say("compare.does")].map((word) => h("th", { scope: "col" }, word)))),
    h(
      "tbody",
      {},
      seat.wires.map(([cavity, colour, circuit], at) => {
        const of = colour ? data.colours[colour] : null;
        return h(
          "tr",
          { "data-wire": cavity, "data-mark": MARKS[markOf(cavity)].kind },
          h("th", { scope: "row" }, h("b", { class: "compare__cavity" }, cavity), " ", of && swatch(of), h("span", { class: "soft" }, of ? say("compare.colour", { colour: of[0], circuit }) : circuit)),
          parts.map((part, side) => h("td", { "data-label": asked[side] }, h("span", {}, pin(part, at)))),
          h("td", { "data-label": say("compare.does") }, sign(markOf(cavity))),
        );
      }),
    ),
  );
}

/** @param {string} number @param {Candidate | undefined} verdict @param {ComparedSeat} seat @param {Words} words */
function card(number, verdict, seat, words) {
  const part = seat.parts[number];
  const name = numbered(number, verdict && words.gone[letterOf(verdict.status)], part && book.to(part.url));
  return h(
    "div",
    { class: "card", "data-card": number },
    h("h2", {}, name),
    verdict
      ? [
          h("p", {}, badgeOf(verdict, words)),
          verdict.warning && h("p", {}, h("b", {}, say("sentence", { text: verdict.warning }))),
          number === seat.came_with && h("p", {}, h("b", {}, say("compare.from_new"))),
          (verdict.why ?? []).map((text) => h("p", {}, say("sentence", { text }))),
          (verdict.orders ?? []).map((order) => h("p", {}, phrase("compare.with_kit", { lead: h("b", {}, phrase("compare.with_kit.lead", { number: h("span", { class: "number" }, order.number) })), title: order.title ?? "" }))),
          [...(verdict.also ?? []), ...(verdict.work ?? [])].map((what) => h("p", {}, say("compare.also", { what }))),
          verdict.moves_why && h("p", {}, say("compare.moves", { moves: verdict.moves_why })),
          part?.kits && !verdict.orders && h("p", { class: "soft" }, say("compare.as_if", { kits: part.kits })),
          !!part?.idle?.length && h("p", { class: "soft" }, say("compare.idle", { pins: listed(part.idle) })),
        ]
      : h("p", { class: "box box--unknown" }, mark("unknown"), " ", say("compare.not_compared")),
  );
}

/** @param {Laid} part @param {number} at */
function pin(part, at) {
  const [label, name] = [part.place[at], part.pins[at]];
  if (label === null) return say("compare.no_place");
  const cavity = h("b", {}, label);
  if (name === null) return phrase("compare.pin.unknown", { cavity });
  return name === "" ? phrase("compare.pin.none", { cavity }) : [cavity, " ", name];
}

/** @param {Mark} kind */
function sign(kind) {
  const one = MARKS[kind];
  return h("span", { class: `same same--${one.kind}` }, h("b", { "aria-hidden": "true" }, one.sign), " ", say(`compare.${one.kind}`));
}

/** @param {Pair[]} pairs @param {ComparedSeat} seat @param {string[]} asked */
function table(pairs, seat, asked) {
  /** @param {string} terminal */
  const name = (terminal) => seat.wires.find(([cavity]) => cavity === terminal)?.[2] ?? "";
  /** @param {Pair} pair @param {number} side @param {string} text @param {number} at */
  const cell = (pair, side, text, at) => {
    const { kind, sign } = MARKS[pair.marks[at]];
    const told = side === 1 && kind !== "same";
    return h(
      "td",
      { class: `cellmark cellmark--${kind}`, "data-mark": kind },
      told && h("b", { "aria-hidden": "true" }, sign, " "),
      text.split(" (")[0],
      told && h("span", { class: "sr-only" }, say("compare.mark", { mark: say(`compare.${kind}`) })),
    );
  };
  return h(
    "div",
    { class: "scroll", tabindex: "0", role: "region", "aria-label": say("compare.table") },
    h(
      "table",
      { class: "behaviour compare__pairs" },
      h("thead", {}, h("tr", {}, [say("compare.between"), say("compare.with"), ...seat.positions].map((word) => h("th", { scope: "col" }, word)))),
      pairs.map((pair) =>
        h(
          "tbody",
          { "data-pair": `${pair.a} ${pair.b}` },
          [0, 1].map((side) =>
            h(
              "tr",
              {},
              side === 0 && h("th", { scope: "rowgroup", rowspan: 2 }, h("span", { class: "ends" }, say("pair", { a: end(pair.a), b: end(pair.b) })), h("span", { class: "soft names" }, [name(pair.a), name(pair.b)].filter(Boolean).join(" – "))),
              h("th", { scope: "row" }, asked[side]),
              pair.rows[side].map((text, at) => cell(pair, side, text, at)),
            ),
          ),
        ),
      ),
    ),
  );
}

/** The plug's face, each wire's cavity with its mark: a picture of what the table beside it says. @param {ComparedSeat} seat @param {string} id @param {(terminal: string) => Mark} markOf */
function face(seat, id, markOf) {
  const holder = h("div", { class: "rb-scroll compare__face", "aria-hidden": "true" });
  book.face(id).then(
    (text) => {
      const svg = drawingOf(text);
      for (const { element, label } of cavitiesOf(svg)) {
        element.querySelector(".rb-terminal")?.remove();
        if (!seat.wires.some(([cavity]) => cavity === label)) {
          element.classList.add("compare__empty");
          continue;
        }
        const { kind, sign } = MARKS[markOf(label)];
        element.classList.add(`compare__at--${kind}`);
        element.append(inCavity(element, "compare__sign", 6, sign));
      }
      holder.replaceChildren(svg);
    },
    () => {},
  );
  return holder;
}

show();
