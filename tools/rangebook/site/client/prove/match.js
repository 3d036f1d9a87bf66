// What readings tell, by the signatures and the rules that were written down in Python. Pure functions; `rangebook.electrics.diagnosis` is
// the original of the comparison and `rangebook.desk.prove.parse_ohms` that of the reading of numbers: a test holds them to each other.

/** @import { Expected, ReadingRules, Sheet } from "../types/data.js" */
/** Readings by the places of their line and position. @typedef {[line: number, position: number, ohms: number][]} Readings */

/** What a meter shows -> ohms, infinite for no path, null where it cannot be understood. @param {string} text @param {ReadingRules} rules */
export function parseOhms(text, rules) {
  if (rules.no_path.includes(text.trim().toLowerCase())) return Infinity;
  const found = new RegExp(`^(?:${rules.number})$`).exec(text);
  if (!found || new RegExp(`^(?:${rules.unclear})`).test(text)) return null;
  return Number(found[1].replace(",", ".")) * rules.factors[found[2]];
}

/** Whether a reading can be what is expected. @param {Expected} expected @param {number} ohms @param {ReadingRules} rules */
export function fits(expected, ohms, rules) {
  if (expected === null) return true;
  if (Array.isArray(expected)) {
    const [nominal, percent] = expected;
    const slack = nominal * (percent / 100 + 1e-9);
    return Math.abs(ohms - nominal) <= slack || (nominal < rules.closed_below && ohms < rules.closed_below);
  }
  return expected === 1 ? ohms < rules.closed_below : ohms > rules.open_above;
}

/** The entries of `sheet.known` that explain all the readings. @param {Pick<Sheet, "known" | "rows">} sheet @param {Readings} readings @param {ReadingRules} rules */
export function explain(sheet, readings, rules) {
  return sheet.known.filter(([, , rows]) => readings.every(([line, at, ohms]) => fits(sheet.rows[rows[line]][at], ohms, rules)));
}

/** What should be read on one line in one position. @param {Pick<Sheet, "known" | "rows">} sheet @param {number} line @param {number} at */
export function expected(sheet, line, at) {
  return sheet.rows[sheet.known[0][2][line]][at];
}
