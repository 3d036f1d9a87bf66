// Two faults at once: what is read with both of them, reckoned anew from the contacts that Python sent. `rangebook.electrics.together` is the
// original, and has the same names; a test holds the two to each other.

/** @import { Expected, Net, ReadingRules, Sheet } from "../types/data.js" */
/** @typedef {Sheet["known"][number]} Fault */
/** What a fault makes of a part in one position. @typedef {[name: string, ...what: (string | number)[]]} Effect */
/** Two ends and ohms, null not known; how far they may be off, in percent; whether there is a diode; whether it has drifted. @typedef {[a: string, b: string, ohms: number | null, percent: number, oneWay: boolean, drifts: boolean]} Link */

/** Not told together with another fault. */
export const ALONE = new Set(["wrong", "leads_open"]);
/** The kinds that are paths from one pin to this or that other one. */
export const SHORTS = new Set(["shorted", "grounded", "leakage"]);
const CASE = "case";
const OTHERS = "others";
const MOVED = new Set(["open", "swapped"]);
/** @type {Record<string, string>} */
const NAMES = { open: "lost", swapped: "swap", shunted: "beside", leads: "worn" };

/** How many ohms a fault sets its contact to, or a path has, at the least and the most. @param {string} kind @param {ReadingRules} rules @returns {[number, number] | undefined} */
function setsOf(kind, rules) {
  switch (kind) {
    case "stuck_open":
    case "burnt":
    case "step_open":
      return [Infinity, Infinity];
    case "stuck_closed":
    case "shorted":
    case "grounded":
      return [0, 0];
    case "step_wrong":
      return [0, rules.open_above];
    case "resistance":
    case "leakage":
      return [rules.closed_below, rules.open_above];
    default:
      return undefined;
  }
}

/** The nodes that links lead to from one, whichever way. @param {Link[]} links @param {string} start */
function reachedBy(links, start) {
  const been = new Set([start]);
  for (let grown = true; grown; ) {
    grown = false;
    for (const [a, b] of links) {
      if (been.has(a) === been.has(b)) continue;
      been.add(a).add(b);
      grown = true;
    }
  }
  return been;
}

/** The node that stands for each that others are one with. @param {Link[]} joins */
function oneNode(joins) {
  /** @type {Map<string, string>} */
  const of = new Map();
  for (const [a, b] of joins) {
    const [one, other] = [of.get(a) ?? a, of.get(b) ?? b];
    for (const [node, now] of of) if (now === other) of.set(node, one);
    of.set(a, one).set(b, one);
  }
  return of;
}

/** Siemens between two nodes, every other taken out, those with the fewest neighbours first. @param {Link[]} joins @param {Link[]} resistors @param {string} a @param {string} b */
function conductance(joins, resistors, a, b) {
  const of = oneNode(joins);
  const [start, end] = [of.get(a) ?? a, of.get(b) ?? b];
  if (start === end) return Infinity;
  /** @type {Map<string, Map<string, number>>} */
  const near = new Map();
  /** @param {string} one @param {string} other @param {number} siemens */
  const add = (one, other, siemens) => {
    const row = near.get(one) ?? new Map();
    row.set(other, (row.get(other) ?? 0) + siemens);
    near.set(one, row);
  };
  for (const [x, y, ohms] of resistors) {
    const [one, other] = [of.get(x) ?? x, of.get(y) ?? y];
    if (one === other) continue;
    add(one, other, 1 / Number(ohms));
    add(other, one, 1 / Number(ohms));
  }
  const inner = [...near.keys()].filter((one) => one !== start && one !== end);
  while (inner.length) {
    const node = inner.reduce((least, one) => (Number(near.get(one)?.size) < Number(near.get(least)?.size) ? one : least));
    inner.splice(inner.indexOf(node), 1);
    const around = [...(near.get(node) ?? [])];
    near.delete(node);
    const total = around.reduce((sum, [, siemens]) => sum + siemens, 0);
    for (const [one] of around) near.get(one)?.delete(node);
    for (const [at, [one, toOne]] of around.entries()) {
      for (const [other, toOther] of around.slice(at + 1)) {
        add(one, other, (toOne * toOther) / total);
        add(other, one, (toOne * toOther) / total);
      }
    }
  }
  return near.get(start)?.get(end) ?? 0;
}

