// Which switch it is, from what is in the hand: filters the table of the book and picks the question that splits the rest best.
// Pure functions of the table and of a state (`{id of a question: answer}`, null for "can't tell"), the same as
// rangebook.desk.identify, whose docstring has the ids and the answers. Nothing here knows of the page, and nothing judges.

/** @import { IdentifyData, IdentifyWords } from "../types/data.js" */
/** What was tapped on a face. @typedef {{ face: string, yes: string[], no: string[] }} Pattern */
/** @typedef {string | number | boolean} Choice */
/** @typedef {Choice | number[] | Pattern | null} Fact */
/** @typedef {Record<string, Fact>} State */
/** @typedef {{ id: string, title: string, outline: string, rows: (string | null)[][], cavities: string[] }} Face */
/** @typedef {{ vehicle: number | null, first: number | null, last: number | null, gearboxes: number[] }} Ride */
/** @typedef {{ face: number | null, must: string | null, may: string | null, fewest: number | null, most: number | null, seat: string | null, rides: Ride[] }} Place */
/** @typedef {{ number: string, family: number, face: number | null, pins: string | null, mounting: number | null, marks: number[], places: number[] }} Row */
/** @typedef {{ bolts: number | null, shaft: string | null, across_mm: number | null }} Mounting */
/**
 * @typedef {{
 *   families: string[], faces: Face[], faceAt: Map<string, number>, mountings: Mounting[], marks: string[], gearboxes: string[],
 *   vehicles: string[], places: Place[], rows: Row[], newest: number, words: IdentifyWords, shaftMm: number,
 * }} Table
 */
/** The parts that agree, what each may have come off, and why the others do not agree. @typedef {{ rows: number[], places: Map<number, number[]>, aside: Map<number, string> }} Narrowed */
/** @typedef {{ id: string, kind: "yes_no" | "size" | "cavities" | "choice", face: string | null, words: string, answers: [Choice, string][], families: number, parts: number }} Question */
/** @typedef {{ id: string, state: State, rows: number[] }} Mirrored */
/** What would be answered truly of one part, and whether it also stays with any other answer. @typedef {{ answers: Choice[], open: boolean }} Seen */

export const OTHER = "other";
export const STAMPED = "stamped:";
export const TOGETHER = "together";

/** Something of a family was asked for that has not been loaded. */
export class NotLoaded extends Error {}

const ROUNDING_MM = 1e-6;
const MOST_OPTIONAL = 4;
const PART_FACTS = ["outline", "cavities", "face", "pins", "bolts", "shaft", "across_mm"];
const PLUG_FACTS = ["wires", "wired"];
const VEHICLE_FACTS = ["gearbox", "vehicle", "year"];
const LOOKED_AT = ["outline", "cavities", "face", "pins", "wires", "wired", "bolts", "shaft"];
const MEASURED = ["across_mm"];

/** The table as it was sent, each list as an object with the names of its fields. @param {IdentifyData} data @returns {Table} */
export function openTable(data) {
  const faces = data.faces.map(([id, title, outline, rows]) => ({ id, title, outline, rows, cavities: rows.flat().filter((label) => label !== null) }));
  /** @type {Place[]} */
  const places = data.places.map(([face, must, may, fewest, most, rides, seat]) => ({
    ...{ face, must, may, fewest, most, seat },
    rides: rides.map(([vehicle, first, last, gearboxes]) => ({ vehicle, first, last, gearboxes })),
  }));
  const years = places.flatMap((place) => place.rides.flatMap((ride) => [ride.first ?? 0, ride.last ?? 0]));
  return {
    families: data.families,
    faces,
    faceAt: new Map(faces.map((face, at) => [face.id, at])),
    mountings: data.mountings.map(([bolts, shaft, across_mm]) => ({ bolts, shaft, across_mm })),
    marks: data.marks,
    gearboxes: data.gearboxes,
    vehicles: data.vehicles,
    places,
    rows: data.rows.map(([number, family, face, pins, mounting, marks, own]) => ({ ...{ number, family, face, pins, mounting, marks }, places: own })),
    newest: years.reduce((most, year) => Math.max(most, year), 0),
    words: data.words,
    shaftMm: data.shaft_mm,
  };
}

/** @param {string} name */
const isPart = (name) => PART_FACTS.includes(name) || name.startsWith(STAMPED);

