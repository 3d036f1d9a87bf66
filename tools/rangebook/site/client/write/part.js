// What is asked of one part: of a family that is in the book, or the first one of a new family.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { housings, sources } from "./common.js";
import { figure, group, held, listOf, pick, positions, recordOf, row, same, several, text, textOf, textsOf } from "./fields.js";
import { asTyped, unsaid, withAdded, withPart } from "./lines.js";
import { notThere } from "./guard.js";
import { keeping } from "./keeping.js";
import { photos } from "./photos.js";
import { plainKeys } from "./plain.js";
import { signal } from "./signals.js";
import { stated } from "./yaml.js";
import "../words/write.js";

/** @import { EntryLines, Guard } from "../types/data.js" */
/** @import { Front, Held, Value } from "./fields.js" */
/** @import { Form, Known } from "./form.js" */
/** What is known of the family; `mount` names the one mount where there are none to choose from. @typedef {{ positions: () => string[], mounts: string[], mount?: () => string | undefined, guards: () => Guard[] }} Family */

/** @type {[string, string][]} */
const STATUS = [
  ["current", say("write.part.current")],
  ["superseded", say("write.part.superseded")],
  ["discontinued", say("write.part.discontinued")],
  ["withdrawn", say("write.part.withdrawn")],
];

/** One part: its pieces without those for its source, which stands last on the page. @param {Known} book @param {Family} known @param {() => void} changed */
export function part(book, known, changed) {
  const number = text(say("write.part.number"));
  const status = pick(say("write.part.status"), STATUS);
  const mount = known.mounts.length ? pick(say("write.part.mount"), same(known.mounts), { help: say("write.part.mount.help") }) : null;
  const after = text(say("write.part.after"), { help: say("write.part.after.help") });
  const since = text(say("write.part.since"), { help: say("write.part.since.help") });
  const link = plainKeys(book.schemas, "switch", ["parts", "0", "superseded_by", "0"], ["number", "since"], say("write.part.after.more"), () => changed());
  const successor = h("div", { hidden: true }, row(after, since), link.element);
  status.input.addEventListener("change", () => {
    successor.hidden = status.value() !== "superseded";
  });
  const next = keeping({
    element: successor,
    value: () => link.whole(["number", after.value()], ["since", since.value()]),
    ...held({ number: after, since, link }),
    /** @param {Value} stands */
    from: (stands) => (stands instanceof Map ? { number: textOf(stands.get("number")), since: textOf(stands.get("since")), link: link.from?.(stands) } : {}),
  });
  const replaced = () => {
    const one = successor.hidden || !after.value() ? undefined : next.value();
    return one && [one];
  };
  // The face tells of a change once before there are contacts.
  let refresh = () => {};
  const pins = housings(
    book,
    say("write.part.housing"),
    {
      label: say("write.part.face"),
      yes: say("write.part.face.yes"),
      no: say("write.part.face.no"),
      first: say("write.part.face.first"),
      help: say("write.part.face.help"),
      others: say("write.part.face.others"),
    },
    (cavity) => pick(say("write.part.pin", { cavity }), book.circuits, { none: say("write.choose") }),
    () => {
      refresh();
      changed();
    },
    () => plainKeys(book.schemas, "switch", ["parts", "0", "connectors", "x"], ["connector"], say("write.part.tail"), () => changed()),
  );
  const housing = pins.main;
  /** @returns {[string, string][]} */
  const ends = () => [...pins.cavities().map((one) => pairOf(one, say("part.pin", { name: one }))), ["case", say("write.part.case")]];
  const contacts = several({ item: (at) => say("write.part.contact", { at }), add: say("write.part.contact.add"), take: say("write.part.contact.take") }, () => keeping(contact(book, ends, known.positions, changed)), changed);
  const signals = several({ item: (at) => say("write.signal.item", { at }), add: say("write.signal.add"), take: say("write.signal.take") }, () => keeping(signal(book, ends, known.positions, changed)), changed);
  refresh = () => {
    for (const one of [...contacts.pieces(), ...signals.pieces()]) one.refresh();
  };
  /** Each contact that makes a path where the list of circuits says that there is none, told at the contact too. */
  const unsafe = () => {
    const circuits = new Map(pins.value());
    return contacts.pieces().flatMap((one) => {
      const told = notThere(known.guards(), one.value(), circuits, number.value() ?? say("write.part.this"));
      one.tell(told);
      return told;
    });
  };
  const source = sources();
  const pictures = photos(() => number.value(), () => changed());
  const more = plainKeys(book.schemas, "switch", ["parts", "0"], ["number", "connector", "connectors", "mount", "status", "pins", "contacts", "signals", "superseded_by"], undefined, changed);
  /** @type {Held} */
  const kept = held({ number, status, housing, mount: mount ?? NOTHING, next, pins, contacts, signals, more, source });
  return {
    elements: [
      group(say("write.part.group"), row(number, status, housing, mount), successor, more.element),
      group(say("write.part.pins"), pins.element),
      group(say("write.part.closes"), h("p", { class: "soft" }, say("write.part.closes.help")), contacts.element),
      group(say("write.signal.group"), h("p", { class: "soft" }, say("write.signal.help")), signals.element),
      pictures.element,
    ],
    pictures,
    source: source.element,
    number,
    order: more.order,
    sources: () => source.value() ?? [],
    /** The state that says a part that is there, as far as the form can. Its sources stay where they are. @param {Front} stands */
    fromStated: (stands) => {
      const said = stands.get("pins");
      const { housing: id, housings: all } = pins.fromStated(stands.get("connector"), stands.get("connectors"), said instanceof Map ? said : new Map());
      const [one] = listOf(stands.get("superseded_by"));
      return {
        number: textOf(stands.get("number")),
        status: textOf(stands.get("status")),
        housing: id,
        mount: textOf(stands.get("mount")),
        next: one instanceof Map ? next.from?.(one) : undefined,
        pins: all,
        contacts: contacts.from(stands.get("contacts") ?? []),
        signals: signals.from(stands.get("signals") ?? []),
        more: more.from?.(stands),
      };
    },
    refresh,
    value: () =>
      more.whole(
        ["number", number.value()],
        ["connector", pins.connector()],
        ["connectors", pins.connectors()],
        ["mount", mount ? mount.value() : known.mount?.()],
        ["status", status.value()],
        ["pins", stated(...pins.value().map(([name, circuit]) => pairOf(name, circuit ?? "")))],
        ["contacts", contacts.value()],
        ["signals", signals.value()],
        ["superseded_by", replaced()],
        ["photos", pictures.value()],
        ["sources", source.value()],
      ),
    left: () => [
      !status.value() && say("write.left.status"),
      !housing.value() && say("write.left.housing"),
      mount && !mount.value() && say("write.left.mount"),
      !pins.cavities().length && say("write.left.pins"),
      !contacts.pieces().length && !signals.pieces().length && say("write.left.closes"),
      contacts.pieces().some((one) => one.pair() && !one.metered()) && say("write.left.metered"),
      !source.value() && say("write.left.source"),
    ],
    wrong: () => [
      ...unsafe(),
      pins.open().length > 0 && pins.cavities().length > 0 && say("write.part.pins.open", { cavities: pins.open().join(", ") }),
      ...contacts.pieces().map((one, at) => {
        const pair = one.pair();
        return pair && pair[0] === pair[1] && say("write.part.ends", { at: at + 1 });
      }),
    ],
    ...kept,
  };
}

