// One answer, shown. Every verdict, its order and its words were computed when the site was built.

import { badge, fold, h, later, mark } from "../shared/dom.js";
import { listed, listing, phrase, say } from "../shared/say.js";
import { besideLink, nextSteps, recordLink } from "./next_steps.js";
import { letterOf, numbered, onShelf, orderWords } from "./pieces.js";
import { sendLink } from "./send_link.js";
import { shelfAnswer } from "./shelf.js";
import { thumbBar } from "./thumb_bar.js";
import { plugPicture, seal, wires } from "./wires.js";
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
 */
export function partAnswer(part, data, view) {
  const all = part.seats ?? [];
  const chosen = all.filter(([key]) => key === view.seat);
  const seats = all.length === 1 ? all : chosen;
  const family = h("a", { href: view.to(part.url) }, data.family.title);
  return h(
    "div",
    {},
    h(
      "div",
      { class: "answer__head" },
      h("h2", {}, phrase("answer.came_off", { number: h("span", { class: "number" }, part.number) })),
      (seats.length !== 1 || part.status === "withdrawn") && h("p", { class: "soft" }, phrase("answer.head", { status: capital(view.words.status[letterOf(part.status)]), family })),
      part.status === "withdrawn" && h("p", {}, badge("no", view.words.group.withdrawn)),
      part.note && h("p", { class: "note" }, part.note),
    ),
    !part.seats && h("p", { class: "box" }, phrase("answer.no_vehicle", { link: h("a", { href: view.to(part.url) }, say("answer.no_vehicle.link")) })),
    all.length > 1 && !chosen.length && chooser(part, data, view),
    seats.map(([key, how]) => seatAnswer(key, data, view, how === "fits" ? part.number : null)),
    all.length > 1 && chosen.length > 0 && h("p", {}, h("a", { class: "chip", href: view.link(null), onclick: view.go?.(null) }, say("answer.all_plugs", { count: all.length }))),
    part.chains && chainSection(part.chains, view),
  );
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
    steps: (one) => [nextSteps(one, key, fittedInstead ?? seat.came_with, plainView), one !== first && recordLink(one, key, plainView), one.number !== seat.came_with && besideLink(one, seat.built ?? key, seat.came_with, plainView)],
  };
  /** @param {Group} group */
  const of = (group) => seat.candidates.filter((one) => one.group === group);
  /** @param {Group} group */
  const heading = (group) => say("answer.group", { group: view.words.group[group], count: of(group).length });
  const [first, ...more] = of("fit");
  const shelf = of("shelf");
  return h(
    "section",
    { class: "seat", "data-seat": key },
    h(
      "div",
      { class: first ? "panes" : "" },
      h("div", { class: "panes__top" }, vehicleList(seat), first ? card(first, view) : h("p", { class: "box box--unknown" }, mark("unknown"), " ", say(shelf.length ? "answer.nothing.shelf" : "answer.nothing"))),
      first && h("div", { class: "panes__wires" }, wires(seat, first, data), first.moves && moves(first), seal(seat, first, data), first.idle_words && h("p", { class: "need need--idle" }, say("sentence", { text: first.idle_words }))),
      later(h("div", { class: "panes__do" }), () => [
        first && orderList(first, view),
        shelfAnswer(seat, view),
        beware([...of("withdrawn"), ...of("look_alike"), ...of("no")], view),
        setLine(first?.setting ? data.settings[first.setting] : undefined, seat, view),
        first && goesWrong(first),
        seat.renewed && h("p", { class: "box" }, say("answer.renewed", { title: seat.plug_title, kits: listed(seat.renewed) })),
        seat.measure_first && h("p", { class: "box box--unknown", "data-measure-first": true }, mark("unknown"), " ", seat.measure_first),
        others(more, say("answer.more", { count: more.length }), view),
        others(shelf, heading("shelf"), view, !first),
        others(of("unknown"), heading("unknown"), view, !first && !shelf.length),
      ]),
      later(h("div", { class: "panes__why" }), () => [howKnown(first, seat, view, fittedInstead), first && recordLink(first, key, plainView), sendLink(view.link(key), seat.vehicles[0])]),
    ),
    first && thumbBar(first, key, fittedInstead ?? seat.came_with, plainView),
  );
}