/**
 * The parts that agree with every fact.
 * @param {Table} table
 * @param {State} state
 * @returns {Narrowed}
 */
export function narrow(table, state) {
  const known = Object.entries(state).filter(([, value]) => value !== null);
  const ofPart = known.filter(([name]) => isPart(name));
  const ofPlug = known.filter(([name]) => PLUG_FACTS.includes(name));
  const ofVehicle = Object.fromEntries(known.filter(([name]) => VEHICLE_FACTS.includes(name)));
  /** @param {Place} place */
  const agrees = (place) => ofPlug.every(([name, value]) => plugAgrees(table, place, name, value)) && place.rides.some((ride) => rideAgrees(table, ride, ofVehicle));
  /** Of what parts have in common, each is looked at once, and only where nothing is against the part. @type {(boolean | undefined)[]} */
  const alive = [];
  /** @param {number} at */
  const isAlive = (at) => (alive[at] ??= agrees(table.places[at]));
  /** @type {Narrowed} */
  const { rows, places, aside } = { rows: [], places: new Map(), aside: new Map() };
  table.rows.forEach((row, at) => {
    let against = ofPart.find(([name, value]) => !partAgrees(table, row, name, value))?.[0] ?? null;
    const left = against === null ? row.places.filter(isAlive) : [];
    if (against === null && !left.length) against = placesAgainst(table, row, ofPlug, ofVehicle);
    if (against === null) {
      rows.push(at);
      places.set(at, left);
    } else aside.set(at, against);
  });
  return { rows, places, aside };
}

/** The families that are left, by their places in the table. @param {Table} table @param {Narrowed} narrowed */
export function familiesOf(table, narrowed) {
  return [...new Set(narrowed.rows.map((at) => table.rows[at].family))].sort((a, b) => a - b);
}

/**
 * The families, by their places, of which more has to be here when something of one has not been loaded: those that are left, at the next turn
 * those that a single answer sets aside as well; then `null`, all.
 * @param {Table} table @param {State} state @param {number} turn
 */
export function wantedFor(table, state, turn) {
  if (turn > 1) return null;
  const seen = Object.entries(state).filter(([id]) => !VEHICLE_FACTS.includes(id));
  const states = [seen, ...(turn ? seen.map((one) => seen.filter((other) => other !== one)) : [])];
  return [...new Set(states.flatMap((one) => familiesOf(table, narrow(table, Object.fromEntries(one)))))];
}

/** @param {Table} table @param {Row} row @param {[string, Fact][]} ofPlug @param {State} ofVehicle */
function placesAgainst(table, row, ofPlug, ofVehicle) {
  const places = row.places.map((at) => table.places[at]);
  for (const [name, value] of ofPlug) {
    if (!places.some((place) => plugAgrees(table, place, name, value))) return name;
  }
  for (const [name, value] of Object.entries(ofVehicle)) {
    if (!places.some((place) => place.rides.some((ride) => rideAgrees(table, ride, { [name]: value })))) return name;
  }
  return TOGETHER;
}

/** @param {Table} table @param {Row} row @param {string} name @param {Fact} value */
function partAgrees(table, row, name, value) {
  if (name.startsWith(STAMPED)) return !row.marks.length || hasMark(table, row, name) === value;
  if (["outline", "cavities", "face", "pins"].includes(name)) {
    if (row.face === null) return true;
    const face = table.faces[row.face];
    if (name === "pins") return isPattern(value) && face.id === value.face && (row.pins === null || patternAgrees(face, row.pins, row.pins, value));
    return value === (name === "outline" ? face.outline : name === "cavities" ? face.cavities.length : face.id);
  }
  const stated = mountingOf(table, row, name);
  if (stated === null) return true;
  if (name === "across_mm") return value !== OTHER && sameSize(table, Number(stated), Number(value));
  return value === stated;
}

/** @param {Fact} value @returns {value is Pattern} */
const isPattern = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** What is stated of how a part bolts on. @param {Table} table @param {Row} row @param {string} name */
function mountingOf(table, row, name) {
  if (row.mounting === null) return null;
  const { bolts, shaft, across_mm } = table.mountings[row.mounting];
  return name === "bolts" ? bolts : name === "shaft" ? shaft : across_mm;
}

/** @param {Table} table @param {Row} row @param {string} name */
const hasMark = (table, row, name) => row.marks.some((mark) => table.marks[mark] === name.slice(STAMPED.length));

