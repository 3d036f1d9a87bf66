// Pieces of the form that writes an entry. `value()` is undefined where nothing is stated, `state()` is what is on the screen, half typed
// or not, and `restore(state)` puts it there again: what it is given may have been kept by an older form, so nothing is taken for granted.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { Figure, figureOf } from "./figure.js";
import "../words/write.js";

/** @import { Attributes, Child } from "../shared/dom.js" */
/** What an entry can hold; mappings are Maps, so that keys like `2` stay where they were put. @typedef {string | number | boolean | Figure | Value[] | Map<string, Value>} Value */
/** @typedef {Map<string, Value>} Front */
/** What can be put away and taken out again; `from` is the state that says a value that was typed elsewhere. @typedef {{ state: () => unknown, restore: (state: unknown) => unknown, from?: (value: Value) => unknown }} Held */
/** @typedef {Held & { element: HTMLElement }} Piece */
/** A piece that states something. @template {Value} T @typedef {Piece & { value: () => T | undefined }} Stating */
/** @template {HTMLElement} E @template {Value} T @typedef {Stating<T> & { input: E }} Field */

let count = 0;

/** @param {unknown} state @returns {Record<string, unknown>} */
export const recordOf = (state) => (typeof state === "object" && state !== null && !Array.isArray(state) ? { ...state } : {});
/** @param {unknown} state @returns {unknown[]} */
export const listOf = (state) => (Array.isArray(state) ? state : []);
/** @param {unknown} state */
export const textOf = (state) => (typeof state === "string" ? state : "");
/** @param {unknown} state */
export const textsOf = (state) => listOf(state).map(textOf);

/** @param {HTMLElement} input @param {string} kind */
const tell = (input, kind) => input.dispatchEvent(new Event(kind, { bubbles: true }));

/** @param {string} words @param {HTMLElement} element @param {string} help @param {HTMLElement} [input] */
function labelled(words, element, help, input = element) {
  const id = `write-${++count}`;
  input.id = id;
  if (help) input.setAttribute("aria-describedby", `${id}-help`);
  return h("div", { class: "write__field" }, h("label", { for: id }, words), element, help && h("small", { id: `${id}-help` }, help));
}

/** @param {HTMLInputElement} input @param {unknown} typed */
function type(input, typed) {
  input.value = textOf(typed);
  tell(input, "input");
}

