// Building pieces of a page. Text is only ever set as text, so nothing that stands in an entry can become markup.

import { s } from "./drawing.js";

/** @import { VerdictWord } from "../types/data.js" */
/** @typedef {Node | string | false | null | undefined} Leaf */
/** @typedef {Leaf | readonly Child[]} Child */
/** @typedef {string | number | boolean | null | undefined} Plain */
/**
 * Attributes by their names; those that begin with `on` are listened to.
 * @typedef {{ onclick?: (event: MouseEvent) => unknown, onsubmit?: (event: SubmitEvent) => unknown, onchange?: (event: Event) => unknown, [name: string]: Plain | ((event: never) => unknown) }} Attributes
 */

/**
 * The element that a page has to have.
 * @template {Element} T
 * @param {ParentNode} within
 * @param {string} selector
 * @param {new () => T} kind
 * @returns {T}
 */
export function need(within, selector, kind) {
  const found = within.querySelector(selector);
  if (found instanceof kind) return found;
  throw new Error(`missing: ${selector}`);
}

/** @param {readonly Child[]} children @returns {(Node | string)[]} */
export function flat(children) {
  /** @type {(Node | string)[]} */
  const found = [];
  for (const child of children) {
    if (child instanceof Node) found.push(child);
    else if (typeof child === "object" && child !== null) found.push(...flat(child));
    else if (child !== null && child !== undefined && child !== false && child !== "") found.push(String(child));
  }
  return found;
}

/**
 * An element with attributes and children; `null`, `false` and `""` among the children are left out.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Attributes} [attributes]
 * @param {Child[]} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    // Which event it is told of, the name says: the browser calls it with no other.
    if (typeof value === "function") element.addEventListener(name.slice(2), /** @type {EventListener} */ (value));
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...flat(children));
  return element;
}

/** @type {Map<Element, () => void>} */
const waiting = new Map();
/** @param {(time?: IdleDeadline) => void} work */
const whenIdle = (work) => ("requestIdleCallback" in globalThis ? requestIdleCallback(work, { timeout: 1000 }) : setTimeout(work, 50));

/**
 * An element whose inside is built when there is time for it: what is asked for is shown first. Until then it carries `data-later`.
 * @template {Element} T
 * @param {T} element
 * @param {() => Child} inside
 * @returns {T}
 */
export function later(element, inside) {
  element.setAttribute("data-later", "");
  waiting.set(element, () => element.append(...flat([inside()])));
  if (waiting.size === 1) whenIdle(fillSome);
  return element;
}

/** @param {Element} element */
function fill(element) {
  const work = waiting.get(element);
  if (!work) return;
  waiting.delete(element);
  element.removeAttribute("data-later");
  work();
}

/** @param {IdleDeadline} [time] */
function fillSome(time) {
  for (const element of [...waiting.keys()]) {
    if (time && !time.didTimeout && time.timeRemaining() < 4) break;
    // What another answer has taken the place of nobody will see.
    if (element.isConnected || element.matches("details")) fill(element);
    else waiting.delete(element);
  }
  if (waiting.size) whenIdle(fillSome);
}

/** All that is still to be built, at once: before it is printed, and before one is taken to a piece of it. */
export function fillAll() {
  while (waiting.size) for (const element of [...waiting.keys()]) fill(element);
}

addEventListener("beforeprint", fillAll);

/**
 * A folded piece whose inside is built when there is time for it, or when it is opened.
 * @param {Attributes} attributes
 * @param {Child} summary
 * @param {() => Child} inside
 */
export function fold(attributes, summary, inside) {
  const element = later(h("details", attributes, h("summary", {}, summary)), inside);
  if (attributes.open) fill(element);
  else element.addEventListener("toggle", () => fill(element));
  return element;
}

const MARKS = new URL("../marks.svg", import.meta.url).href;

/** The mark of a verdict, or that of a caution: its shape. The words stand beside it. @param {VerdictWord | "caution"} verdict */
export const mark = (verdict) => s("svg", { class: "mark", "aria-hidden": "true" }, s("use", { href: `${MARKS}#${verdict}` }));

/** The mark of a verdict and its words. @param {VerdictWord} verdict @param {string} words */
export const badge = (verdict, words) => h("span", { class: `badge badge--${verdict}` }, mark(verdict), words);

/** Whether a link is to be opened elsewhere: then a script keeps out of it. @param {MouseEvent} event */
export const elsewhere = (event) => event.ctrlKey || event.metaKey || event.shiftKey || event.button > 0;
