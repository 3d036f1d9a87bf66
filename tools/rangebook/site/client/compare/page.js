// Two parts on one vehicle's plug, laid over each other. What is between two wires with each of them, and whether that is the same, was
// computed when the site was built; so were the verdicts. Here it is put side by side.

import { bookOf, familyOf } from "../shared/book.js";
import { counted, fold, h, listed, mark } from "../shared/dom.js";
import { end, notInBook, notLoaded } from "../shared/one_part.js";
import { s, swatch } from "../shared/drawing.js";

const home = document.querySelector("[data-compare]");
const place = home.querySelector("[data-compare-place]");
const form = home.querySelector("[data-compare-form]");
const book = bookOf(home);
const query = new URLSearchParams(location.search);

const WORST = ["=", "?", "!"];
const MARKS = {
  "=": { sign: "=", words: "the same", kind: "same" },
  "?": { sign: "?", words: "not known", kind: "unknown" },
  "!": { sign: "≠", words: "different", kind: "different" },
};

const worst = (marks) => WORST[Math.max(0, ...[...marks].map((one) => WORST.indexOf(one)))];

async function show() {
  const [a, b, seat] = ["a", "b", "seat"].map((name) => (query.get(name) ?? "").trim());
  try {
    const numbers = await book.numbers();
    if (seat) await onSeat(numbers, seat, a, b);
    else if (a) await seatsOf(numbers, a, b);
    else form.hidden = false;
  } catch {
    place.replaceChildren(notLoaded("The comparison", show));
  }
}

const address = (facts) => `?${new URLSearchParams(Object.entries(facts).filter(([, value]) => value))}`;

/** Without a plug nothing can be compared: which of those that the part goes on? */
async function seatsOf(numbers, a, b) {
  const found = familyOf(numbers, a);
  if (!found) {
    form.hidden = false;
    form.elements.a.value = a;
    place.replaceChildren(notInBook(numbers, a, (number) => address({ a: number, b })));
    return;
  }
  const data = await book.answers(found.family);
  const seats = data.parts[found.key].seats ?? [];
  place.replaceChildren(
    seats.length
      ? h(
          "section",
          {},
          h("h2", {}, "On which vehicle's plug?"),
          h(
            "ul",
            { class: "rows rows--one" },
            seats.map(([key]) =>
              h(
                "li",
                {},
                h("a", { class: "row", href: address({ a: found.number, b, seat: key }) }, h("strong", {}, data.seats[key].vehicles[0]), h("span", {}, `${data.seats[key].vehicles.length > 1 ? `and ${counted(data.seats[key].vehicles.length - 1, "more vehicle")}; ` : ""}plug ${data.seats[key].plug}, ${counted(data.seats[key].wires, "wire")}`)),
              ),
            ),
          ),
        )
      : h("p", { class: "box box--unknown" }, `No vehicle in the book is known to take ${found.number}, so there is no plug to compare it on.`),
  );
}

async function onSeat(numbers, key, a, b) {
  const family = key.split("/")[0];
  const [data, answers] = await Promise.all([book.compare(family).catch(() => null), book.answers(family).catch(() => null)]);
  const seat = data?.seats[key];
  const verdicts = answers?.seats[key]?.candidates;
  if (!seat || !verdicts) {
    form.hidden = false;
    place.replaceChildren(h("p", { class: "box box--unknown" }, "This plug is not in the book any more. Look up the part that came off."));
    return;
  }
  const words = (await book.index()).words;
  const known = Object.keys(seat.parts);
  const first = verdicts.find((one) => one.group === "fit" && one.number !== seat.came_with) ?? verdicts.find((one) => one.number !== seat.came_with);
  const asked = [a || seat.came_with, b || first?.number || seat.came_with].map((text) => familyOf(numbers, text)?.number ?? text);
  const place2 = h("div", {});
  const choose = (side) => {
    const id = `compare-${side}-choice`;
    const select = h("select", { class: "levers__plug", id, onchange: () => again(side, select.value) }, !known.includes(asked[side]) && h("option", { value: asked[side], selected: true }, asked[side]), known.map((number) => h("option", { value: number, selected: number === asked[side] }, number + (number === seat.came_with ? " (came with it)" : ""))));
    return h("p", {}, h("label", { for: id }, side ? "Second part " : "First part "), select);
  };
  const again = (side, number) => {
    asked[side] = number;
    fill();
  };
  const fill = () => {
    history.replaceState(history.state, "", address({ a: asked[0], b: asked[1], seat: key }));
    document.title = `${asked[0]} beside ${asked[1]} · ${document.title.split(" · ").at(-1)}`;
    place2.replaceChildren(...beside(data, seat, verdicts, words, asked).filter(Boolean));
  };
  place.replaceChildren(
    h("p", {}, h("b", {}, "On: "), seat.vehicles.length > 1 ? `${seat.vehicles[0]} and ${counted(seat.vehicles.length - 1, "more vehicle")}` : seat.vehicles[0] ?? "", `; plug ${seat.plug} (${seat.title})`),
    h("div", { class: "compare__choice" }, choose(0), choose(1)),
    place2,
    h("p", { class: "noprint" }, h("a", { href: book.to(`?q=${encodeURIComponent(seat.came_with)}&seat=${encodeURIComponent(key)}`) }, "What fits here")),
  );
  fill();
}

