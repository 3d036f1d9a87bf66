// What is asked of a new family of switches: its first part, how it bolts on, and one vehicle's plug.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { face, named, sources } from "./common.js";
import { figure, group, held, jumpers, pick, positions, row, same, several, split, stated, text } from "./fields.js";
import { part } from "./part.js";
import { plainKeys } from "./plain.js";
import "../words/write.js";

/** @import { Front } from "./fields.js" */
/** @import { Form, Known } from "./form.js" */

const SHAFTS = ["double-flat", "single-flat", "square", "splined", "round", "tongue"];

/** @param {Known} book @param {() => void} changed @returns {Form} */
export function family(book, changed) {
  const title = text(say("write.title"), { help: say("write.family.title.help") });
  const id = named(title, changed);
  const gearboxes = text(say("write.family.gearboxes"), { help: say("write.commas") });
  const lever = text(say("write.family.lever"), { help: say("write.family.lever.help"), autocapitalize: "characters" });
  const means = text(say("write.family.means"), { help: say("write.family.means.help"), autocapitalize: "characters" });
  const order = () => [...new Set(split(lever.value()?.toUpperCase(), /[,;\s]+/))];
  const shape = pick(say("write.family.shape"), same(SHAFTS));
  const size = figure(say("write.family.size"));
  const bolts = several({ item: (at) => say("write.family.bolt", { at }), add: say("write.family.bolt.add"), take: say("write.family.bolt.take") }, bolt, changed);
  const hub = turning();
  const mount = () => stated(["shaft", stated(["shape", shape.value()], ["across_mm", size.value()])], ["hub", hub.value()], ["bolts", bolts.value()]);
  const made = part(book, { positions: order, mounts: [], mount: () => (mount() ? "mount" : undefined) }, changed);
  const loops = text(say("write.loops"), { help: say("write.loops.help") });
  const cranks = cranking(order, changed);
  lever.input.addEventListener("input", () => {
    made.refresh();
    cranks.refresh();
  });
  const housing = pick(say("write.family.plug"), book.connectors.map((one) => [one.id, one.title]));
  const wires = face(
    book,
    {
      label: say("write.family.face"),
      yes: say("write.family.face.yes"),
      no: say("write.family.face.no"),
      first: say("write.family.face.first"),
      help: say("write.family.face.help"),
      others: say("write.family.face.others"),
    },
    (cavity) => wire(book, cavity),
    changed,
  );
  housing.input.addEventListener("change", () => wires.show(housing.value()));
  const more = plainKeys(book.schemas, "switch", [], ["id", "title", "gearboxes", "positions"]);
  const vehicle = text(say("write.family.vehicle"), { help: say("write.family.vehicle.help") });
  const years = text(say("write.family.years"), { help: say("write.family.years.help") });
  const plug = () => {
    const connector = housing.value();
    if (!connector || !wires.cavities().length) return undefined;
    /** @type {Front} */
    const found = new Map();
    found.set("connector", connector).set("wires", new Map(wires.value().map(([cavity, one]) => [cavity, one ?? new Map()])));
    for (const [key, value] of stated(["loops", jumpers(loops.value())], ["cranks", cranks.value()]) ?? []) found.set(key, value);
    return found;
  };
  return {
    elements: [
      group(say("write.family.group"), row(title, id, gearboxes, lever, means), more.element),
      group(say("write.family.mount"), h("p", { class: "soft" }, say("write.family.mount.help")), row(shape, size), h("p", { class: "soft" }, say("write.family.hub.help")), hub.element, bolts.element),
      ...made.elements,
      group(say("write.family.side"), row(housing, vehicle, years), wires.element, row(loops), cranks.element),
      made.source,
    ],
    value: () => {
      const boxes = split(gearboxes.value());
      const one = vehicle.value() && stated(["vehicle", vehicle.value()], ["years", years.value()], ["gearbox", boxes[0]], ["plug", plug() && "plug"], ["came_with", made.number.value()]);
      const bolted = mount();
      const wired = plug();
      return more.whole(
        ["kind", "switch"],
        ["id", id.value()],
        ["title", title.value()],
        ["gearboxes", boxes],
        ["positions", order()],
        ["means", meanings(means.value())],
        ["mounts", bolted && new Map([["mount", bolted]])],
        ["parts", [made.value() ?? new Map()]],
        ["plugs", wired && new Map([["plug", wired]])],
        ["applications", one ? [one] : undefined],
      );
    },
    numbers: () => [made.number.value()],
    left: () => [
      !gearboxes.value() && say("write.left.gearbox"),
      !mount() && say("write.left.mount"),
      Boolean(mount()) && !hub.value() && say("write.left.hub"),
      ...made.left(),
      !plug() && say("write.left.plug"),
      !vehicle.value() && say("write.left.vehicle"),
    ],
    wrong: () => [...made.wrong(), wires.open().length > 0 && wires.cavities().length > 0 && say("write.family.wires.open", { cavities: wires.open().join(", ") })],
    ...held({ title, id, gearboxes, lever, means, shape, size, hub, bolts, made, housing, vehicle, years, wires, loops, cranks, more }),
    file: (front) => `switches/${front.get("id") ?? ""}`,
  };
}

