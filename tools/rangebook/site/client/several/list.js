// A pasted list -> the numbers in it with how many of each; and a table -> CSV. Pure functions; nothing here judges a part.

import { asked, look, normalise, withoutIdentifier } from "../shared/search.js";

/** @import { Numbered } from "../shared/search.js" */
/** How many of it; `figures` are the figures that may be meant, where that is not clear. @typedef {{ count: number, figures: number[] }} Counted */
/** What looks like a number and is not there. @typedef {{ typed: string, kind: "missing" }} Missing */
/** Where a short figure may be the end of a number or a quantity. @typedef {{ typed: string, kind: "unclear", number: string }} Unclear */
/** A number of the book; `slip` where it was typed with signs that only look like its own. @typedef {Numbered & { typed: string, slip?: boolean }} Read */
/** @typedef {(Read | Missing | Unclear) & Counted} Wanted */
/** A figure in a line; `sure` where a word or sign beside it says that it figures pieces. @typedef {{ figure: number, sure: boolean }} Figure */

const MOST_TOKENS = 5;
const PRICE = /^\d+[.,]\d+$/;
const PIECES = /^(?:x?([1-9]\d{0,2}|0)x?|([1-9]\d{0,3})(?:pcs?|ea|stk|st|off)\.?)$/i;
const COUNTING = /^(?:x|qty:?|pcs?\.?|pieces?|ea\.?|each|stk\.?|st\.?|off|no\.?)$/i;
const SHORT_DIGITS = /^\d{1,3}$/;
const ADDRESS = /^https?:\/\/\S+$/i;
/** Between the things that one code says. Source: ISO/IEC 15434, from memory. */
const BETWEEN = ["\u001d", "\u001e", "\u0004"];

/** @param {string} text */
const looksLikeNumber = (text) => /\d/.test(text) && normalise(text).length >= 4;
/** A count, a price or a word that goes with one. @param {string} token */
const isQuantity = (token) => PIECES.test(token) || PRICE.test(token) || COUNTING.test(token);

/**
 * The numbers of `list` that a text names, each once, with how many of it; and the words that were passed over. `chosen` are numbers that
 * were taken for something typed that the book does not have.
 * @param {string} text
 * @param {Numbered[]} list
 * @param {Map<string, Numbered>} [chosen]
 */
export function readList(text, list, chosen = new Map()) {
  /** @type {Map<string, Numbered>} */
  const known = new Map(chosen);
  for (const one of list) if (!known.has(one.by)) known.set(one.by, one);
  const alike = lookAlikesOf(list);
  /** @type {Map<string, Wanted>} */
  const wanted = new Map();
  /** @type {string[]} */
  const aside = [];
  for (const line of text.split(/[\n\r]+/)) {
    /** @type {(Read | Missing | Unclear | Figure)[]} */
    const told = [];
    for (const cell of cellsOf(line, list)) {
      const tokens = cell.trim().split(/\s+/).filter(Boolean);
      /** @type {{ at: number, token: string }[]} */
      const left = [];
      /** @type {[number, Read | Missing | Unclear | Figure][]} */
      const found = [];
      for (let at = 0; at < tokens.length; ) {
        const run = longest(tokens, at, known);
        if (run) found.push([at, run.one]);
        else left.push({ at, token: tokens[at] });
        at += run?.length ?? 1;
      }
      const met = found.length > 0;
      // What no number was found in: a number that is not in the book, once quantities and plain words are taken out.
      const rest = left.filter(({ token }) => !isQuantity(token) && (met || left.length === 1 || !/^\p{L}{3,}[:.]?$/u.test(token)));
      const unknown = met ? rest.filter(({ token }) => looksLikeNumber(token)).map((one) => [one]) : looksLikeNumber(rest.map(({ token }) => token).join("")) ? [rest] : [];
      for (const run of unknown) found.push([run[0].at, unsaid(run.map(({ token }) => token).join(" "), known, alike)]);
      const taken = new Set(unknown.flat());
      for (const one of left) {
        const figure = taken.has(one) ? null : figureOf(tokens, one.at);
        if (figure) found.push([one.at, figure]);
        else if (!taken.has(one) && !COUNTING.test(one.token)) aside.push(one.token);
      }
      told.push(...found.sort((a, b) => a[0] - b[0]).map(([, one]) => one));
    }
    count(told, wanted);
  }
  return { wanted: [...wanted.values()], aside };
}

