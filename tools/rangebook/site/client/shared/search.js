// Finding numbers and names. Pure functions of the two index files; nothing here knows of the page, and nothing judges.

/** @import { NameIndex, NumberIndex } from "../types/data.js" */
/**
 * A part under one of the numbers that it goes by: `by` is that number as it is compared, `key` its own; `other` is the number as it is
 * written and `whose` it is, where it is not its own.
 * @typedef {{ by: string, key: string, number: string, kind: "part", family: string, title: string, status: string, other?: string, whose?: string, counts?: Uint8Array }} NumberedPart
 */
/** @typedef {{ by: string, key: string, number: string, kind: "kit", title: string, url: string, counts?: Uint8Array }} NumberedKit */
/** @typedef {NumberedPart | NumberedKit} Numbered */
/**
 * One line of a vehicle, made ready to be searched; 0 where no year is stated.
 * @typedef {{ vehicle: string, rest: string, first: number, last: number, gearbox: string, family: string, seat: string | null, name: string, all: string }} Line
 */

const LEFT_OUT = /[\s\-./]+/g;
const PRINTED = /^[ -~]*$/;
const UNSEEN = /[\p{Cc}\p{Cf}]/gu;
const DASHES = /[\p{Pd}\u02d7\u2043\u2212]/gu;
const SLASHES = /[\u2044\u2215\u29f8]/gu;
// Letters and those of ASCII that they look like, as in book/numbers.py; a test holds both together.
const LETTERS = "АВЕЅІЈКМНОРСТУХԚԜаеѕіјорсухԛԝһԁΑΒΕΖΗΙΚΜΝΟΡΤΥΧοιανρυ";
const AS_ASCII = "ABESIJKMHOPCTYXQWaesijopcyxqwhdABEZHIKMNOPTYXoiavpu";
/** @type {Map<string, string>} */
const PLAIN = new Map([...LETTERS].map((letter, at) => [letter, AS_ASCII[at]]));
/** @type {Record<string, string>} */
const LOOKS_LIKE = { O: "0", I: "1", L: "1", B: "8", S: "5", Z: "2" };
const YEAR = /^(19[5-9]\d|20\d\d)$/;
const INNER = 4;
const NEAREST = 5;

/** @param {string} text */
const inAscii = (text) => [...text].map((sign) => PLAIN.get(sign) ?? sign).join("");

/**
 * A number as it is compared: case, spaces, hyphens, dots and slashes taken out. Dashes of other kinds, full width, letters of other
 * scripts and what cannot be seen count for what they look like.
 * @param {string} text
 */
export function normalise(text) {
  if (PRINTED.test(text)) return text.replace(LEFT_OUT, "").toUpperCase();
  const seen = text.normalize("NFKC").replace(UNSEEN, "").replace(DASHES, "-").replace(SLASHES, "/");
  return inAscii(inAscii(seen).toUpperCase()).replace(LEFT_OUT, "").toUpperCase();
}

/** What a normalised number looks like: a letter that is taken for a figure is that figure. @param {string} key */
export const look = (key) => key.replace(/[OILBSZ]/g, (letter) => LOOKS_LIKE[letter]);

/** Every number of the index: parts, then what else they are called, then kits. @param {Pick<NumberIndex, "families" | "others" | "kits">} index */
export function numberList(index) {
  /** @type {Numbered[]} */
  const list = [];
  /** @type {NumberedPart[][]} */
  const parts = index.families.map(([family, title, numbers, statuses]) =>
    numbers.map((number, at) => ({ by: normalise(number), key: normalise(number), number, kind: "part", family, title, status: statuses[at] })),
  );
  list.push(...parts.flat());
  for (const [other, whose, family, at] of index.others) list.push({ ...parts[family][at], by: normalise(other), other, whose });
  for (const [number, title, url] of index.kits) list.push({ by: normalise(number), key: normalise(number), number, kind: "kit", title, url });
  return list;
}

/**
 * The numbers that are the text, and those that hold it (from four characters on), shortest first.
 * @param {Numbered[]} list
 * @param {string} text
 */