/** @param {Table} table @param {number} one @param {number} other */
const sameSize = (table, one, other) => Math.abs(one - other) <= table.shaftMm + ROUNDING_MM;

/** @param {Table} table @param {Place} place @param {string} name @param {Fact} value */
function plugAgrees(table, place, name, value) {
  if (name === "wires") return place.fewest === null || (typeof value === "number" && place.fewest <= value && value <= (place.most ?? value));
  if (place.face === null) return true;
  const face = table.faces[place.face];
  // A plug of which the housing is known has its wires in the table too.
  return isPattern(value) && face.id === value.face && patternAgrees(face, place.must ?? "", place.may ?? "", value);
}

/** @param {Face} face @param {string} must @param {string} may @param {Pattern} pattern */
function patternAgrees(face, must, may, { yes = [], no = [] }) {
  /** @param {string} pattern @param {string} label */
  const has = (pattern, label) => pattern[face.cavities.indexOf(label)] === "1";
  return yes.every((label) => has(may, label)) && !no.some((label) => has(must, label));
}

/** @param {Table} table @param {Ride} ride @param {State} facts */
function rideAgrees(table, ride, { gearbox, vehicle, year }) {
  if (gearbox !== undefined && ride.gearboxes.length && !ride.gearboxes.some((at) => table.gearboxes[at] === gearbox)) return false;
  if (vehicle !== undefined && ride.vehicle !== null && table.vehicles[ride.vehicle] !== vehicle) return false;
  if (year === undefined) return true;
  const { first, last } = ride;
  if (first === null) return true;
  return [year].flat().some((one) => typeof one === "number" && first <= one && (last === null || one <= last));
}

/** Patterns that no part is stated to have and that some part has in mirror image. @param {Table} table @param {State} state @param {Narrowed} narrowed */
export function mirrored(table, state, narrowed) {
  /** @type {Mirrored[]} */
  const found = [];
  for (const id of ["pins", "wired"]) {
    const value = state[id];
    if (value === undefined || !isPattern(value) || !value.yes?.length) continue;
    const at = table.faceAt.get(value.face);
    if (at === undefined || stating(table, id, narrowed).length) continue;
    const turned = turn(table.faces[at], value);
    if (turned === null) continue;
    const other = { ...state, [id]: turned };
    const rows = stating(table, id, narrow(table, other));
    if (rows.length) found.push({ id, state: other, rows });
  }
  return found;
}

/** @param {Table} table @param {string} id @param {Narrowed} narrowed */
function stating(table, id, narrowed) {
  if (id === "pins") return narrowed.rows.filter((at) => table.rows[at].pins !== null);
  return narrowed.rows.filter((at) => placesOf(narrowed, at).some((place) => table.places[place].must !== null));
}

/** The places that are left to a part. @param {Narrowed} narrowed @param {number} at */
const placesOf = (narrowed, at) => narrowed.places.get(at) ?? [];

/** A pattern on a face in mirror image; null where the mirror image of something in it is no cavity. @param {Face} face @param {Pattern} pattern @returns {Pattern | null} */
export function turn(face, { face: id, yes = [], no = [] }) {
  const columns = Math.max(...face.rows.map((row) => row.length));
  /** @type {Map<string, string>} */
  const across = new Map();
  for (const row of face.rows) {
    row.forEach((label, at) => {
      const other = row[columns - 1 - at] ?? null;
      if (label !== null && other !== null) across.set(label, other);
    });
  }
  /** @param {string[]} labels */
  const over = (labels) => labels.flatMap((label) => across.get(label) ?? []);
  return yes.every((label) => across.has(label)) ? { face: id, yes: over(yes), no: over(no) } : null;
}

/**
 * The best question, or null where none splits what is left. `vehicle`: whether the vehicle may be asked for.
 * @param {Table} table
 * @param {State} state
 * @param {boolean} [vehicle]
 * @param {Narrowed} [narrowed]
 * @returns {Question | null}
 */
export function nextQuestion(table, state, vehicle = true, narrowed = narrow(table, state)) {
  for (const ids of rounds(table, narrowed, vehicle)) {
    /** @type {Question | null} */
    let best = null;
    for (const id of ids) {
      const found = ask(table, state, narrowed, id);
      if (found && (best === null || found.families < best.families || (found.families === best.families && found.parts < best.parts))) best = found;
    }
    if (best) return best;
  }
  return null;
}

