// What was typed, kept on this device until it is taken out: a page that is left by accident loses nothing.

import { recordOf } from "./fields.js";

/** The kind of entry shown last, and for each kind what stood in its form. @typedef {{ kind?: unknown, states: Record<string, unknown> }} Memory */

// Two books on one host are two forms.
const KEY = `rangebook.write ${new URL("../../", import.meta.url).pathname}`;

/** @returns {Memory} */
export function kept() {
  try {
    const found = recordOf(JSON.parse(localStorage.getItem(KEY) ?? "{}"));
    return { kind: found.kind, states: recordOf(found.states) };
  } catch {
    return { states: {} };
  }
}

/** False where this browser keeps nothing. @param {Memory} all */
export function keep(all) {
  try {
    localStorage.setItem(KEY, JSON.stringify(all));
    return true;
  } catch {
    return false;
  }
}
