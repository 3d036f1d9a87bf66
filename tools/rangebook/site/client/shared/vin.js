// The model year in a vehicle identification number of 17 characters, and nothing else of it.
//
// Source: 49 CFR 565.15, the values of the characters, the weights of the places, the check digit in position 9 and the codes of the model
// years in position 10. One code stands for two years that are 30 apart. Which of them, position 7 tells of cars and of trucks up to
// 10,000 lb: a letter from 2010 on, a digit before. That is an inference (73 FR 23367, 30 April 2008, takes it from the character that those
// vehicles must have there), and heavier vehicles may have either.

import { say } from "./say.js";
import "../words/vin.js";

/** What was found, the years, one or two, none where the VIN is refused, and in a sentence how that is known. @typedef {{ vin: string, years: number[], found: string, why: string }} VinYear */

const LENGTH = 17;
const CHECK_AT = 8;
const YEAR_AT = 9;
const SERIES_AT = 6;
const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
/** The characters by their value, from 1; a digit is worth itself. I, O and Q never stand in a VIN: they look like 1 and 0. */
const LETTERS = ["AJ", "BKS", "CLT", "DMU", "ENV", "FW", "GPX", "HY", "RZ"];
/** The check digit by the remainder of the weighted sum when it is divided by 11. */
const CHECK_DIGITS = "0123456789X";
/** The codes of 1980 to 2009 in order, and again of 2010 to 2039. */
const YEAR_CODES = "ABCDEFGHJKLMNPRSTVWXY123456789";
const FIRST_YEAR = 1980;
const LEFT_OUT = /[\s\-\u2010-\u2015\u2212]+/g;

/** @param {string} character */
const worthOf = (character) => (/^[0-9]$/.test(character) ? Number(character) : LETTERS.findIndex((one) => one.includes(character)) + 1);

/** Whether a character can stand in a VIN. @param {string} character */
const mayStand = (character) => /^[0-9A-HJ-NPR-Z]$/.test(character);

/**
 * `newest` is the last model year that there can be by now; a year after it is ruled out.
 * @param {string} text
 * @param {number | null} [newest]
 * @returns {VinYear}
 */
export function modelYear(text, newest = null) {
  const vin = text.replace(LEFT_OUT, "").toUpperCase();
  /** @param {string} found @param {string} why @param {number[]} years */
  const said = (found, why, ...years) => ({ vin, years, found, why });
  const characters = [...vin];
  if (characters.length !== LENGTH) return said("length", say("vin.length", { count: characters.length }));
  for (const [at, character] of characters.entries()) {
    const place = at + 1;
    if ("IOQ".includes(character)) return said("letter", say("vin.letter", { place, character, instead: character === "I" ? "1" : "0" }));
    if (!mayStand(character)) return said("character", say("vin.character", { place, character }));
  }
  const instead = checkDigit(vin);
  if (vin[CHECK_AT] !== instead) return said("check_digit", say("vin.check_digit", { character: vin[CHECK_AT], instead }));
  const character = vin[YEAR_AT];
  const code = YEAR_CODES.indexOf(character);
  if (code < 0) return said("year_code", say("vin.year_code", { character }));
  const first = FIRST_YEAR + code;
  const second = first + YEAR_CODES.length;
  if (newest !== null && second > newest) return said("certain", say("vin.certain", { year: first, character }), first);
  if (/[0-9]/.test(vin[SERIES_AT])) return said("either", say("vin.either", { year: first, other: second, character }), first, second);
  return said("later", say("vin.later", { year: second, other: first, character }), second);
}

/** The check digit that belongs to 17 characters; what stands in its place does not count. @param {string} vin */
function checkDigit(vin) {
  return CHECK_DIGITS[[...vin].reduce((sum, character, at) => sum + worthOf(character) * WEIGHTS[at], 0) % CHECK_DIGITS.length];
}