/**
 * One more question when `nextQuestion` has come to its end, by which a wrong answer would be noticed; null once it is answered.
 * @param {Table} table @param {State} state @param {boolean} [vehicle] @param {Narrowed} [narrowed] @returns {Question | null}
 */
export function confirmingQuestion(table, state, vehicle = true, narrowed = narrow(table, state)) {
  const said = Object.entries(state);
  if (!narrowed.rows.length || !said.some(([, value]) => value !== null)) return null;
  const before = Object.fromEntries(said.slice(0, -1));
  if (narrow(table, before).rows.length < 2 || nextQuestion(table, before, vehicle) === null) return null;
  const missed = setAsideByOne(table, state, narrowed);
  for (const ids of rounds(table, widened(narrowed, missed), vehicle)) {
    let most = 0;
    /** @type {Question | null} */
    let best = null;
    for (const id of ids) {
      const [gone, found] = confirm(table, state, narrowed, missed, id);
      if (gone > most) [most, best] = [gone, found];
    }
    if (best) return best;
  }
  return null;
}

/** @param {Narrowed} narrowed @param {Map<number, number[]>} near @returns {Narrowed} */
const widened = (narrowed, near) => ({ rows: [...narrowed.rows, ...near.keys()], places: new Map([...narrowed.places, ...near]), aside: new Map() });

/** The parts that are not left because of one answer alone. @param {Table} table @param {State} state @param {Narrowed} narrowed */
function setAsideByOne(table, state, narrowed) {
  /** @type {Map<number, number[]>} */
  const found = new Map();
  for (const [name, value] of Object.entries(state)) {
    if (value === null) continue;
    const other = narrow(table, Object.fromEntries(Object.entries(state).filter(([id]) => id !== name)));
    for (const at of other.rows) if (!narrowed.places.has(at) && !found.has(at)) found.set(at, placesOf(other, at));
  }
  return found;
}

/** A question with how many of `missed` it sets aside when it is answered truly of a part that is left. @param {Table} table @param {State} state @param {Narrowed} narrowed @param {Map<number, number[]>} missed @param {string} id @returns {[number, Question | null]} */
function confirm(table, state, narrowed, missed, id) {
  let near = missed;
  if (id === "pins" || id === "wired") {
    const faces = facesOf(table, narrowed, id);
    near = new Map([...missed].filter(([at, own]) => [...facesOf(table, { rows: [at], places: new Map([[at, own]]), aside: new Map() }, id)].every((face) => faces.has(face))));
  }
  const wide = widened(narrowed, near);
  const question = near.size ? ask(table, state, wide, id) : null;
  if (question === null) return [0, null];
  const left = narrowed.rows.map((at) => seenOf(table, state, wide, id, at));
  if (left.some((one) => !one.answers.length || one.open)) return [0, null];
  const told = left.flatMap((one) => one.answers);
  /** @param {Choice} one @param {Choice} other */
  const same = (one, other) => (id === "across_mm" ? sameSize(table, Number(one), Number(other)) : one === other);
  const gone = [...near.keys()].map((at) => seenOf(table, state, wide, id, at)).filter((one) => !one.open && !one.answers.some((answer) => told.some((other) => same(answer, other))));
  return [gone.length, question];
}

/** Every question that still splits what is left, in the order of the rounds: for those who would rather answer another one. @param {Table} table @param {State} state @param {Narrowed} [narrowed] @param {boolean} [vehicle] */
export function everyQuestion(table, state, narrowed = narrow(table, state), vehicle = true) {
  return rounds(table, narrowed, vehicle)
    .flat()
    .map((id) => ask(table, state, narrowed, id))
    .filter((one) => one !== null);
}

/** @param {Table} table @param {Narrowed} narrowed @param {boolean} vehicle */
function rounds(table, narrowed, vehicle) {
  const marks = [...new Set(narrowed.rows.flatMap((at) => table.rows[at].marks))].sort((a, b) => a - b);
  return [[...LOOKED_AT, ...marks.map((mark) => STAMPED + table.marks[mark])], MEASURED, vehicle ? VEHICLE_FACTS : []];
}