/** Where the hub stands, and how far it turns from detent to detent. */
function turning() {
  const position = text(say("write.family.hub.position"), { autocapitalize: "characters" });
  const mark = figure(say("write.family.hub.at"));
  const steps = text(say("write.family.hub.steps"), { help: say("write.family.hub.steps.help") });
  /** @param {string} typed */
  const turn = (typed) => (/^-?\d+(\.\d+)?$/.test(typed) ? Number(typed) : typed);
  return {
    element: row(position, mark, steps),
    value: () => stated(["position", position.value()?.toUpperCase()], ["at_deg", mark.value()], ["steps_deg", split(steps.value(), /[,;\s]+/).map(turn)]),
    ...held({ position, at_deg: mark, steps_deg: steps }),
  };
}

/** What positions mean: `R1=R, R2=R`. What is no such pair stays as it was typed, for the check to tell. @param {string | undefined} typed */
const meanings = (typed) => stated(...split(typed?.toUpperCase()).map((one) => pairOf(...split(one, /\s*[=:]\s*/))));

/** @param {string[]} words @returns {[string, string]} */
const pairOf = (...words) => [words[0] ?? "", words.slice(1).join(" ")];

/** Where the engine cranks, where that is not by this switch in P and N. @param {() => string[]} order @param {() => void} changed */
function cranking(order, changed) {
  const by = pick(say("write.cranks.by"), [["switch", say("write.cranks.switch")], ["module", say("write.cranks.module")]], { none: say("write.not_stated") });
  const at = positions(say("write.cranks.in"), order);
  const side = pick(say("write.cranks.side"), [["feed", say("write.cranks.feed")], ["ground", say("write.cranks.ground")]], { none: say("write.not_stated") });
  const source = sources(say("write.cranks.source"));
  const place = h("div", {});
  by.input.addEventListener("change", () => {
    place.replaceChildren(...(by.value() === "module" ? [source.element] : []));
    changed();
  });
  return {
    element: h("details", {}, h("summary", {}, say("write.cranks")), h("p", { class: "soft" }, say("write.cranks.help")), row(by, side), at.element, place),
    refresh: at.refresh,
    value: () => stated(["by", by.value()], ["in", at.value()], ["side", side.value()], ["sources", by.value() === "module" ? source.value() : undefined]),
    ...held({ by, in: at, side, source }),
  };
}

function bolt() {
  const at = figure(say("write.family.at"));
  const angle = figure(say("write.family.angle"), { help: say("write.family.angle.help") });
  const thick = figure(say("write.family.bolt.mm"));
  const hole = figure(say("write.family.hole"));
  const slot = figure(say("write.family.slot"), { help: say("write.family.slot.help") });
  const spacer = figure(say("write.family.spacer"), { help: say("write.family.spacer.help") });
  return {
    element: row(at, angle, thick, hole, slot, spacer),
    /** @returns {Front} */
    value: () => stated(["at_mm", at.value()], ["at_deg", angle.value()], ["bolt_mm", thick.value()], ["hole_mm", hole.value()], ["slot_deg", slot.value()], ["spacer_mm", spacer.value()]) ?? new Map(),
    ...held({ at_mm: at, at_deg: angle, bolt_mm: thick, hole_mm: hole, slot_deg: slot, spacer_mm: spacer }),
  };
}

/** @param {Known} book @param {string} cavity */
function wire(book, cavity) {
  const circuit = pick(say("write.family.wire", { cavity }), book.circuits);
  const colour = text(say("write.family.colour", { cavity }), { help: say("write.family.colour.help"), autocapitalize: "characters" });
  return {
    element: h("div", { class: "write__pair" }, circuit.element, colour.element),
    /** @returns {Front} */
    value: () => stated(["circuit", circuit.value()], ["colour", colour.value()?.toUpperCase()]) ?? new Map(),
    ...held({ circuit, colour }),
  };
}
