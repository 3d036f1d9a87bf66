// What readings tell, by the signatures and the rules that were written down in Python. Pure functions; `rangebook.electrics.diagnosis` is
// the original of the comparison and `rangebook.desk.prove.parse_ohms` that of the reading of numbers: a test holds them to each other.

import { ALONE, cellOf, orders, SHORTS, same, settled } from "./together.js";

/** @import { Expected, ReadingRules, Sheet } from "../types/data.js" */
/** Readings by the places of their line and position. @typedef {[line: number, position: number, ohms: number][]} Readings */

/** What a meter shows -> ohms, infinite for no path, null where it cannot be understood. @param {string} text @param {ReadingRules} rules */
export function parseOhms(text, rules) {
  if (rules.no_path.includes(text.trim().toLowerCase())) return Infinity;
  const found = new RegExp(`^(?:${rules.number})$`).exec(text);
  if (!found || new RegExp(`^(?:${rules.unclear})`).test(text)) return null;
  return Number(found[1].replace(",", ".")) * rules.factors[found[2]];
}

const ROUNDING = 1e-9;

const STEPS = 60;

/** @param {Span} one @param {Span} other @returns {Span} */
const met = (one, other) => [Math.max(one[0], other[0]), Math.min(one[1], other[1])];

/** From where to where the siemens beside would have to be for a reading, with the resistance itself divided `by`. @param {Common} cell @param {number} ohms @param {number} by @param {ReadingRules} rules @returns {Span} */
function siemensBeside({ common: [low, high] }, ohms, by, rules) {
  if (ohms <= 0) return [Infinity, Infinity];
  const read = 1 / ohms;
  const least = low !== null && low <= 0 ? Infinity : by / ((low ?? Infinity) * (1 - ROUNDING));
  return [read * (1 - rules.meter) - least, read * (1 + rules.meter) - by / ((high ?? Infinity) * (1 + ROUNDING))];
}

/** Whether one factor with one resistance beside makes all readings. @param {[Common, number][]} read @param {Spans} spans @param {ReadingRules} rules */
function makesAll(read, { factor, beside }, rules) {
  // How much room a factor leaves to the resistance beside rises and falls once.
  const room = (/** @type {number} */ by) => {
    const [low, high] = read.reduce((left, [cell, ohms]) => met(left, siemensBeside(cell, ohms, by, rules)), beside);
    return low < Infinity ? high - low : -Infinity;
  };
  let [low, high] = [1 / factor[1], 1 / factor[0]];
  for (let step = 0; step < STEPS; step += 1) {
    const [one, other] = [low + (high - low) / 3, high - (high - low) / 3];
    if (room(one) >= 0 || room(other) >= 0) return true;
    [low, high] = room(one) < room(other) ? [one, high] : [low, other];
  }
  return false;
}

/** Between what the factor, and the siemens beside, that are the same for all readings would have to be; null where none makes all. @param {[Common, number][]} read @param {ReadingRules} rules @returns {Spans | null} */
function spansOf(read, rules) {
  /** @type {Spans} */
  let { factor, beside } = { factor: rules.drift, beside: rules.shunt };
  for (const [cell, ohms] of read) {
    const [low, high, times, isBeside] = cell.common;
    if (!isBeside) factor = met(factor, [ohms / (Number(high) * (1 + ROUNDING)), ohms / (Number(low) * (1 - ROUNDING))]);
    else if (!times) beside = met(beside, siemensBeside(cell, ohms, 1, rules));
  }
  if (factor[0] > factor[1] || beside[0] > beside[1]) return null;
  const both = read.filter(([{ common }]) => common[2] && common[3]);
  return !both.length || makesAll(both, { factor, beside }, rules) ? { factor, beside } : null;
}

/** @param {Expected} cell @returns {cell is Common} */
const isCommon = (cell) => typeof cell === "object" && cell !== null && "common" in cell;

/** Whether a reading can be what is expected. @param {Expected} expected @param {number} ohms @param {ReadingRules} rules @returns {boolean} */
export function fits(expected, ohms, rules) {
  if (expected === null) return true;
  if (Array.isArray(expected)) {
    const [nominal, percent] = expected;
    const slack = nominal * (Math.min(percent, rules.widest_percent) / 100 + ROUNDING);
    return Math.abs(ohms - nominal) <= slack || (nominal < rules.closed_below && ohms < rules.closed_below);
  }
  if (typeof expected === "number") return expected === 1 ? ohms < rules.closed_below : ohms > rules.open_above;
  if ("between" in expected) {
    const [low, high] = expected.between;
    return low * (1 - ROUNDING) <= ohms && ohms <= (high ?? Infinity) * (1 + ROUNDING);
  }
  if ("either" in expected) return expected.either.some((one) => fits(one, ohms, rules));
  return spansOf([[expected, ohms]], rules) !== null;
}

