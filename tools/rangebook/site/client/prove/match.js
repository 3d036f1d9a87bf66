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

/** @typedef {Pick<Sheet, "known" | "rows" | "lines" | "insulation" | "positions">} Proving */

/**
 * What explains all the readings: entries of `sheet.known`; `not_proved` in place of `good` until the insulation is read; where nothing of
 * that explains them, a leak. @param {Proving} sheet @param {Readings} readings @param {ReadingRules} rules @returns {Sheet["known"]}
 */
export function explain(sheet, readings, rules) {
  const found = sheet.known.filter(([, , rows]) => readings.every(([line, at, ohms]) => fits(sheet.rows[rows[line]][at], ohms, rules)));
  const insulated = sheet.insulation.map(([line]) => line);
  /** @param {number} line */
  const output = (line) => sheet.lines[line][0];
  if (found.length) {
    const left = insulated.filter((line) => sheet.positions.some((_, at) => expected(sheet, line, at) !== null && !readings.some((one) => one[0] === line && one[1] === at)));
    return left.length && found[0][0] === "good" ? [["not_proved", left.map(output), []], ...found.slice(1)] : found;
  }
  const wrong = readings.filter(([line, at, ohms]) => !fits(expected(sheet, line, at), ohms, rules));
  const leaking = insulated.filter((line) => wrong.some((one) => one[0] === line)).map(output);
  const explained = wrong.every(([line, at]) => expected(sheet, line, at) === 0 && sheet.lines[line].slice(0, 2).some((end) => leaking.includes(String(end))));
  return explained ? leaking.map((one) => ["leak", [one], []]) : [];
}

/**
 * The same where some readings were taken once for several positions. One of these that is as it should be is so in all of them; one that
 * is not was so in one or more, nobody knows which: then `sure`, the others, name the fault if they show one.
 * @param {Proving} sheet @param {Readings} readings @param {Readings} sure @param {ReadingRules} rules
 */
export function explainTogether(sheet, readings, sure, rules) {
  const by = sure.length < readings.length ? explain(sheet, sure, rules) : [];
  return by.some(([kind]) => kind === "good" || kind === "not_proved") || !by.length ? explain(sheet, readings, rules) : by;
}

/** What should be read on one line in one position. @param {Pick<Sheet, "known" | "rows">} sheet @param {number} line @param {number} at */
export function expected(sheet, line, at) {
  return sheet.rows[sheet.known[0][2][line]][at];
}