/**
 * What to fit, so that a phone shows it without a tap: number, verdict, what to order with it, and the caution.
 * @param {Candidate} one
 * @param {SeatView} view
 */
function card(one, view) {
  return h(
    "div",
    { class: "choice choice--first", "data-candidate": one.number, "data-verdict": one.verdict },
    h("p", { class: "choice__number" }, h("a", { href: view.to(one.url) }, one.number)),
    badge(one.verdict, view.words.verdict[one.verdict]),
    // What lies on the shelf is told below the caution: a small phone shows no more than that without scrolling.
    (one.orders ?? []).map((order) => orderOf(order, { ...view, shelf: undefined })),
    h("p", { class: "caution" }, mark("caution"), " ", phrase("answer.caution", { link: h("a", { href: view.to("cautions/") }, say("answer.cautions")) })),
    onShelf(one.number, view.shelf),
    h("p", { class: "soft" }, [one.family, one.status_words].filter(Boolean).join("; ")),
    tried(one),
  );
}

/** What was tried of it in the bay on these vehicles: beside the verdict, never in its place. @param {Candidate} one */
const tried = (one) => one.tried && h("div", { class: "tried" }, h("strong", {}, say("answer.tried")), h("ul", {}, one.tried.map((text) => h("li", {}, say("sentence", { text })))));

/** What to order, as one list for the counter, and the work that goes with it. @param {Candidate} one @param {View} view */
function orderList(one, view) {
  return h(
    "section",
    { id: "answer-order", class: "order", tabindex: "-1" },
    h("h3", {}, say("answer.list")),
    h(
      "ul",
      { class: "order__list" },
      h("li", {}, h("b", { class: "number" }, one.number), " ", onShelf(one.number, view.shelf)),
      (one.orders ?? []).map((order) => h("li", {}, h("b", { class: "number" }, order.number), " ", orderWords(order), " ", onShelf(order.number, view.shelf))),
      (one.also ?? []).map((text) => h("li", {}, say("sentence", { text }))),
    ),
    one.work && [h("h3", {}, say("answer.work")), h("ul", { class: "order__list" }, one.work.map((text) => h("li", {}, say("sentence", { text }))))],
    one.note && h("p", { class: "note" }, one.note),
  );
}

/** What goes wrong with the kits of an answer. @param {Candidate} one */
function goesWrong(one) {
  const said = (one.orders ?? []).flatMap((order) => (order.cautions ?? []).map((text) => ({ number: order.number, text })));
  return said.length > 0 && h("section", { class: "wrong" }, h("h3", {}, say("answer.wrong")), h("ul", { class: "cautions" }, said.map(({ number, text }) => h("li", {}, h("span", { class: "number" }, number), " ", text))));
}

/**
 * Why, and how it is known: folded on a phone, beside the drawing where there is room.
 * @param {Candidate | undefined} one @param {SeatAnswer} seat @param {SeatView} view @param {string | null} fittedInstead
 */
function howKnown(one, seat, view, fittedInstead) {
  const plug = phrase("answer.plug", { count: seat.wires, title: seat.plug_title, number: numbered(seat.came_with, seat.came_with_status) });
  return fold({ class: "known", open: matchMedia("(min-width: 52rem)").matches }, say("answer.how_known"), () => [
    one && [
      h("div", { class: "choice__why" }, (one.why ?? []).map((text) => h("p", {}, say("sentence", { text })))),
      one.unsaid && h("p", { class: "soft" }, say("sentence", { text: one.unsaid })),
      h("p", { class: "soft choice__known" }, say("answer.stands_on", { known: one.known, stands_on: one.stands_on })),
    ],
    h("p", { class: "seat__facts" }, fittedInstead ? phrase("answer.plug.instead", { plug, number: fittedInstead }) : phrase("answer.plug.end", { plug })),
    (seat.loops ?? []).map((loop) => h("p", { class: "seat__facts" }, say("answer.jumper", { cavities: listed(loop) }))),
    seat.cranks && h("p", { class: "seat__facts" }, say("sentence", { text: seat.cranks })),
    h("p", { class: "soft" }, say("answer.known", { known: seat.known })),
    one && checks(one, view),
    one && view.steps(one),
    h("p", {}, h("a", { class: "button button--quiet", href: view.to(seat.url) }, say("answer.page"))),
  ]);
}

