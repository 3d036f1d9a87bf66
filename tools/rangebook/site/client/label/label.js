// One label: a code with what it stands for beside it.

import { h } from "../shared/dom.js";
import { qr } from "../shared/qr.js";
import { say } from "../shared/say.js";
import "../words/label.js";

/** @import { Code } from "../types/data.js" */

/**
 * A label. `says` is what stands largest, `about` what it is; `status` is said where a part is not to be had by this number any more, and
 * `count` where it goes with so many pieces.
 * `layers` says from which layers of a book it is, and what one of them says instead.
 * @param {{ says: string, about: string, layers?: string[], code?: Code, status?: string, withdrawn?: boolean, count?: number }} one
 */
export function label({ says, about, layers, code, status, withdrawn, count }) {
  return h(
    "div",
    { class: "label", "data-number": says },
    code && qr(code, say("code.label", { says: code.says })),
    h(
      "div",
      { class: "label__words" },
      h("p", { class: "number label__number" }, says),
      h("p", {}, about),
      ...(layers ?? []).map((line) => h("p", { class: "label__small" }, say("sentence", { text: line }))),
      status && h("p", { class: `label__status${withdrawn ? " label__status--withdrawn" : ""}` }, status),
      count !== undefined && h("p", { class: "label__status" }, say("label.count", { count })),
      code && h("p", { class: "label__small" }, say(code.address ? "label.scan" : "label.number")),
    ),
  );
}