export function findNumbers(list, text) {
  const key = normalise(text);
  /** @type {Numbered[]} */
  const exact = [];
  /** @type {Numbered[]} */
  const holding = [];
  if (key) {
    for (const one of list) {
      if (one.by === key) exact.push(one);
      else if (key.length >= INNER && one.by.includes(key)) holding.push(one);
    }
  }
  /** @param {Numbered} one */
  const starts = (one) => (one.by.startsWith(key) ? 0 : 1);
  holding.sort((a, b) => starts(a) - starts(b) || a.by.length - b.by.length || (a.by < b.by ? -1 : 1));
  return { exact, holding };
}

// What a label's bar code carries before a number. Source: data identifiers of ANSI MH10.8.2 (P, 1P, 30P) and application identifiers of the
// GS1 General Specifications (240, 241), both from memory.
// A trouble code, and behind it two figures that say in which way its circuit is at fault. Source: SAE J2012 and ISO 15031-6, from memory.
const TROUBLE_CODE = /^([PBCU][0-3][0-9A-F]{3})([0-9A-F]{2})?$/;
const IDENTIFIER = /^(?:30P|1P|P|\(?24[01]\)?)(?=.)/;

/**
 * What was meant by something that is no number by itself: the address of one of our own labels, or a number with the identifier of a bar
 * code before it. The text itself where it is neither.
 * @param {string} text
 * @param {Numbered[]} list
 * @returns {{ text: string, seat: string | null }}
 */
export function asked(text, list) {
  const typed = text.trim();
  if (/^https?:\/\//i.test(typed)) {
    try {
      const query = new URL(typed).searchParams;
      const number = query.get("q") ?? query.get("part") ?? query.get("fit") ?? "";
      return number ? { text: number, seat: query.get("seat") } : { text: typed, seat: null };
    } catch {
      return { text: typed, seat: null };
    }
  }
  const key = normalise(typed);
  if (TROUBLE_CODE.test(key) || list.some((one) => one.by === key)) return { text: typed, seat: null };
  // A label that says several things has a sign between them that nobody sees.
  const rests = new Set(text.split(/\p{Cc}+/u).map(withoutIdentifier).filter((rest) => rest && rest !== key));
  const named = rests.size ? list.find((one) => rests.has(one.by)) : undefined;
  return { text: named ? named.number : typed, seat: null };
}

/** What may be a number in a text, beside the text itself: what comes behind an identifier. @param {string} text */
export const restsOf = (text) => [text, ...text.split(/\p{Cc}+/u)].map(withoutIdentifier).filter(Boolean);

/** A text as a trouble code, without how its circuit is at fault. @param {string} text */
export function seenAsCode(text) {
  const plain = normalise(text);
  return TROUBLE_CODE.exec(plain)?.[1] ?? plain;
}

/** A number as it is compared, without the identifier that a bar code carries before it. @param {string} text */
export const withoutIdentifier = (text) => normalise(text.replace(/[()]/g, "")).replace(IDENTIFIER, "");

/** The numbers that look the same as a text that is not one, else those that hold what looks the same. @param {Numbered[]} list @param {string} text */
export function lookAlikes(list, text) {
  const wanted = [...new Set([look(normalise(text)), look(withoutIdentifier(text))])].filter(Boolean);
  const same = list.filter((one) => wanted.includes(look(one.by)));
  return same.length || wanted[0]?.length < INNER ? same : list.filter((one) => look(one.by).includes(wanted[0]));
}

/** The trouble code that looks the same as a text that is not one; `null` where there is none. @param {NameIndex} names @param {string} text */
export const codeMeant = (names, text) => codeLike(names.codes.map(([code]) => code), text);

/** The one of some codes that looks the same as a text; `null` where there is none. @param {string[]} codes @param {string} text */
export function codeLike(codes, text) {
  const wanted = look(normalise(text));
  return codes.find((code) => look(code) === wanted) ?? null;
}

/** The numbers that look most like a text that is not one: those that it holds, then those fewest changes away. @param {Numbered[]} list @param {string} text */
export function nearestNumbers(list, text) {
  const key = normalise(text);
  if (key.length < 3) return [];
  const most = Math.max(2, Math.floor(key.length / 3));
  const letters = countsOf(key);
  /** @type {[number, Numbered][]} */
  const found = [];
  for (const one of list) {
    if (one.by.length >= INNER && key.includes(one.by)) found.push([0, one]);
    else if (Math.abs(one.by.length - key.length) <= most && lettersApart(letters, lettersOf(one)) <= most) {
      const steps = distance(key, one.by, most);
      if (steps <= most) found.push([steps, one]);
    }
  }
  found.sort((a, b) => a[0] - b[0] || (a[1].by < b[1].by ? -1 : 1));
  return found.slice(0, NEAREST).map(([, one]) => one);
}