/** @param {number} one @param {number} other */
const sameSiemens = (one, other) => one === other || (Number.isFinite(one) && Number.isFinite(other) && Math.abs(one - other) <= 1e-9 * Math.max(one, other));

/** Whether current gets from one node to another. @param {string} start @param {string} end @param {Link[]} free @param {Link[]} diodes */
function leads(start, end, free, diodes) {
  const ways = [...free.flatMap(([a, b]) => [[a, b], [b, a]]), ...diodes.map(([a, b]) => [a, b])];
  const been = new Set([start]);
  for (const at of been) for (const [from, to] of ways) if (from === at) been.add(to);
  return been.has(end);
}

/** What a meter reads between two nodes, and whether all resistances on the way have drifted. @param {Link[]} links those with a path @param {string} a @param {string} b @param {ReadingRules} rules @returns {[read: Expected, alone: boolean]} */
function between(links, a, b, rules) {
  const reach = reachedBy(links, a);
  if (!reach.has(b)) return [0, false];
  const here = links.filter(([one]) => reach.has(one));
  const joins = here.filter(([, , ohms, , oneWay]) => ohms === 0 && !oneWay);
  if (reachedBy(joins, a).has(b)) return [1, false];
  if (here.some(([, , ohms]) => ohms === null)) return [null, false];
  const diodes = here.filter(([, , ohms, , oneWay]) => ohms === 0 && oneWay);
  const resistors = here.filter(([, , ohms]) => ohms !== 0);
  const siemens = conductance(joins, resistors, a, b);
  if (diodes.length && !sameSiemens(siemens, conductance([...joins, ...diodes], resistors, a, b))) {
    const free = [...joins, ...resistors];
    return [leads(a, b, free, diodes) || leads(b, a, free, diodes) ? null : 0, false];
  }
  if (!siemens) return [0, false];
  if (siemens * rules.closed_below > 1) return [1, false];
  return [[1 / siemens, Math.min(...resistors.map(([, , , percent]) => percent))], resistors.every(([, , , , , drifts]) => drifts)];
}

/** @param {Expected} read @param {ReadingRules} rules @returns {[number, number]} */
function boundsOf(read, rules) {
  const [ohms, percent] = /** @type {[number, number]} */ (read);
  const slack = Math.min(percent, rules.widest_percent) / 100;
  return [ohms * (1 - slack), ohms * (1 + slack)];
}

/** @param {number} ohms */
const finite = (ohms) => (ohms === Infinity ? null : ohms);

/** What lies between the least and the most that a fault can do. @param {Expected} low @param {Expected} high @param {ReadingRules} rules @returns {Expected} */
function spanned(low, high, rules) {
  if (same(low, high)) return low;
  if (low === null || high === null) return null;
  const least = low === 1 ? 0 : low === 0 ? Infinity : boundsOf(low, rules)[0];
  const most = high === 1 ? rules.closed_below : high === 0 ? Infinity : boundsOf(high, rules)[1];
  return { between: [least, finite(most)] };
}

/** @param {Expected} one @param {Expected} other */
export const same = (one, other) => one === other || (typeof one === "object" && JSON.stringify(one) === JSON.stringify(other));

/** With a factor that is the same for all readings. @param {Expected} read @param {ReadingRules} rules @returns {Expected} */
const times = (read, rules) => (Array.isArray(read) ? { common: [...boundsOf(read, rules), 1, 0] } : read);

