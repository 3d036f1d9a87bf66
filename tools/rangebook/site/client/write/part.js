// What is asked of one part: of a family that is in the book, or the first one of a new family.

import { h } from "../shared/dom.js";
import { face, sources } from "./common.js";
import { group, held, pick, positions, row, same, several, stated, text } from "./fields.js";

const STATUS = [
  ["current", "sold today"],
  ["superseded", "superseded: another number took its place"],
  ["discontinued", "no longer made, nothing took its place"],
  ["withdrawn", "withdrawn: do not fit it"],
];

/** One part: `known` are `{positions: () => [...], mounts: [...], mount: () => name}`; the last where there are no mounts to choose from. */
export function part(book, known, changed) {
  const number = text("Part number, as it is printed");
  const status = pick("Status", STATUS);
  const housing = pick("Its housing", book.connectors.map((one) => [one.id, one.title]));
  const mount = known.mounts.length ? pick("How it bolts on", same(known.mounts), { help: "The ways that this family has; its page draws them." }) : null;
  const after = text("The number that takes its place", { help: "Empty where that is not known." });
  const since = text("Since", { help: "Year-month, or the year." });
  const successor = row(after, since);
  successor.hidden = true;
  status.input.addEventListener("change", () => (successor.hidden = status.value() !== "superseded"));
  const replaced = () => (successor.hidden || !after.value() ? undefined : [stated(["number", after.value()], ["since", since.value()])]);
  let contacts = null;
  const pins = face(
    book,
    {
      label: "The housing: tap each cavity that carries a pin",
      yes: "a pin",
      no: "no pin",
      first: "Choose the housing first.",
      help: "Looking into the switch, latch up. Tap once: it carries a pin. Twice: it carries none. Where you cannot tell, leave the question mark.",
      others: "All the others carry no pin",
    },
    (cavity) => pick(`Pin ${cavity} is for`, book.circuits, { none: "choose" }),
    () => (contacts?.items.forEach((one) => one.refresh()), changed()),
  );
  housing.input.addEventListener("change", () => pins.show(housing.value()));
  const ends = () => [...pins.cavities().map((one) => [one, `pin ${one}`]), ["case", "the metal housing"]];
  contacts = several({ item: "Contact", add: "Add a contact", take: "Take this contact out" }, () => contact(ends, known.positions), changed);
  const source = sources();
  return {
    elements: [
      group("The part", row(number, status, housing, mount), successor),
      group("Its pins", pins.element),
      group("What closes inside", h("p", { class: "soft" }, "By the meter, with nothing else connected: between two pins, in every position of the lever. Say first which pins there are."), contacts.element),
      source.element,
    ],
    number,
    refresh: () => contacts.items.forEach((one) => one.refresh()),
    value: () => {
      const listed = contacts.value();
      return stated(
        ["number", number.value()],
        ["connector", housing.value()],
        ["mount", mount ? mount.value() : known.mount?.()],
        ["status", status.value()],
        ["pins", stated(...pins.value().map(([name, circuit]) => [name, circuit ?? ""]))],
        ["contacts", listed.length ? listed : undefined],
        ["superseded_by", replaced()],
        ["sources", source.value()],
      );
    },
    left: () => [
      !status.value() && "whether it is sold today",
      !housing.value() && "its housing",
      mount && !mount.value() && "how it bolts on",
      !pins.cavities().length && "its pins",
      !contacts.items.length && "what closes inside",
      contacts.items.some((one) => one.pair() && !one.metered()) && "where some of its contacts close",
      !source.value() && "where it is known from",
    ],
    wrong: () => [
      ...(pins.open().length && pins.cavities().length ? [`Pins: say of ${pins.open().join(", ")} whether there is a pin`] : []),
      ...contacts.items.map((one, at) => one.pair()?.[0] && one.pair()[0] === one.pair()[1] && `Contact ${at + 1}: the two ends are the same`),
    ],
    ...held({ number, status, housing, mount: mount ?? { state: () => undefined }, after, since, pins, contacts, source }),
  };
}

function contact(ends, order) {
  const [a, b] = [pick("Between", ends(), { none: "choose" }), pick("and", ends(), { none: "choose" })];
  const does = pick("This contact", [["closed", "closes and opens"], ["ohms", "has a resistance"]], { none: "is not metered yet" });
  const closed = positions("Closed in these positions, open in all others", order, "in none");
  const tolerance = text("Within so many percent", { number: true, help: "Empty where that is not stated." });
  const place = h("div", { class: "write__row" });
  const resistance = h("div", { hidden: true }, place, row(tolerance));
  const ohms = new Map();
  function refresh() {
    a.offer(ends());
    b.offer(ends());
    closed.refresh();
    for (const one of order()) if (!ohms.has(one)) ohms.set(one, text(`Ohms in ${one}`, { number: true, placeholder: "ohms, or open" }));
    place.replaceChildren(...order().map((one) => ohms.get(one).element));
  }
  function show() {
    resistance.hidden = does.value() !== "ohms";
    closed.element.hidden = does.value() !== "closed";
  }
  does.input.addEventListener("change", show);
  refresh();
  show();
  const read = () => stated(...order().map((one) => [one, ohms.get(one).value()]));
  const pair = () => (a.value() && b.value() ? [a.value(), b.value()] : undefined);
  const ladder = { state: () => Object.fromEntries([...ohms].map(([name, one]) => [name, one.state()])), restore: (states) => Object.entries(states).forEach(([name, typed]) => ohms.get(name)?.restore(typed)) };
  return {
    element: h("div", {}, row(a, b, does), closed.element, resistance),
    refresh,
    pair,
    metered: () => (does.value() === "closed" ? closed.value() !== undefined : does.value() === "ohms" && read() !== undefined),
    value: () => {
      const shown = does.value();
      return new Map(
        [
          ["pins", pair()],
          ["closed", shown === "closed" ? closed.value() : undefined],
          ["ohms", shown === "ohms" ? read() : undefined],
          ["tolerance_percent", shown === "ohms" ? tolerance.value() : undefined],
        ].filter(([, one]) => one !== undefined),
      );
    },
    ...held({ a, b, does, closed, ladder, tolerance }),
  };
}

/** A part of a family that is in the book. */
export function partOf(book, changed) {
  const family = pick("Family", book.families.map((one) => [one.id, one.title]), { none: "choose" });
  const place = h("div", {});
  let made = null;
  const chosen = () => book.families.find((one) => one.id === family.value());
  family.input.addEventListener("change", () => {
    const one = chosen();
    made = one ? part(book, { positions: () => one.positions, mounts: one.mounts }, changed) : null;
    place.replaceChildren(...(made?.elements ?? []));
    changed();
  });
  const inside = { state: () => made?.state(), restore: (state) => made?.restore(state) };
  return {
    elements: [group("Which family", row(family), h("p", { class: "soft" }, "The switches of one gearbox that are built alike. If yours is not there, write a new family.")), place],
    value: () => {
      const one = chosen();
      return stated(["kind", "switch"], ["id", one?.id], ["title", one?.title], ["positions", one?.positions], ["parts", [made?.value() ?? new Map()]]);
    },
    numbers: () => [made?.number.value()],
    left: () => made?.left() ?? [],
    wrong: () => (made ? made.wrong() : ["Family: choose the one that it belongs to"]),
    ...held({ family, inside }),
    inner: "parts",
    file: (front) => `switches/${front.get("id") ?? ""}`,
  };
}
