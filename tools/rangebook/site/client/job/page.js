// The job sheet: one answer, with everything that has to be in the hand while it is done, on paper.

import { mayBeFitted } from "../answer/next_steps.js";
import { numbered, onShelf, orderWords } from "../answer/pieces.js";
import { fromText } from "../prove/readings.js";
import { proofTable } from "../prove/table.js";
import { bookOf, familyOf, familyOfSeat } from "../shared/book.js";
import { badge, h, mark, need } from "../shared/dom.js";
import { qr } from "../shared/qr.js";
import { listed, phrase, say } from "../shared/say.js";
import "../words/job.js";

/** @import { Answers, Candidate, Code, Move, ProofPart, Proofs, SeatAnswer, Setting, Words } from "../types/data.js" */
/** @import { Child } from "../shared/dom.js" */
/** @import { NumberedPart } from "../shared/search.js" */
/** @import { Shelf } from "../shared/shelf.js" */
/** One answer with all that belongs to it; `part` is the key of the part that is fitted. @typedef {{ data: Answers, seat: SeatAnswer, one: Candidate, off: NumberedPart | null, key: string, proof: Proofs, part: string, words: Words, shelf: Shelf }} Job */

const home = need(document, "[data-job]", HTMLElement);
const place = need(home, "[data-job-place]", HTMLElement);
const rest = need(home, "[data-job-rest]", HTMLElement);
const printer = need(home, "[data-job-print]", HTMLElement);
const book = bookOf(home);

async function show() {
  const query = new URLSearchParams(location.search);
  const [key, fit, off] = ["seat", "fit", "off"].map((name) => query.get(name) ?? "");
  if (!key || !fit) {
    refuse(say("job.look_up"));
    return;
  }
  try {
    const numbers = await book.numbers(fit, off);
    const found = familyOf(numbers, fit);
    const own = await book.answers(familyOfSeat(key)).catch(() => null);
    const removed = familyOf(numbers, off);
    // A plug that has been renewed since the vehicle was built is told of with the part that came off it.
    const data = own?.seats[key] || !removed ? own : await book.answers(removed.family).catch(() => null);
    const seat = data?.seats[key];
    const one = seat?.candidates.find((candidate) => found && candidate.number === found.number);
    if (!data || !found || !seat || !one) refuse(say("job.gone"));
    else if (!mayBeFitted(one)) refuse(say("job.not_to_fit", { number: one.number }), one);
    else await sheet({ data, seat, one, off: familyOf(numbers, off) ?? familyOf(await book.numbers(seat.came_with), seat.came_with), key, proof: await book.proof(found.family), part: found.key, words: await book.words(), shelf: await book.shelf() });
  } catch {
    refuse(say("load.failed"));
  }
}

/** @param {string} text @param {Candidate} [one] */
function refuse(text, one) {
  place.replaceChildren(
    h(
      "div",
      { class: `box ${one ? "box--unknown" : ""}`, "data-job-refused": true },
      h("p", {}, one && mark(one.group === "withdrawn" ? "no" : one.verdict), " ", text),
      [one?.warning ?? "", ...(one?.why ?? [])].filter(Boolean).map((line) => h("p", {}, say("sentence", { text: line }))),
      h("p", {}, h("a", { href: book.to("") }, say("job.find"))),
    ),
  );
}

