// The model year in a VIN, with the figures and the words that the book was built with. The same as book/vin.py.

const LEFT_OUT = /[\s\-\u2010-\u2015\u2212]+/g;

/** @import { VinFound, VinTables } from "../types/data.js" */
/** @typedef {{ vin: string, years: number[], found: VinFound, why: string }} VinYear */

/**
 * `years` is empty where the VIN is refused. `newest` is the last model year that there can be.
 * @param {string} text
 * @param {VinTables} tables
 * @param {number | null} [newest]
 * @returns {VinYear}
 */
export function modelYear(text, tables, newest = null) {
  const vin = text.replace(LEFT_OUT, "").toUpperCase();
  /** @type {(found: VinFound, figures: Record<string, string | number>, years?: number[]) => VinYear} */
  const said = (found, figures, years = []) => ({ vin, years, found, why: filled(tables.words[found], figures) });
  const characters = [...vin];
  if (characters.length !== tables.weights.length) return said("length", { count: characters.length });
  for (const [at, character] of characters.entries()) {
    if ("IOQ".includes(character)) return said("letter", { place: at + 1, character, instead: character === "I" ? "1" : "0" });
    if (!Object.hasOwn(tables.values, character)) return said("character", { place: at + 1, character });
  }
  const right = checkDigit(vin, tables);
  if (vin[8] !== right) return said("check_digit", { character: vin[8], instead: right });
  const code = tables.codes.indexOf(vin[9]);
  if (code < 0) return said("year_code", { character: vin[9] });
  const first = tables.first + code;
  const second = first + tables.codes.length;
  if (newest !== null && second > newest) return said("certain", { year: first, character: vin[9] }, [first]);
  if (/[0-9]/.test(vin[6])) return said("either", { year: first, other: second, character: vin[9] }, [first, second]);
  return said("later", { year: second, other: first, character: vin[9] }, [second]);
}

/** The check digit that belongs to 17 characters. @param {string} vin @param {VinTables} tables */
export function checkDigit(vin, tables) {
  return tables.check[[...vin].reduce((sum, character, at) => sum + tables.values[character] * tables.weights[at], 0) % 11];
}

/** @param {string} words @param {Record<string, string | number>} figures */
function filled(words, figures) {
  return words.replace(/\{(\w+)\}/g, (_, name) => String(figures[name]));
}
