// One answer, shown. Every verdict, its order and its words were computed when the site was built.

import { badge, fold, h, mark } from "../shared/dom.js";
import { listed, phrase, say } from "../shared/say.js";
import { besideLink, nextSteps } from "./next_steps.js";
import { badgeOf, letterOf, numbered, onShelf, orderWords } from "./pieces.js";
import { sendLink } from "./send_link.js";
import { shelfAnswer } from "./shelf.js";
import { thumbBar } from "./thumb_bar.js";
import { wires } from "./wires.js";
import "../words/answer.js";

/** @import { Answers, Candidate, Chain, Group, Order, PartAnswer, SeatAnswer, Setting, Words } from "../types/data.js" */
/** @import { Child } from "../shared/dom.js" */
/** @import { Shelf } from "../shared/shelf.js" */
/**
 * Where an answer is shown: the words of the index, the seat that was chosen, the way to a page, to a seat's own answer, and what a click
 * on that does (nothing: the link is followed).
 * @typedef {{ words: Words, to: (url: string) => string, seat: string | null, shelf?: Shelf, link: (seat: string | null) => string, go?: (seat: string | null) => (event: MouseEvent) => void }} View
 */
/** Where to go from one candidate. @typedef {View & { steps: (one: Candidate) => Child }} SeatView */

/** @param {string} text */
const capital = (text) => text[0].toUpperCase() + text.slice(1);

/**
 * A part that came off: what it is, where the maker's chain leads, and the answer, or one line for each plug to choose from.
 * @param {PartAnswer} part
 * @param {Answers} data
 * @param {View} view
 * @returns {Child}
 */
export function partAnswer(part, data, view) {
  const all = part.seats ?? [];
  const chosen = all.filter(([key]) => key === view.seat);
  const seats = all.length === 1 ? all : chosen;
  const family = h("a", { href: view.to(part.url) }, data.family.title);
  return [
    h(
      "div",
      { class: "answer__head" },
      h("h2", {}, phrase("answer.came_off", { number: h("span", { class: "number" }, part.number) })),
      (all.length !== 1 || part.status === "withdrawn") && h("p", { class: "soft" }, phrase("answer.head", { status: capital(view.words.status[letterOf(part.status)]), family })),
      part.status === "withdrawn" && h("p", {}, badge("no", view.words.group.withdrawn)),
      part.note && h("p", { class: "note" }, part.note),
    ),
    !part.seats && h("p", { class: "box" }, phrase("answer.no_vehicle", { link: h("a", { href: view.to(part.url) }, say("answer.no_vehicle.link")) })),
    all.length > 1 && chooser(part, data, view, chosen.length > 0),
    seats.map(([key, how]) => seatAnswer(key, data, view, how === "fits" ? part.number : null)),
    part.chains && chainSection(part.chains, view),
  ];
}

/**
 * The answer for one vehicle's plug. `fittedInstead` is the number that came off where another one was built in.
 * @param {string} key
 * @param {Answers} data
 * @param {View} plainView
 * @param {string | null} [fittedInstead]
 */
