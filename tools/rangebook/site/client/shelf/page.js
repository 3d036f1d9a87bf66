// My shelf: a stock list kept on this device, and what of it fits a vehicle.

import { shelfAnswer } from "../answer/shelf.js";
import { bookOf, familyOfSeat } from "../shared/book.js";
import { elsewhere, h, need } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { findVehicles, vehicleLines, withoutSlips } from "../shared/search.js";
import { keepShelf, keptShelf, shelfOf } from "../shared/shelf.js";
import { stockOf } from "./stock.js";
import "../words/answer.js";
import "../words/shelf.js";

/** @import { Lying } from "../types/data.js" */
/** @import { Line } from "../shared/search.js" */

const MOST_BYTES = 1_000_000;
const MOST_ROWS = 24;

const home = need(document, "[data-shelf-page]", HTMLElement);
const form = need(home, "[data-shelf-form]", HTMLFormElement);
const text = need(form, "textarea", HTMLTextAreaElement);
const picker = need(form, "input[type=file]", HTMLInputElement);
const status = need(home, "[data-shelf-status]", HTMLElement);
const place = need(home, "[data-shelf-list]", HTMLElement);
const vehicle = need(home, "[data-shelf-vehicle]", HTMLInputElement);
const answer = need(home, "[data-shelf-answer]", HTMLElement);
const book = bookOf(home);

/** Where this browser keeps nothing, the list is here until the page is left. @type {Lying[] | null} */
let held = keptShelf();

const shelf = async () => shelfOf(held ?? (await book.index()).shelf, await book.numbers(), held !== null);

/** @param {Lying[] | null} list */
async function take(list) {
  held = list;
  const kept = keepShelf(list);
  await show();
  if (list) status.textContent = say(kept ? "shelf.kept" : "shelf.not_kept");
}

async function show() {
  try {
    const { known, unknown, own } = await shelf();
    if (!known.size && !unknown.length) {
      status.textContent = say("shelf.none");
      place.replaceChildren();
    } else {
      status.textContent = "";
      const parts = [say("shelf.read", { count: known.size }), unknown.length > 0 && say("shelf.missing", { count: unknown.length })];
      place.replaceChildren(
        h("h2", {}, say(own ? "shelf.own" : "shelf.of_book")),
        h("p", {}, say("sentence", { text: parts.filter(Boolean).join("; ") })),
        h("ul", { class: "order__list" }, [...known.values()].map(({ number, count, place: where }) => h("li", {}, h("b", { class: "pick__count" }, say("shelf.times", { count })), " ", h("a", { class: "number", href: book.to(`?q=${encodeURIComponent(number)}`) }, number), " ", h("span", { class: "soft" }, where)))),
        unknown.length > 0 ? h("details", {}, h("summary", {}, say("shelf.unknown")), h("ul", { class: "order__list" }, unknown.map(([number, count, where]) => h("li", {}, h("b", { class: "pick__count" }, say("shelf.times", { count })), " ", number, " ", h("span", { class: "soft" }, where))))) : "",
        own ? h("p", {}, h("button", { class: "button button--quiet", type: "button", onclick: () => take(null) }, say("shelf.forget"))) : "",
      );
    }
    await showVehicle();
  } catch {
    status.textContent = say("load.failed");
  }
}

let turn = 0;
async function showVehicle() {
  const mine = ++turn;
  const query = new URLSearchParams(location.search);
  const typed = (query.get("vehicle") ?? "").trim();
  const seat = query.get("seat");
  if (!typed && !seat) {
    answer.replaceChildren();
    return;
  }
  const lines = vehicleLines(await book.names(), await book.index());
  const found = findVehicles(lines, typed).all;
  const all = found.length || !typed ? found : findVehicles(lines, withoutSlips(lines, typed) ?? "").all;
  const seats = new Set(all.map(keyOf));
  const [only] = seats;
  const key = seat ?? (seats.size === 1 ? only : null);
  const pieces = key ? await fits(key) : rows(all, typed);
  if (mine === turn) answer.replaceChildren(pieces);
}

/** @param {Line} line */
const keyOf = (line) => line.seat && `${line.family}/${line.seat}`;

/** @param {string} key */
async function fits(key) {
  const data = await book.answers(familyOfSeat(key));
  const seat = Object.hasOwn(data.seats, key) ? data.seats[key] : null;
  if (!seat) return h("p", { class: "box" }, say("shelf.no_seat"));
  const [first, ...more] = seat.vehicles;
  const words = await book.words();
  return h(
    "div",
    { "data-seat": key },
    h("h3", {}, first),
    more.length > 0 && h("p", { class: "soft" }, more.join("; ")),
    h("p", { class: "soft" }, say("answer.row", { count: seat.wires, title: seat.plug_title })),
    shelfAnswer(seat, { words, to: book.to, shelf: await shelf() }),
    h("p", { class: "soft" }, say("shelf.not_candidates")),
    h("p", {}, h("a", { class: "button button--quiet", href: book.to(`?${new URLSearchParams({ q: seat.came_with, seat: key })}`) }, say("part.what_fits"))),
  );
}

/** @param {Line[]} lines @param {string} typed */
function rows(lines, typed) {
  if (!lines.length) return h("p", { class: "box" }, say("shelf.vehicles.none"));
  return h(
    "div",
    {},
    h(
      "ul",
      { class: "rows" },
      lines.slice(0, MOST_ROWS).map((line) => {
        const words = [h("strong", {}, line.vehicle), h("span", {}, line.rest)];
        const href = `?${new URLSearchParams({ vehicle: typed, seat: keyOf(line) ?? "" })}`;
        return h("li", {}, line.seat ? h("a", { class: "row", href, onclick: go(href) }, words) : h("span", { class: "row" }, words, h("span", {}, say("shelf.no_seat"))));
      }),
    ),
    lines.length > MOST_ROWS && h("p", { class: "soft" }, say("shelf.vehicles.more", { count: lines.length - MOST_ROWS })),
  );
}

/** @param {string} href @returns {(event: MouseEvent) => void} */
const go = (href) => (event) => {
  if (elsewhere(event)) return;
  event.preventDefault();
  history.pushState(null, "", href);
  showVehicle();
};

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (text.value.trim()) await take(stockOf(text.value, await book.numbers()));
});
// Pressed before anybody listens it would only load the page again, and what was pasted were gone.
need(form, "button[type=submit]", HTMLButtonElement).disabled = false;
picker.addEventListener("change", async () => {
  const [file] = picker.files ?? [];
  if (!file) return;
  if (file.size > MOST_BYTES) status.textContent = say("shelf.too_large");
  else await take(stockOf(await file.text(), await book.numbers()));
  picker.value = "";
});
vehicle.addEventListener("input", () => {
  history.replaceState(null, "", vehicle.value.trim() ? `?${new URLSearchParams({ vehicle: vehicle.value })}` : location.pathname);
  showVehicle();
});
vehicle.form?.addEventListener("submit", (event) => event.preventDefault());
addEventListener("popstate", () => {
  vehicle.value = new URLSearchParams(location.search).get("vehicle") ?? "";
  showVehicle();
});
vehicle.value = new URLSearchParams(location.search).get("vehicle") ?? "";
book.renewSeat().catch(() => {}).then(show);
