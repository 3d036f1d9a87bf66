// A pasted list -> the numbers in it; and a table -> CSV. Pure functions; nothing here judges a part.

import { normalise } from "../shared/search.js";

const MOST_TOKENS = 5;
const QUANTITY = /^(?:x?\d{1,3}x?|\d+[.,]\d+|\d{1,4}(?:pcs?|ea|stk|st|off)\.?)$/i;
const COUNTING = /^(?:x|qty:?|pcs?\.?|pieces?|ea\.?|each|stk\.?|st\.?|off|no\.?)$/i;
const SHORT_DIGITS = /^\d{1,3}$/;

const looksLikeNumber = (text) => /\d/.test(text) && normalise(text).length >= 4;
/** A count, a price or a word that goes with one. */
const isQuantity = (token) => QUANTITY.test(token) || COUNTING.test(token);

/**
 * `{wanted, aside}`. `wanted` are `{typed, kind, key, number, ...}` for numbers of `list` (as from `numberList`), each once;
 * `{typed, kind: "missing"}` for what looks like a number and is not there; `{typed, kind: "unclear", number}` where a short figure may be
 * the end of a number or a quantity. `aside` are the words and quantities that were passed over.
 */
export function readList(text, list) {
  const known = new Map();
  for (const one of list) if (!known.has(one.key)) known.set(one.key, one);
  const wanted = new Map();
  const aside = [];
  const want = (one) => {
    const id = `${one.kind}:${one.key ?? normalise(one.typed)}`;
    if (!wanted.has(id)) wanted.set(id, one);
  };
  for (const cell of text.split(/[\n\r\t,;|]+/)) {
    const tokens = cell.trim().split(/\s+/).filter(Boolean);
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
    unknown.forEach((typed) => want({ typed, kind: "missing" }));
    const told = new Set(unknown.flatMap((one) => one.split(" ")));
    aside.push(...left.filter((token) => !told.has(token)));
  }
  return { wanted: [...wanted.values()], aside };
}

/** The longest run of tokens from `at` on that is a number of the book. */
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
 */
function mayBeQuantity(run, number, known) {
  const pieces = number.toUpperCase().split(/[\s\-./]+/);
  const doubtful = (digits, piece, rest) => {
    const left = rest.join("");
    return SHORT_DIGITS.test(digits) && looksLikeNumber(left) && (digits !== piece || known.has(normalise(left)));
  };
  return doubtful(run.at(-1), pieces.at(-1), run.slice(0, -1)) || doubtful(run[0], pieces[0], run.slice(1));
}

/** Rows of text as CSV by RFC 4180, with a mark that tells a spreadsheet that it is UTF-8. No cell can be taken for a formula. */
export function csv(rows) {
  return `\ufeff${rows.map((row) => row.map(field).join(",")).join("\r\n")}\r\n`;
}

function field(value) {
  const text = String(value ?? "");
  // What a spreadsheet would reckon out is kept text by a quotation mark in front.
  const safe = /^[=+\-@\t\r\n]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
