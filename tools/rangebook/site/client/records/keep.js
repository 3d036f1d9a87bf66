// What was tried or measured in the bay, kept on this device until it is taken off. Nothing of it is in the book before somebody puts it there.

/** A contact as a meter read it; ohms by position, in the lever's order, a position left out not known. @typedef {{ pins: [string, string], closed?: string[], overlaps?: string[], one_way?: boolean, ohms?: [position: string, ohms: number | "open"][], tolerance_percent?: number, rated_a?: number }} Metered */
/**
 * Contacts that were metered, and in words how; `differs` are those of which the entry says otherwise, with the positions, `unsettled` how
 * many readings are not as stated and can be of more than one contact.
 * @typedef {{ contacts: Metered[], detail: string, differs?: [pins: [string, string], positions: string[]][], unsettled?: number }} Measured
 */
/**
 * One record: `part` is the number, `family` where its entry is, `outcome` what came of it in the vehicle, `sent` the day on which it left
 * the device. What nobody typed is not there.
 * @typedef {{ id: string, part: string, family: string, outcome?: string, vehicle?: string, on?: string, by?: string, note?: string, measured?: Measured, sent?: string }} Kept
 */

const KEY = `rangebook.records ${new URL("../../", import.meta.url).pathname}`;

/** All that is kept here, the oldest first. @returns {Kept[]} */
export function keptRecords() {
  try {
    const found = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(found) ? found.filter(isKept) : [];
  } catch {
    return [];
  }
}

const TEXTS = ["outcome", "vehicle", "on", "by", "note", "sent"];

/** @param {unknown} one @returns {one is Kept} */
function isKept(one) {
  if (typeof one !== "object" || one === null) return false;
  const said = /** @type {Record<string, unknown>} */ (one);
  const texts = ["id", "part", "family"].every((key) => typeof said[key] === "string") && TEXTS.every((key) => ["undefined", "string"].includes(typeof said[key]));
  return texts && (said.measured === undefined || isMeasured(said.measured));
}

/** @param {unknown} one */
function isMeasured(one) {
  if (typeof one !== "object" || one === null) return false;
  const { contacts, detail, differs = [], unsettled = 0 } = /** @type {Record<string, unknown>} */ (one);
  const pinned = (/** @type {unknown} */ list) => Array.isArray(list) && list.every((each) => Array.isArray(each?.pins));
  const told = Array.isArray(differs) && differs.every((each) => Array.isArray(each) && each.every(Array.isArray)) && typeof unsettled === "number";
  return typeof detail === "string" && pinned(contacts) && told;
}

/** False where this browser keeps nothing. @param {Kept[]} all */
export function keepRecords(all) {
  try {
    if (all.length) localStorage.setItem(KEY, JSON.stringify(all));
    else localStorage.removeItem(KEY);
    return true;
  } catch {
    return false;
  }
}

/** With one record put in, or in the place of the one with its id. @param {Kept[]} all @param {Kept} one */
export const withRecord = (all, one) => (all.some(({ id }) => id === one.id) ? all.map((each) => (each.id === one.id ? one : each)) : [...all, one]);

/** A name for a new record that no other here has. @param {Kept[]} all */
export function newId(all) {
  let at = all.length + 1;
  while (all.some(({ id }) => id === String(at))) at += 1;
  return String(at);
}

/** The day on this device's clock, as year-month-day. */
export function today() {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((one) => String(one).padStart(2, "0")).join("-");
}
