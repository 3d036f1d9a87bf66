// The readings of a sheet in the order in which they are taken: one pair of probes, the lever through all positions, then the next pair.

import { listed, say } from "../shared/say.js";
import { expected } from "./match.js";
import "../words/prove.js";

/** @import { Expected, Sheet } from "../types/data.js" */
/** One reading to take, in one position or with the lever moved through several; `mark` shows whether what was typed is right. @typedef {{ ids: string[], line: number, ats: number[], position: string, wanted: Expected, mark?: (text: string) => void }} Row */

/** The insulation is read once for all positions that should be alike. @param {Sheet} sheet @returns {Row[]} */
export function rowsOf(sheet) {
  /** @type {Row[]} */
  const rows = [];
  const insulated = new Set(sheet.insulation.map(([line]) => line));
  for (const line of sheet.lines.keys()) {
    for (const [at, position] of sheet.positions.entries()) {
      const wanted = expected(sheet, line, at);
      if (wanted === null && !sheet.asks.includes(line)) continue;
      const alike = insulated.has(line) ? rows.find((row) => row.line === line && String(row.wanted) === String(wanted)) : undefined;
      if (alike) {
        alike.ids.push(`${line}/${at}`);
        alike.ats.push(at);
        alike.position = listed(alike.ats.map((one) => sheet.positions[one]));
      } else rows.push({ ids: [`${line}/${at}`], line, ats: [at], position, wanted });
    }
  }
  return rows;
}

/** What is to be moved from one reading to the next: the lever alone, one probe, or both. @param {Sheet} sheet @param {Row | undefined} last @param {Row} row @param {(terminal: string) => string} named */
export function moveWords(sheet, last, row, named) {
  const [a, b] = sheet.lines[row.line];
  if (sheet.insulation.some(([line]) => line === row.line)) return last?.line === row.line ? say("guide.lever") : say("guide.tie", { pin: named(a) });
  if (!last) return say("guide.both", { a: named(a), b: named(b) });
  if (last.line === row.line) return say("guide.lever");
  const before = sheet.lines[last.line].slice(0, 2);
  const stays = [a, b].find((end) => before.includes(end));
  if (!stays || sheet.insulation.some(([line]) => line === last.line)) return say("guide.both", { a: named(a), b: named(b) });
  const from = String(before.find((end) => end !== stays));
  return say("guide.one", { from: named(from), to: named(stays === a ? b : a), stays: named(stays) });
}
