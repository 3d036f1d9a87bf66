// What lies on the shelf, on pages that are written: the list on this device stands in for the book's own.

import { say } from "../shared/say.js";
import { normalise } from "../shared/search.js";
import { keptShelf } from "../shared/shelf.js";

const kept = keptShelf();
if (kept) {
  for (const mark of document.querySelectorAll("[data-stock]")) {
    if (!(mark instanceof HTMLElement)) continue;
    const keys = (mark.dataset.stock ?? "").split(" ");
    const lying = kept.filter(([number]) => keys.includes(normalise(number)));
    const count = lying.reduce((sum, [, pieces]) => sum + pieces, 0);
    const place = lying.flatMap(([, , where]) => where || []).join(", ");
    mark.textContent = count ? say(place ? "shelf.on.at" : "shelf.on", { count, place }) : "";
    mark.hidden = !count;
  }
}
