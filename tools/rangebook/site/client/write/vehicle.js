// What is asked of vehicles of a family that is in the book: each with the plug that it has, which may be a new one.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { group, held, listOf, pick, recordOf, row, same, several, text } from "./fields.js";
import { withAdded } from "./lines.js";
import { plainKeys } from "./plain.js";
import { plugOf } from "./plug.js";
import { entryText, stated } from "./yaml.js";
import "../words/write.js";

/** @import { EntryLines } from "../types/data.js" */
/** @import { Front, Held } from "./fields.js" */
/** @import { Form, Known, Maybe } from "./form.js" */

/** @param {Known} book @param {() => void} changed @returns {Form} */
export function vehicleOf(book, changed) {
  const family = pick(say("write.part.family"), book.families.map((one) => [one.id, one.title]), { none: say("write.choose") });
  const place = h("div", {});
  /** @type {ReturnType<typeof asked> | null} */
  let made = null;
  let loaded = Promise.resolve();
  const chosen = () => book.families.find((one) => one.id === family.value());
  async function load() {
    const one = chosen();
    made = null;
    place.replaceChildren();
    if (!one) return;
    try {
      const entry = await book.lines(one.id);
      if (chosen() !== one) return;
      made = asked(book, entry, changed);
      place.replaceChildren(...made.elements);
    } catch {
      place.replaceChildren(h("p", { class: "box" }, say("write.entry.failed")));
    }
    changed();
  }
  family.input.addEventListener("change", () => {
    loaded = load();
  });
  /** @type {Held} */
  const inside = {
    state: () => made?.state(),
    restore: async (state) => {
      await loaded;
      await made?.restore(state);
    },
  };
  return {
    elements: [group(say("write.part.which"), row(family), h("p", { class: "soft" }, say("write.vehicle.which.help"))), place],
    value: () => {
      const one = chosen();
      return stated(["kind", "switch"], ["id", one?.id], ["title", one?.title], ["positions", one?.positions], ["parts", made?.parts() ?? []], ["plugs", made?.plugs()], ["applications", made?.vehicles()]);
    },
    whole: () => made?.whole(),
    isNew: () => Boolean(made?.isNew),
    numbers: () => [],
    left: () => made?.left() ?? [],
    wrong: () => (made ? made.wrong() : [say("write.part.choose")]),
    ...held({ family, inside }),
    file: (front) => `switches/${front.get("id") ?? ""}`,
  };
}

/** @param {Known} book @param {EntryLines} entry @param {() => void} changed */
function asked(book, entry, changed) {
  const plugs = several({ item: (at) => say("write.vehicle.plug.item", { at }), add: say("write.vehicle.plug.add"), take: say("write.vehicle.plug.take") }, () => newPlug(book, tell), () => tell());
  /** @returns {[string, string][]} */
  const offered = () => same([...entry.plugs, ...plugs.pieces().flatMap((one) => one.name.value() ?? [])]);
  const vehicles = several({ item: (at) => say("write.vehicle.item", { at }), add: say("write.vehicle.add"), take: say("write.vehicle.take") }, () => vehicle(book, entry, offered, changed), changed);
  function tell() {
    for (const one of vehicles.pieces()) one.plug.offer(offered());
    changed();
  }
  const named = () => new Map(plugs.pieces().flatMap((one) => pairOf(one.name.value(), one.plug.value())));
  const all = () => vehicles.value().filter((one) => one instanceof Map && one.size > 0);
  return {
    elements: [group(say("write.vehicle.plugs"), h("p", { class: "soft" }, say("write.vehicle.plugs.help", { plugs: entry.plugs.join(", ") })), plugs.element), group(say("write.vehicle.group"), vehicles.element)],
    parts: () => entry.parts.map((one) => new Map([["number", one.number]])),
    plugs: named,
    vehicles: all,
    isNew: entry.new,
    whole: () => {
      const text = withAdded(entry, [["plugs", named()], ["applications", all()]]);
      // Where the file is written otherwise, what goes into it is shown by itself.
      return text ?? entryText(stated(["plugs", named()], ["applications", all()]) ?? new Map());
    },
    left: () => vehicles.pieces().flatMap((one) => one.left()),
    /** @returns {Maybe[]} */
    wrong: () => [
      !all().length && !named().size && say("write.vehicle.none"),
      ...plugs.pieces().flatMap((one) => [!one.name.value() && say("write.vehicle.plug.unnamed"), entry.plugs.includes(one.name.value() ?? "") && say("write.vehicle.plug.taken", { name: one.name.value() ?? "" }), !one.plug.value() && say("write.left.plug"), one.plug.wrong()]),
    ],
    ...held({ plugs, vehicles: { state: vehicles.state, restore: async (state) => {
      await vehicles.restore(listOf(state).map(recordOf));
      tell();
    } } }),
  };
}

/** @param {string | undefined} name @param {Front | undefined} value @returns {[string, Front][]} */
const pairOf = (name, value) => (name && value ? [[name, value]] : []);

/** @param {Known} book @param {() => void} changed */
function newPlug(book, changed) {
  const name = text(say("write.vehicle.plug.name"), { help: say("write.vehicle.plug.name.help") });
  const plug = plugOf(book, changed);
  return { element: h("div", {}, row(name, plug.housing), plug.element), name, plug, value: () => plug.value(), ...held({ name, housing: plug.housing, wires: plug.wires, side: plug.side }) };
}

/** @param {Known} book @param {EntryLines} entry @param {() => [string, string][]} plugs @param {() => void} changed */
function vehicle(book, entry, plugs, changed) {
  const name = text(say("write.family.vehicle"), { help: say("write.family.vehicle.help") });
  const years = text(say("write.family.years"), { help: say("write.family.years.help") });
  const gearbox = pick(say("write.vehicle.gearbox"), same(entry.gearboxes));
  const plug = pick(say("write.vehicle.plug"), plugs());
  const came = pick(say("write.vehicle.came_with"), same(entry.parts.map((one) => one.number)), { help: say("write.vehicle.came_with.help") });
  const about = plainKeys(book.schemas, "switch", ["applications", "0"], ["vehicle", "years", "gearbox", "plug", "came_with"], say("write.family.vehicle.more"), changed);
  return {
    element: h("div", {}, row(name, years, gearbox, plug, came), about.element),
    plug,
    /** @returns {Front} */
    value: () => about.whole(["vehicle", name.value()], ["years", years.value()], ["gearbox", gearbox.value()], ["plug", plug.value()], ["came_with", came.value()]) ?? new Map(),
    left: () => [!plug.value() && say("write.left.which_plug"), !came.value() && say("write.left.came_with")],
    ...held({ name, years, gearbox, plug, came, about }),
  };
}
