// What several kinds of entry are asked alike: the file's name, the source, and a housing to tap.

import { h } from "../shared/dom.js";
import { tapFace } from "../shared/tap_face.js";
import { group, held, pick, row, slug, stated, text } from "./fields.js";

const SOURCES = [
  ["seen", "I had it in my hand and measured it"],
  ["wiring-diagram", "the maker's wiring diagram"],
  ["service-manual", "the maker's service manual"],
  ["bulletin", "a bulletin of the maker"],
  ["catalogue", "a parts catalogue"],
  ["hearsay", "somebody said so"],
];

/** The name of the file, which follows the title until somebody types another. */
export function named(title, changed) {
  const id = text("Name of the file", { help: "Small letters, digits and hyphens. It follows from the name above." });
  const proposed = () => slug(title.input.value);
  let own = false;
  id.input.addEventListener("input", () => (own = id.input.value !== "" && id.input.value !== proposed()));
  title.input.addEventListener("input", () => {
    if (!own) id.input.value = proposed();
    changed();
  });
  return id;
}

export function sources() {
  const kind = pick("How do you know?", SOURCES, { none: "not stated" });
  const detail = text("Which sheet, or how it was measured", { help: "As in: new in box, metered in every position." });
  const by = text("Who looked", { help: "A name or a workshop." });
  const on = text("The day", { type: "date", max: new Date().toISOString().slice(0, 10) });
  const value = () => {
    const one = stated(["kind", kind.value()], ["detail", detail.value()], ["by", by.value()], ["on", on.value()]);
    return one && [one];
  };
  return { element: group("Where it is known from", row(kind, detail, by, on)), value, ...held({ kind, detail, by, on }) };
}

/**
 * A housing to tap, and for each tapped cavity what it is for: `make(cavity)` gives the piece that asks. `words` are `{label, yes, no,
 * help, others}`. `open()` are the cavities of which nothing was said yet, none where nothing at all was.
 */
export function face(book, words, make, changed) {
  const place = h("div", {});
  const list = h("div", { class: "write__row" });
  const asked = new Map();
  let tapped = null;
  let shown = Promise.resolve();
  let turn = 0;
  const said = () => tapped?.value() ?? { yes: [], no: [] };
  const open = () => (said().yes.length || said().no.length ? tapped.labels.filter((one) => !said().yes.includes(one) && !said().no.includes(one)) : []);
  const others = h("button", { type: "button", class: "button button--quiet", onclick: () => (tapped.set({ yes: said().yes, no: tapped.labels.filter((one) => !said().yes.includes(one)) }), ask()) }, words.others);
  function ask() {
    const { yes } = said();
    for (const one of [...asked.keys()]) if (!yes.includes(one)) asked.delete(one);
    for (const one of yes) if (!asked.has(one)) asked.set(one, make(one));
    list.replaceChildren(...yes.map((one) => asked.get(one).element));
    changed();
  }
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
        if (mine === turn) place.replaceChildren(h("p", { class: "box" }, "The drawing of this housing could not be loaded. Go to where there is a signal and choose the housing again."));
        return changed();
      }
      if (mine !== turn) return undefined;
      tapped = tapFace(drawing, { ...words, mixed: "not said yet" }, {}, ask);
      place.replaceChildren(h("p", { class: "soft" }, words.help), h("div", { class: "rb-scroll write__face" }, tapped.element), others);
    } else place.replaceChildren(h("p", { class: "soft" }, words.first));
    return changed();
  }
  const show = (name) => (shown = draw(name));
  show("");
  const cavities = () => said().yes;
  return {
    element: h("div", {}, place, list),
    show,
    cavities,
    open,
    value: () => cavities().map((one) => [one, asked.get(one)?.value()]),
    state: () => ({ ...said(), asked: Object.fromEntries([...asked].map(([name, one]) => [name, one.state()])) }),
    restore: async (state) => {
      await shown;
      if (!tapped) return;
      tapped.set(state);
      ask();
      for (const [name, one] of Object.entries(state.asked ?? {})) await asked.get(name)?.restore(one);
    },
  };
}
