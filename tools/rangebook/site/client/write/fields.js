// Pieces of the form that writes an entry. Each is `{element, value, state, restore}`: `value()` is undefined where nothing is stated,
// `state()` is what is on the screen, half typed or not, and `restore(state)` puts it there again.

import { h } from "../shared/dom.js";

let count = 0;

const tell = (input, kind) => input.dispatchEvent(new Event(kind, { bubbles: true }));

function labelled(words, input, help, inputs = input) {
  const id = `write-${++count}`;
  inputs.id = id;
  if (help) inputs.setAttribute("aria-describedby", `${id}-help`);
  return h("div", { class: "write__field" }, h("label", { for: id }, words), input, help && h("small", { id: `${id}-help` }, help));
}

/** A line to type in. `number` makes it a number; what is no number stays as it was typed, for the check to tell. */
export function text(words, { help = "", number = false, ...attributes } = {}) {
  const input = h("input", { type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false", inputmode: number ? "decimal" : null, ...attributes });
  const element = labelled(words, input, help);
  const value = () => {
    const typed = input.value.trim();
    if (!typed) return undefined;
    return number && /^-?\d+(\.\d+)?$/.test(typed) ? Number(typed) : typed;
  };
  const restore = (typed) => ((input.value = typed), tell(input, "input"));
  return { element, value, input, state: () => input.value, restore };
}

/** A small count that always is one: with a step down and a step up, for a thumb. */
export function number(words, start, most) {
  const input = h("input", { type: "text", inputmode: "numeric", autocomplete: "off", value: String(start) });
  const step = (by) => () => {
    input.value = String(Math.min(most, Math.max(1, (value() ?? 0) + by)));
    tell(input, "input");
  };
  const value = () => (/^\d+$/.test(input.value.trim()) ? Math.min(most, Number(input.value)) : undefined);
  const button = (by, sign, said) => h("button", { type: "button", class: "button button--quiet", "aria-label": `${words}: ${said}`, onclick: step(by) }, sign);
  const element = labelled(words, h("div", { class: "write__count" }, button(-1, "−", "one fewer"), input, button(1, "+", "one more")), "", input);
  return { element, value, input, state: () => input.value, restore: (typed) => ((input.value = typed), tell(input, "input")) };
}

/** One of several: `choices` are `[value, words]`; the first line says that it is not known. */
export function pick(words, choices, { none = "not known", help = "", start = "" } = {}) {
  const select = h("select", {});
  const offer = (offered) => {
    const was = select.value || start;
    select.replaceChildren(none && h("option", { value: "" }, none), ...offered.map(([value, shown]) => h("option", { value }, shown)));
    select.value = offered.some(([value]) => value === was) ? was : none ? "" : offered[0]?.[0];
  };
  offer(choices);
  const element = labelled(words, select, help);
  const restore = (value) => {
    if ([...select.options].some((one) => one.value === value)) select.value = value;
    tell(select, "change");
  };
  return { element, value: () => select.value || undefined, input: select, offer, state: () => select.value, restore };
}

/**
 * Lever positions to tick. `all()` are the positions as they are now, asked again by `refresh()`. Nothing ticked is not known; that it
 * closes nowhere has a box of its own.
 */
export function positions(words, all, never) {
  const place = h("div", { class: "write__positions" });
  const nowhere = h("input", { type: "checkbox" });
  const ticked = new Set();
  let boxes = [];
  function refresh() {
    boxes = all().map((one) => h("input", { type: "checkbox", value: one, checked: ticked.has(one), onchange: (event) => (event.target.checked ? (ticked.add(one), (nowhere.checked = false)) : ticked.delete(one)) }));
    place.replaceChildren(...[...boxes, nowhere].map((box) => h("label", { class: "write__position" }, box, box === nowhere ? never : box.value)));
  }
  nowhere.addEventListener("change", () => {
    if (!nowhere.checked) return;
    ticked.clear();
    for (const box of boxes) box.checked = false;
  });
  refresh();
  const value = () => (nowhere.checked ? [] : boxes.some((box) => box.checked) ? boxes.filter((box) => box.checked).map((box) => box.value) : undefined);
  const restore = (state) => {
    ticked.clear();
    for (const one of state.ticked) ticked.add(one);
    nowhere.checked = state.nowhere;
    refresh();
  };
  const element = h("div", { role: "group", "aria-label": words }, h("p", { class: "write__words" }, words), place);
  return { element, refresh, value, state: () => ({ ticked: [...ticked], nowhere: nowhere.checked }), restore };
}

/** Pieces under a heading. */
export function group(legend, ...pieces) {
  return h("fieldset", {}, h("legend", {}, legend), pieces);
}

/** Several pieces in a row. */
export const row = (...pieces) => h("div", { class: "write__row" }, pieces.filter(Boolean).map((one) => one.element ?? one));

/** A list that grows: `make()` gives a piece; each item can be taken out again. `words` are `{item, add, take}`. */
export function several(words, make, changed) {
  const items = [];
  const place = h("div", {});
  const add = h("button", { type: "button", class: "button button--quiet", onclick: () => put().element.querySelector("input, select, button")?.focus() }, words.add);
  const counted = () => items.forEach((item, at) => item.name(`${words.item} ${at + 1}`));
  function put() {
    const heading = h("p", { class: "write__words" });
    const item = { ...make(), name: (name) => ((heading.textContent = name), element.setAttribute("aria-label", name)) };
    const take = h("button", { type: "button", class: "button button--quiet" }, words.take);
    const element = h("div", { class: "write__item", role: "group" }, heading, item.element, take);
    take.addEventListener("click", () => {
      items.splice(items.indexOf(item), 1);
      element.remove();
      counted();
      add.focus();
      changed();
    });
    items.push(item);
    place.append(element);
    counted();
    changed();
    return { item, element };
  }
  return {
    element: h("div", {}, place, add),
    items,
    value: () => items.map((item) => item.value()).filter((one) => one !== undefined),
    state: () => items.map((item) => item.state()),
    restore: async (states) => {
      for (const state of states) await put().item.restore(state);
    },
  };
}

/** `{state, restore}` of named pieces together; they are put back in the order in which they are named. */
export function held(pieces) {
  return {
    state: () => Object.fromEntries(Object.entries(pieces).map(([name, piece]) => [name, piece.state()])),
    restore: async (states) => {
      for (const [name, piece] of Object.entries(pieces)) if (states[name] !== undefined) await piece.restore(states[name]);
    },
  };
}

/** A Map of what is stated, in the order given; undefined where nothing is. */
export function stated(...pairs) {
  const kept = pairs.filter(([, value]) => value !== undefined && !(Array.isArray(value) && !value.length) && !(value instanceof Map && !value.size));
  return kept.length ? new Map(kept) : undefined;
}

/** Words as a name for a file: small letters, digits and hyphens. */
export const slug = (words) =>
  words
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");

/** What is typed with commas or spaces between. */
export const split = (typed, by = /[,;]+/) => (typed ?? "").split(by).map((one) => one.trim()).filter(Boolean);

export const same = (words) => words.map((one) => [one, one]);
