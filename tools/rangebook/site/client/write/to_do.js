// What the schema has against an entry, in the words of the form.

import { say } from "../shared/say.js";
import "../words/write.js";

/** @import { Against } from "./check.js" */

/** To be chosen from a list: what the schema expects there says nothing to who chooses. */
const CHOSEN = new Set(["from", "to", "outline", "moves", "connector", "mount"]);
/** Lists of which the form counts the items. @type {Record<string, (at: number) => string>} */
const COUNTED = {
  contacts: (at) => say("write.part.contact", { at }),
  bolts: (at) => say("write.family.bolt", { at }),
  seals: (at) => say("todo.seal", { at }),
};

/** Where the trouble is: from the keys and places that lead to a value, and what the schema calls it. @param {string[]} path @param {string} label */
export function whereOf(path, label) {
  const last = path.at(-1) ?? "";
  const [of, which] = path.slice(-2);
  if (of === "pins" && path.includes("parts") && !path.includes("contacts")) return say("todo.pin", { name: which });
  if (of === "wires" && which) return say("todo.wire", { name: which });
  if (of === "moves" && which) return say("todo.wire.from", { name: which });
  const outer = outerOf(path);
  const list = path.find((one) => COUNTED[one]);
  const inner = path.includes("ohms") && last !== "ohms" ? say("todo.ohms.in", { position: last }) : last === list ? "" : label;
  if (outer && (last === "pins" || !inner)) return outer;
  if (outer) return say("todo.in", { outer, inner: `${inner[0].toLowerCase()}${inner.slice(1)}` });
  return inner || last || say("todo.entry");
}

/** The item or the wire that a value is in, if any. @param {string[]} path */
function outerOf(path) {
  const list = path.findIndex((one) => COUNTED[one]);
  const at = path[list + 1];
  if (list >= 0 && at !== undefined) return COUNTED[path[list]](Number(at) + 1);
  return path.includes("wires") ? say("todo.wire", { name: path[path.indexOf("wires") + 1] }) : "";
}

/** One line of what is still to do. @param {Against} against */
export function toDo({ path, label, missing, expected }) {
  const where = whereOf(path, label);
  if (path.at(-1) === "pins" && path.includes("contacts")) return say("todo.ends", { where });
  if (path.at(-2) === "pins" && !path.includes("contacts")) return say("todo.for", { where });
  if (missing && CHOSEN.has(path.at(-1) ?? "")) return say("todo.chosen", { where });
  if (expected) return say(missing ? "todo.missing.expected" : "todo.wrong.expected", { where, expected });
  return say(missing ? "todo.missing" : "todo.wrong", { where });
}
