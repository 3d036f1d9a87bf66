// What several kinds of entry are asked alike: the file's name, the source, and a housing to tap.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { tapFace } from "../shared/tap_face.js";
import { group, held, pick, recordOf, row, slug, stated, text, textsOf } from "./fields.js";
import "../words/write.js";

/** @import { Field, Front, Stating, Value } from "./fields.js" */
/** @import { Known } from "./form.js" */

/** @type {[string, string][]} */
const SOURCES = [
  ["seen", say("write.source.seen")],
  ["wiring-diagram", say("write.source.wiring")],
  ["service-manual", say("write.source.manual")],
  ["bulletin", say("write.source.bulletin")],
  ["catalogue", say("write.source.catalogue")],
  ["hearsay", say("write.source.hearsay")],
];

/** The name of the file, which follows the title until somebody types another. @param {Field<HTMLInputElement, string>} title @param {() => void} changed */
export function named(title, changed) {
  const id = text(say("write.id"), { help: say("write.id.help") });
  const proposed = () => slug(title.input.value);
  let own = false;
  id.input.addEventListener("input", () => {
    own = id.input.value !== "" && id.input.value !== proposed();
  });
  title.input.addEventListener("input", () => {
    if (!own) id.input.value = proposed();
    changed();
  });
  return id;
}

/** @param {string} [legend] what it is that is known */
export function sources(legend = say("write.source.group")) {
  const kind = pick(say("write.source"), SOURCES, { none: say("write.not_stated") });
  const detail = text(say("write.source.detail"), { help: say("write.source.detail.help") });
  const by = text(say("write.source.by"), { help: say("write.source.by.help") });
  const on = text(say("write.source.on"), { type: "date", max: new Date().toISOString().slice(0, 10) });
  /** @returns {Front[] | undefined} */
  const value = () => {
    const one = stated(["kind", kind.value()], ["detail", detail.value()], ["by", by.value()], ["on", on.value()]);
    return one && [one];
  };
  return { element: group(legend, row(kind, detail, by, on)), value, ...held({ kind, detail, by, on }) };
}

/**
 * A housing to tap, and for each tapped cavity what it is for: `make(cavity)` gives the piece that asks. `words` are what the housing and
 * its cavities are called, `first` and `help` what to do, `others` the button that leaves the rest empty. `open()` are the cavities of
 * which nothing was said yet, none where nothing at all was.
 * @template {Value} T
 * @param {Known} book
 * @param {{ label: string, yes: string, no: string, first: string, help: string, others: string }} words
 * @param {(cavity: string) => Stating<T>} make
 * @param {() => void} changed
 */
export function face(book, words, make, changed) {
  const place = h("div", {});
  const list = h("div", { class: "write__row" });
  /** @type {Map<string, Stating<T>>} */
  const asked = new Map();
  /** @type {ReturnType<typeof tapFace> | null} */
  let tapped = null;
  let shown = Promise.resolve();
  let turn = 0;
  const said = () => tapped?.value() ?? { yes: [], no: [] };
  const untold = () => (tapped?.labels ?? []).filter((one) => !said().yes.includes(one) && !said().no.includes(one));
  const open = () => (said().yes.length || said().no.length ? untold() : []);
  const rest = () => {
    const { yes, no } = said();
    tapped?.set({ yes, no: [...no, ...untold()] });
    ask();
  };
  const others = h("button", { type: "button", class: "button button--quiet", onclick: rest }, words.others);
  function ask() {
    const { yes } = said();
    for (const one of [...asked.keys()]) if (!yes.includes(one)) asked.delete(one);
    const pieces = yes.map((one) => {
      const piece = asked.get(one) ?? make(one);
      asked.set(one, piece);
      return piece.element;
    });
    list.replaceChildren(...pieces);
    changed();
  }
  /** @param {string | undefined} name */
  async function draw(name) {
    const mine = ++turn;
    tapped = null;
    asked.clear();
    list.replaceChildren();
    place.replaceChildren();
    if (name) {
      let drawing;
      try {
        drawing = await book.face(name);
      } catch {
        if (mine === turn) place.replaceChildren(h("p", { class: "box" }, say("write.face.failed")));
        changed();
        return;
      }
      if (mine !== turn) return;
      tapped = tapFace(drawing, { ...words, mixed: say("write.face.untold") }, {}, ask);
      place.replaceChildren(h("p", { class: "soft" }, words.help), h("div", { class: "rb-scroll write__face", tabindex: "0" }, tapped.element), others);
    } else place.replaceChildren(h("p", { class: "soft" }, words.first));
    changed();
  }
  /** @param {string | undefined} name */
  const show = (name) => {
    shown = draw(name);
  };
  show("");
  const cavities = () => said().yes;
  return {
    element: h("div", {}, place, list),
    show,
    cavities,
    open,
    /** @returns {[cavity: string, value: T | undefined][]} */
    value: () => cavities().map((one) => [one, asked.get(one)?.value()]),
    state: () => ({ ...said(), asked: Object.fromEntries([...asked].map(([name, one]) => [name, one.state()])) }),
    /** @param {unknown} state */
    restore: async (state) => {
      await shown;
      if (!tapped) return;
      const was = recordOf(state);
      tapped.set({ yes: textsOf(was.yes), no: textsOf(was.no) });
      ask();
      for (const [name, one] of Object.entries(recordOf(was.asked))) await asked.get(name)?.restore(one);
    },
  };
}