/** @param {Job} job */
async function sheet({ data, seat, one, off, key, proof, part, words, shelf }) {
  const code = off ? (await book.proof(off.family)).parts[off.key].code : null;
  const cameOff = off?.number ?? seat.came_with;
  // What is left of the address is enough to come back to this very answer.
  const back = new URL(book.to(`?${new URLSearchParams({ q: cameOff, seat: key })}`), location.href).href;
  const orders = one.orders ?? [];
  const number = h("b", { class: "number" }, one.number);
  place.replaceChildren(
    h(
      "div",
      { class: "job__top" },
      h(
        "dl",
        { class: "job__facts" },
        fact(say("job.came_off"), numbered(cameOff, off ? words.gone[off.status] : seat.came_with_status)),
        fact(say("job.vehicle"), seat.vehicles.length > 1 ? h("span", {}, say("job.one_of", { vehicles: seat.vehicles.join("; ") })) : seat.vehicles[0]),
        fact(say("job.plug"), say("job.plug.what", { count: seat.wires, title: seat.plug_title })),
        fact(say("job.fit"), [h("span", { class: "number job__fit" }, one.number), " ", badge(one.verdict, words.verdict[one.verdict])]),
      ),
      code && figureOf(code),
    ),
    ...(proof.parts[part].layers ?? []).map((line) => h("p", { class: "soft" }, say("sentence", { text: line }))),
    section(say("job.order"), [
      h(
        "ul",
        { class: "ticks" },
        h("li", {}, one.status_words ? phrase("job.switch.status", { number, status: one.status_words }) : phrase("job.switch", { number }), " ", onShelf(one.number, shelf)),
        orders.map((order) => h("li", {}, phrase("job.kit", { number: h("b", { class: "number" }, order.number), what: orderWords(order) }), " ", onShelf(order.number, shelf))),
        (one.also ?? []).map((what) => h("li", {}, what)),
      ),
      !orders.length && !one.also && h("p", {}, say("job.nothing_else")),
    ]),
    section(say("job.before"), [
      one.moves ? [h("p", {}, say("job.wires", { moves: one.moves_why ?? "" })), movesTable(one.moves)] : h("p", {}, say("job.no_wire")),
      (one.loops ?? []).map((loop) => h("p", {}, say("job.jumper", { cavities: listed(loop) }))),
      one.idle_words && h("p", {}, say("sentence", { text: one.idle_words })),
      (one.work ?? []).map((text) => h("p", {}, say("sentence", { text }))),
      (one.orders ?? []).flatMap((order) => order.cautions ?? []).map((text) => h("p", { class: "caution" }, text)),
      one.note && h("p", { class: "note" }, one.note),
    ]),
    proofSection(proof, proof.parts[part]),
    section(say("job.set"), settingOf(one.setting ? data.settings[one.setting] : undefined)),
  );
  if (seat.cranks_in) need(rest, "[data-job-cranks]", HTMLElement).textContent = say("job.cranks", { positions: seat.cranks_in });
  if (seat.lamps_in) need(rest, "[data-job-lamps]", HTMLElement).textContent = say("job.lamps", { positions: seat.lamps_in });
  rest.hidden = false;
  printer.hidden = false;
  rest.append(h("p", { class: "job__link" }, phrase("job.link", { link: h("a", { href: back }, back), edition: data.edition })));
}

/** @param {string} name @param {Child} value */
const fact = (name, value) => h("div", {}, h("dt", {}, name), h("dd", {}, value));
/** @param {string} heading @param {Child} pieces */
const section = (heading, pieces) => h("section", {}, h("h2", {}, heading), pieces);

/** @param {Code} code */
function figureOf(code) {
  return h("figure", { class: "job__code" }, qr(code, say("code.label", { says: code.says })), h("figcaption", {}, code.address ? say("code.back") : say("code.holds", { says: code.says })));
}

/** @param {Move[]} moves */
function movesTable(moves) {
  const head = [say("job.from"), say("job.to"), say("job.colour"), say("job.circuit"), say("job.done")];
  return h(
    "table",
    { class: "job__moves" },
    h("thead", {}, h("tr", {}, head.map((word) => h("th", { scope: "col" }, word)))),
    h("tbody", {}, moves.map((move) => h("tr", {}, h("th", { scope: "row" }, move.old), h("td", {}, h("b", {}, move.new)), h("td", {}, move.colour), h("td", {}, move.circuit), h("td", {}, h("span", { class: "blank__box" }))))),
  );
}

/** @param {Setting} [setting] @returns {Child} */
function settingOf(setting = {}) {
  const { set_in, method, torque, cautions = [] } = setting;
  return [
    set_in || method || torque
      ? [h("dl", { class: "job__facts" }, set_in && fact(say("job.set_in"), set_in), torque && fact(say("job.torque"), torque)), method && h("p", {}, method)]
      : h("p", {}, say("job.set.unknown")),
    cautions.length > 0 && h("ul", { class: "cautions" }, cautions.map((line) => h("li", {}, line))),
  ];
}

/** With the readings that its address brings from the proof sheet, where they were taken. @param {Proofs} proof @param {ProofPart} part */
function proofSection(proof, part) {
  const query = new URLSearchParams(location.search);
  const read = query.get("read") ?? "";
  const bench = (read && query.get("at") !== "bench" && part.sheets.find((one) => one.seats.includes(query.get("seat") ?? ""))) || part.sheets[0];
  const typed = fromText(bench, read);
  const heading = read ? say("job.proved", { where: bench.short }) : say("job.prove");
  if (!bench.lines.length && !part.signals.length) return section(heading, h("p", {}, say("job.prove.nothing", { notes: bench.notes.join(" ") })));
  return section(heading, [
    bench.lines.length > 0 && [
      h("p", {}, proof.meter),
      h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": say("job.prove.table") }, proofTable(bench, (line, at) => typed[`${line}/${at}`] ?? "")),
      bench.insulation.map(([, how]) => h("p", {}, how)),
    ],
    bench.notes.length > 0 && h("ul", {}, bench.notes.map((note) => h("li", {}, note))),
  ]);
}

printer.addEventListener("click", () => print());
book.renewSeat().catch(() => {}).then(show);
