// What the schema has against an entry, in the words of the form.

import { say } from "../shared/say.js";
import "../words/write.js";

/** @import { Against } from "./check.js" */

/** The keys of an entry, as the form calls them. @type {Record<string, string>} */
const NAMES = {
  id: say("write.id"),
  title: say("write.title"),
  outline: say("write.connector.outline"),
  rows: say("write.connector.cavities"),
  number: say("todo.number"),
  moves: say("write.kit.moves"),
  from: say("write.kit.from"),
  to: say("write.kit.to"),
  seals: say("write.kit.seals"),
  blanks: say("write.kit.blanks"),
  gearboxes: say("write.family.gearboxes"),
  positions: say("todo.positions"),
  pins: say("write.part.pins"),
  ohms: say("todo.ohms"),
  closed: say("todo.closed"),
  tolerance_percent: say("write.part.tolerance"),
  superseded_by: say("write.part.after"),
  since: say("write.part.since"),
  vehicle: say("write.family.vehicle"),
  years: say("write.family.years"),
  colour: say("todo.colour"),
  circuit: say("todo.circuit"),
  shape: say("write.family.shape"),
  across_mm: say("todo.across"),
  width_mm: say("todo.width"),
  at_mm: say("todo.at"),
  at_deg: say("todo.angle"),
  bolt_mm: say("todo.bolt"),
  hole_mm: say("todo.hole"),
  slot_deg: say("todo.slot"),
  spacer_mm: say("todo.spacer"),
  kind: say("write.source"),
  detail: say("write.source.detail"),
  by: say("write.source.by"),
  on: say("write.source.on"),
};
/** To be chosen from a list: what the schema expects there says nothing to who chooses. */
const CHOSEN = new Set(["from", "to", "outline", "moves", "connector", "mount"]);
/** Lists of which the form counts the items. @type {Record<string, (at: number) => string>} */
const COUNTED = {
  contacts: (at) => say("write.part.contact", { at }),
  bolts: (at) => say("write.family.bolt", { at }),
  seals: (at) => say("todo.seal", { at }),
};

/** Where the trouble is: from the keys and places that lead to a value. @param {string[]} path */
export function whereOf(path) {
  const last = path.at(-1) ?? "";
  const [of, which] = path.slice(-2);
  if (of === "pins" && path.includes("parts") && !path.includes("contacts")) return say("todo.pin", { name: which });
  if (of === "wires" && which) return say("todo.wire", { name: which });
  if (of === "moves" && which) return say("todo.wire.from", { name: which });
  const outer = outerOf(path);
  const list = path.find((one) => COUNTED[one]);
  const inner = path.includes("ohms") && last !== "ohms" ? say("todo.ohms.in", { position: last }) : last === list ? "" : (NAMES[last] ?? "");
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
export function toDo({ path, missing, expected }) {
  const where = whereOf(path);
  if (path.at(-1) === "pins" && path.includes("contacts")) return say("todo.ends", { where });
  if (path.at(-2) === "pins" && !path.includes("contacts")) return say("todo.for", { where });
  if (missing && CHOSEN.has(path.at(-1) ?? "")) return say("todo.chosen", { where });
  if (expected) return say(missing ? "todo.missing.expected" : "todo.wrong.expected", { where, expected });
  return say(missing ? "todo.missing" : "todo.wrong", { where });
}