/** With a resistance beside that is the same for all readings. @param {Expected} read @param {ReadingRules} rules @returns {Expected} */
function beside(read, rules) {
  if (read === null || read === 1 || (typeof read === "object" && "either" in read)) return read;
  if (read === 0) return { common: [null, null, 0, 1] };
  if (Array.isArray(read)) return { common: [...boundsOf(read, rules), 0, 1] };
  if ("common" in read) return { common: [read.common[0], read.common[1], read.common[2], 1] };
  return { common: [read.between[0], read.between[1], 0, 1] };
}

/** Between which ohms something lies that a factor, and siemens beside, of so many make of it. @param {Extract<Expected, { common: unknown }>} cell @param {[number, number]} factor @param {[number, number]} siemens @returns {Extract<Expected, { between: unknown }>} */
export function settled({ common: [least, most, isTimes, isBeside] }, factor, siemens) {
  const low = (least ?? Infinity) * (isTimes ? factor[0] : 1);
  const high = (most ?? Infinity) * (isTimes ? factor[1] : 1);
  if (!isBeside) return { between: [low, finite(high)] };
  return { between: [1 / ((low > 0 ? 1 / low : Infinity) + siemens[1]), 1 / (1 / high + siemens[0])] };
}

/** What is read through bad leads. @param {Expected} read @param {ReadingRules} rules @returns {Expected} */
function worn(read, rules) {
  const [least, most] = rules.worn_leads;
  if (read === 1) return { between: [least, most] };
  if (read === null || typeof read === "number") return read;
  if (Array.isArray(read)) {
    const [low, high] = boundsOf(read, rules);
    return { between: [low + least, high + most] };
  }
  if ("either" in read) return { either: read.either.map((one) => worn(one, rules)) };
  if ("between" in read) return { between: [read.between[0] + least, read.between[1] === null ? null : read.between[1] + most] };
  if (read.common[3]) return worn(settled(read, rules.drift, rules.shunt), rules);
  return { common: [read.common[0], Number(read.common[1]) + most / rules.drift[0], 1, 0] };
}

/** What is kept of one sheet: its pins, what a fault makes of the part by position, each with a name, and what was reckoned. @typedef {{ meets: Map<string, string>, pins: Set<string>, effects: Map<Fault, (Effect | null)[]>, names: Map<Effect, string>, done: Map<string, Expected> }} Kept */
/** @type {WeakMap<Net, Kept>} */
const sheets = new WeakMap();

/** @param {Net} net @returns {Kept} */
function keptOf(net) {
  const kept = sheets.get(net) ?? { meets: new Map(Object.entries(net.pins)), pins: new Set(Object.values(net.pins)), effects: new Map(), names: new Map(), done: new Map() };
  sheets.set(net, kept);
  return kept;
}

/** What a map has of a key, made when it is asked for first. @template K, V @param {Map<K, V>} map @param {K} key @param {() => V} make @returns {V} */
function once(map, key, make) {
  const kept = map.get(key);
  if (kept !== undefined) return kept;
  const made = make();
  map.set(key, made);
  return made;
}

/** What is read on a line in a position with some faults, each made of what those before it left. @param {Pick<Sheet, "net" | "good" | "rows" | "positions" | "lines">} sheet @param {Fault[]} faults @param {number} line @param {number} at @param {ReadingRules} rules @returns {Expected} */
export function cellOf(sheet, faults, line, at, rules) {
  const raw = sheet.rows[sheet.net.raw[line]][at];
  const moved = at + faults.reduce((sum, [kind]) => sum + (kind === "detent+" ? 1 : kind === "detent-" ? -1 : 0), 0);
  /** @type {Expected} */
  let found;
  if (moved >= 0 && moved < sheet.positions.length) found = atPosition(sheet, faults, line, moved, rules);
  else {
    // There is no position beyond the last: the switch stays in it, or is out of all contacts.
    const own = atPosition(sheet, faults, line, at, rules);
    found = own === null || own === 0 ? own : { either: [own, 0] };
  }
  return same(found, raw) ? sheet.rows[sheet.good[line]][at] : found;
}