/** One question by its id; null where it is answered already, cannot be put yet, or splits nothing. @param {Table} table @param {State} state @param {Narrowed} narrowed @param {string} id @returns {Question | null} */
export function ask(table, state, narrowed, id) {
  if (Object.hasOwn(state, id) || !canBePut(table, state, narrowed, id)) return null;
  /** @type {Map<number, Seen>} */
  const seen = new Map(narrowed.rows.map((at) => [at, seenOf(table, state, narrowed, id, at)]));
  const { families, parts, splits } = expected(table, id, seen);
  if (!splits) return null;
  const kind = id.startsWith(STAMPED) ? "yes_no" : id === "across_mm" ? "size" : id === "pins" || id === "wired" ? "cavities" : "choice";
  const face = kind === "cavities" ? table.faces[[...facesOf(table, narrowed, id)][0]].id : null;
  /** @type {Choice[]} */
  let values = [];
  if (kind === "yes_no") values = [true, false];
  else if (kind !== "cavities") values = sorted([...new Set([...seen.values()].flatMap((one) => one.answers.map((answer) => choiceOf(table, id, answer))))]);
  return {
    ...{ id, kind, face },
    words: questionWords(table, id),
    answers: values.map((value) => [value, answerWords(table, id, value)]),
    families: families / seen.size,
    parts: parts / seen.size,
  };
}

/** By code points, as the book was sorted when it was built; numbers by size. @param {Choice[]} values */
function sorted(values) {
  /** @param {Choice} text */
  const points = (text) => [...String(text)].map((one) => (one.codePointAt(0) ?? 0).toString(16).padStart(6, "0")).join("");
  return values.sort((a, b) => (typeof a === "number" && typeof b === "number" ? a - b : points(a) < points(b) ? -1 : 1));
}

/** @param {Table} table @param {State} state @param {Narrowed} narrowed @param {string} id */
function canBePut(table, state, narrowed, id) {
  if (id === "face") {
    const faces = [...facesOf(table, narrowed, "pins")].map((at) => table.faces[at]);
    /** @param {string} name @param {(face: Face) => string | number} of */
    const settled = (name, of) => Object.hasOwn(state, name) || new Set(faces.map(of)).size === 1;
    return settled("outline", (face) => face.outline) && settled("cavities", (face) => face.cavities.length);
  }
  return id !== "pins" && id !== "wired" ? true : facesOf(table, narrowed, id).size === 1;
}

/** @param {Table} table @param {Narrowed} narrowed @param {string} id */
function facesOf(table, narrowed, id) {
  /** @type {Set<number>} */
  const found = new Set();
  for (const at of narrowed.rows) {
    const faces = id === "pins" ? [table.rows[at].face] : placesOf(narrowed, at).map((place) => table.places[place].face);
    for (const face of faces) if (face !== null) found.add(face);
  }
  return found;
}

/** @param {Table} table @param {string} id @param {Map<number, Seen>} seen */
function expected(table, id, seen) {
  const all = new Set([...seen.keys()].map((at) => table.rows[at].family)).size;
  const stay = staying(table, id, seen);
  let families = 0;
  let parts = 0;
  for (const { answers } of seen.values()) {
    if (answers.length) {
      const each = answers.map((answer) => stay.get(answer) ?? [0, 0]);
      families += each.reduce((sum, [count]) => sum + count, 0) / answers.length;
      parts += each.reduce((sum, [, count]) => sum + count, 0) / answers.length;
    } else {
      families += all;
      parts += seen.size;
    }
  }
  return { families, parts, splits: [...stay.values()].some(([, count]) => count < seen.size) };
}

/** Answer -> how many families and how many parts stay with it. @param {Table} table @param {string} id @param {Map<number, Seen>} seen */
function staying(table, id, seen) {
  const always = new Set();
  let everywhere = 0;
  /** @type {Map<Choice, number[]>} */
  const having = new Map();
  for (const [at, one] of seen) {
    if (one.open) {
      everywhere += 1;
      always.add(table.rows[at].family);
    }
    for (const answer of one.answers) {
      const rows = having.get(answer) ?? [];
      if (!one.open) rows.push(at);
      having.set(answer, rows);
    }
  }
  /** @type {Map<Choice, [families: number, parts: number]>} */
  const stay = new Map();
  for (const answer of having.keys()) {
    const near = id === "across_mm" ? [...having.keys()].filter((other) => sameSize(table, Number(answer), Number(other))) : [answer];
    const rows = near.flatMap((other) => having.get(other) ?? []);
    const more = new Set(rows.map((at) => table.rows[at].family).filter((family) => !always.has(family)));
    stay.set(answer, [always.size + more.size, everywhere + rows.length]);
  }
  return stay;
}

