// A page about the one part that its address names (`?part=`): it is looked up, shown, or said not to be in the book.

import { familyOf, nearest } from "./book.js";
import { h } from "./dom.js";

/** A terminal as it is called on a meter's leads. */
export const end = (terminal) => (terminal === "case" ? "housing" : terminal);

/** That a number is not in the book, with the nearest that are; `hrefOf` gives the address for each. */
export function notInBook(numbers, asked, hrefOf) {
  const near = nearest(numbers, asked);
  return h(
    "div",
    { class: "box", "data-not-in-book": true },
    h("h2", {}, `“${asked}” is not in the book`),
    near.length > 0 && h("p", {}, "The nearest numbers in it: ", near.map((one, at) => [at > 0 && ", ", h("a", { class: "number", href: hrefOf(one.number) }, one.number)])),
  );
}

/** That something could not be loaded, with a button to do it `again`. */
export const notLoaded = (what, again) => h("p", { class: "box" }, `${what} could not be loaded. Is there a connection? `, h("button", { class: "button", type: "button", onclick: again }, "Try again"));

/**
 * Look the part of the address up and show it: `load(family)` gives its data, `draw(data, key)` puts it into the page. Without one the
 * `form` asks for it; `what` names what is shown, `place` is where it is said that it is not there.
 */
export async function showPart({ book, form, place, what, load, draw }) {
  const asked = (new URLSearchParams(location.search).get("part") ?? "").trim();
  if (!asked) {
    form.hidden = false;
    return;
  }
  try {
    const numbers = await book.numbers();
    const found = familyOf(numbers, asked);
    if (found) {
      draw(await load(found.family), found.key);
      return;
    }
    form.hidden = false;
    form.elements.part.value = asked;
    place.replaceChildren(notInBook(numbers, asked, (number) => `?part=${encodeURIComponent(number)}`));
  } catch {
    place.replaceChildren(notLoaded(what, () => showPart({ book, form, place, what, load, draw })));
  }
}