/** @param {string} words @param {{ help?: string } & Attributes} attributes @param {boolean} decimal */
function line(words, { help = "", ...attributes }, decimal) {
  const input = h("input", { type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false", inputmode: decimal ? "decimal" : null, ...attributes });
  return { element: labelled(words, input, help), input, state: () => input.value, restore: (/** @type {unknown} */ typed) => type(input, typed), from: textOf };
}

/** A line to type in. @param {string} words @param {{ help?: string } & Attributes} [attributes] @returns {Field<HTMLInputElement, string>} */
export function text(words, attributes = {}) {
  const made = line(words, attributes, false);
  return { ...made, value: () => made.input.value.trim() || undefined };
}

/** A line for a number; what is no number stays as it was typed, for the check to tell. @param {string} words @param {{ help?: string } & Attributes} [attributes] @returns {Field<HTMLInputElement, string | Figure>} */
export function figure(words, attributes = {}) {
  const made = line(words, attributes, true);
  const value = () => {
    const typed = made.input.value.trim();
    return typed ? figureOf(typed) : undefined;
  };
  return { ...made, value };
}

/** A small count that always is one: with a step down and a step up, for a thumb. @param {string} words @param {number} start @param {number} most @returns {Field<HTMLInputElement, number>} */
export function number(words, start, most) {
  const input = h("input", { type: "text", inputmode: "numeric", autocomplete: "off", value: String(start) });
  const value = () => (/^\d+$/.test(input.value.trim()) ? Math.min(most, Number(input.value)) : undefined);
  /** @param {number} by @param {string} sign @param {string} said */
  const button = (by, sign, said) => {
    const step = () => type(input, String(Math.min(most, Math.max(1, (value() ?? 0) + by))));
    return h("button", { type: "button", class: "button button--quiet", "aria-label": said, onclick: step }, sign);
  };
  const counter = h("div", { class: "write__count" }, button(-1, "−", say("write.fewer", { words })), input, button(1, "+", say("write.more", { words })));
  return { element: labelled(words, counter, "", input), value, input, state: () => input.value, restore: (typed) => type(input, typed), from: textOf };
}

/**
 * One of several: `choices` are `[value, words]`; the first line, `none`, says that it is not known.
 * @param {string} words
 * @param {[value: string, shown: string][]} choices
 * @param {{ none?: string, help?: string, start?: string }} [about]
 * @returns {Field<HTMLSelectElement, string> & { offer: (offered: [string, string][]) => void }}
 */
export function pick(words, choices, { none = say("write.not_known"), help = "", start = "" } = {}) {
  const select = h("select", {});
  /** @param {[string, string][]} offered */
  const offer = (offered) => {
    const was = select.value || start;
    select.replaceChildren(...(none ? [h("option", { value: "" }, none)] : []), ...offered.map(([value, shown]) => h("option", { value }, shown)));
    select.value = offered.some(([value]) => value === was) ? was : none ? "" : (offered[0]?.[0] ?? "");
  };
  offer(choices);
  /** @param {unknown} value */
  const restore = (value) => {
    if ([...select.options].some((one) => one.value === value)) select.value = textOf(value);
    tell(select, "change");
  };
  return { element: labelled(words, select, help), value: () => select.value || undefined, input: select, offer, state: () => select.value, restore, from: textOf };
}

/**
 * Lever positions to tick. `all()` are the positions as they are now, asked again by `refresh()`. Nothing ticked is not known; that it
 * closes nowhere has a box of its own.
 * @param {string} words
 * @param {() => string[]} all
 * @param {string} never
 * @returns {Stating<string[]> & { refresh: () => void }}
 */
export function positions(words, all, never) {
  const place = h("div", { class: "write__positions" });
  const nowhere = h("input", { type: "checkbox" });
  /** @type {Set<string>} */
  const ticked = new Set();
  /** @type {HTMLInputElement[]} */
  let boxes = [];
  /** @param {string} position */
  function boxOf(position) {
    const change = () => {
      if (box.checked) {
        ticked.add(position);
        nowhere.checked = false;
      } else ticked.delete(position);
    };
    const box = h("input", { type: "checkbox", value: position, checked: ticked.has(position), onchange: change });
    return box;
  }
  function refresh() {
    boxes = all().map(boxOf);
    place.replaceChildren(...[...boxes, nowhere].map((box) => h("label", { class: "write__position" }, box, box === nowhere ? never : box.value)));
  }
  nowhere.addEventListener("change", () => {
    if (!nowhere.checked) return;
    ticked.clear();
    for (const box of boxes) box.checked = false;
  });
  refresh();
  const value = () => (nowhere.checked ? [] : boxes.some((box) => box.checked) ? boxes.filter((box) => box.checked).map((box) => box.value) : undefined);
  /** @param {unknown} state */
  const restore = (state) => {
    const was = recordOf(state);
    ticked.clear();
    for (const one of textsOf(was.ticked)) ticked.add(one);
    nowhere.checked = was.nowhere === true;
    refresh();
  };
  const element = h("div", { role: "group", "aria-label": words }, h("p", { class: "write__words" }, words), place);
  /** @param {Value} stated */
  const from = (stated) => ({ ticked: textsOf(stated), nowhere: listOf(stated).length === 0 });
  return { element, refresh, value, state: () => ({ ticked: [...ticked], nowhere: nowhere.checked }), restore, from };
}

/** Pieces under a heading. @param {string} legend @param {Child[]} pieces */
export function group(legend, ...pieces) {
  return h("fieldset", {}, h("legend", {}, legend), pieces);
}

/** Several pieces in a row. @param {({ element: HTMLElement } | null)[]} pieces */
export const row = (...pieces) => h("div", { class: "write__row" }, pieces.map((one) => one?.element));

/**
 * A list that grows: `make()` gives a piece; each item can be taken out again.
 * @template {Value} T
 * @template {Stating<T>} P
 * @param {{ item: (at: number) => string, add: string, take: string }} words
 * @param {() => P} make
 * @param {() => void} changed
 */
export function several(words, make, changed) {
  /** @type {{ piece: P, name: (name: string) => void }[]} */
  const items = [];
  const place = h("div", {});
  const focus = () => {
    const first = put().element.querySelector("input, select, button");
    if (first instanceof HTMLElement) first.focus();
  };
  const add = h("button", { type: "button", class: "button button--quiet", onclick: focus }, words.add);
  const name = () => {
    for (const [at, item] of items.entries()) item.name(words.item(at + 1));
  };
  function put() {
    const heading = h("p", { class: "write__words" });
    const piece = make();
    const take = h("button", { type: "button", class: "button button--quiet" }, words.take);
    const element = h("div", { class: "write__item", role: "group" }, heading, piece.element, take);
    /** @param {string} called */
    const rename = (called) => {
      heading.textContent = called;
      element.setAttribute("aria-label", called);
    };
    const item = { piece, name: rename };
    take.addEventListener("click", () => {
      items.splice(items.indexOf(item), 1);
      element.remove();
      name();
      add.focus();
      changed();
    });
    items.push(item);
    place.append(element);
    name();
    changed();
    return { piece, element };
  }
  return {
    element: h("div", {}, place, add),
    pieces: () => items.map((item) => item.piece),
    value: () => items.map((item) => item.piece.value()).filter((one) => one !== undefined),
    state: () => items.map((item) => item.piece.state()),
    /** @param {unknown} states */
    restore: async (states) => {
      for (const state of listOf(states)) await put().piece.restore(state);
    },
    /** @param {Value} stated */
    from: (stated) => (Array.isArray(stated) ? stated.map((one) => make().from?.(one)) : []),
  };
}

/** Named pieces together; they are put back in the order in which they are named. From a mapping each takes what stands under its name. @param {Record<string, Held>} pieces @returns {Held} */
export function held(pieces) {
  return {
    state: () => Object.fromEntries(Object.entries(pieces).map(([name, piece]) => [name, piece.state()])),
    restore: async (state) => {
      const states = recordOf(state);
      for (const [name, piece] of Object.entries(pieces)) if (states[name] !== undefined) await piece.restore(states[name]);
    },
    from: (value) => (value instanceof Map ? Object.fromEntries(Object.entries(pieces).flatMap(([name, piece]) => stateOf(name, piece, value.get(name)))) : {}),
  };
}

/** @param {string} name @param {Held} piece @param {Value | undefined} value @returns {[string, unknown][]} */
const stateOf = (name, piece, value) => (value === undefined || !piece.from ? [] : [[name, piece.from(value)]]);

/** Words as a name for a file: small letters, digits and hyphens. @param {string} words */
export const slug = (words) =>
  words
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");

/** What is typed with commas or spaces between. @param {string | undefined} typed @param {RegExp} [by] */
export const split = (typed, by = /[,;]+/) => (typed ?? "").split(by).map((one) => one.trim()).filter(Boolean);

/** Choices that are called as they are. @param {string[]} words @returns {[string, string][]} */
export const same = (words) => words.map((one) => [one, one]);
