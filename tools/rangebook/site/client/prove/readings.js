// What was read: as typed, kept on the device; as text for a link, which `rangebook prove --read` takes too; as figures to judge by.

import { fits, parseOhms } from "./match.js";

/** @import { Expected, ReadingRules, Sheet } from "../types/data.js" */
/** What was typed, by `line/position`. @typedef {Record<string, string>} Typed */

/** @param {string} name @returns {Typed} */
export function kept(name) {
  try {
    return JSON.parse(localStorage.getItem(name) ?? "{}") ?? {};
  } catch {
    return {};
  }
}

/** @param {string} name @param {Typed} value */
export function keep(name, value) {
  try {
    if (Object.keys(value).length) localStorage.setItem(name, JSON.stringify(value));
    else localStorage.removeItem(name);
  } catch {
    // A browser that keeps nothing loses only what was read, when the page is loaded again.
  }
}

/** `1-2 P 0.3;3-4 N OL`: each as on the command line. @param {Pick<Sheet, "lines" | "positions">} sheet @param {Typed} typed */
export function asText(sheet, typed) {
  return Object.entries(typed)
    .map(([id, text]) => {
      const [line, at] = id.split("/").map(Number);
      const [a, b] = sheet.lines[line];
      return `${a}-${b} ${sheet.positions[at]} ${text}`;
    })
    .join(";");
}

/** The same back; what is not of this sheet is left out. @param {Pick<Sheet, "lines" | "positions">} sheet @param {string} text @returns {Typed} */
export function fromText(sheet, text) {
  /** @type {Typed} */
  const typed = {};
  for (const one of text.split(";")) {
    const [pair, position, ...value] = one.trim().split(" ");
    const line = sheet.lines.findIndex(([a, b]) => `${a}-${b}` === pair || `${b}-${a}` === pair);
    const at = sheet.positions.indexOf(position);
    if (line >= 0 && at >= 0 && value.length) typed[`${line}/${at}`] = value.join(" ").slice(0, 16);
  }
  return typed;
}

/**
 * What a figure without a unit may mean, as texts that leave no doubt: "4.7" where 4.7 k is near what should be read. Empty where there is
 * no doubt. `rangebook.desk.prove.units_asked` is the original.
 * @param {string} text @param {Expected} expected @param {ReadingRules} rules @returns {string[]}
 */
export function unitsAsked(text, expected, rules) {
  const bare = text.trim();
  const ohms = parseOhms(bare, rules);
  if (!Array.isArray(expected) || ohms === null || !/^[0-9.,]+$/.test(bare) || fits(expected, ohms, rules)) return [];
  const [least, most] = rules.drift;
  const likely = ["k", "M"].filter((letter) => {
    const times = (ohms * rules.factors[letter]) / expected[0];
    return least <= times && times <= most;
  });
  return likely.length ? [`${bare} ohm`, ...likely.map((letter) => bare + letter)] : [];
}

/** The figure to judge by; null where there is none, or it is not clear which. @param {string} text @param {Expected} expected @param {ReadingRules} rules */
export function ohmsOf(text, expected, rules) {
  return text.trim() === "" || unitsAsked(text, expected, rules).length ? null : parseOhms(text, rules);
}