/** @param {SeatAnswer} seat */
function vehicleList(seat) {
  const [first, ...more] = seat.vehicles;
  return more.length
    ? h("details", { class: "vehicles--head" }, h("summary", {}, say("answer.vehicles", { vehicle: first.split(", ")[0], count: more.length })), h("ul", { class: "vehicles" }, more.map((text) => h("li", {}, text))))
    : h("p", { class: "vehicles--head" }, first);
}

/**
 * Where the answer hangs on the vehicle: the plugs side by side as pictures, each with the first thing to fit in it, to be opened.
 * @param {PartAnswer} part
 * @param {Answers} data
 * @param {View} view
 */
function chooser(part, data, view) {
  const all = part.seats ?? [];
  const seats = all.map(([key]) => data.seats[key]);
  const apart = differences(seats);
  return h(
    "section",
    {},
    h("h3", {}, say("answer.which_plug", { count: all.length })),
    apart.marks && h("p", { class: "soft" }, say("answer.marked")),
    h("ul", { class: "rows plugs" }, all.map(([key, how], at) => h("li", {}, short(key, how === "fits" ? part.number : null, data, view, { ...apart, marked: apart.marked[at] })))),
  );
}

/**
 * What tells plugs apart: of those with one face the cavities that not all have a wire in, and where wires are in the same places
 * those of other colours; beyond that lever, original and connector.
 * @param {SeatAnswer[]} seats
 */
function differences(seats) {
  const wired = new Map(seats.map((seat) => [seat, new Map(seat.wired.map(([cavity, colour]) => [cavity, colour]))]));
  /** @param {SeatAnswer} seat */
  const places = (seat) => seat.wired.map(([cavity]) => cavity).join(" ");
  /** @param {SeatAnswer[]} among @param {(of: Map<string, string> | undefined, cavity: string) => unknown} look */
  const unlike = (among, look) => among.flatMap((one) => one.wired.map(([cavity]) => cavity)).filter((cavity) => new Set(among.map((one) => look(wired.get(one), cavity))).size > 1);
  const marked = seats.map((seat) => {
    const alike = seats.filter((other) => other.face === seat.face);
    const whole = alike.filter((other) => places(other) === places(seat));
    return new Set([...unlike(alike, (of, cavity) => of?.has(cavity)), ...unlike(whole, (of, cavity) => of?.get(cavity))]);
  });
  /** @param {(seat: SeatAnswer) => string} of */
  const differ = (of) => new Set(seats.map(of)).size > 1;
  return { marked, marks: marked.some((one) => one.size > 0), lever: differ((seat) => seat.positions), built: differ((seat) => seat.came_with), title: differ((seat) => seat.plug_title) };
}

/** A number that does not break at its hyphen, where half of it looks like another. @param {string} number */
const unbroken = (number) => h("b", { class: "number" }, number);