/** A reading that stands for a cell, null where it could be anything. @param {Expected} cell @param {ReadingRules} rules @returns {number | null} */
function likely(cell, rules) {
  if (typeof cell === "object" && cell !== null && "either" in cell) return likely(cell.either[0], rules);
  if (cell === null || isCommon(cell)) return null;
  if (Array.isArray(cell)) return cell[0];
  if (typeof cell === "number") return cell === 1 ? 0.1 : Infinity;
  const [low, high] = cell.between;
  return Math.sqrt(Math.max(low, rules.closed_below) * Math.min(high ?? Infinity, rules.open_above));
}

/** @typedef {Pick<Sheet, "known" | "good" | "rows" | "lines" | "insulation" | "positions" | "net">} Proving */
/** One fault, or two, that explain all readings; a leak, the good part and one not proved have no rows. @typedef {{ kind: string, ends: string[], of?: Told[] }} Told */
/** @typedef {[low: number, high: number]} Span */
/** @typedef {{ factor: Span, beside: Span }} Spans */
/** @typedef {Extract<Expected, { common: unknown }>} Common */
/** @typedef {Sheet["known"][number]} Fault */
/** A fault that no reading refutes, with what they leave of what is the same for all of them. @typedef {[fault: Fault, spans: Spans]} Held */
/** One that the readings do not refute by itself, and which of the wrong ones it explains. @typedef {{ fault: Fault, changed: Map<number, number>, clears: Set<number>, spans: Spans }} Clear */

/**
 * What explains all the readings: the good part, each single fault, a leak, or two faults that lie apart; `not_proved` in place of `good`
 * until the insulation is read. `next` is the line and position to read to tell them apart.
 * @param {Proving} sheet @param {Readings} readings @param {ReadingRules} rules @returns {{ told: Told[], next: [line: number, position: number] | null }}
 */
export function explain(sheet, readings, rules) {
  const wrong = new Set([...readings.keys()].filter((place) => !fits(expected(sheet, readings[place][0], readings[place][1]), readings[place][2], rules)));
  const clears = sheet.known.flatMap((fault) => cleared(sheet, fault, readings, wrong, rules) ?? []);
  const single = clears.filter((one) => one.clears.size === wrong.size);
  const insulated = sheet.insulation.map(([line]) => line);
  /** @param {number} line */
  const output = (line) => sheet.lines[line][0];
  if (!wrong.size) {
    const left = insulated.filter((line) => sheet.positions.some((_, at) => expected(sheet, line, at) !== null && !readings.some((one) => one[0] === line && one[1] === at)));
    const first = left.length ? { kind: "not_proved", ends: left.map(output) } : { kind: "good", ends: [] };
    return { told: [first, ...single.filter(({ fault }) => fault[6]).map(({ fault }) => toldOf(fault)).filter((one) => rules.beside_good.includes(one.kind))], next: null };
  }
  if (single.length) return { told: onePath(single.map(({ fault }) => toldOf(fault))), next: nextReading(sheet, single.map((one) => [[one.fault, one.spans]]), readings, rules) };
  const bad = [...wrong].map((place) => readings[place]);
  const leaking = insulated.filter((line) => bad.some((one) => one[0] === line)).map(output);
  const explained = bad.every(([line, at]) => expected(sheet, line, at) === 0 && sheet.lines[line].slice(0, 2).some((end) => leaking.includes(String(end))));
  if (leaking.length && explained) return { told: leaking.map((one) => ({ kind: "leak", ends: [one] })), next: null };
  const pairs = [...apartOf(clears.filter((one) => one.clears.size), wrong), ...togetherOf(sheet, readings, wrong, rules)];
  return { told: pairs.map((both) => ({ kind: "pair", ends: [], of: both.map(([fault]) => toldOf(fault)) })), next: nextReading(sheet, pairs, readings, rules) };
}

/** @param {Fault} fault @returns {Told} */
const toldOf = ([kind, ends]) => ({ kind, ends });

/**
 * Which wrong readings a fault explains; null if it is refuted on a line that it changes.
 * @param {Proving} sheet @param {Fault} fault @param {Readings} readings @param {Set<number>} wrong @param {ReadingRules} rules @returns {Clear | null}
 */
