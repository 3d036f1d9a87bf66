// What is known, as the query of an address that can be sent to somebody, and back.

/** @import { Fact, State } from "./narrow.js" */

const CANNOT_TELL = "-";
const OTHER = "other";
const NUMBERS = ["cavities", "wires", "bolts", "across_mm"];
const NAMES = ["outline", "face", "shaft", "gearbox", "vehicle"];
const PATTERNS = ["pins", "wired"];
const STAMPED = "stamped:";

/** The query of a state, without the question mark. @param {State} state */
export function toQuery(state) {
  const query = new URLSearchParams();
  for (const [id, value] of Object.entries(state)) query.set(id, written(value));
  return query.toString();
}

/** @param {Fact} value */
function written(value) {
  if (value === null) return CANNOT_TELL;
  if (Array.isArray(value)) return value.join(".");
  if (typeof value === "object") return [value.face, value.yes.join("."), value.no.join(".")].join(":");
  if (value === true || value === false) return value ? "yes" : "no";
  return String(value);
}

/** The state of a query. What is no answer is left out: an address may have been typed, or be of another book. @param {string} search */
export function fromQuery(search) {
  /** @type {State} */
  const state = {};
  for (const [id, text] of new URLSearchParams(search)) {
    const value = text === CANNOT_TELL ? null : read(id, text);
    const known = NUMBERS.includes(id) || NAMES.includes(id) || PATTERNS.includes(id) || id === "year" || id.startsWith(STAMPED);
    if (known && value !== undefined) state[id] = value;
  }
  return state;
}

/** @param {string} id @param {string} text @returns {Fact | undefined} */
function read(id, text) {
  if (id.startsWith(STAMPED)) return text === "yes" ? true : text === "no" ? false : undefined;
  if (PATTERNS.includes(id)) {
    const [face, yes, no, more] = text.split(":");
    if (!face || no === undefined || more !== undefined) return undefined;
    return { face, yes: yes.split(".").filter(Boolean), no: no.split(".").filter(Boolean) };
  }
  if (text === OTHER) return OTHER;
  if (id === "year") {
    const years = text.split(".").map(Number);
    return !years.every((year) => Number.isInteger(year)) ? undefined : years.length === 1 ? years[0] : years;
  }
  if (NUMBERS.includes(id)) {
    const number = text.trim() === "" ? NaN : Number(text);
    return Number.isFinite(number) && (id === "across_mm" || Number.isInteger(number)) ? number : undefined;
  }
  return text === "" ? undefined : text;
}
