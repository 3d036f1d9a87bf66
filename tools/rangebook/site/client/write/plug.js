// A vehicle's plug: its housing, and what each of its wires is for.

import { say } from "../shared/say.js";
import { housings } from "./common.js";
import { h } from "../shared/dom.js";
import { held, pick, recordOf, several, text } from "./fields.js";
import { plainKeys } from "./plain.js";
import "../words/write.js";

/** @import { Front, Stating, Value } from "./fields.js" */
/** @import { Known } from "./form.js" */

/** @param {Known} book @param {() => void} changed */
export function plugOf(book, changed) {
  const wires = housings(
    book,
    say("write.family.plug"),
    {
      label: say("write.family.face"),
      yes: say("write.family.face.yes"),
      no: say("write.family.face.no"),
      first: say("write.family.face.first"),
      help: say("write.family.face.help"),
      others: say("write.family.face.others"),
    },
    (cavity) => inCavity(book, cavity, changed),
    changed,
  );
  const side = plainKeys(book.schemas, "switch", ["plugs", "plug"], ["connector", "connectors", "wires"], say("write.family.plug.more"), changed);
  return {
    housing: wires.main,
    wires,
    side,
    element: h("div", {}, wires.element, side.element),
    /** @returns {Front | undefined} */
    value: () => {
      if (!wires.main.value() || !wires.cavities().length) return undefined;
      /** @type {Front} */
      const each = new Map(wires.value().map(([cavity, one]) => [cavity, one ?? new Map()]));
      return side.whole(["connector", wires.connector()], ["connectors", wires.connectors()], ["wires", each]);
    },
    wrong: () => wires.open().length > 0 && wires.cavities().length > 0 && say("write.family.wires.open", { cavities: wires.open().join(", ") }),
  };
}

/** What a cavity holds: one wire, or several that share its terminal. @param {Known} book @param {string} cavity @param {() => void} changed @returns {Stating<Front | Value[]>} */
function inCavity(book, cavity, changed) {
  const first = wire(book, cavity);
  const others = several({ item: (at) => say("write.wire.item", { cavity, at: at + 1 }), add: say("write.wire.add", { cavity }), take: say("write.item.take") }, () => wire(book, cavity), changed);
  const kept = held({ first, others });
  return {
    element: h("div", {}, first.element, others.element),
    value: () => (others.pieces().length ? [first.value(), ...others.value()] : first.value()),
    state: kept.state,
    // An older form kept the one wire by itself.
    restore: (state) => (recordOf(state).first === undefined ? first.restore(state) : kept.restore(state)),
    from: (value) => (Array.isArray(value) ? { first: first.from?.(value[0]), others: others.from(value.slice(1)) } : { first: first.from?.(value) }),
  };
}

/** @param {Known} book @param {string} cavity */
function wire(book, cavity) {
  const circuit = pick(say("write.family.wire", { cavity }), book.circuits);
  const colour = text(say("write.family.colour", { cavity }), { help: say("write.family.colour.help"), autocapitalize: "characters" });
  const more = plainKeys(book.schemas, "switch", ["plugs", "plug", "wires", cavity], ["circuit", "colour"], say("write.family.wire.more", { cavity }));
  return {
    element: h("div", { class: "write__pair" }, circuit.element, colour.element, more.element),
    /** @returns {Front} */
    value: () => more.whole(["circuit", circuit.value()], ["colour", colour.value()?.toUpperCase()]) ?? new Map(),
    ...held({ circuit, colour, more }),
  };
}