function cleared(sheet, fault, readings, wrong, rules) {
  const changed = changedBy(fault);
  /** @type {[Common, number][]} */
  const common = [];
  const found = new Set();
  for (const [place, [line, at, ohms]] of readings.entries()) {
    const cell = changedAt(sheet, changed, line, at);
    if (cell === undefined) continue;
    if (isCommon(cell)) common.push([cell, ohms]);
    else if (!fits(cell, ohms, rules)) return null;
    if (wrong.has(place)) found.add(place);
  }
  const spans = spansOf(common, rules);
  return spans && { fault, changed, clears: found, spans };
}

/** @param {Fault} fault the place of its row for each line that reads otherwise */
function changedBy(fault) {
  /** @type {Map<number, number>} */
  const changed = new Map();
  for (let at = 0; at < fault[2].length; at += 2) changed.set(fault[2][at], fault[2][at + 1]);
  return changed;
}

/** Shorts and leaks from one terminal to this or that other one are one path of that terminal. @param {Told[]} found @returns {Told[]} */
function onePath(found) {
  const paths = found.filter((one) => SHORTS.has(one.kind));
  if (paths.length < 2) return found;
  const ends = paths.map((one) => (one.kind === "grounded" ? [...one.ends, "case"] : one.ends));
  const shared = ends[0].filter((end) => ends.every((one) => one.includes(end)));
  return shared.length === 1 ? [...found.filter((one) => !paths.includes(one)), { kind: "leak", ends: shared }] : found;
}

/** What is read with a fault, undefined where that is as on a good part. @param {Proving} sheet @param {Map<number, number>} changed @param {number} line @param {number} at @returns {Expected | undefined} */
function changedAt(sheet, changed, line, at) {
  const row = changed.get(line);
  if (row === undefined) return undefined;
  const cell = sheet.rows[row][at];
  return same(cell, expected(sheet, line, at)) ? undefined : cell;
}

/** Whether two faults change nothing of each other's: they have no bundle in common, or no position. @param {Sheet["known"][number]} one @param {Sheet["known"][number]} other */
function apart([, , , zone, acts], [, , , beyond, there]) {
  if (!zone || !beyond) return false;
  return !zone.some((each) => beyond.includes(each)) || (acts !== null && there !== null && !acts.some((at) => there.includes(at)));
}

/** Two faults that lie apart and explain together what neither does alone. @param {Clear[]} clears @param {Set<number>} wrong @returns {[Held, Held][]} */
function apartOf(clears, wrong) {
  /** @type {[Held, Held][]} */
  const found = [];
  for (const [place, one] of clears.entries()) {
    for (const other of clears.slice(place + 1)) {
      if ([...wrong].every((each) => one.clears.has(each) || other.clears.has(each)) && apart(one.fault, other.fault)) {
        found.push([[one.fault, one.spans], [other.fault, other.spans]]);
      }
    }
  }
  return found;
}

/** The same of two that do not lie apart: what is read with both is reckoned anew. @param {Proving} sheet @param {Readings} readings @param {Set<number>} wrong @param {ReadingRules} rules @returns {[Held, Held][]} */
function togetherOf(sheet, readings, wrong, rules) {
  const first = readings.filter((_, place) => wrong.has(place));
  const order = [...first, ...readings.filter((_, place) => !wrong.has(place))];
  const able = sheet.known.filter(([kind]) => !ALONE.has(kind)).map((fault) => ({ fault, touched: touchedBy(sheet, fault, first) }));
  const places = [...first.keys()];
  /** @type {[Held, Held][]} */
  const found = [];
  for (const [place, one] of able.entries()) {
    for (let next = place + 1; next < able.length; next += 1) {
      const other = able[next];
      if (!places.every((each) => one.touched[each] || other.touched[each]) || apart(one.fault, other.fault)) continue;
      for (const both of orders(one.fault, other.fault, rules)) {
        const spans = spansOfBoth(sheet, both, order, rules);
        if (spans) {
          found.push([[both[0], spans], [both[1], spans]]);
          break;
        }
      }
    }
  }
  return found;
}

/** Of each reading whether a fault can have a part in it. @param {Proving} sheet @param {Fault} fault @param {Readings} readings */
function touchedBy({ net }, [, , , zone, acts], readings) {
  return readings.map(([line, at]) => zone === null || (zone.some((each) => net.zones[line].includes(each)) && (acts === null || acts.includes(at))));
}

