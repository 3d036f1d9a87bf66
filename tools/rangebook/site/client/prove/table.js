// A proof sheet as a table with room to write: for paper.

import { h } from "../shared/dom.js";
import { end } from "../shared/one_part.js";
import { say } from "../shared/say.js";
import "../words/prove.js";

/** @import { Sheet } from "../types/data.js" */

/**
 * One line for each probe pair, one column for each position. `read(line, at)` is what was read already, if anything.
 * @param {Sheet} sheet
 * @param {(line: number, at: number) => string} [read]
 */
export function proofTable(sheet, read = () => "") {
  return h(
    "table",
    { class: "proof" },
    h("thead", {}, h("tr", {}, h("th", { scope: "col" }, say("prove.probe")), sheet.positions.map((position) => h("th", { scope: "col" }, position)))),
    h(
      "tbody",
      {},
      sheet.lines.map(([a, b, names, says], line) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, say("pair", { a: end(a), b: end(b) }), h("span", { class: "soft" }, names)),
          says.map((word, at) => {
            const text = read(line, at);
            return h("td", {}, h("span", {}, word), h("span", { class: `blank__box${text ? " blank__box--read" : ""}` }, text));
          }),
        ),
      ),
    ),
  );
}
