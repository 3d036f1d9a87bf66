// What several kinds of entry are asked alike: the file's name, the source, and a housing to tap.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { tapFace } from "../shared/tap_face.js";
import { group, held, pick, recordOf, row, several, slug, text, textOf, textsOf } from "./fields.js";
import { stated } from "./yaml.js";
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

export function sources() {
  const kind = pick(say("write.source"), SOURCES, { none: say("write.not_stated") });
  const detail = text(say("write.source.detail"), { help: say("write.source.detail.help") });
  const by = text(say("write.source.by"), { help: say("write.source.by.help") });
  const on = text(say("write.source.on"), { type: "date", max: new Date().toISOString().slice(0, 10) });
  /** @returns {Front[] | undefined} */
  const value = () => {
    const one = stated(["kind", kind.value()], ["detail", detail.value()], ["by", by.value()], ["on", on.value()]);
    return one && [one];
  };
  return { element: group(say("write.source.group"), row(kind, detail, by, on)), value, ...held({ kind, detail, by, on }) };
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
    /** From what is in each cavity: all the others are empty. @param {string} name @param {Front} stated */
    ofHousing: (name, stated) => {
      const labels = book.connectors.find((one) => one.id === name)?.cavities ?? [];
      return { yes: [...stated.keys()], no: labels.filter((one) => !stated.has(one)), asked: Object.fromEntries([...stated].map(([one, value]) => [one, make(one).from?.(value)])) };
    },
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

/**
 * One housing, or several that each have a name: what is in the cavities of each. `what` makes the piece for one cavity, `beside` what is
 * said of each of several beside which housing it is. Labels have the housing's name before them where there are several.
 * @template {Value} T
 * @param {Known} book
 * @param {string} words
 * @param {Parameters<typeof face>[1]} tapped
 * @param {(cavity: string) => Stating<T>} what
 * @param {() => void} changed
 * @param {() => { element: HTMLElement, whole: (...pairs: [string, Value | undefined][]) => Front | undefined, state: () => unknown, restore: (state: unknown) => unknown, from?: (value: Value) => unknown } | null} [beside]
 */
export function housings(book, words, tapped, what, changed, beside = () => null) {
  const choices = book.connectors.map((one) => /** @type {[string, string]} */ ([one.id, one.title]));
  const main = pick(words, choices);
  const called = text(say("write.housings.first"), { help: say("write.housings.name.help") });
  const first = face(book, tapped, what, changed);
  main.input.addEventListener("change", () => first.show(main.value()));
  const other = () => {
    const name = text(say("write.housings.name"), { help: say("write.housings.name.help") });
    const housing = pick(words, choices);
    const cavities = face(book, tapped, what, changed);
    housing.input.addEventListener("change", () => cavities.show(housing.value()));
    const more = beside();
    return {
      element: h("div", {}, row(name, housing), more?.element ?? "", cavities.element),
      value: () => name.value() ?? "",
      cavities,
      more,
      /** @returns {Value | undefined} */
      stated: () => {
        const said = more?.whole();
        return said ? more?.whole(["connector", housing.value()]) : housing.value();
      },
      ...held({ name, housing, cavities, ...(more ? { more } : {}) }),
    };
  };
  const tell = () => {
    called.element.hidden = !others.pieces().length;
    changed();
  };
  const others = several({ item: (at) => say("write.housings.item", { at: at + 1 }), add: say("write.housings.add"), take: say("write.item.take") }, other, () => tell());
  called.element.hidden = true;
  /** Each housing's name, which is empty where there is only one, and its cavities. */
  const all = () => {
    const more = others.pieces();
    return [{ name: more.length ? (called.value() ?? "main") : "", cavities: first }, ...more.map((one) => ({ name: one.value(), cavities: one.cavities }))];
  };
  /** @param {string} name @param {string} cavity */
  const label = (name, cavity) => (name ? `${name}.${cavity}` : cavity);
  return {
    main,
    element: h("div", {}, called.element, first.element, others.element),
    connector: () => (others.pieces().length ? undefined : main.value()),
    connectors: () => (others.pieces().length ? stated([called.value() ?? "main", main.value()], ...others.pieces().map((one) => pairOf(one.value(), one.stated()))) : undefined),
    cavities: () => all().flatMap(({ name, cavities }) => cavities.cavities().map((one) => label(name, one))),
    open: () => all().flatMap(({ name, cavities }) => cavities.open().map((one) => label(name, one))),
    /** @returns {[label: string, value: T | undefined][]} */
    value: () => all().flatMap(({ name, cavities }) => cavities.value().map(([one, value]) => /** @type {[string, T | undefined]} */ ([label(name, one), value]))),
    ...held({ called, first, others }),
    /** The states of the first housing and of the rest, from what is said of them. @param {Value | undefined} one @param {Value | undefined} several @param {Front} stated */
    fromStated: (one, several, stated) => {
      const named = several instanceof Map ? [...several] : [];
      const [lead, ...rest] = named;
      const main = lead ? lead[1] : one;
      /** @param {string} name @returns {Front} */
      const under = (name) => new Map([...stated].filter(([label]) => label.startsWith(`${name}.`)).map(([label, value]) => [label.slice(name.length + 1), value]));
      const others = rest.map(([name, said]) => {
        const id = said instanceof Map ? textOf(said.get("connector")) : textOf(said);
        return { name, housing: id, cavities: first.ofHousing(id, under(name)), more: said instanceof Map ? beside()?.from?.(said) : undefined };
      });
      const id = textOf(main);
      return { housing: id, housings: { called: lead?.[0] ?? "", first: first.ofHousing(id, lead ? under(lead[0]) : stated), others } };
    },
  };
}

/** @param {string} name @param {Value | undefined} value @returns {[string, Value | undefined]} */
const pairOf = (name, value) => [name || "?", value];
