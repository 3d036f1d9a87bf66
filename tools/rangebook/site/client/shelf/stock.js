// A stock list as it is pasted or kept in a file -> how many of each number lie there. Pure functions.

import { readList } from "../several/list.js";

/** @import { Lying } from "../types/data.js" */
/** @import { Numbered } from "../shared/search.js" */

/**
 * What a list says: of each number how many, whether the book has it or not. Where it has a heading with `number`, the columns go by their headings, and a place can
 * be one of them; else figures beside a number count it.
 * @param {string} text
 * @param {Numbered[]} numbers
 * @returns {Lying[]}
 */
export function stockOf(text, numbers) {
  const plain = text.replace(/^\ufeff/, "").replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, (sign) => ("\n\r\t".includes(sign) ? sign : ""));
  const table = tableOf(plain);
  if (table) return table;
  return readList(plain, numbers).wanted.map((one) => [one.kind === "missing" ? one.typed : one.number, one.count, ""]);
}

/** The rows of a table with a heading that names its columns; `null` where it has none. @param {string} text @returns {Lying[] | null} */
function tableOf(text) {
  const lines = text.split(/\r\n|\n|\r/).filter((line) => line.trim());
  const between = [";", "\t", ",", "|"].find((sign) => cellsOf(lines[0] ?? "", sign).some((cell) => cell.toLowerCase() === "number"));
  if (!between) return null;
  const heading = cellsOf(lines[0], between).map((cell) => cell.toLowerCase());
  const [number, count, place] = ["number", "count", "place"].map((name) => heading.indexOf(name));
  return lines.slice(1).flatMap((line) => {
    const cells = cellsOf(line, between);
    if (!cells[number]) return [];
    const said = count < 0 || !cells[count] ? 1 : Number(cells[count]);
    return /** @type {Lying[]} */ ([[cells[number], Number.isInteger(said) && said >= 0 && said <= 9999 ? said : 0, cells[place] ?? ""]]);
  });
}

/** The cells of a line of CSV (RFC 4180, but for line ends inside a cell). @param {string} line @param {string} between */
function cellsOf(line, between) {
  /** @type {string[]} */
  const cells = [];
  let cell = "";
  let quoted = false;
  for (let at = 0; at < line.length; at++) {
    const sign = line[at];
    if (sign === '"' && quoted && line[at + 1] === '"') {
      cell += '"';
      at += 1;
    } else if (sign === '"') quoted = !quoted;
    else if (sign === between && !quoted) {
      cells.push(cell);
      cell = "";
    } else cell += sign;
  }
  // What a spreadsheet was kept from reckoning out is what it was.
  return [...cells, cell].map((one) => one.trim().replace(/^'(?=[=+\-@])/, ""));
}