const BINS = 32;

/** How often each character is in a text; characters that share a place only make two texts look more alike than they are. @param {string} text */
function countsOf(text) {
  const counts = new Uint8Array(BINS);
  for (let at = 0; at < text.length; at++) counts[text.charCodeAt(at) % BINS] += 1;
  return counts;
}

/** The same of a number, counted once. @param {Numbered} one */
function lettersOf(one) {
  one.counts ??= countsOf(one.by);
  return one.counts;
}

/** At least so many changes are two texts apart, whatever the order of their characters. @param {Uint8Array} one @param {Uint8Array} other */
function lettersApart(one, other) {
  let more = 0;
  let less = 0;
  for (let at = 0; at < BINS; at++) {
    const apart = one[at] - other[at];
    if (apart > 0) more += apart;
    else less -= apart;
  }
  return Math.max(more, less);
}

/**
 * How many letters have to be changed, put in, taken out or let change places; `most + 1` where it is more than `most`.
 * @param {string} a
 * @param {string} b
 * @param {number} most
 */
export function distance(a, b, most) {
  /** @type {number[] | null} */
  let before = null;
  let leastBefore = 0;
  let last = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let steps = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1));
      if (before && !same && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) steps = Math.min(steps, before[j - 2] + 1);
      row[j] = steps;
      if (steps < least) least = steps;
    }
    // A swap reaches back over one row, so one row that is too far is not yet the end.
    if (least > most && leastBefore > most) return most + 1;
    leastBefore = least;
    before = last;
    last = row;
  }
  return Math.min(last[b.length], most + 1);
}

/** Every line of a vehicle. @param {NameIndex} names @param {NumberIndex} index */
export function vehicleLines(names, index) {
  /** @type {Line[]} */
  const lines = [];
  for (const [vehicle, rows] of names.vehicles) {
    for (const [rest, first, last, gearbox, family, seat] of rows) {
      lines.push(lineOf(vehicle, rest, first, last, gearbox < 0 ? "" : names.gearboxes[gearbox][0], index.families[family][0], seat));
    }
  }
  return lines;
}

/** @param {string} vehicle @param {string} rest @param {number} first @param {number} last @param {string} gearbox @param {string} family @param {string | 0} seat @returns {Line} */
export const lineOf = (vehicle, rest, first, last, gearbox, family, seat) => ({
  ...{ vehicle, rest, first, last, gearbox, family },
  seat: seat || null,
  name: ` ${vehicle.toLowerCase()}`,
  all: ` ${vehicle} ${rest} ${gearbox}`.toLowerCase(),
});

const MONTHS = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec";
const LONG_YEAR = "(19[5-9]\\d|20\\d\\d)";
/** A month with its year: `10/2003`, `10.2003`, `2003-10`, `10/03`, `Oct 2003`. A vehicle goes by its model year. */
const MONTH = new RegExp(`\\b(?:(?:0?[1-9]|1[0-2])[/.-]${LONG_YEAR}|${LONG_YEAR}[/.-](?:0[1-9]|1[0-2])|(?:0[1-9]|1[0-2])/(\\d\\d)|(?:${MONTHS})[a-z]*\\.?\\s+${LONG_YEAR})\\b`, "i");
/** @param {string} text */
const withYear = (text) => text.replace(MONTH, (_, after, before, short, named) => after ?? before ?? named ?? (short < "50" ? `20${short}` : `19${short}`));
const SLIP = 4;

const MOST_MEANT = 40;

/** Whether a word can be one with a slip in it: what has hardly a letter is a number. @param {string} word */
const canSlip = (word) => word.length >= SLIP && word.replace(/\P{L}/gu, "").length >= 3;

/** Whether any word of a text can be one with a slip in it. @param {string} text */
export const mayHaveSlips = (text) => withYear(text).toLowerCase().split(/\s+/).some(canSlip);

