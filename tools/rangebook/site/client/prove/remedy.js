// From the cause to the remedy: what the family's notes say of such a fault, and what to order. The road check is in the page itself.

import { mayBeFitted } from "../answer/next_steps.js";
import { orderWords } from "../answer/pieces.js";
import { familyOfSeat } from "../shared/book.js";
import { h, need } from "../shared/dom.js";
import { phrase, say } from "../shared/say.js";
import "../words/job.js";
import "../words/prove.js";

/** @import { Book } from "../shared/book.js" */
/** @import { Answers, Note, ProofPart, Proofs, SeatAnswer } from "../types/data.js" */
/** @import { Told } from "./match.js" */

/** Nothing of the switch is worn where it is one of these. */
const NO_PART = new Set(["detent+", "detent-", "swapped", "wrong", "leads", "leads_open"]);

/** @param {Told[]} causes */
const kindsOf = (causes) => causes.flatMap((one) => (one.of ?? [one]).map(({ kind }) => kind));

/** The notes that speak of what may be wrong, but for those of other parts only. @param {Note[]} notes @param {string} key the part's @param {Told[]} causes */
export function notesOf(notes, key, causes) {
  const kinds = new Set(kindsOf(causes));
  return notes.filter(([, , of, parts]) => of.some((kind) => kinds.has(kind)) && (!parts.length || parts.includes(key)));
}

/** @param {{ book: Book, data: Proofs, part: ProofPart, key: string, seat: string, answers: Answers | null, causes: Told[] }} what */
export function remedy({ book, data, part, key, seat, answers, causes }) {
  const notes = notesOf(data.notes, key, causes);
  const own = answers?.seats[seat];
  const fits = (own?.candidates ?? []).filter(mayBeFitted);
  const query = new URLSearchParams({ q: own?.came_with ?? part.number, ...(own && { seat }) });
  return [
    h("h2", {}, say("remedy.head")),
    h("h3", {}, say("remedy.notes")),
    notes.length
      ? notes.map(([head, text]) => h("blockquote", { class: "remedy__note" }, head && h("b", {}, head, " "), text))
      : h("p", { class: "soft" }, say("remedy.no_notes")),
    h("p", {}, h("a", { href: book.to(data.family.url) }, say("remedy.all_notes", { family: data.family.title }))),
    h("h3", {}, say("remedy.order")),
    causes.length > 0 && kindsOf(causes).every((kind) => NO_PART.has(kind)) && h("p", {}, say("remedy.no_part")),
    fits.length > 0 &&
      h(
        "ul",
        {},
        fits.slice(0, 3).map((one) =>
          h("li", {}, h("b", { class: "number" }, one.number), (one.orders ?? []).map((order) => ["; ", phrase("job.kit", { number: h("b", { class: "number" }, order.number), what: orderWords(order) })])),
        ),
      ),
    h("p", {}, h("a", { href: book.to(`?${query}`) }, say("part.what_fits"))),
  ];
}

/** The answers of the family of a seat; null where they cannot be had, as without a connection. @param {Book} book @param {string} seat @returns {Promise<Answers | null>} */
export const answersOf = (book, seat) => (seat ? book.answers(familyOfSeat(seat)).catch(() => null) : Promise.resolve(null));

/** The road check, each line to be ticked; kept on the device. @param {HTMLElement} road @param {string} store @param {SeatAnswer | undefined} seat */
export function roadCheck(road, store, seat) {
  if (seat?.cranks_in) need(road, "[data-road-cranks]", HTMLElement).textContent = say("job.cranks", { positions: seat.cranks_in });
  if (seat?.lamps_in) need(road, "[data-road-lamps]", HTMLElement).textContent = say("job.lamps", { positions: seat.lamps_in });
  const boxes = [...road.querySelectorAll("input")];
  const done = road.querySelector("[data-road-done]");
  const tell = () => {
    if (done) done.textContent = boxes.every((one) => one.checked) ? say("remedy.road_done") : say("remedy.road_left", { count: boxes.filter((one) => !one.checked).length });
  };
  const ticked = new Set(keptTicks(store));
  boxes.forEach((box, at) => {
    box.checked = ticked.has(at);
    box.onchange = () => {
      const now = boxes.flatMap((one, place) => (one.checked ? [place] : []));
      try {
        localStorage.setItem(store, JSON.stringify(now));
      } catch {
        // Ticked until the page is loaded again.
      }
      tell();
    };
  });
  tell();
  road.hidden = false;
}

/** @param {string} store @returns {number[]} */
function keptTicks(store) {
  try {
    const found = JSON.parse(localStorage.getItem(store) ?? "[]");
    return Array.isArray(found) ? found : [];
  } catch {
    return [];
  }
}
