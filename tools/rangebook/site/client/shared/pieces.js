// The indexes of a large book in pieces, as site/data/pieces.py cuts them: which pieces a text asks for, and one index of several.
// Pure functions. What comes of them is never less than what the whole indexes have of the text, so the same searches find the same in it.

import { lineOf, look, normalise, seenAsCode, vehicleWords } from "./search.js";

/** @import { NameBlock, NameIndex, NumberIndex, NumberPiece } from "../types/data.js" */
/** @import { Line } from "./search.js" */
/** Of some cards the indexes, and the lines of their vehicles. @typedef {{ families: NumberIndex["families"], names: NameIndex, lines: Line[] }} Part */

const INNER = 4;
const GRAM = 3;
const LONG_GRAM = 5;

/** Which of `count` pieces something stands in: FNV-1a of 32 bits over UTF-16. @param {string} gram @param {number} count */
export function bucket(gram, count) {
  let found = 2166136261;
  for (let at = 0; at < gram.length; at++) found = Math.imul(found ^ gram.charCodeAt(at), 16777619) >>> 0;
  return found % count;
}

/** What the numbers that a text can mean, or that look like one, stand under. @param {string} text */
export function numberGram(text) {
  const key = look(normalise(text));
  return key.length < INNER ? key : [...key].slice(0, GRAM).join("");
}

/**
 * What the names that a text can mean stand under: all the grams of one word, of every word, of one of the ways in which the text is read.
 * A year is no word of a vehicle, and a mark or a code may be typed with other spaces than it has.
 * @param {string} text
 * @returns {string[][][]}
 */
export function waysToRead(text) {
  const plain = normalise(text).toLowerCase();
  const ways = [vehicleWords(text), text.toLowerCase().split(/\s+/), [plain], [seenAsCode(text).toLowerCase()]];
  const read = new Map(ways.map((way) => way.filter(Boolean)).map((way) => [way.join(" "), way]));
  return [...read.values()].filter((way) => way.length).map((way) => way.map(wordGrams));
}

/** @param {string} word */
function wordGrams(word) {
  const signs = [...word];
  if (signs.length < GRAM) return [` ${word}`];
  const size = signs.length < LONG_GRAM ? GRAM : LONG_GRAM;
  return signs.slice(size - 1).map((_, at) => signs.slice(at, at + size).join(""));
}

/** The cards of a gram, from how far each is from the one before. @param {number[]} steps */
export function cardsOf(steps) {
  let at = 0;
  return steps.map((step) => (at += step));
}

/** The blocks that some cards are in. @param {Iterable<number>} cards @param {number[]} firsts */
export function blocksOf(cards, firsts) {
  /** @type {Set<number>} */
  const found = new Set();
  for (const card of cards) {
    let [low, high] = [0, firsts.length - 1];
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (firsts[middle] <= card) low = middle;
      else high = middle - 1;
    }
    found.add(low);
  }
  return [...found].sort((a, b) => a - b);
}

/** One index of numbers of several pieces; what several have is in it several times. @param {NumberPiece[]} pieces */
export function joinedNumbers(pieces) {
  /** @type {Pick<NumberIndex, "families" | "others" | "kits">} */
  const whole = { families: [], others: [], kits: [] };
  for (const piece of pieces) {
    const before = whole.families.length;
    whole.families.push(...piece.families);
    for (const [number, whose, family, part] of piece.others) whole.others.push([number, whose, family + before, part]);
    whole.kits.push(...piece.kits);
  }
  return whole;
}

/** One index of names of several blocks, in the order of the whole one. @param {NameBlock[]} blocks @returns {Part} */
export function joinedNames(blocks) {
  const known = new Map(blocks.flatMap((block) => block.families.map((family) => [family[4], family])));
  const order = [...known.keys()].sort((a, b) => a - b);
  /** @type {Map<number, number>} */
  const places = new Map(order.map((place, at) => [place, at]));
  /** @type {NumberIndex["families"]} */
  const families = order.map((place) => {
    const [id, title] = known.get(place) ?? ["", ""];
    return [id, title, [], ""];
  });
  /** @type {NameIndex} */
  const names = { gearboxes: [], vehicles: [], connectors: [], called: [], codes: [], marks: [] };
  /** @type {Line[]} */
  const lines = [];
  for (const block of blocks) {
    /** @param {number} at */
    const here = (at) => places.get(block.families[at][4]) ?? -1;
    const before = block.families.map((family, at) => {
      const own = families[here(at)];
      const count = own[2].length;
      own[2].push(...family[2]);
      own[3] += family[3];
      return count;
    });
    for (const [name, of] of block.gearboxes) names.gearboxes.push([name, of.map(here)]);
    for (const [name, of] of block.called) names.called.push([name, of.map(here)]);
    for (const [code, of, meaning] of block.codes) names.codes.push([code, of.map(here), meaning]);
    for (const [stamped, of] of block.marks) names.marks.push([stamped, of.map(([family, part]) => [here(family), part + before[family]])]);
    names.connectors.push(...block.connectors);
    for (const [vehicle, rows] of block.vehicles) {
      for (const [rest, first, last, gearbox, family, seat] of rows) lines.push(lineOf(vehicle, rest, first, last, gearbox, block.families[family][0], seat));
    }
  }
  return { families, names, lines };
}
