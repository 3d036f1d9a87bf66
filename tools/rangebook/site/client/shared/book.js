// The files of the book, each asked for once, and which family a number stands in.

import { findNumbers, nearestNumbers, numberList } from "./search.js";
import { keptShelf, shelfOf } from "./shelf.js";

/** @import { Answers, Compared, EntryLines, IdentifyData, Kits, Levers, NameIndex, NumberIndex, Proofs, WriteData } from "../types/data.js" */
/** @import { Numbered, NumberedPart } from "./search.js" */
/** @typedef {ReturnType<typeof bookOf>} Book */

/** A file; what it holds is held to its type by a test. @param {string} url */
async function fetched(url) {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
  return answer;
}

/**
 * The book of the site whose top `home.dataset.base` leads to. A file that failed is asked for again.
 * @param {HTMLElement} home
 */
export function bookOf(home) {
  /** @param {string} url */
  const to = (url) => `${home.dataset.base}/${url}`;
  /** @type {Map<string, Promise<unknown>>} */
  const asked = new Map();
  /**
   * @template T
   * @param {string} url
   * @param {(answer: Response) => Promise<T>} read
   * @returns {Promise<T>}
   */
  const once = (url, read) => {
    const before = asked.get(url);
    // What was put in for an address is of the type that is asked for there.
    if (before) return /** @type {Promise<T>} */ (before);
    const got = fetched(url).then(read);
    got.catch(() => asked.delete(url));
    asked.set(url, got);
    return got;
  };
  /** @type {(name: string) => string} */
  const named = (name) => home.dataset[name] ?? "";
  /** @returns {Promise<NumberIndex>} */
  const index = () => once(named("numbers"), (answer) => answer.json());
  /**
   * A file of a family's. Which families there are the index says: an address may be forged, and its text is no part of a path.
   * @template T
   * @param {string} kind
   * @param {string} family
   * @returns {Promise<T>}
   */
  const ofFamily = async (kind, family) => {
    if (!(await index()).families.some(([id]) => id === family)) throw new Error(family);
    return once(to(`data/${kind}/${family}.json`), (answer) => answer.json());
  };
  /** @type {Numbered[] | null} */
  let list = null;
  const numbers = async () => (list ??= numberList(await index()));
  return {
    to,
    index,
    numbers,
    /** Of an edition in which the family of its seat had another id an address is made today's: it was sent, or printed. */
    renewSeat: async () => {
      const query = new URLSearchParams(location.search);
      const seat = query.get("seat");
      if (!seat) return;
      const { former } = await index();
      const family = familyOfSeat(seat);
      if (!Object.hasOwn(former, family)) return;
      query.set("seat", `${former[family]}${seat.slice(family.length)}`);
      history.replaceState(history.state, "", `?${query}`);
    },
    /** What lies on the shelf, as this device has it, else as the book has it. */
    shelf: async () => {
      const kept = keptShelf();
      return shelfOf(kept ?? (await index()).shelf, await numbers(), kept !== null);
    },
    /** @returns {Promise<NameIndex>} */
    names: () => once(named("names"), (answer) => answer.json()),
    /** @returns {Promise<IdentifyData>} */
    table: () => once(named("table"), (answer) => answer.json()),
    /** @returns {Promise<WriteData>} */
    write: () => once(named("book"), (answer) => answer.json()),
    /** @returns {Promise<Kits>} */
    kits: () => once(to("data/kits.json"), (answer) => answer.json()),
    /** @param {string} family @returns {Promise<Answers>} */
    answers: (family) => ofFamily("answers", family),
    /** @param {string} family @returns {Promise<Proofs>} */
    proof: (family) => ofFamily("proof", family),
    /** @param {string} family @returns {Promise<Levers>} */
    lever: (family) => ofFamily("lever", family),
    /** @param {string} family @returns {Promise<Compared>} */
    compare: (family) => ofFamily("compare", family),
    /** @param {string} family @returns {Promise<EntryLines>} */
    lines: (family) => ofFamily("lines", family),
    /** @param {string} connector */
    face: (connector) => once(to(`data/faces/${connector}.svg`), (answer) => answer.text()),
  };
}

/**
 * The part with this number in any spelling, or null.
 * @param {Numbered[]} numbers
 * @param {string} text
 * @returns {NumberedPart | null}
 */
export function familyOf(numbers, text) {
  return findNumbers(numbers, text).exact.find((one) => one.kind === "part") ?? null;
}

/** The parts whose numbers look most like one that is not in the book. @param {Numbered[]} numbers @param {string} text */
export function nearest(numbers, text) {
  return nearestNumbers(numbers, text).filter((one) => one.kind === "part");
}

/** The family that a seat is of. @param {string} seat */
export const familyOfSeat = (seat) => seat.split("/")[0];
