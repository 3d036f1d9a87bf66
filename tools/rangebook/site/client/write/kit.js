// What is asked of a plug renewal kit.

import { h } from "../shared/dom.js";
import { named, sources } from "./common.js";
import { group, held, pick, row, same, split, stated, text } from "./fields.js";

export function kit(book, changed) {
  const number = text("Number of the kit", { help: "As it is printed." });
  const title = text("What people call it", { help: "As in: plug renewal, thirteen-way oval to wedge." });
  const id = named(title, changed);
  const housings = book.connectors.map((one) => [one.id, one.title]);
  const from = pick("Plug that is cut off", housings, { none: "choose" });
  const to = pick("Plug that is supplied", housings, { none: "choose" });
  const place = h("div", { class: "write__row" });
  let wires = [];
  const cavities = (name) => book.connectors.find((one) => one.id === name)?.cavities ?? [];
  const alike = h("button", { type: "button", class: "button button--quiet", onclick: () => (wires.forEach(([old, one]) => one.value() ?? one.restore(old)), changed()) }, "Each wire to the same label, as I have seen it");
  function ask() {
    const there = cavities(to.value());
    wires = there.length ? cavities(from.value()).map((old) => [old, pick(`Wire from ${old} goes to`, same(there), { none: "not said" })]) : [];
    place.replaceChildren(...(wires.length ? wires.map(([, one]) => one.element) : [h("p", { class: "soft" }, "Choose both plugs first.")]));
    alike.hidden = !wires.some(([old]) => there.includes(old));
  }
  for (const one of [from, to]) one.input.addEventListener("change", ask);
  ask();
  const moves = {
    state: () => Object.fromEntries(wires.map(([old, one]) => [old, one.state()])),
    restore: (states) => wires.forEach(([old, one]) => states[old] && one.restore(states[old])),
  };
  const seals = text("Rear seals in the bag", { help: "Each by its number of wire holes, as in: 4, 6, 9. Empty: none, or not known." });
  const blanks = text("Blanking plugs in the bag", { number: true, help: "How many." });
  const source = sources();
  return {
    elements: [
      group("The kit", row(number, title, id, from, to)),
      group("Where each wire goes", h("p", { class: "soft" }, "From the kit's own sheet, or from the kit in your hand. A wire that has no place in the new plug stays at “not said”."), alike, place),
      group("What is in the bag", row(seals, blanks)),
      source.element,
    ],
    value: () =>
      stated(
        ["kind", "kit"],
        ["id", id.value()],
        ["number", number.value()],
        ["title", title.value()],
        ["from", from.value()],
        ["to", to.value()],
        ["moves", stated(...wires.map(([old, one]) => [old, one.value()]))],
        ["seals", seals.value() === undefined ? undefined : split(String(seals.value())).map((one) => (/^\d+$/.test(one) ? Number(one) : one))],
        ["blanks", blanks.value()],
        ["sources", source.value()],
      ),
    numbers: () => [number.value()],
    left: () => [
      wires.length > 0 && wires.every(([, one]) => !one.value()) && "where any wire goes",
      seals.value() === undefined && "which rear seals are in the bag",
      blanks.value() === undefined && "how many blanking plugs are in the bag",
      !source.value() && "where it is known from",
    ],
    wrong: () => {
      const used = wires.map(([, one]) => one.value()).filter(Boolean);
      return [...new Set(used.filter((one, at) => used.indexOf(one) !== at))].map((one) => `Two wires go to ${one}: one of them is wrong`);
    },
    ...held({ number, title, id, from, to, moves, seals, blanks, source }),
    file: (front) => `kits/${front.get("id") ?? ""}`,
  };
}
