// What is asked of a new family of switches: its first part, how it bolts on, and one vehicle's plug.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { named } from "./common.js";
import { figure, group, held, pick, row, same, several, split, text } from "./fields.js";
import { figureOf } from "./figure.js";
import { part } from "./part.js";
import { plainKeys } from "./plain.js";
import { plugOf } from "./plug.js";
import { stated } from "./yaml.js";
import "../words/write.js";

/** @import { Front, Value } from "./fields.js" */
/** @import { Form, Known } from "./form.js" */

const SHAFTS = ["double-flat", "single-flat", "square", "splined", "round", "tongue"];

/** @param {Known} book @param {() => void} changed @returns {Form} */
export function family(book, changed) {
  const title = text(say("write.title"), { help: say("write.family.title.help") });
  const id = named(title, changed);
  const gearboxes = text(say("write.family.gearboxes"), { help: say("write.commas") });
  const lever = text(say("write.family.lever"), { help: say("write.family.lever.help"), autocapitalize: "characters" });
  const order = () => [...new Set(split(lever.value()?.toUpperCase(), /[,;\s]+/))];
  const shape = pick(say("write.family.shape"), same(SHAFTS));
  const size = figure(say("write.family.size"));
  const bolts = several({ item: (at) => say("write.family.bolt", { at }), add: say("write.family.bolt.add"), take: say("write.family.bolt.take") }, () => bolt(book), changed);
  const hub = turning();
  const boss = plainKeys(book.schemas, "switch", ["mounts", "mount"], ["shaft", "hub", "bolts"], say("write.family.bolts.more"), changed);
  const mount = () => boss.whole(["shaft", stated(["shape", shape.value()], ["across_mm", size.value()])], ["hub", hub.value()], ["bolts", bolts.value()]);
  /** Where positions have meanings of their own, which of them are which the linter has to tell. */
  const guards = () => (more.whole()?.has("means") ? [] : book.guards);
  const made = part(book, { positions: order, mounts: [], mount: () => (mount() ? "mount" : undefined), guards }, changed);
  lever.input.addEventListener("input", () => made.refresh());
  const side = plugOf(book, changed);
  const housing = side.housing;
  const about = plainKeys(book.schemas, "switch", ["applications", "0"], ["vehicle", "years", "gearbox", "plug", "came_with"], say("write.family.vehicle.more"), changed);
  const more = plainKeys(book.schemas, "switch", [], ["id", "title", "gearboxes", "positions", "mounts", "parts", "plugs", "applications"], undefined, changed);
  const vehicle = text(say("write.family.vehicle"), { help: say("write.family.vehicle.help") });
  const years = text(say("write.family.years"), { help: say("write.family.years.help") });
  const further = several({ item: (at) => say("write.vehicle.item", { at: at + 1 }), add: say("write.vehicle.add"), take: say("write.vehicle.take") }, () => furtherVehicle(book, changed), changed);
  return {
    elements: [
      group(say("write.family.group"), row(title, id, gearboxes, lever), more.element),
      group(say("write.family.mount"), h("p", { class: "soft" }, say("write.family.mount.help")), row(shape, size), h("p", { class: "soft" }, say("write.family.hub.help")), hub.element, bolts.element, boss.element),
      ...made.elements,
      group(say("write.family.side"), row(housing, vehicle, years), about.element, further.element, side.element),
      made.source,
    ],
    value: () => {
      const boxes = split(gearboxes.value());
      const bolted = mount();
      const wired = side.value();
      /** What is the same for each vehicle. @type {[string, Value | undefined][]} */
      const seat = [["gearbox", boxes[0]], ["plug", wired && "plug"], ["came_with", made.number.value()]];
      const one = vehicle.value() && about.whole(["vehicle", vehicle.value()], ["years", years.value()], ...seat);
      const all = [...(one ? [one] : []), ...further.pieces().flatMap((each) => each.whole(...seat) ?? [])];
      return more.whole(
        ["kind", "switch"],
        ["id", id.value()],
        ["title", title.value()],
        ["gearboxes", boxes],
        ["positions", order()],
        ["mounts", bolted && new Map([["mount", bolted]])],
        ["parts", [made.value() ?? new Map()]],
        ["plugs", wired && new Map([["plug", wired]])],
        ["applications", all],
      );
    },
    numbers: () => [made.number.value()],
    left: () => [
      !gearboxes.value() && say("write.left.gearbox"),
      !mount() && say("write.left.mount"),
      Boolean(mount()) && !hub.value() && say("write.left.hub"),
      ...made.left(),
      !side.value() && say("write.left.plug"),
      !vehicle.value() && say("write.left.vehicle"),
    ],
    wrong: () => [...made.wrong(), side.wrong()],
    ...held({ title, id, gearboxes, lever, shape, size, hub, bolts, boss, made, housing, vehicle, years, about, further, wires: side.wires, side: side.side, more }),
    pictures: made.pictures.files,
    file: (front) => `switches/${front.get("id") ?? ""}`,
  };
}

/** One more vehicle with the same plug. @param {Known} book @param {() => void} changed */
function furtherVehicle(book, changed) {
  const vehicle = text(say("write.family.vehicle"), { help: say("write.family.vehicle.help") });
  const years = text(say("write.family.years"), { help: say("write.family.years.help") });
  const about = plainKeys(book.schemas, "switch", ["applications", "0"], ["vehicle", "years", "gearbox", "plug", "came_with"], say("write.family.vehicle.more"), changed);
  /** @param {[string, Value | undefined][]} seat */
  const whole = (...seat) => (vehicle.value() ? about.whole(["vehicle", vehicle.value()], ["years", years.value()], ...seat) : undefined);
  return { element: h("div", {}, row(vehicle, years), about.element), whole, value: () => whole(), ...held({ vehicle, years, about }) };
}

/** Where the hub stands, and how far it turns from detent to detent. */
function turning() {
  const position = text(say("write.family.hub.position"), { autocapitalize: "characters" });
  const mark = figure(say("write.family.hub.at"));
  const steps = text(say("write.family.hub.steps"), { help: say("write.family.hub.steps.help") });
  return {
    element: row(position, mark, steps),
    value: () => stated(["position", position.value()?.toUpperCase()], ["at_deg", mark.value()], ["steps_deg", split(steps.value(), /[,;\s]+/).map(figureOf)]),
    ...held({ position, at_deg: mark, steps_deg: steps }),
  };
}

/** @param {Known} book */
function bolt(book) {
  const more = plainKeys(book.schemas, "switch", ["mounts", "mount", "bolts", "0"], ["at_mm", "at_deg", "bolt_mm", "hole_mm", "slot_deg", "spacer_mm"], say("write.family.bolt.more"));
  const at = figure(say("write.family.at"));
  const angle = figure(say("write.family.angle"), { help: say("write.family.angle.help") });
  const thick = figure(say("write.family.bolt.mm"));
  const hole = figure(say("write.family.hole"));
  const slot = figure(say("write.family.slot"), { help: say("write.family.slot.help") });
  const spacer = figure(say("write.family.spacer"), { help: say("write.family.spacer.help") });
  return {
    element: h("div", {}, row(at, angle, thick, hole, slot, spacer), more.element),
    /** @returns {Front} */
    value: () => more.whole(["at_mm", at.value()], ["at_deg", angle.value()], ["bolt_mm", thick.value()], ["hole_mm", hole.value()], ["slot_deg", slot.value()], ["spacer_mm", spacer.value()]) ?? new Map(),
    ...held({ at_mm: at, at_deg: angle, bolt_mm: thick, hole_mm: hole, slot_deg: slot, spacer_mm: spacer, more }),
  };
}
