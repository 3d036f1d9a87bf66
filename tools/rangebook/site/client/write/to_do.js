// What the schema has against an entry, in the words of the form.

const NAMES = {
  id: "Name of the file",
  title: "What people call it",
  outline: "Its outline",
  rows: "Its cavities",
  number: "Number",
  moves: "Where each wire goes",
  from: "Plug that is cut off",
  to: "Plug that is supplied",
  seals: "Rear seals in the bag",
  blanks: "Blanking plugs in the bag",
  gearboxes: "Gearboxes",
  positions: "Lever positions",
  pins: "Its pins",
  ohms: "Ohms",
  closed: "Closed in",
  tolerance_percent: "Within so many percent",
  superseded_by: "The number that takes its place",
  since: "Since",
  vehicle: "Vehicle",
  years: "Model years",
  colour: "Colour",
  circuit: "What it is for",
  shape: "Hole for the shaft",
  across_mm: "Across the flats or the hole",
  width_mm: "Width of a terminal",
  at_mm: "From the middle of the shaft",
  at_deg: "Angle",
  bolt_mm: "Bolt",
  hole_mm: "Hole or slot",
  slot_deg: "Slot",
  spacer_mm: "Spacer below it",
  kind: "How do you know?",
  detail: "Which sheet, or how it was measured",
  by: "Who looked",
  on: "The day",
};
/** To be chosen from a list: what the schema expects there says nothing to who chooses. */
const CHOSEN = new Set(["from", "to", "outline", "moves", "connector", "mount"]);
const COUNTED = { contacts: "Contact", bolts: "Bolt", seals: "Seal" };

/** Where the trouble is: from the keys and places that lead to a value. */
export function whereOf(path) {
  const last = path.at(-1);
  const [of, which] = path.slice(-2);
  if (of === "pins" && path.includes("parts") && !path.includes("contacts")) return `Pin ${which}`;
  if (of === "wires" && which) return `Wire ${which}`;
  if (of === "moves" && which) return `Wire from ${which}`;
  const counted = path.findIndex((one) => COUNTED[one]);
  const before = counted >= 0 && path[counted + 1] !== undefined ? `${COUNTED[path[counted]]} ${Number(path[counted + 1]) + 1}` : path.includes("wires") ? `Wire ${path[path.indexOf("wires") + 1]}` : "";
  const ohms = path.includes("ohms") && last !== "ohms" ? `ohms in ${last}` : "";
  const own = ohms || (NAMES[last] && last !== path[counted] ? NAMES[last] : "");
  if (before && last === "pins") return before;
  return [before, before && own ? `${own[0].toLowerCase()}${own.slice(1)}` : own].filter(Boolean).join(", ") || last || "The entry";
}

/** One line of what is still to do, from `{path, missing, expected}`. */
export function toDo({ path, missing, expected }) {
  const where = whereOf(path);
  if (path.at(-1) === "pins" && path.includes("contacts")) return `${where}: choose both ends`;
  if (path.at(-2) === "pins" && !path.includes("contacts")) return `${where}: choose what it is for`;
  if (missing && CHOSEN.has(path.at(-1))) return `${where}: not chosen yet`;
  return `${where}: ${missing ? "not said yet" : "not as it has to be"}${expected ? ` (${expected})` : ""}`;
}