/** @param {Pick<Sheet, "net" | "rows" | "positions" | "lines">} sheet @param {Fault[]} faults @param {number} line @param {number} at @param {ReadingRules} rules @returns {Expected} */
function atPosition(sheet, faults, line, at, rules) {
  const { effects, names, done } = keptOf(sheet.net);
  /** @type {Effect[]} */
  const made = [];
  let key = `${line}/${at}`;
  for (const fault of faults) {
    const effect = once(effects, fault, () => sheet.positions.map((_, place) => effectOf(sheet, fault, place, rules)))[at];
    if (!effect) continue;
    made.push(effect);
    key += `/${once(names, effect, () => String(effect))}`;
  }
  if (!made.length) return sheet.rows[sheet.net.raw[line]][at];
  return once(done, key, () => reckoned(sheet, line, at, made, rules));
}

/** @param {Pick<Sheet, "net" | "positions">} sheet @param {Fault} fault @param {number} at @param {ReadingRules} rules @returns {Effect | null} */
function effectOf({ net, positions }, [kind, about, , , , contact], at, rules) {
  const sets = setsOf(kind, rules);
  if (contact !== null && kind !== "drift" && sets) {
    const now = net.contacts[contact][6][at];
    const elsewhere = about.length > 2 && about[2] !== positions[at];
    const noPath = kind === "resistance" && (now === null || now === "open");
    const unchanged = sets[0] === sets[1] && sets[0] === (now === "open" ? Infinity : now);
    return elsewhere || noPath || unchanged ? null : ["set", contact, ...sets];
  }
  if (kind === "drift") return ["drift", net.contacts[Number(contact)][2]];
  if (sets) return ["path", about[0], kind === "grounded" ? CASE : about[1], ...sets];
  return kind in NAMES ? [NAMES[kind], ...about] : null;
}

