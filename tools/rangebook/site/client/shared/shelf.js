// What lies on the shelf: a list kept on this device, else the book's own.

import { normalise } from "./search.js";

/** @import { Lying } from "../types/data.js" */
/** @import { Numbered } from "./search.js" */
/** How many of a number of the book lie where; what of the list the book does not know. @typedef {{ known: Map<string, { number: string, count: number, place: string }>, unknown: Lying[], own: boolean }} Shelf */

const KEY = `rangebook.shelf ${new URL("../../", import.meta.url).pathname}`;

/** The list on this device, or `null` where none is kept. @returns {Lying[] | null} */
export function keptShelf() {
  try {
    const found = JSON.parse(localStorage.getItem(KEY) ?? "null");
    return Array.isArray(found) ? found.filter(isLying) : null;
  } catch {
    return null;
  }
}

/** @param {unknown} one @returns {one is Lying} */
const isLying = (one) => Array.isArray(one) && typeof one[0] === "string" && Number.isInteger(one[1]) && typeof one[2] === "string";

/** Keep a list, or with `null` none; false where this browser keeps nothing. @param {Lying[] | null} list */
export function keepShelf(list) {
  try {
    if (list) localStorage.setItem(KEY, JSON.stringify(list));
    else localStorage.removeItem(KEY);
    return true;
  } catch {
    return false;
  }
}

/**
 * A list as the answers ask it: by the numbers of the book, whatever they are called in the list.
 * @param {Lying[]} list
 * @param {Pick<Numbered, "by" | "key" | "number">[]} numbers
 * @param {boolean} own
 * @returns {Shelf}
 */
export function shelfOf(list, numbers, own) {
  /** @type {Map<string, Pick<Numbered, "by" | "key" | "number">>} */
  const by = new Map();
  if (list.length) for (const one of numbers) if (!by.has(one.by)) by.set(one.by, one);
  /** @type {Shelf} */
  const shelf = { known: new Map(), unknown: [], own };
  for (const lying of list) {
    const one = by.get(normalise(lying[0]));
    if (!one) {
      shelf.unknown.push(lying);
      continue;
    }
    const there = shelf.known.get(one.key);
    const places = [there?.place, lying[2]].filter(Boolean).join(", ");
    shelf.known.set(one.key, { number: one.number, count: (there?.count ?? 0) + lying[1], place: places });
  }
  return shelf;
}

/** How many of a number lie there; 0 where none does. @param {Shelf | undefined} shelf @param {string} number */
export const countOn = (shelf, number) => shelf?.known.get(normalise(number))?.count ?? 0;
