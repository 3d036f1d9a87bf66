// What readings tell, by the signatures and the rules that were written down in Python. Pure functions; `rangebook.electrics.diagnosis` is
// the original of the comparison and `rangebook.desk.prove.parse_ohms` that of the reading of numbers: a test holds them to each other.

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

/** From where to where the factor, or the siemens beside, would have to be for a reading. @param {Common} cell @param {number} ohms @param {ReadingRules} rules @returns {Span} */
function windowOf(cell, ohms, rules) {
  if ("times" in cell) {
    const [nominal, percent] = cell.times;
    const slack = percent / 100 + ROUNDING;
    return [ohms / (nominal * (1 + slack)), ohms / (nominal * (1 - slack))];
  }
  const [nominal, percent] = cell.beside;
  const slack = percent / 100 + ROUNDING;
  const read = ohms > 0 ? 1 / ohms : Infinity;
  const least = read - 1 / ((nominal ?? Infinity) * (1 - slack));
  const most = read - 1 / ((nominal ?? Infinity) * (1 + slack));
  return [least - rules.meter * read, most + rules.meter * read];
}

/** What would be read with a factor, or siemens beside, between two values. @param {Common} cell @param {Spans} spans @returns {Expected} */
function settled(cell, spans) {
  if ("times" in cell) {
    const [nominal, percent] = cell.times;
    return { between: [nominal * (1 - percent / 100) * spans.times[0], nominal * (1 + percent / 100) * spans.times[1]] };
  }
  const [nominal, percent] = cell.beside;
  const [low, high] = spans.beside;
  return { between: [1 / (1 / ((nominal ?? Infinity) * (1 - percent / 100)) + high), 1 / (1 / ((nominal ?? Infinity) * (1 + percent / 100)) + low)] };
}

/** @param {Expected} cell @returns {cell is Common} */
const isCommon = (cell) => typeof cell === "object" && cell !== null && ("times" in cell || "beside" in cell);

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
  const [low, high] = windowOf(expected, ohms, rules);
  const [least, most] = "times" in expected ? rules.drift : rules.shunt;
  return Math.max(low, least) <= Math.min(high, most);
}

/** A reading that stands for a cell, null where it could be anything. @param {Expected} cell @param {ReadingRules} rules @returns {number | null} */
function likely(cell, rules) {
  if (cell === null || isCommon(cell)) return null;
  if (Array.isArray(cell)) return cell[0];
  if (typeof cell === "number") return cell === 1 ? 0.1 : Infinity;
  if ("either" in cell) return likely(cell.either[0], rules);
  const [low, high] = cell.between;
  return Math.sqrt(Math.max(low, rules.closed_below) * Math.min(high ?? Infinity, rules.open_above));
}

/** @typedef {Pick<Sheet, "known" | "good" | "rows" | "lines" | "insulation" | "positions">} Proving */
/** One fault, or two, that explain all readings; a leak, the good part and one not proved have no rows. @typedef {{ kind: string, ends: string[], of?: Told[] }} Told */
/** @typedef {[low: number, high: number]} Span */
/** @typedef {{ times: Span, beside: Span }} Spans */
/** @typedef {{ times: [ohms: number, percent: number] } | { beside: [ohms: number | null, percent: number] }} Common */
/** A fault that no reading refutes, which of the wrong ones it explains, and how much it does. @typedef {{ fault: Sheet["known"][number], changed: Map<number, number>, clears: Set<number>, spans: Spans }} Clear */

/** The kinds that are paths from one pin to this or that other one. */
const SHORTS = new Set(["shorted", "grounded", "leakage"]);

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
    return { told: [first, ...single.map(toldOf).filter((one) => rules.beside_good.includes(one.kind))], next: null };
  }
  if (single.length) return { told: onePath(single.map(toldOf)), next: nextReading(sheet, single.map((one) => [one]), readings, rules) };
  const bad = [...wrong].map((place) => readings[place]);
  const leaking = insulated.filter((line) => bad.some((one) => one[0] === line)).map(output);
  const explained = bad.every(([line, at]) => expected(sheet, line, at) === 0 && sheet.lines[line].slice(0, 2).some((end) => leaking.includes(String(end))));
  if (leaking.length && explained) return { told: leaking.map((one) => ({ kind: "leak", ends: [one] })), next: null };
  const pairs = pairsOf(clears.filter((one) => one.clears.size), wrong);
  return { told: pairs.map((both) => ({ kind: "pair", ends: [], of: both.map(toldOf) })), next: nextReading(sheet, pairs, readings, rules) };
}

/** @param {Clear} one @returns {Told} */
const toldOf = ({ fault: [kind, ends] }) => ({ kind, ends });

/**
 * Which wrong readings a fault explains; null if it is refuted on a line that it changes.
 * @param {Proving} sheet @param {Sheet["known"][number]} fault @param {Readings} readings @param {Set<number>} wrong @param {ReadingRules} rules @returns {Clear | null}
 */
function cleared(sheet, fault, readings, wrong, rules) {
  /** @type {Map<number, number>} */
  const changed = new Map();
  for (let at = 0; at < fault[2].length; at += 2) changed.set(fault[2][at], fault[2][at + 1]);
  /** @type {Spans} */
  const spans = { times: [...rules.drift], beside: [...rules.shunt] };
  const found = new Set();
  for (const [place, [line, at, ohms]] of readings.entries()) {
    const cell = changedAt(sheet, changed, line, at);
    if (cell === undefined) continue;
    if (isCommon(cell)) {
      // One factor, or one resistance beside, for all readings.
      const kind = "times" in cell ? "times" : "beside";
      const [least, most] = windowOf(cell, ohms, rules);
      spans[kind] = [Math.max(spans[kind][0], least), Math.min(spans[kind][1], most)];
      if (spans[kind][0] > spans[kind][1]) return null;
    } else if (!fits(cell, ohms, rules)) return null;
    if (wrong.has(place)) found.add(place);
  }
  return { fault, changed, clears: found, spans };
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
  return JSON.stringify(cell) === JSON.stringify(expected(sheet, line, at)) ? undefined : cell;
}

/** Whether two faults change nothing of each other's: they have no bundle in common, or no position. @param {Sheet["known"][number]} one @param {Sheet["known"][number]} other */
function apart([, , , zone, acts], [, , , beyond, there]) {
  if (!zone || !beyond) return false;
  return !zone.some((each) => beyond.includes(each)) || (acts !== null && there !== null && !acts.some((at) => there.includes(at)));
}

/** Two faults that lie apart and explain together what neither does alone. @param {Clear[]} clears @param {Set<number>} wrong @returns {[Clear, Clear][]} */
function pairsOf(clears, wrong) {
  /** @type {[Clear, Clear][]} */
  const found = [];
  for (const [place, one] of clears.entries()) {
    for (const other of clears.slice(place + 1)) {
      if (!apart(one.fault, other.fault)) continue;
      if ([...wrong].every((each) => one.clears.has(each) || other.clears.has(each))) found.push([one, other]);
    }
  }
  return found;
}

/**
 * The reading not yet taken after which fewest would be left on average.
 * @param {Proving} sheet @param {Clear[][]} all @param {Readings} readings @param {ReadingRules} rules @returns {[line: number, position: number] | null}
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
        const one = some.find((each) => changedAt(sheet, each.changed, line, at) !== undefined);
        const read = one ? sheet.rows[Number(one.changed.get(line))][at] : good;
        const cell = one && isCommon(read) ? settled(read, one.spans) : read;
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