/** @param {Pick<Sheet, "net" | "lines">} sheet @param {number} line @param {number} at @param {Effect[]} effects @param {ReadingRules} rules @returns {Expected} */
function reckoned({ net, lines }, line, at, effects, rules) {
  const kept = keptOf(net);
  const isMoved = effects.some(([name]) => name === "lost" || name === "swap" || name === "path");
  const meets = isMoved ? new Map(kept.meets) : kept.meets;
  /** @type {Map<number, [number, number]>} */
  const sets = new Map();
  /** @type {[a: string, b: string, least: number, most: number][]} */
  const paths = [];
  /** @type {[string, string][]} */
  const shunts = [];
  let drifting = -1;
  /** No pin has a blank in its label. @param {string} terminal */
  const off = (terminal) => `off ${terminal}`;
  for (const [name, ...what] of effects) {
    const [one, other] = what.map(String);
    if (name === "set") sets.set(Number(what[0]), [Number(what[1]), Number(what[2])]);
    if (name === "path") {
      // A terminal that meets no pin is a node of its own, from which a path may still lead on.
      for (const end of [one, other]) if (!meets.has(end)) meets.set(end, off(end));
      paths.push([String(meets.get(one)), String(meets.get(other)), Number(what[2]), Number(what[3])]);
    }
    if (name === "lost") meets.set(one, off(one));
    if (name === "swap") {
      const [first, second] = [meets.get(one), meets.get(other)];
      for (const [terminal, pin] of /** @type {[string, string | undefined][]} */ ([[one, second], [other, first]])) {
        if (pin === undefined) meets.delete(terminal);
        else meets.set(terminal, pin);
      }
    }
    if (name === "drift") drifting = Number(what[0]);
    if (name === "beside") shunts.push([one, other]);
  }
  const [a, b] = lines[line];
  const tied = b === OTHERS;
  const start = meets.get(a);
  if (tied && (start === undefined || net.powered.includes(a))) return null;
  const ends = (tied ? (net.tied[a] ?? []) : [b]).flatMap((one) => meets.get(one) ?? []);
  if (start === undefined || !ends.length) return 0;
  // No path leads to a terminal that is lost, whatever else may not be known.
  /** @param {string} pin */
  const isReached = (pin) => kept.pins.has(pin) || paths.some(([one, other]) => one === pin || other === pin);
  if (isMoved && (!isReached(start) || !ends.some(isReached))) return 0;
  const doubted = net.loose.length > 0 && [start, ...ends].some((one) => net.loose.includes(one));
  /** @param {0 | 1} most @param {number} factor @param {[string, string][]} more @returns {[Expected, boolean]} */
  const readAt = (most, factor, more) => {
    /** @type {Link[]} */
    const links = [];
    for (const [place, [one, other, bundle, ladder, oneWay, percent, states]] of net.contacts.entries()) {
      if (tied && ends.includes(one) && ends.includes(other)) continue; // the tie bridges it
      const set = sets.get(place);
      const stated = states[at];
      const ohms = set ? set[most] : stated === "open" ? Infinity : stated;
      if (ohms === Infinity) continue;
      const drifts = Boolean(ladder) && bundle === drifting && !set;
      links.push([one, other, drifts && ohms ? ohms * factor : ohms, ladder || !set ? percent : rules.widest_percent, Boolean(oneWay), drifts]);
    }
    for (const [one, other, ...ohms] of paths) links.push([one, other, ohms[most], rules.widest_percent, false, false]);
    for (const [one, other] of more) links.push([one, other, most ? rules.open_above : rules.closed_below, rules.widest_percent, false, false]);
    for (const end of ends.slice(1)) links.push([ends[0], end, 0, rules.widest_percent, false, false]);
    const [read, alone] = between(links, start, ends[0], rules);
    return [read !== 1 && (doubted || (tied && net.electronics && Array.isArray(read))) ? null : read, alone];
  };
  const isSoft = [...sets.values(), ...paths.map((path) => path.slice(2))].some(([least, most]) => least !== most);
  /** @param {[string, string][]} more @returns {Expected} */
  const shown = (more) => {
    const [low, alone] = readAt(0, 1, more);
    const high = more.length || isSoft ? readAt(1, 1, more)[0] : low;
    if (drifting < 0) return spanned(low, high, rules);
    if (same(low, high) && (alone || !Array.isArray(low))) return times(low, rules);
    // Not all that is read has drifted: it lies between what the least and the most would make.
    return spanned(readAt(0, rules.drift[0], more)[0], readAt(1, rules.drift[1], more)[0], rules);
  };
  /** @type {Expected} */
  let found;
  // The same for all readings is what lies beside where the meter sees the two ends of one such path, and no other.
  if (shunts.length === 1 && ends.some((end) => (start === shunts[0][0] && end === shunts[0][1]) || (start === shunts[0][1] && end === shunts[0][0]))) found = beside(shown([]), rules);
  else found = shown(shunts);
  return effects.some(([name]) => name === "worn") ? worn(found, rules) : found;
}

/** In which order two faults are made, each way where that matters; of two of one contact what breaks it comes last. @param {Fault} one @param {Fault} other @param {ReadingRules} rules @returns {[Fault, Fault][]} */
export function orders(one, other, rules) {
  if (one[5] !== null && one[5] === other[5]) {
    return [rules.kinds.indexOf(one[0]) < rules.kinds.indexOf(other[0]) ? [other, one] : [one, other]];
  }
  const shared = terminalsOf(one).some((end) => terminalsOf(other).includes(end));
  const matters = shared && (MOVED.has(one[0]) || MOVED.has(other[0]));
  return matters ? [[one, other], [other, one]] : [[one, other]];
}

/** @param {Fault} fault */
const terminalsOf = ([kind, ends]) => (kind === "grounded" ? [...ends, CASE] : MOVED.has(kind) || SHORTS.has(kind) ? ends : []);