export function seatAnswer(key, data, plainView, fittedInstead = null) {
  const seat = data.seats[key];
  /** @type {SeatView} */
  const view = {
    ...plainView,
    steps: (one) => [nextSteps(one, key, fittedInstead ?? seat.came_with, plainView), one.number !== seat.came_with && besideLink(one, seat.built ?? key, seat.came_with, plainView)],
  };
  /** @param {Group} group */
  const of = (group) => seat.candidates.filter((one) => one.group === group);
  /** @param {Group} group */
  const heading = (group) => say("answer.group", { group: view.words.group[group], count: of(group).length });
  const [first, ...more] = of("fit");
  const shelf = of("shelf");
  const plug = phrase("answer.plug", { count: seat.wires, title: seat.plug_title, number: numbered(seat.came_with, seat.came_with_status) });
  return h(
    "section",
    { class: "seat", "data-seat": key },
    vehicleList(seat),
    first ? card(first, seat, data, view) : h("p", { class: "box box--unknown" }, mark("unknown"), " ", say(shelf.length ? "answer.nothing.shelf" : "answer.nothing")),
    shelfAnswer(seat, view),
    seat.renewed && h("p", { class: "box" }, say("answer.renewed", { title: seat.plug_title, kits: listed(seat.renewed) })),
    beware(of("withdrawn"), heading("withdrawn"), view),
    beware(of("look_alike"), heading("look_alike"), view),
    setLine(first?.setting ? data.settings[first.setting] : undefined, seat, view),
    others(more, say("answer.more", { count: more.length }), view),
    others(shelf, heading("shelf"), view, !first),
    seat.measure_first && h("p", { class: "box box--unknown", "data-measure-first": true }, mark("unknown"), " ", seat.measure_first),
    others(of("unknown"), heading("unknown"), view, !first && !shelf.length),
    others(of("no"), heading("no"), view),
    h("p", { class: "seat__facts" }, fittedInstead ? phrase("answer.plug.instead", { plug, number: fittedInstead }) : phrase("answer.plug.end", { plug })),
    (seat.loops ?? []).map((loop) => h("p", { class: "seat__facts" }, say("answer.jumper", { cavities: listed(loop) }))),
    seat.cranks && h("p", { class: "seat__facts" }, say("sentence", { text: seat.cranks })),
    h("p", { class: "soft" }, say("answer.known", { known: seat.known })),
    h("p", {}, h("a", { href: view.to(seat.url) }, say("answer.page"))),
    sendLink(view.link(key), seat.vehicles[0]),
    first && thumbBar(first, key, fittedInstead ?? seat.came_with, plainView),
  );
}

/**
 * What to fit first, so that a phone shows it without a tap: number, verdict, what to order with it, and the caution; then the wires, the
 * list for the counter, and how it is known.
 * @param {Candidate} one
 * @param {SeatAnswer} seat
 * @param {Answers} data
 * @param {SeatView} view
 */
function card(one, seat, data, view) {
  const orders = one.orders ?? [];
  return h(
    "div",
    { class: "choice choice--first", "data-candidate": one.number, "data-verdict": one.verdict },
    h("p", { class: "choice__number" }, h("a", { href: view.to(one.url) }, one.number), " ", onShelf(one.number, view.shelf, false)),
    badge(one.verdict, view.words.verdict[one.verdict]),
    orders.map((order) => orderOf(order, view)),
    h("p", { class: "caution" }, mark("caution"), " ", phrase("answer.caution", { link: h("a", { href: view.to("cautions/") }, say("answer.cautions")) })),
    h("p", { class: "soft" }, [one.family, one.status_words].filter(Boolean).join("; ")),
    (one.why ?? []).map((text) => h("p", { class: "choice__why" }, say("sentence", { text }))),
    wires(seat, one, data),
    one.moves && moves(one),
    one.idle_words && h("p", { class: "need need--idle" }, say("sentence", { text: one.idle_words })),
    one.note && h("p", { class: "note" }, one.note),
    h(
      "section",
      { id: "Order", class: "order", tabindex: "-1" },
      h("h3", {}, say("answer.list")),
      h("ul", { class: "order__list" }, h("li", {}, h("b", { class: "number" }, one.number)), orders.map((order) => h("li", {}, h("b", { class: "number" }, order.number), " ", orderWords(order)))),
    ),
    view.steps(one),
    fold({}, say("answer.how_known"), () => [
      one.unsaid && h("p", { class: "soft" }, say("sentence", { text: one.unsaid })),
      h("p", { class: "soft choice__known" }, say("answer.stands_on", { known: one.known, stands_on: one.stands_on })),
      checks(one, view),
    ]),
  );
}