/** The cells of a line; what a scanner read off one of our own labels is one cell, and the number that its address names. @param {string} line @param {Numbered[]} list */
function cellsOf(line, list) {
  const whole = line.trim();
  return ADDRESS.test(whole) || BETWEEN.some((sign) => whole.includes(sign)) ? [asked(whole, list).text] : line.split(/[\t,;|]+/);
}

/** The numbers by what they look like; `null` where several look the same. @param {Numbered[]} list */
function lookAlikesOf(list) {
  /** @type {Map<string, Numbered | null>} */
  const found = new Map();
  for (const one of list) {
    const id = look(one.by);
    const other = found.get(id);
    found.set(id, other === undefined || other?.key === one.key ? one : null);
  }
  return found;
}

/** A number that is not there as it was typed: one with a bar code's prefix, one that looks the same, or none. @param {string} typed @param {Map<string, Numbered>} known @param {Map<string, Numbered | null>} alike @returns {Read | Missing} */
function unsaid(typed, known, alike) {
  const meant = known.get(withoutIdentifier(typed));
  if (meant) return { ...meant, typed };
  const same = alike.get(look(normalise(typed)));
  return same ? { ...same, typed, slip: true } : { typed, kind: "missing" };
}

/** How many pieces a token says; `null` where it says none. @param {string[]} tokens @param {number} at @returns {Figure | null} */
function figureOf(tokens, at) {
  const said = PIECES.exec(tokens[at]);
  if (!said) return null;
  const beside = [tokens[at - 1], tokens[at + 1]].some((one) => one !== undefined && COUNTING.test(one));
  return { figure: Number(said[1] ?? said[2]), sure: beside || !/^\d+$/.test(tokens[at]) };
}

/**
 * Give each number of a line how many of it are wanted. Figures count what stands before them; in a line that begins with one and ends with a
 * number, what stands behind them. Of several the one with a word or sign to it figures, else the one behind the number.
 * @param {(Read | Missing | Unclear | Figure)[]} told
 * @param {Map<string, Wanted>} wanted
 */
function count(told, wanted) {
  const ahead = told.length > 1 && "figure" in told[0] && !("figure" in told[told.length - 1]);
  const order = ahead ? [...told].reverse() : told;
  /** @type {{ one: Read | Missing | Unclear, behind: Figure[], before: Figure[] }[]} */
  const numbers = [];
  /** @type {Figure[]} */
  const first = [];
  for (const one of order) {
    if (!("figure" in one)) numbers.push({ one, behind: [], before: numbers.length ? [] : first });
    else (numbers.at(-1)?.behind ?? first).push(one);
  }
  for (const { one, behind, before } of ahead ? numbers.reverse() : numbers) {
    const all = [...behind, ...before];
    const sure = all.filter((two) => two.sure);
    const figures = [...new Set((sure.length ? sure : all).map((two) => two.figure))];
    const id = `${one.kind}:${"key" in one ? one.key : normalise(one.typed)}`;
    const last = wanted.get(id);
    const how = { count: (last?.count ?? 0) + (figures[0] ?? 1), figures: figures.length > 1 ? figures : (last?.figures ?? []) };
    wanted.set(id, last ? { ...last, ...how } : { ...one, ...how });
  }
}

/** The longest run of tokens from `at` on that is a number of the book. @param {string[]} tokens @param {number} at @param {Map<string, Numbered>} known @returns {{ length: number, one: Read | Unclear } | null} */
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
