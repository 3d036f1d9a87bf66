// The files of the book, each asked for once, and which family a number stands in.

import { together } from "./said_once.js";
import { findNumbers, nearestNumbers, normalise, numberList } from "./search.js";
import { keptShelf, shelfOf } from "./shelf.js";

/** @import { Answers, Compared, EntryLines, IdentifyBlock, IdentifyData, IdentifyLooks, IndexHead, Kits, Levers, NameBlock, NameIndex, NumberIndex, NumberPiece, Proofs, ShelfPiece, WordPiece, WriteData } from "../types/data.js" */
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
  /** @template T @param {string} name @returns {Promise<T>} */
  const piece = (name) => once(to(`data/find/${name}.json`), (answer) => answer.json());
  const cut = document.documentElement.dataset.head !== undefined;
  /** Whether the indexes are loaded in pieces: those of a large book, but where the device keeps the whole ones. */
  const inPieces = () => cut && !globalThis.navigator?.serviceWorker?.controller;
  /** @returns {Promise<Pick<IndexHead, "words" | "former">>} */
  const common = () => (inPieces() ? head() : index());
  /** @returns {Promise<IndexHead>} */
  const head = () => piece("head");
  /** @param {string} under @returns {Promise<NumberPiece>} */
  const numberPiece = async (under) => piece(`numbers/${(await import("./pieces.js")).bucket(under, (await head()).numbers)}`);
  /** Families that some piece has named. @type {Set<string>} */
  const namedFamilies = new Set();
  /** Whether the book has a family. @param {string} family */
  const knows = async (family) => {
    if (!inPieces()) return (await index()).families.some(([id]) => id === family);
    return namedFamilies.has(family) || (await numberPiece(family)).ids.includes(family);
  };
  /**
   * A file of a family's. Which families there are the index says: an address may be forged, and its text is no part of a path.
   * @template T
   * @param {string} kind
   * @param {string} family
   * @returns {Promise<T>}
   */
  const ofFamily = async (kind, family) => {
    if (!(await knows(family))) throw new Error(family);
    return once(to(`data/${kind}/${family}.json`), async (answer) => /** @type {T} */ (together(await answer.json())));
  };
  /** @type {Numbered[] | null} */
  let list = null;
  /**
   * The numbers of the book; of a book in pieces those that some texts can mean or look like, and not many more.
   * @param {string[]} texts
   */
  const numbers = async (...texts) => {
    if (!texts.length || !inPieces()) {
      list ??= numberList(await index());
      return list;
    }
    const { joinedNumbers, numberGram } = await import("./pieces.js");
    const under = new Set(texts.map(numberGram).filter(Boolean));
    const joined = joinedNumbers(await Promise.all([...under].map(numberPiece)));
    for (const [id] of joined.families) namedFamilies.add(id);
    // A number stands in several pieces.
    return [...new Map(numberList(joined).map((one) => [JSON.stringify([one.by, one.number, one.kind === "kit" ? one.url : one.family]), one])).values()];
  };
  return {
    to,
    index,
    numbers,
    knows,
    inPieces,
    codes: async () => (await head()).codes,
    /** What words of the index's are needed to say of a part. */
    words: async () => (await common()).words,
    /**
     * Of a book in pieces the names that a text can mean, and not many more; `null` where that could be almost anything.
     * @param {string} text
     */
    namesOf: async (text) => {
      const { blocksOf, bucket, cardsOf, joinedNames, waysToRead } = await import("./pieces.js");
      const { names } = await head();
      /** The cards of a gram; `null` where too many have it. @param {string} gram */
      const listed = async (gram) => {
        /** @type {WordPiece} */
        const found = await piece(`words/${bucket(gram, names.words)}`);
        const steps = Object.hasOwn(found, gram) ? found[gram] : null;
        return steps === null ? [] : steps.length ? cardsOf(steps) : null;
      };
      /** @type {Set<number>} */
      const cards = new Set();
      for (const way of waysToRead(text)) {
        // The first gram of each word that says anything; all of them where these are not enough.
        const first = await Promise.all(way.map((grams) => firstOf(grams, listed)));
        let left = among(first);
        if (left && blocksOf(left, names.blocks).length > FEW_BLOCKS) left = among(await Promise.all(way.flat().map(listed)));
        if (!left) return null;
        for (const card of left) cards.add(card);
      }
      const blocks = blocksOf(cards, names.blocks);
      if (blocks.length > MOST_BLOCKS) return null;
      /** @type {NameBlock[]} */
      const found = await Promise.all(blocks.map((at) => piece(`names/${at}`)));
      const joined = joinedNames(found);
      for (const [id] of joined.families) namedFamilies.add(id);
      return joined;
    },
    /** What is needed to begin an identification in a large book; `null` where the whole table is at hand. @returns {Promise<IdentifyLooks | null>} */
    looks: async () => (inPieces() ? once(to("data/identify/looks.json"), (answer) => answer.json()) : null),
    /** Some families of the table. @param {number} at @returns {Promise<IdentifyBlock>} */
    looked: (at) => once(to(`data/identify/block/${at}.json`), (answer) => answer.json()),
    /** Of an edition in which the family of its seat had another id an address is made today's: it was sent, or printed. */
    renewSeat: async () => {
      const query = new URLSearchParams(location.search);
      const seat = query.get("seat");
      if (!seat) return;
      const { former } = await common();
      const family = familyOfSeat(seat);
      if (!Object.hasOwn(former, family)) return;
      query.set("seat", `${former[family]}${seat.slice(family.length)}`);
      history.replaceState(history.state, "", `?${query}`);
    },
    /** What lies on the shelf, as this device has it, else as the book has it. */
    shelf: async () => {
      const kept = keptShelf();
      if (!inPieces()) return shelfOf(kept ?? (await index()).shelf, await numbers(), kept !== null);
      if (kept) return shelfOf(kept, kept.length ? await numbers() : [], true);
      /** @type {ShelfPiece} */
      const lying = (await head()).stocked ? await piece("shelf") : [];
      // Which number the book has for each was looked up when it was built.
      const own = lying.flatMap(([number, , , own]) => (own === null ? [] : [{ by: normalise(number), key: normalise(own), number: own }]));
      return shelfOf(lying.map(([number, count, where]) => [number, count, where]), own, false);
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

const FEW_BLOCKS = 6;
const MOST_BLOCKS = 48;

/**
 * The cards of the first gram of a word that does not have too many; `null` where all have.
 * @param {string[]} grams
 * @param {(gram: string) => Promise<number[] | null>} listed
 */
async function firstOf(grams, listed) {
  for (const gram of grams) {
    const found = await listed(gram);
    if (found) return found;
  }
  return null;
}

/** What all lists have; `null` where there is none to go by. @param {(number[] | null)[]} lists */
function among(lists) {
  const known = lists.filter((list) => list !== null);
  return known.length
    ? known.reduce((left, list) => {
        const both = new Set(list);
        return left.filter((card) => both.has(card));
      })
    : null;
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
