// Small pieces of an answer that stand on other sheets too.

import { badge, h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { normalise } from "../shared/search.js";

/** @import { Candidate, Order, StatusLetter, Words } from "../types/data.js" */
/** @import { Shelf } from "../shared/shelf.js" */

/** The letter that a status has in the indexes. @param {string | undefined} status @returns {StatusLetter} */
export const letterOf = (status) => /** @type {StatusLetter} */ (status ? status[0] : "?");

/** What a kit is, and what of it is used. @param {Order} order */
export const orderWords = (order) => [say("answer.order.title", { title: order.title ?? "" }), order.uses ? say("sentence", { text: order.uses }) : ""].join("");

/** A part's number, with its status behind it where it is not to be had by this number any more. @param {string} number @param {string | undefined} status @param {string} [href] */
export const numbered = (number, status, href) => [href ? h("a", { class: "number", href }, number) : h("span", { class: "number" }, number), status && h("span", { class: "soft" }, say("answer.status", { status }))];

/** The badge of a candidate: one that its maker has withdrawn looks like one that does not fit, whatever its verdict. @param {Pick<Candidate, "verdict" | "group">} one @param {Words} words */
export const badgeOf = (one, words) => (one.group === "withdrawn" ? badge("no", words.group.withdrawn) : badge(one.verdict, words.verdict[one.verdict]));

/** How many of a number lie on the shelf and where; null where none does. @param {string} number @param {Shelf | undefined} shelf */
export function onShelf(number, shelf) {
  const lying = shelf?.known.get(normalise(number));
  if (!lying?.count) return null;
  return h("span", { class: "on-shelf" }, say(lying.place ? "shelf.on.at" : "shelf.on", { count: lying.count, place: lying.place }));
}