/** What has nothing to put away. @type {Held} */
const NOTHING = { state: () => undefined, restore: () => undefined };

/** @param {string} key @param {string} value @returns {[string, string]} */
const pairOf = (key, value) => [key, value];

/** @param {Known} book @param {() => [string, string][]} ends @param {() => string[]} order @param {() => void} changed */
function contact(book, ends, order, changed) {
  const a = pick(say("write.part.between"), ends(), { none: say("write.choose") });
  const b = pick(say("write.part.and"), ends(), { none: say("write.choose") });
  const does = pick(say("write.part.does"), [["closed", say("write.part.does.closed")], ["ohms", say("write.part.does.ohms")]], { none: say("write.part.does.none") });
  const closed = positions(say("write.part.closed"), order, say("write.part.closed.never"));
  const tolerance = figure(say("write.part.tolerance"), { help: say("write.part.tolerance.help") });
  const more = plainKeys(book.schemas, "switch", ["parts", "0", "contacts", "0"], ["pins", "closed", "ohms", "tolerance_percent"], say("write.part.contact.more"), changed);
  const place = h("div", { class: "write__row" });
  const danger = h("div", { role: "alert" });
  const resistance = h("div", { hidden: true }, place, row(tolerance));
  /** @type {Map<string, ReturnType<typeof figure>>} */
  const ohms = new Map();
  /** @param {string} position */
  const ohmsIn = (position) => {
    const found = ohms.get(position) ?? figure(say("write.part.ohms", { position }), { placeholder: say("write.part.ohms.help") });
    ohms.set(position, found);
    return found;
  };
  function refresh() {
    a.offer(ends());
    b.offer(ends());
    closed.refresh();
    place.replaceChildren(...order().map((one) => ohmsIn(one).element));
  }
  function show() {
    resistance.hidden = does.value() !== "ohms";
    closed.element.hidden = does.value() !== "closed";
  }
  does.input.addEventListener("change", show);
  refresh();
  show();
  const read = () => stated(...order().map((one) => readingOf(one, ohmsIn(one).value())));
  const pair = () => {
    const [one, other] = [a.value(), b.value()];
    return one && other ? [one, other] : undefined;
  };
  const ladder = {
    state: () => Object.fromEntries([...ohms].map(([name, one]) => [name, one.state()])),
    /** @param {unknown} states */
    restore: (states) => {
      for (const [name, typed] of Object.entries(recordOf(states))) ohms.get(name)?.restore(typed);
    },
  };
  return {
    element: h("div", {}, row(a, b, does), closed.element, resistance, danger, more.element),
    refresh,
    /** What is wrong with it, beside it. @param {string[]} told */
    tell: (told) => danger.replaceChildren(...told.map((one) => h("p", { class: "box write__danger" }, one))),
    pair,
    metered: () => (does.value() === "closed" ? closed.value() !== undefined : does.value() === "ohms" && read() !== undefined),
    /** @returns {Front} */
    value: () => {
      const shown = does.value();
      /** @type {[string, Value | undefined][]} */
      const pairs = [
        ["pins", pair()],
        ["closed", shown === "closed" ? closed.value() : undefined],
        ["ohms", shown === "ohms" ? read() : undefined],
        ["tolerance_percent", shown === "ohms" ? tolerance.value() : undefined],
      ];
      /** @type {Front} */
      const made = new Map();
      // Closed nowhere is an empty list, and stays.
      const all = [...pairs, ...(more.whole() ?? [])].sort(([one], [other]) => more.order.indexOf(one) - more.order.indexOf(other));
      for (const [key, value] of all) if (value !== undefined) made.set(key, value);
      return made;
    },
    ...held({ a, b, does, closed, ladder, tolerance, more }),
    /** @param {Value} stands */
    from: (stands) => {
      const one = stands instanceof Map ? stands : new Map();
      const [first, second] = textsOf(one.get("pins"));
      const ladder_of = one.get("ohms");
      return {
        a: first,
        b: second,
        does: one.has("closed") ? "closed" : one.has("ohms") ? "ohms" : "",
        closed: one.has("closed") ? closed.from?.(one.get("closed")) : undefined,
        ladder: ladder_of instanceof Map ? Object.fromEntries([...ladder_of].map(([position, typed]) => [position, textOf(typed)])) : {},
        tolerance: textOf(one.get("tolerance_percent")),
        more: more.from?.(one),
      };
    },
  };
}