/** The words that one may be a slip away from; the word itself where it stands in some line, or none is near. @param {string} word @param {Set<string>} known */
function meant(word, known) {
  if (!canSlip(word) || known.has(word)) return [word];
  for (const one of known) if (one.startsWith(word)) return [word];
  const most = word.length > 6 ? 2 : 1;
  const near = [...known].filter((one) => Math.abs(one.length - word.length) <= most && distance(word, one, most) <= most);
  return near.length ? near : [word];
}

/**
 * A vehicle's name with its typing slips taken out, or `null` where no word is a slip away from exactly one that a vehicle has. Of several the
 * other words decide.
 * @param {Line[]} lines
 * @param {string} text
 */
export function withoutSlips(lines, text) {
  const known = new Set(lines.flatMap((line) => line.all.trim().split(/[\s,]+/)));
  const words = withYear(text).toLowerCase().split(/\s+/).filter(Boolean);
  /** @type {string[][]} */
  let ways = [[]];
  for (const word of words) ways = ways.flatMap((way) => meant(word, known).map((one) => [...way, one])).slice(0, MOST_MEANT);
  const mended = ways.map((way) => way.join(" ")).filter((way) => way !== words.join(" "));
  const left = mended.length > 1 ? mended.filter((way) => findVehicles(lines, way).all.length) : mended;
  return left.length === 1 ? left[0] : null;
}

/** A text without the words that only say what a switch is called, as "inhibitor"; `null` where it has none, or nothing else. @param {NameIndex} names @param {string} text */
export function withoutTradeNames(names, text) {
  const called = new Set(names.called.flatMap(([name]) => name.toLowerCase().split(/\s+/)));
  const words = text.split(/\s+/).filter(Boolean);
  const rest = words.filter((word) => !called.has(word.toLowerCase()));
  return rest.length && rest.length < words.length ? rest.join(" ") : null;
}

/** The words of a text that a vehicle's line has to have, beside its years. @param {string} text */
export const vehicleWords = (text) => withYear(text).toLowerCase().split(/\s+/).filter((word) => word && !YEAR.test(word));

/**
 * The lines that every word of the text is in, at the start of a word or three characters of it anywhere; a year must lie
 * in the model years. `byName` are those whose name alone has all the words.
 * @param {Line[]} lines
 * @param {string} text
 * @returns {{ all: Line[], byName: Line[] }}
 */
export function findVehicles(lines, text) {
  const years = withYear(text).split(/\s+/).filter((word) => YEAR.test(word)).map(Number);
  const rest = vehicleWords(text);
  if (!rest.length) return { all: [], byName: [] };
  /** @param {string} where */
  const says = (where) => rest.every((word) => where.includes(` ${word}`) || (word.length >= 3 && where.includes(word)));
  /** @param {Line} line */
  const within = (line) => years.every((year) => line.first > 0 && year >= line.first && (!line.last || year <= line.last));
  const all = lines.filter((line) => says(line.all) && within(line));
  return { all, byName: all.filter((line) => says(line.name)) };
}

/** Gearboxes, families, connectors and stamped marks that every word of the text is in, and the trouble code that it is. @param {NameIndex} names @param {Pick<NumberIndex, "families">} index @param {string} text */
export function findNames(names, index, text) {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  /** @param {string[]} where */
  const says = (...where) => {
    const joined = ` ${where.join(" ").toLowerCase()}`;
    return words.length > 0 && words.every((word) => joined.includes(` ${word}`) || (word.length >= 3 && joined.includes(word)));
  };
  const whole = text.trim().toLowerCase();
  const gearboxes = names.gearboxes.filter(([gearbox]) => says(gearbox));
  const called = new Set(names.called.filter(([name]) => says(name)).flatMap(([, families]) => families));
  const [plain, asCode] = [normalise(text), seenAsCode(text)];
  const exact = gearboxes.filter(([gearbox]) => gearbox.toLowerCase() === whole);
  return {
    gearboxes: exact.length ? exact : gearboxes,
    families: index.families.filter(([id, title], at) => says(title, id) || called.has(at)).map(([id, title]) => ({ id, title })),
    codes: names.codes.filter(([code]) => code === asCode),
    marks: plain.length < 2 ? [] : names.marks.filter(([stamped]) => normalise(stamped) === plain || (text.trim().length >= 3 && says(stamped))),
    connectors: names.connectors.filter(([title]) => says(title)),
  };
}
