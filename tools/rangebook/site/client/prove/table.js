// A proof sheet as a table with room to write: for paper.

import { h } from "../shared/dom.js";
import { end } from "../shared/one_part.js";

/** One line for each probe pair, one column for each position. `read(line, at)` is what was read already, if anything. */
export function proofTable(sheet, read = () => "") {
  return h(
    "table",
    { class: "proof" },
    h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Probe"), sheet.positions.map((position) => h("th", { scope: "col" }, position)))),
    h(
      "tbody",
      {},
      sheet.lines.map(([a, b, names, says], line) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, `${end(a)} – ${end(b)}`, h("span", { class: "soft" }, names)),
          says.map((word, at) => {
            const text = read(line, at);
            return h("td", {}, h("span", {}, word), h("span", { class: `blank__box${text ? " blank__box--read" : ""}` }, text));
          }),
        ),
      ),
    ),
  );
}