function beside(data, seat, verdicts, words, asked) {
  const parts = asked.map((number) => seat.parts[number]);
  const cards = h("div", { class: "compare__cards" }, asked.map((number, at) => card(number, verdicts.find((one) => one.number === number), parts[at], seat, words)));
  const missing = asked.filter((_, at) => !parts[at]?.place);
  if (missing.length) {
    return [cards, h("p", { class: "box box--unknown", "data-not-laid": true }, mark("unknown"), ` Not laid over each other: for ${listed([...new Set(missing)])} there is no known way of the wires onto its pins. See above why.`)];
  }
  const pairs = seat.pairs.map(([a, b, rows, marks, of]) => {
    const [one, other] = asked.map((number) => of[number]);
    return { a, b, rows: [rows[one], rows[other]], marks: marks[one][other] };
  });
  const powered = parts.flatMap((part, at) => (part.powered ?? []).map((one) => ({ ...one, number: asked[at], sure: one.outcome === "against" })));
  const markOf = (terminal) => {
    const all = pairs.filter((pair) => pair.a === terminal || pair.b === terminal).map((pair) => worst(pair.marks));
    if (asked[0] !== asked[1]) all.push(...powered.filter((one) => one.terminal === terminal).map((one) => (one.sure ? "!" : "?")));
    return worst(all);
  };
  const apart = pairs.filter((pair) => worst(pair.marks) !== "=");
  const alike = pairs.filter((pair) => worst(pair.marks) === "=");
  const counts = WORST.map((kind) => seat.wires.filter(([cavity]) => markOf(cavity) === kind).length);
  return [
    cards,
    h(
      "section",
      {},
      h("h2", {}, "Laid over each other"),
      h("p", { "data-compare-sum": true }, h("b", {}, `${counted(counts[0], "wire")} the same, ${counts[2]} different, ${counts[1]} not known.`), " A wire is different if anything between it and another wire or the housing is. The verdict above is what counts: it also goes by the bolts, and by how the vehicle reads a resistance."),
      seat.face && face(seat, markOf),
      h("h3", {}, "Where they differ"),
      apart.length === 0 && !powered.length && h("p", { class: "box", "data-all-same": true }, "Nowhere: between each two wires, and each wire and the housing, they do the same in every position."),
      apart.length > 0 && h("div", { "data-differ": true }, table(apart, seat, asked, data)),
      powered.length > 0 && h("ul", { class: "checks" }, powered.map((one) => h("li", {}, sign(one.sure ? "!" : "?"), ` ${one.number}, beside the part that the vehicle came with: ${one.text}.`))),
    ),
    h(
      "section",
      {},
      h("h2", {}, "Wire by wire"),
      h(
        "table",
        { class: "stack compare__wires" },
        h("thead", {}, h("tr", {}, ["Wire", asked[0], asked[1], "Does"].map((word) => h("th", { scope: "col" }, word)))),
        h(
          "tbody",
          {},
          seat.wires.map((wire, at) =>
            h(
              "tr",
              { "data-wire": wire[0], "data-mark": MARKS[markOf(wire[0])].kind },
              h("th", { scope: "row" }, h("b", { class: "compare__cavity" }, wire[0]), " ", wire[1] && swatch(data.colours[wire[1]]), h("span", { class: "soft" }, wire[1] ? `${data.colours[wire[1]][0]}, ` : "", wire[2])),
              parts.map((part, side) => h("td", { "data-label": asked[side] }, h("span", {}, pin(part, at)))),
              h("td", { "data-label": "Does" }, sign(markOf(wire[0]))),
            ),
          ),
        ),
      ),
    ),
    alike.length > 0 && fold({ class: "others" }, `The same in both: ${counted(alike.length, "pair")} of wires`, () => table(alike, seat, asked, data)),
    h("p", { class: "soft" }, "Two wires that are not listed are joined by no contact, in any position, with either part."),
  ];
}