/** @type {Seen} */
const OPEN = { answers: [], open: true };
/** @param {Choice} answer @returns {Seen} */
const only = (answer) => ({ answers: [answer], open: false });

/** What would be answered truly of one part that is left, and whether it also stays with any other answer. @param {Table} table @param {State} state @param {Narrowed} narrowed @param {string} id @param {number} at @returns {Seen} */
function seenOf(table, state, narrowed, id, at) {
  const row = table.rows[at];
  if (id.startsWith(STAMPED)) return row.marks.length ? only(hasMark(table, row, id)) : OPEN;
  if (id === "outline" || id === "cavities" || id === "face") {
    if (row.face === null) return OPEN;
    const face = table.faces[row.face];
    return only(id === "outline" ? face.outline : id === "cavities" ? face.cavities.length : row.face);
  }
  if (id === "pins") return row.pins === null ? OPEN : only(row.pins);
  if (id === "bolts" || id === "shaft" || id === "across_mm") {
    const stated = mountingOf(table, row, id);
    return stated === null ? OPEN : only(stated);
  }
  const places = placesOf(narrowed, at).map((place) => table.places[place]);
  /** @type {Choice[][]} */
  let each;
  if (id === "wires") each = places.map((place) => (place.fewest === null ? [] : range(place.fewest, place.most ?? place.fewest)));
  else if (id === "wired") each = places.map(patternsOf);
  else {
    const facts = Object.fromEntries(Object.entries(state).filter(([name, value]) => VEHICLE_FACTS.includes(name) && value !== null));
    const rides = places.flatMap((place) => place.rides).filter((ride) => rideAgrees(table, ride, facts));
    each = rides.map((ride) => ofRide(table, id, ride));
  }
  return { answers: [...new Set(each.flat())], open: each.some((answers) => !answers.length) };
}

/** @param {number} first @param {number} last */
const range = (first, last) => Array.from({ length: last - first + 1 }, (_, at) => first + at);

/** @param {Place} place */
function patternsOf({ must, may }) {
  if (must === null || may === null) return [];
  const optional = [...must].flatMap((has, at) => (has === may[at] ? [] : [at]));
  if (optional.length > MOST_OPTIONAL) return [must, may];
  const found = [must];
  for (const at of optional) found.push(...found.map((pattern) => `${pattern.slice(0, at)}1${pattern.slice(at + 1)}`));
  return found;
}

/** @param {Table} table @param {string} id @param {Ride} ride */
function ofRide(table, id, ride) {
  if (id === "gearbox") return ride.gearboxes;
  if (id === "vehicle") return ride.vehicle === null ? [] : [ride.vehicle];
  return ride.first === null ? [] : range(ride.first, ride.last ?? Math.max(table.newest, ride.first));
}

/** @param {Table} table @param {string} id @param {Choice} answer */
function choiceOf(table, id, answer) {
  if (id === "face") return table.faces[Number(answer)].id;
  if (id === "gearbox") return table.gearboxes[Number(answer)];
  return id === "vehicle" ? table.vehicles[Number(answer)] : answer;
}

/** @param {Record<string, string>} words @param {string} id */
const filled = (words, id) => (id.startsWith(STAMPED) ? words[STAMPED].replace("{mark}", () => id.slice(STAMPED.length)) : words[id]);

/** The words of a question. @param {Table} table @param {string} id */
export const questionWords = (table, id) => filled(table.words.questions, id);

/** What a question is about, in few words. @param {Table} table @param {string} id */
export const factWords = (table, id) => filled(table.words.facts, id);

/** The words of an answer as it stands in a state. @param {Table} table @param {string} id @param {Choice} value */
export function answerWords(table, id, value) {
  if (value === true || value === false) return value ? table.words.yes : table.words.no;
  if (id === "face") return table.faces[table.faceAt.get(String(value)) ?? -1]?.title ?? String(value);
  if (id === "across_mm" && value !== OTHER) return `${value} mm`;
  return table.words.answers[id]?.[String(value)] ?? String(value);
}