/** What is left of what is common to all readings if two faults explain them; null if they do not. @param {Proving} sheet @param {Fault[]} both @param {Readings} readings @param {ReadingRules} rules */
function spansOfBoth(sheet, both, readings, rules) {
  /** @type {[Common, number][]} */
  const common = [];
  for (const [line, at, ohms] of readings) {
    const cell = cellOf(sheet, both, line, at, rules);
    if (isCommon(cell)) common.push([cell, ohms]);
    else if (!fits(cell, ohms, rules)) return null;
  }
  return isOneStep(sheet, both, readings, rules) ? spansOf(common, rules) : null;
}

/** Whether a step of a ladder that is wrong reads the same wherever it is read: with the switch a detent off, and at its end, two positions of the lever are one of the switch. @param {Proving} sheet @param {Fault[]} both @param {Readings} readings @param {ReadingRules} rules */
function isOneStep(sheet, both, readings, rules) {
  const shift = both.reduce((sum, [kind]) => sum + (kind === "detent+" ? 1 : kind === "detent-" ? -1 : 0), 0);
  if (!shift || both.every(([kind]) => kind !== "step_wrong")) return true;
  const end = shift > 0 ? sheet.positions.length - 1 : 0;
  const own = new Map(readings.filter(([, at, ohms]) => at === end && ohms <= rules.open_above).map(([line, , ohms]) => [line, ohms]));
  return readings.every(([line, at, ohms]) => {
    const first = own.get(line);
    // What a meter may show of one resistance.
    return at !== end - shift || first === undefined || Math.abs(first - ohms) <= 2 * rules.meter * Math.max(first, ohms, rules.closed_below / rules.meter);
  });
}

/** What is read with some faults together, from what is known of them by now. @param {Proving} sheet @param {Held[]} some @param {number} line @param {number} at @param {ReadingRules} rules @returns {Expected} */
function readWith(sheet, some, line, at, rules) {
  const [one, other] = some;
  if (other && !apart(one[0], other[0])) {
    const cell = cellOf(sheet, [one[0], other[0]], line, at, rules);
    return isCommon(cell) ? settled(cell, one[1].factor, one[1].beside) : cell;
  }
  for (const [fault, spans] of some) {
    const cell = changedAt(sheet, changedBy(fault), line, at);
    if (cell !== undefined) return isCommon(cell) ? settled(cell, spans.factor, spans.beside) : cell;
  }
  return expected(sheet, line, at);
}

/**
 * The reading not yet taken after which fewest would be left on average.
 * @param {Proving} sheet @param {Held[][]} all @param {Readings} readings @param {ReadingRules} rules @returns {[line: number, position: number] | null}
 */
function nextReading(sheet, all, readings, rules) {
  const left = all.slice(0, rules.most_compared);
  const done = new Set(readings.map(([line, at]) => `${line}/${at}`));
  /** @type {[number, number] | null} */
  let best = null;
  let least = left.length ** 2;
  for (const line of sheet.lines.keys()) {
    for (const at of sheet.positions.keys()) {
      const good = expected(sheet, line, at);
      if (good === null || done.has(`${line}/${at}`)) continue;
      /** @type {Map<string, [cell: Expected, count: number]>} */
      const alike = new Map();
      for (const some of left) {
        const cell = readWith(sheet, some, line, at, rules);
        const key = JSON.stringify(cell);
        alike.set(key, [cell, (alike.get(key)?.[1] ?? 0) + 1]);
      }
      let score = 0;
      for (const [cell, count] of alike.values()) {
        const ohms = likely(cell, rules);
        for (const [other, number] of alike.values()) if (ohms === null || fits(other, ohms, rules)) score += count * number;
      }
      if (score < least) [best, least] = [[line, at], score];
    }
  }
  return best;
}

/**
 * The same where some readings were taken once for several positions. One of these that is as it should be is so in all of them; one that
 * is not was so in one or more, nobody knows which: then `sure`, the others, name the fault if they show one.
 * @param {Proving} sheet @param {Readings} readings @param {Readings} sure @param {ReadingRules} rules
 */
export function explainTogether(sheet, readings, sure, rules) {
  if (sure.length === readings.length) return explain(sheet, readings, rules);
  const by = explain(sheet, sure, rules);
  return by.told.some(({ kind }) => kind === "good" || kind === "not_proved") || !by.told.length ? explain(sheet, readings, rules) : by;
}

/** What should be read on one line in one position. @param {Pick<Sheet, "good" | "rows">} sheet @param {number} line @param {number} at */
export function expected(sheet, line, at) {
  return sheet.rows[sheet.good[line]][at];
}