function card(number, verdict, part, seat, words) {
  const name = part ? h("a", { class: "number", href: book.to(part.url) }, number) : h("span", { class: "number" }, number);
  return h(
    "div",
    { class: "card", "data-card": number },
    h("h2", {}, name),
    verdict
      ? [
          h("p", {}, h("span", { class: `badge badge--${verdict.verdict}` }, mark(verdict.verdict), words.verdict[verdict.verdict]), verdict.group === "withdrawn" ? h("b", {}, " Withdrawn: do not fit it.") : ""),
          number === seat.came_with && h("p", {}, h("b", {}, "Built in from new.")),
          (verdict.why ?? []).map((line) => h("p", {}, `${line}.`)),
          (verdict.orders ?? []).map((order) => h("p", {}, h("b", {}, "With kit "), h("b", { class: "number" }, order.number), ` ${order.title ?? ""}`)),
          verdict.moves_why && h("p", {}, `Wires: ${verdict.moves_why}.`),
          part?.kits && !verdict.orders && h("p", { class: "soft" }, `Laid over as if kit ${part.kits} were fitted.`),
          part?.idle?.length > 0 && h("p", { class: "soft" }, `Pins without a wire: ${listed(part.idle)}.`),
        ]
      : h("p", { class: "box box--unknown" }, mark("unknown"), " Not compared on this plug: it is no look-alike of what came off, so it counts as one that does not fit."),
  );
}

function pin(part, at) {
  const [cavity, name] = [part.place[at], part.pins[at]];
  if (cavity === null) return "no place for this wire";
  if (name === null) return [h("b", {}, cavity), " not stated whether it has a pin"];
  return name === "" ? [h("b", {}, cavity), " no pin"] : [h("b", {}, cavity), ` ${name}`];
}

function sign(kind) {
  const one = MARKS[kind];
  return h("span", { class: `same same--${one.kind}` }, h("b", { "aria-hidden": "true" }, one.sign), ` ${one.words}`);
}

function table(pairs, seat, asked, data) {
  const name = (terminal) => seat.wires.find(([cavity]) => cavity === terminal)?.[2] ?? "";
  return h(
    "div",
    { class: "scroll", tabindex: "0", role: "region", "aria-label": "What is between two wires" },
    h(
      "table",
      { class: "behaviour compare__pairs" },
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Between"), h("th", { scope: "col" }, "With"), seat.positions.map((position) => h("th", { scope: "col" }, position)))),
      pairs.map((pair) =>
        h(
          "tbody",
          { "data-pair": `${pair.a} ${pair.b}` },
          [0, 1].map((side) =>
            h(
              "tr",
              {},
              side === 0 && h("th", { scope: "rowgroup", rowspan: 2 }, h("span", { class: "ends" }, `${end(pair.a)} – ${end(pair.b)}`), h("span", { class: "soft names" }, [name(pair.a), name(pair.b)].filter(Boolean).join(" – "))),
              h("th", { scope: "row" }, asked[side]),
              pair.rows[side].map((text, at) => {
                const kind = MARKS[pair.marks[at]];
                return h("td", { class: `cellmark cellmark--${kind.kind}`, "data-mark": kind.kind }, side === 1 && kind.kind !== "same" && h("b", { "aria-hidden": "true" }, `${kind.sign} `), text.split(" (")[0], side === 1 && kind.kind !== "same" && h("span", { class: "sr-only" }, `, ${kind.words}`));
              }),
            ),
          ),
        ),
      ),
    ),
  );
}

/** The plug's face, each wire's cavity with its mark: a picture of what the table beside it says. */
function face(seat, markOf) {
  const holder = h("div", { class: "rb-scroll compare__face", "aria-hidden": "true" });
  book.face(seat.face).then(
    (text) => {
      const svg = document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true);
      for (const cavity of svg.querySelectorAll("[data-cavity]")) {
        const wired = seat.wires.some(([label]) => label === cavity.dataset.cavity);
        cavity.querySelector(".rb-terminal")?.remove();
        if (!wired) {
          cavity.classList.add("compare__empty");
          continue;
        }
        const { kind, sign: text2 } = MARKS[markOf(cavity.dataset.cavity)];
        const box = cavity.querySelector(".rb-box");
        cavity.classList.add(`compare__at--${kind}`);
        cavity.append(s("text", { class: "compare__sign", x: Number(box.getAttribute("x")) + Number(box.getAttribute("width")) / 2, y: Number(box.getAttribute("y")) + Number(box.getAttribute("height")) - 6, "text-anchor": "middle" }, text2));
      }
      holder.replaceChildren(svg);
    },
    () => {},
  );
  return holder;
}

show();