/** @param {SeatAnswer} seat */
function vehicleList(seat) {
  const [first, ...more] = seat.vehicles;
  return more.length
    ? h("details", { class: "vehicles--head" }, h("summary", {}, say("answer.vehicles", { vehicle: first.split(", ")[0], count: more.length })), h("ul", { class: "vehicles" }, more.map((text) => h("li", {}, text))))
    : h("p", { class: "vehicles--head" }, first);
}

/**
 * Where the answer hangs on the vehicle: one line for each plug, with the first thing to fit in it, to be opened.
 * @param {PartAnswer} part
 * @param {Answers} data
 * @param {View} view
 * @param {boolean} chosen
 */
function chooser(part, data, view, chosen) {
  const all = part.seats ?? [];
  if (chosen) {
    return h("p", {}, h("a", { class: "chip", href: view.link(null), onclick: view.go?.(null) }, say("answer.all_plugs", { count: all.length })));
  }
  return h(
    "section",
    {},
    h("h3", {}, say("answer.which_plug", { count: all.length })),
    h("ul", { class: "rows rows--one" }, all.map(([key, how]) => h("li", {}, short(key, how === "fits" ? part.number : null, data, view)))),
  );
}

/** @param {string} key @param {string | null} fittedInstead @param {Answers} data @param {View} view */
function short(key, fittedInstead, data, view) {
  const seat = data.seats[key];
  const first = seat.candidates.find((one) => one.group === "fit");
  const kits = (first?.orders ?? []).map((order) => order.number);
  const rest = seat.vehicles.length - 2;
  const wires = { count: seat.wires, title: seat.plug_title };
  return h(
    "a",
    { class: "row row--answer", href: view.link(key), onclick: view.go?.(key), "data-seat": key },
    seat.vehicles.slice(0, 2).map((line) => h("strong", {}, line)),
    rest > 0 && h("span", {}, say("count.more_vehicles", { count: rest })),
    seat.renewed && h("span", {}, say("answer.row.renewed", { kits: listed(seat.renewed) })),
    h("span", {}, fittedInstead ? say("answer.row.fits", { ...wires, came_with: seat.came_with, number: fittedInstead }) : say("answer.row", wires)),
    first
      ? h(
          "span",
          { class: "row__pick" },
          h("b", { class: "number" }, first.number),
          badge(first.verdict, view.words.verdict[first.verdict]),
          kits.length > 0 && h("b", {}, say("answer.row.kit", { kits: listed(kits) })),
        )
      : h("span", { class: "row__pick" }, badge("unknown", say("answer.row.nothing"))),
  );
}

/** @param {Candidate[]} candidates @param {string} heading @param {SeatView} view @param {boolean} [open] */
function others(candidates, heading, view, open = false) {
  if (!candidates.length) return null;
  return fold({ class: "others", open }, heading, () => candidates.map((one) => choice(one, view)));
}

/** What must not be fitted though it is easily taken for what must: seen without a tap, all but why. @param {Candidate[]} candidates @param {string} heading @param {SeatView} view */
function beware(candidates, heading, view) {
  if (!candidates.length) return null;
  return h(
    "section",
    { class: "beware" },
    h("h3", { class: "group" }, heading),
    candidates.map((one) =>
      h(
        "div",
        { class: "beware__one", "data-candidate": one.number, "data-verdict": one.verdict },
        h("p", {}, numbered(one.number, view.words.gone[letterOf(one.status)], view.to(one.url)), one.family && h("span", { class: "soft" }, " ", one.family)),
        badgeOf(one, view.words),
        [one.warning, ...(one.why ?? [])].filter(Boolean).map((text) => h("p", {}, say("sentence", { text: text ?? "" }))),
        view.steps(one),
        fold({}, say("answer.checks"), () => checks(one, view)),
      ),
    ),
  );
}

