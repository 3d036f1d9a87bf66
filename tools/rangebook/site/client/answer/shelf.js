// What of the shelf does for one vehicle's plug, before anything is ordered.

import { badge, h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { mayBeFitted } from "./next_steps.js";
import { badgeOf, onShelf } from "./pieces.js";
import "../words/answer.js";

/** @import { SeatAnswer, Words } from "../types/data.js" */
/** @import { Shelf } from "../shared/shelf.js" */
/** @typedef {{ words: Words, to: (url: string) => string, shelf?: Shelf }} Way */

/** Null where there is no shelf. What must not be fitted is listed last, and said so. @param {SeatAnswer} seat @param {Way} view */
export function shelfAnswer(seat, view) {
  const { shelf } = view;
  if (!shelf?.known.size) return null;
  const lying = seat.candidates.filter((one) => onShelf(one.number, shelf));
  const fit = lying.filter(mayBeFitted);
  const open = lying.filter((one) => !mayBeFitted(one) && one.verdict === "unknown" && one.group !== "withdrawn");
  const not = lying.filter((one) => !fit.includes(one) && !open.includes(one));
  return h(
    "section",
    { class: "shelf", "data-shelf": fit.length },
    h("h3", {}, say("answer.shelf")),
    !fit.length && h("p", {}, badge("no", say("answer.shelf.nothing"))),
    h(
      "ul",
      { class: "rows rows--one" },
      [...fit, ...open, ...not].map((one) =>
        h("li", { "data-on-shelf": one.number, "data-verdict": one.verdict }, h("a", { class: "number", href: view.to(one.url) }, one.number), " ", onShelf(one.number, shelf), " ", badgeOf(one, view.words), one.status_words && h("span", { class: "soft" }, " ", one.status_words)),
      ),
    ),
  );
}
