// What readings tell, by the signatures that were computed in Python. Pure functions; `rangebook.electrics.diagnosis` is the
// original of the comparison and `rangebook.desk.prove.parse_ohms` that of the reading of numbers: a test holds them to each other.

/** @import { Expected, Sheet } from "../types/data.js" */

const CLOSED_BELOW_OHMS = 1;
const OPEN_ABOVE_OHMS = 1e6;
const NO_PATH = new Set(["open", "ol", "o.l", "o.l.", "0l", "inf", "∞"]);
const OHMS = /^\s*([0-9]{1,12}(?:[.,][0-9]{0,12})?|[.,][0-9]{1,12})\s*([kKM]?)\s*(?:[oO][hH][mM][sS]?|[\u03a9\u2126])?\s*$/;
const THOUSANDS = /^\s*[0-9]{1,3},[0-9]{3}(?![0-9.,])/;
/** @type {Record<string, number>} */
const FACTOR = { "": 1, k: 1e3, K: 1e3, M: 1e6 };

/** What a meter shows -> ohms, infinite for no path, null where it cannot be understood. @param {string} text */
export function parseOhms(text) {
  if (NO_PATH.has(text.trim().toLowerCase())) return Infinity;
  const found = OHMS.exec(text);
  if (!found || THOUSANDS.test(text)) return null;
  return Number(found[1].replace(",", ".")) * FACTOR[found[2]];
}

/** Whether a reading can be what is expected. @param {Expected} expected @param {number} ohms */
export function fits(expected, ohms) {
  if (expected === null) return true;
  if (Array.isArray(expected)) {
    const [nominal, percent] = expected;
    const slack = nominal * (percent / 100 + 1e-9);
    return Math.abs(ohms - nominal) <= slack || (nominal < CLOSED_BELOW_OHMS && ohms < CLOSED_BELOW_OHMS);
  }
  return expected === 1 ? ohms < CLOSED_BELOW_OHMS : ohms > OPEN_ABOVE_OHMS;
}

/**
 * The entries of `sheet.known` that explain all the readings, each by the places of its line and position.
 * @param {Pick<Sheet, "known" | "rows">} sheet
 * @param {[line: number, position: number, ohms: number][]} readings
 */
export function explain(sheet, readings) {
  return sheet.known.filter(([, , rows]) => readings.every(([line, at, ohms]) => fits(sheet.rows[rows[line]][at], ohms)));
}

/** What should be read on one line in one position. @param {Pick<Sheet, "known" | "rows">} sheet @param {number} line @param {number} at */
export function expected(sheet, line, at) {
  return sheet.rows[sheet.known[0][2][line]][at];
}