/** @param {string} position @param {Value | undefined} value @returns {[string, Value | undefined]} */
const readingOf = (position, value) => [position, value];

/**
 * A part of a family that is in the book: a new one, or one that is there. Of the latter the entry's own lines stay wherever what they say
 * was not changed.
 * @param {Known} book @param {() => void} changed @returns {Form}
 */
export function partOf(book, changed) {
  const family = pick(say("write.part.family"), book.families.map((one) => [one.id, one.title]), { none: say("write.choose") });
  const which = pick(say("write.part.one"), [], { none: say("write.part.new") });
  const place = h("div", {});
  /** @type {ReturnType<typeof part> | null} */
  let made = null;
  /** The part that is there, as its lines have it and as the form said it before anybody typed. @type {{ entry: EntryLines, number: string, was: Front } | null} */
  let there = null;
  /** @type {EntryLines | null} */
  let entry = null;
  let loaded = Promise.resolve();
  let turn = 0;
  const chosen = () => book.families.find((one) => one.id === family.value());
  /** The form of a part that nothing is said of yet. */
  function fresh() {
    const one = chosen();
    there = null;
    made = one ? part(book, { positions: () => one.positions, mounts: one.mounts, guards: () => one.guards ?? book.guards }, changed) : null;
    place.replaceChildren(...(made ? [...made.elements, made.source] : []));
    changed();
    return made;
  }
  /** @param {string} id */
  async function load(id) {
    entry = null;
    which.offer([]);
    try {
      const found = await book.lines(id);
      if (chosen()?.id !== id) return;
      entry = found;
      which.offer(same(entry.parts.map((one) => one.number)));
      // Only now it is known where a new part goes.
      changed();
    } catch {
      // Without its entry a part can only be added.
    }
  }
  family.input.addEventListener("change", () => {
    const one = chosen();
    which.element.hidden = !one;
    fresh();
    if (one) loaded = load(one.id);
  });
  which.element.hidden = true;
  async function open() {
    const mine = ++turn;
    const form = fresh();
    const lines = entry?.parts.find((one) => one.number === which.value());
    if (!form || !lines || !entry) return;
    const file = entry;
    /** @type {Front} */
    const stands = new Map(lines.keys.map((one) => [one.key, asTyped(one.value)]));
    await form.restore(form.fromStated(stands));
    if (mine !== turn) return;
    there = { entry: file, number: lines.number, was: form.value() ?? new Map() };
    changed();
  }
  which.input.addEventListener("change", () => {
    loaded = open();
  });
  /** @type {Held} */
  const inside = {
    state: () => made?.state(),
    restore: async (state) => {
      if (!state) return;
      await loaded;
      await made?.restore(state);
      changed();
    },
  };
  /** @type {Held} */
  const number = {
    state: which.state,
    restore: async (state) => {
      // Nothing that was typed while the entry was on its way is taken back for a part that nobody chose.
      if (!state) return;
      await loaded;
      which.restore(state);
      await loaded;
    },
  };
  /** What is new in lists that have what they had: sources and pictures are put beside those that are there. */
  const more = () => ({ sources: made?.sources() ?? [], photos: made?.pictures.value() ?? [] });
  return {
    elements: [group(say("write.part.which"), row(family, which), h("p", { class: "soft" }, say("write.part.which.help"))), place],
    value: () => {
      const one = chosen();
      return stated(["kind", "switch"], ["id", one?.id], ["title", one?.title], ["positions", one?.positions], ["parts", [made?.value() ?? new Map()]]);
    },
    isNew: () => Boolean(entry?.new),
    whole: () => {
      if (there) return made && withPart(there.entry, there.number, withoutAdded(there.was), withoutAdded(made.value() ?? new Map()), made.order, more());
      return made && entry?.new && withAdded(entry, [["parts", [made.value() ?? new Map()]]]);
    },
    told: () => {
      const kept = there ? unsaid(there.entry, there.number, there.was).filter((one) => !ADDED.includes(one)) : [];
      return [kept.length > 0 && say("write.part.kept", { keys: kept.join(", ") })];
    },
    numbers: () => [made?.number.value() === there?.number ? undefined : made?.number.value()],
    left: () => (made?.left() ?? []).filter((one) => !there || one !== say("write.left.source")),
    wrong: () => (made ? made.wrong() : [say("write.part.choose")]),
    ...held({ family, number, inside }),
    inner: "parts",
    pictures: () => made?.pictures.files() ?? [],
    file: (front) => `switches/${front.get("id") ?? ""}`,
  };
}

/** @param {Front} part @returns {Front} */
const withoutAdded = (part) => new Map([...part].filter(([key]) => !ADDED.includes(key)));

/** Lists to which the form adds, and of which it takes nothing away. */
const ADDED = ["sources", "photos"];
