// A page about the one part that its address names (`?part=`): it is looked up, shown, or said not to be in the book.

import { familyOf, nearest } from "./book.js";
import { h, need } from "./dom.js";
import { phrase, say } from "./say.js";

/** @import { Book } from "./book.js" */
/** @import { Child } from "./dom.js" */
/** @import { Numbered } from "./search.js" */

/** A terminal as it is called on a meter's leads. @param {string} terminal */
export const end = (terminal) => (terminal === "case" ? say("part.housing") : terminal === "others" ? say("part.others") : terminal);

/** What comes after the number in a page's own title. @param {string} words */
export const retitle = (words) => {
  document.title = `${words} · ${document.title.split(" · ").at(-1)}`;
};

/**
 * That a number is not in the book, with the nearest that are; `hrefOf` gives the address for each.
 * @param {Numbered[]} numbers
 * @param {string} asked
 * @param {(number: string) => string} hrefOf
 */
export function notInBook(numbers, asked, hrefOf) {
  const near = nearest(numbers, asked);
  /** @type {Child[]} */
  const links = near.map((one, at) => [at > 0 && ", ", h("a", { class: "number", href: hrefOf(one.number) }, one.number)]);
  return h(
    "div",
    { class: "box", "data-not-in-book": true },
    h("h2", {}, say("find.missing", { number: asked })),
    near.length > 0 && h("p", {}, phrase("part.nearest", { numbers: links })),
  );
}

/** That something could not be loaded, with a button to do it `again`. @param {string} words @param {() => unknown} again */
export const notLoaded = (words, again) => h("p", { class: "box" }, words, " ", h("button", { class: "button", type: "button", onclick: again }, say("load.again")));

/**
 * Look the part of the address up and show it: `load(family)` gives its data, `draw(data, key, gone)` puts it into the page, `gone` its
 * status where it is not to be had any more. Without one the
 * `form` asks for it; `failed` says that it could not be loaded, `place` is where it is said that it is not there.
 * @template T
 * @param {{ book: Book, form: HTMLElement, place: HTMLElement, failed: string, load: (family: string) => Promise<T>, draw: (data: T, key: string, gone: string) => void }} page
 */
export async function showPart(page) {
  const { book, form, place, failed, load, draw } = page;
  const asked = (new URLSearchParams(location.search).get("part") ?? "").trim();
  if (!asked) {
    form.hidden = false;
    return;
  }
  try {
    const found = familyOf(await book.numbers(asked), asked);
    if (found) {
      draw(await load(found.family), found.key, (await book.words()).gone[found.status] ?? "");
      return;
    }
    form.hidden = false;
    need(form, "[name=part]", HTMLInputElement).value = asked;
    place.replaceChildren(notInBook(await book.numbers(), asked, (number) => `?part=${encodeURIComponent(number)}`));
  } catch {
    place.replaceChildren(notLoaded(failed, () => showPart(page)));
  }
}
