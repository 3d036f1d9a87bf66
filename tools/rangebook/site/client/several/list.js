// A pasted list -> the numbers in it; and a table -> CSV. Pure functions; nothing here judges a part.

import { normalise } from "../shared/search.js";

/** @import { Numbered } from "../shared/search.js" */
/** What looks like a number and is not there. @typedef {{ typed: string, kind: "missing" }} Missing */
/** Where a short figure may be the end of a number or a quantity. @typedef {{ typed: string, kind: "unclear", number: string }} Unclear */
/** @typedef {(Numbered & { typed: string }) | Missing | Unclear} Wanted */

const MOST_TOKENS = 5;
const QUANTITY = /^(?:x?\d{1,3}x?|\d+[.,]\d+|\d{1,4}(?:pcs?|ea|stk|st|off)\.?)$/i;
const COUNTING = /^(?:x|qty:?|pcs?\.?|pieces?|ea\.?|each|stk\.?|st\.?|off|no\.?)$/i;
const SHORT_DIGITS = /^\d{1,3}$/;

/** @param {string} text */
const looksLikeNumber = (text) => /\d/.test(text) && normalise(text).length >= 4;
/** A count, a price or a word that goes with one. @param {string} token */
const isQuantity = (token) => QUANTITY.test(token) || COUNTING.test(token);

/**
 * The numbers of `list` that a text names, each once, and the words and quantities that were passed over.
 * @param {string} text
 * @param {Numbered[]} list
 */
export function readList(text, list) {
  /** @type {Map<string, Numbered>} */
  const known = new Map();
  for (const one of list) if (!known.has(one.by)) known.set(one.by, one);
  /** @type {Map<string, Wanted>} */
  const wanted = new Map();
  /** @type {string[]} */
  const aside = [];
  /** @param {Wanted} one */
  const want = (one) => {
    const id = `${one.kind}:${"key" in one ? one.key : normalise(one.typed)}`;
    if (!wanted.has(id)) wanted.set(id, one);
  };
  for (const cell of text.split(/[\n\r\t,;|]+/)) {
    const tokens = cell.trim().split(/\s+/).filter(Boolean);
    /** @type {string[]} */
    const left = [];
    let met = false;
    let at = 0;
    while (at < tokens.length) {
      const found = longest(tokens, at, known);
      if (found) {
        want(found.one);
        met = true;
        at += found.length;
      } else {
        left.push(tokens[at]);
        at += 1;
      }
    }
    // What no number was found in: a number that is not in the book, once quantities and plain words are taken out.
    const rest = left.filter((token) => !isQuantity(token) && (met || left.length === 1 || !/^\p{L}{3,}[:.]?$/u.test(token)));
    const unknown = met ? rest.filter(looksLikeNumber) : looksLikeNumber(rest.join("")) ? [rest.join(" ")] : [];
    for (const typed of unknown) want({ typed, kind: "missing" });
    const told = new Set(unknown.flatMap((one) => one.split(" ")));
    aside.push(...left.filter((token) => !told.has(token)));
  }
  return { wanted: [...wanted.values()], aside };
}

/** The longest run of tokens from `at` on that is a number of the book. @param {string[]} tokens @param {number} at @param {Map<string, Numbered>} known @returns {{ length: number, one: Wanted } | null} */
function longest(tokens, at, known) {
  for (let length = Math.min(MOST_TOKENS, tokens.length - at); length > 0; length--) {
    const run = tokens.slice(at, at + length);
    const one = known.get(normalise(run.join("")));
    if (!one) continue;
    const typed = run.join(" ");
    if (length > 1 && mayBeQuantity(run, one.number, known)) return { length, one: { typed, kind: "unclear", number: one.number } };
    return { length, one: { ...one, typed } };
  }
  return null;
}

/**
 * Whether the first or the last token of a run may be a quantity beside a whole number. Not where the number is written with a gap in
 * that very place, and what is left without it is no number of the book.
 * @param {string[]} run
 * @param {string} number
 * @param {Map<string, Numbered>} known
 */
function mayBeQuantity(run, number, known) {
  const pieces = number.toUpperCase().split(/[\s\-./]+/);
  /** @param {string} digits @param {string} piece @param {string[]} rest */
  const doubtful = (digits, piece, rest) => {
    const left = rest.join("");
    return SHORT_DIGITS.test(digits) && looksLikeNumber(left) && (digits !== piece || known.has(normalise(left)));
  };
  return doubtful(run[run.length - 1], pieces[pieces.length - 1], run.slice(0, -1)) || doubtful(run[0], pieces[0], run.slice(1));
}

/** Rows of text as CSV by RFC 4180, with a mark that tells a spreadsheet that it is UTF-8. No cell can be taken for a formula. @param {string[][]} rows */
export function csv(rows) {
  return `\ufeff${rows.map((row) => row.map(field).join(",")).join("\r\n")}\r\n`;
}

/** @param {string} text */
function field(text) {
  // What a spreadsheet would reckon out is kept text by a quotation mark in front.
  const safe = /^[=+\-@\t\r\n]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