/** @param {Candidate} one @param {SeatView} view */
function choice(one, view) {
  return h(
    "div",
    { class: "choice", "data-candidate": one.number, "data-verdict": one.verdict },
    h("p", { class: "choice__number" }, h("a", { href: view.to(one.url) }, one.number), " ", onShelf(one.number, view.shelf)),
    badge(one.verdict, view.words.verdict[one.verdict]),
    h("p", { class: "soft" }, [one.family, one.status_words].filter(Boolean).join("; ")),
    h("div", { class: "choice__why" }, one.verdict === "unknown" && h("p", {}, h("strong", {}, say("answer.measure"))), (one.why ?? []).map((text) => h("p", {}, say("sentence", { text })))),
    one.unsaid && h("p", { class: "soft" }, say("sentence", { text: one.unsaid })),
    (one.orders ?? []).map((order) => orderOf(order, view)),
    (one.also ?? []).map((what) => h("p", { class: "need" }, say("answer.also", { what }))),
    one.moves && moves(one),
    one.idle_words && h("p", { class: "need need--idle" }, say("sentence", { text: one.idle_words })),
    one.note && h("p", { class: "note" }, one.note),
    view.steps(one),
    h("p", { class: "soft choice__known" }, say("answer.stands_on", { known: one.known, stands_on: one.stands_on })),
    fold({}, say("answer.checks"), () => checks(one, view)),
  );
}

/** @param {Order} order @param {View} view */
function orderOf(order, view) {
  const number = order.url ? h("a", { class: "number", href: view.to(order.url) }, order.number) : h("span", { class: "number" }, order.number);
  return h("div", { class: "need" }, h("strong", {}, phrase("answer.order", { number })), orderWords(order), " ", onShelf(order.number, view.shelf));
}

/** @param {Candidate} one */
function moves(one) {
  return h(
    "div",
    { class: "need need--move" },
    h("strong", {}, say("answer.wires")),
    say("sentence", { text: one.moves_why ?? "" }),
    fold({}, say("answer.wires.each"), () =>
      h("ul", { class: "moves" }, (one.moves ?? []).map((move) => h("li", {}, h("strong", { class: "inline" }, say("answer.move", { old: move.old, new: move.new })), " ", say("answer.move.what", { colour: move.colour, circuit: move.circuit })))),
    ),
  );
}

/** @param {Candidate} one @param {View} view */
function checks(one, view) {
  return h(
    "ul",
    { class: "checks" },
    (one.checks ?? []).map(([says, check, text]) =>
      h("li", { class: `check check--${says}` }, h("span", { class: "sr-only" }, say("answer.check", { says: view.words.says[says] })), h("strong", {}, check), " ", text),
    ),
  );
}

/** @param {Chain[]} chains @param {View} view */
function chainSection(chains, view) {
  return h(
    "section",
    {},
    h("h3", {}, say("answer.chain")),
    chains.map((chain) => [
      h(
        "ol",
        { class: "chain" },
        chain.steps.map((step) =>
          h(
            "li",
            {},
            numbered(step.number, step.status, step.url && view.to(step.url)),
            step.since && say("answer.chain.since", { since: step.since }),
            step.needs && say("answer.chain.needs", { needs: step.needs.join("; ") }),
          ),
        ),
      ),
      h("p", { class: "soft" }, chain.words),
    ]),
  );
}

/** @param {Setting | undefined} setting @param {SeatAnswer} seat @param {View} view */
function setLine(setting, seat, view) {
  if (!setting) return null;
  const parts = [setting.method, setting.torque && say("answer.set.torque", { torque: setting.torque })].filter(Boolean);
  if (!parts.length && !setting.set_in) return null;
  const how = parts.join(" ");
  const link = h("a", { href: `${view.to(seat.url.split("#")[0])}#Setting` }, say("answer.set.link"));
  return h(
    "div",
    { class: "set" },
    h("p", {}, setting.set_in ? phrase("answer.set.in", { position: setting.set_in, how, link }) : phrase("answer.set", { how, link })),
    (setting.cautions ?? []).length > 0 && h("ul", { class: "cautions" }, (setting.cautions ?? []).map((one) => h("li", {}, one))),
  );
}
