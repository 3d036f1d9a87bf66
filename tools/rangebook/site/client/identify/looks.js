// The table of a large book from what can be seen of every part; numbers, vehicles and seats come family by family, where they are needed.

import { NotLoaded } from "./narrow.js";

/** @import { IdentifyBlock, IdentifyLooks } from "../types/data.js" */
/** @import { Place, Ride, Row, Table } from "./narrow.js" */

/** A vehicle of which nothing is here yet; who asks for it has to have its family loaded. @type {Ride} */
const UNKNOWN = {
  get vehicle() {
    return missing();
  },
  get first() {
    return missing();
  },
  get last() {
    return missing();
  },
  get gearboxes() {
    return missing();
  },
};

/** @returns {never} */
function missing() {
  throw new NotLoaded();
}

/**
 * The table as far as it is here; `need` has some families loaded whole, by their places, and says whether that changed anything: then the
 * table has to be narrowed again.
 * @param {IdentifyLooks} data
 * @param {(block: number) => Promise<IdentifyBlock>} load
 */
export function openLooks(data, load) {
  const faces = data.faces.map(([id, title, outline, rows]) => ({ id, title, outline, rows, cavities: rows.flat().filter((label) => label !== null) }));
  /** @type {Place[]} */
  const places = [];
  /** @type {Row[]} */
  const rows = [];
  /** Where the rows of a family begin. @type {number[]} */
  const begins = [];
  const patterns = data.patterns.values();
  const mounted = data.mounted.values();
  let before = 0;
  data.families.forEach((shape, family) => {
    begins.push(rows.length);
    rowsOf(data.shapes[shape], family);
  });

  /** @param {IdentifyLooks["shapes"][number]} shape @param {number} family */
  function rowsOf(shape, family) {
    before = 0;
    const own = taken(Math.max(-1, ...shape.flatMap(([, pins, , , at]) => [pins ?? -1, ...at.flatMap(([, must, may]) => [must ?? -1, may ?? -1])])) + 1, nextPattern);
    const mounts = taken(Math.max(-1, ...shape.map(([, , mounting]) => mounting ?? -1)) + 1, () => mounted.next().value ?? 0);
    for (const [face, pins, mounting, marks, at] of shape) {
      const here = at.map(([on, must, may, fewest, most]) => {
        const [sure, can] = [patternAt(own, must), patternAt(own, may)];
        places.push({ face: on, must: sure, may: can, fewest: fewest === -1 ? ones(sure) : fewest, most: most === -1 ? ones(can) : most, seat: null, rides: [UNKNOWN] });
        return places.length - 1;
      });
      rows.push({ number: "", family, face, pins: patternAt(own, pins), mounting: mounting === null ? null : mounts[mounting], marks, places: here });
    }
  }

  function nextPattern() {
    const step = patterns.next().value ?? 1;
    if (typeof step === "string") return step;
    before += step;
    return before.toString(2).slice(1);
  }

  /** @type {Table} */
  const table = {
    ...{ faces, places, rows, newest: data.newest, words: data.words, marks: data.marks, shaftMm: data.shaft_mm },
    families: data.families.map(() => ""),
    faceAt: new Map(faces.map((face, at) => [face.id, at])),
    mountings: data.mountings.map(([bolts, shaft, across_mm]) => ({ bolts, shaft, across_mm })),
    gearboxes: [],
    vehicles: [],
  };
  /** @type {string[]} */
  const titles = [];
  /** @type {Set<number>} */
  const here = new Set();

  /** @param {IdentifyBlock} block */
  function fill(block) {
    for (const [at, name] of block.gearboxes) table.gearboxes[at] = name;
    for (const [at, name] of block.vehicles) table.vehicles[at] = name;
    const first = places.length;
    for (const [face, must, may, fewest, most, rides, seat] of block.places) {
      places.push({ ...{ face, must, may, fewest, most, seat }, rides: rides.map(([vehicle, since, until, gearboxes]) => ({ vehicle, first: since, last: until, gearboxes })) });
    }
    block.families.forEach(([id, title], at) => {
      table.families[block.first + at] = id;
      titles[block.first + at] = title;
      block.rows[at].forEach(([number, own], place) => {
        Object.assign(rows[begins[block.first + at] + place], { number, places: own.map((one) => one + first) });
      });
    });
  }

  return {
    table,
    titles,
    asks: data.asks,
    /** @param {number[]} families */
    blocks: (families) => new Set(families.map((at) => Math.floor(at / data.block))).size,
    /** @param {number[]} families */
    need: async (families) => {
      const wanted = [...new Set(families.map((at) => Math.floor(at / data.block)))].filter((at) => !here.has(at));
      const found = await Promise.all(wanted.map(load));
      found.forEach((block, at) => {
        // Another call may have had it loaded meanwhile.
        if (!here.has(wanted[at])) fill(block);
        here.add(wanted[at]);
      });
      return wanted.length > 0;
    },
  };
}

/** @template T @param {number} count @param {() => T} next */
const taken = (count, next) => Array.from({ length: count }, next);

/** @param {string[]} patterns @param {number | null} at */
const patternAt = (patterns, at) => (at === null ? null : patterns[at]);

/** @param {string | null} pattern */
const ones = (pattern) => [...(pattern ?? "")].filter((one) => one === "1").length;
