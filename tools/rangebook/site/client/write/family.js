// What is asked of a new family of switches: its first part, how it bolts on, and one vehicle's plug.

import { h } from "../shared/dom.js";
import { face, named } from "./common.js";
import { group, held, pick, row, same, several, split, stated, text } from "./fields.js";
import { part } from "./part.js";

const SHAFTS = ["double-flat", "single-flat", "square", "splined", "round", "tongue"];

export function family(book, changed) {
  const title = text("What people call it", { help: "As in: Tamblin gate lever switch." });
  const id = named(title, changed);
  const gearboxes = text("Gearboxes", { help: "With commas between." });
  const lever = text("Lever positions, in their order", { help: "As the lever goes through them: P R N D 2 1.", autocapitalize: "characters" });
  const order = () => [...new Set(split(lever.value()?.toUpperCase(), /[,;\s]+/))];
  const shape = pick("Hole for the shaft", same(SHAFTS));
  const size = text("Across the flats or the hole, mm", { number: true });
  const bolts = several({ item: "Bolt", add: "Add a bolt", take: "Take this bolt out" }, bolt, changed);
  const mount = () => stated(["shaft", stated(["shape", shape.value()], ["across_mm", size.value()])], ["bolts", bolts.value()]);
  const made = part(book, { positions: order, mounts: [], mount: () => (mount() ? "mount" : undefined) }, changed);
  lever.input.addEventListener("input", () => made.refresh());
  const housing = pick("The vehicle's plug", book.connectors.map((one) => [one.id, one.title]));
  const wires = face(
    book,
    {
      label: "The plug: tap each cavity that carries a wire",
      yes: "a wire",
      no: "no wire",
      first: "Choose the plug first.",
      help: "Drawn as the switch has it, latch up; seen from the wires it is the mirror image. Tap once: it carries a wire. Twice: it carries none.",
      others: "All the others carry no wire",
    },
    wire(book),
    changed,
  );
  housing.input.addEventListener("change", () => wires.show(housing.value()));
  const vehicle = text("Vehicle", { help: "Make, model, engine." });
  const years = text("Model years", { help: "As in: 2007-2012." });
  const plug = () => (housing.value() && wires.cavities().length ? new Map([["connector", housing.value()], ["wires", new Map(wires.value())]]) : undefined);
  return {
    elements: [
      group("The family", row(title, id, gearboxes, lever)),
      group("How it bolts on", h("p", { class: "soft" }, "Plug side towards you, latch up. Angles count anticlockwise; begin anywhere, only the angles between the bolts matter."), row(shape, size), bolts.element),
      ...made.elements.slice(0, -1),
      group("The vehicle's side", row(housing, vehicle, years), wires.element),
      made.elements.at(-1),
    ],
    value: () => {
      const boxes = split(gearboxes.value());
      const one = vehicle.value() && stated(["vehicle", vehicle.value()], ["years", years.value()], ["gearbox", boxes[0]], ["plug", plug() && "plug"], ["came_with", made.number.value()]);
      return stated(
        ["kind", "switch"],
        ["id", id.value()],
        ["title", title.value()],
        ["gearboxes", boxes],
        ["positions", order()],
        ["mounts", mount() && new Map([["mount", mount()]])],
        ["parts", [made.value() ?? new Map()]],
        ["plugs", plug() && new Map([["plug", plug()]])],
        ["applications", one && [one]],
      );
    },
    numbers: () => [made.number.value()],
    left: () => [
      !gearboxes.value() && "the gearbox",
      !mount() && "how it bolts on",
      ...made.left(),
      !plug() && "the vehicle's plug and its wires",
      !vehicle.value() && "a vehicle that it came in",
    ],
    wrong: () => [...made.wrong(), ...(wires.open().length && wires.cavities().length ? [`Wires: say of ${wires.open().join(", ")} whether there is a wire`] : [])],
    ...held({ title, id, gearboxes, lever, shape, size, bolts, made, housing, vehicle, years, wires }),
    file: (front) => `switches/${front.get("id") ?? ""}`,
  };
}

function bolt() {
  const asked = {
    at_mm: text("From the middle of the shaft, mm", { number: true }),
    at_deg: text("Angle, degrees", { number: true, help: "To the middle of the slot, if it has one." }),
    bolt_mm: text("Bolt, mm", { number: true }),
    hole_mm: text("Hole or slot, mm wide", { number: true }),
    slot_deg: text("Slot, degrees", { number: true, help: "Empty for a plain hole." }),
    spacer_mm: text("Spacer below it, mm", { number: true, help: "0 where there is none." }),
  };
  return { element: row(...Object.values(asked)), value: () => stated(...Object.entries(asked).map(([name, one]) => [name, one.value()])) ?? new Map(), ...held(asked) };
}

const wire = (book) => (cavity) => {
  const circuit = pick(`Wire ${cavity} is for`, book.circuits, { none: "not known" });
  const colour = text(`Colour of wire ${cavity}`, { help: "As in RD, or BUWH.", autocapitalize: "characters" });
  return {
    element: h("div", { class: "write__pair" }, circuit.element, colour.element),
    value: () => stated(["circuit", circuit.value()], ["colour", colour.value()?.toUpperCase()]) ?? new Map(),
    ...held({ circuit, colour }),
  };
};