/** @param {string} key @param {string | null} fittedInstead @param {Answers} data @param {View} view @param {{ marked: Set<string>, lever: boolean, built: boolean, title: boolean }} apart */
function short(key, fittedInstead, data, view, apart) {
  const seat = data.seats[key];
  const first = seat.candidates.find((one) => one.group === "fit");
  const kits = (first?.orders ?? []).map((order) => order.number);
  const rest = seat.vehicles.length - 2;
  return h(
    "a",
    { class: "row row--answer", href: view.link(key), onclick: view.go?.(key), "data-seat": key },
    plugPicture(seat, data, apart.marked),
    h("strong", {}, say("answer.row.wires", { count: seat.wires })),
    apart.title && h("span", {}, seat.plug_title),
    seat.renewed && h("span", {}, phrase("answer.row.renewed", { kits: listing(seat.renewed.map(unbroken)) })),
    (apart.built || fittedInstead) && h("span", {}, phrase("answer.row.built", { number: unbroken(seat.came_with) })),
    apart.lever && h("span", {}, say("answer.row.lever", { positions: seat.positions })),
    seat.vehicles.slice(0, 2).map((line) => h("span", { class: "row__vehicle" }, line)),
    rest > 0 && h("span", {}, say("count.more_vehicles", { count: rest })),
    first
      ? h(
          "span",
          { class: "row__pick" },
          h("b", { class: "number" }, first.number),
          badge(first.verdict, view.words.verdict[first.verdict]),
          kits.length > 0 && h("b", {}, phrase("answer.row.kit", { kits: listing(kits.map(unbroken)) })),
        )
      : h("span", { class: "row__pick" }, badge("unknown", say("answer.row.nothing"))),
  );
}

/** @param {Candidate[]} candidates @param {string} heading @param {SeatView} view @param {boolean} [open] */
function others(candidates, heading, view, open = false) {
  if (!candidates.length) return null;
  return fold({ class: "others", open }, heading, () => candidates.map((one) => choice(one, view)));
}

/** What must not be fitted, each with the reason in six words; all that there is to say of it is in its fold. @param {Candidate[]} candidates @param {SeatView} view */
function beware(candidates, view) {
  if (!candidates.length) return null;
  return h(
    "section",
    { class: "beware" },
    h("h3", {}, mark("no"), " ", say("answer.not_to_fit")),
    candidates.map((one) =>
      h(
        "div",
        { class: "beware__one", "data-candidate": one.number, "data-verdict": one.verdict },
        one.warning && h("p", {}, h("strong", {}, say("sentence", { text: one.warning }))),
        fold({}, [h("span", { class: "number" }, one.number), " ", h("span", { class: "beware__why" }, one.brief)], () => [
          h("p", { class: "soft" }, say("sentence", { text: view.words.group[one.group] }), one.family && [" ", one.family]),
          (one.why ?? []).map((text) => h("p", {}, say("sentence", { text }))),
          tried(one),
          checks(one, view),
          h("p", {}, h("a", { class: "button button--quiet", href: view.to(one.url) }, say("answer.part", { number: one.number }))),
          view.steps(one),
        ]),
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
    tried(one),
    (one.orders ?? []).map((order) => orderOf(order, view)),
    [...(one.also ?? []), ...(one.work ?? [])].map((what) => h("p", { class: "need" }, say("answer.also", { what }))),
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
  return h("div", { class: "need" }, h("strong", {}, phrase("answer.order", { number })), order.uses && say("sentence", { text: order.uses }), " ", onShelf(order.number, view.shelf));
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

/** Torque and setting of this mount. @param {Setting | undefined} setting @param {SeatAnswer} seat @param {View} view */
function setLine(setting, seat, view) {
  if (!setting) return null;
  const link = h("a", { href: `${view.to(seat.url.split("#")[0])}#Setting` }, say("answer.set.link"));
  return h(
    "section",
    { class: "set" },
    h("h3", {}, say("answer.set")),
    (setting.torque || setting.set_in) &&
      h(
        "dl",
        { class: "facts facts--big" },
        setting.torque && h("div", {}, h("dt", {}, say("answer.set.torque")), h("dd", {}, setting.torque)),
        setting.set_in && h("div", {}, h("dt", {}, say("answer.set.in")), h("dd", {}, h("span", { class: "lever" }, h("span", {}, setting.set_in)))),
      ),
    h("p", {}, setting.method, setting.method && " ", link),
    (setting.cautions ?? []).length > 0 && h("ul", { class: "cautions" }, (setting.cautions ?? []).map((one) => h("li", {}, one))),
  );
}
