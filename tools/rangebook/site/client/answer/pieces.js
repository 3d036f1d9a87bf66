// Small pieces of an answer that stand on other sheets too.

import { listed, say } from "../shared/say.js";

/** @import { Order, StatusLetter } from "../types/data.js" */

/** The letter that a status has in the indexes. @param {string | undefined} status @returns {StatusLetter} */
export const letterOf = (status) => /** @type {StatusLetter} */ (status ? status[0] : "?");

/** What a kit is, and what of it is used. @param {Order} order */
export const orderWords = (order) => [say("answer.order.title", { title: order.title ?? "" }), order.uses ? say("sentence", { text: order.uses }) : ""].join("");

/** Which pins stay without a wire. @param {string[]} pins */
export const idleWords = (pins) => say("answer.idle", { count: pins.length, pins: listed(pins) });
