// What the browser loads, as `site/data/` writes it. A test holds the two together over every key.

/** The words that only data can tell apart. */
export type VerdictWord = "straight" | "with_parts" | "rewire" | "unknown" | "no";
export type Says = "for" | "against" | "missing";
export type Group = "fit" | "shelf" | "unknown" | "withdrawn" | "look_alike" | "no";
export type Status = "current" | "superseded" | "discontinued" | "withdrawn";
export type StatusLetter = "c" | "s" | "d" | "w" | "?";

/** `data/numbers.json` */
export interface NumberIndex {
  edition: string;
  families: [id: string, title: string, numbers: string[], statuses: string][];
  /** An id that a family had, and the one that it has. */
  former: Record<string, string>;
  /** Other numbers that a part goes by; family and part by their places. */
  others: [number: string, whose: string, family: number, part: number][];
  kits: [number: string, title: string, url: string][];
  /** What the book's own stock list has, of numbers that it may not know. */
  shelf: Lying[];
  words: Words;
}

/** How many of a number lie where. */
export type Lying = [number: string, count: number, place: string];

export interface Words {
  status: Record<StatusLetter, string>;
  gone: Record<string, string>;
  verdict: Record<VerdictWord, string>;
  group: Record<Group, string>;
  says: Record<Says, string>;
}

/** `data/names.json`: gearboxes and families by their places, -1 and 0 where nothing is stated. */
export interface NameIndex {
  gearboxes: [name: string, families: number[]][];
  vehicles: [name: string, lines: [rest: string, first: number, last: number, gearbox: number, family: number, seat: string | 0][]][];
  connectors: [title: string, url: string, cavities: number][];
  called: [name: string, families: number[]][];
  codes: [code: string, families: number[], meaning: string][];
  marks: [stamped: string, parts: [family: number, part: number][]][];
}

/** `data/find/head.json`: of a large book what all its pages need, and into how many pieces its indexes are cut. */
export interface IndexHead {
  edition: string;
  former: Record<string, string>;
  words: Words;
  /** Whether there is a stock list of the book's own. */
  stocked: boolean;
  codes: string[];
  /** How many pieces the numbers are in. */
  numbers: number;
  /** How many pieces the words are in, and which card is the first of each block. */
  names: { words: number; blocks: number[] };
}

/** `data/find/numbers/*.json`: like the whole index, with the ids of the families that are looked for in this piece. */
export type NumberPiece = Pick<NumberIndex, "families" | "others" | "kits"> & { ids: string[] };

/** `data/find/words/*.json`: the cards of a gram, each as how far it is from the one before; none where there are too many. */
export type WordPiece = Record<string, number[]>;

/** `data/find/names/*.json`: like the whole index, families by their places in the block, each with its place in the whole one behind it. */
export interface NameBlock extends Omit<NameIndex, "vehicles"> {
  families: [id: string, title: string, numbers: string[], statuses: string, place: number][];
  vehicles: [name: string, lines: [rest: string, first: number, last: number, gearbox: string, family: number, seat: string | 0][]][];
}

/** `data/find/shelf.json`: the book's own stock, each line with the number that the book has for it. */
export type ShelfPiece = [number: string, count: number, place: string, own: string | null][];

export interface FamilyHead {
  id: string;
  title: string;
  url: string;
}

/** `data/answers/*.json`: parts by their normalised numbers, seats by `family/seat`; what is empty is left out. */
export interface Answers {
  edition: string;
  family: FamilyHead;
  parts: Record<string, PartAnswer>;
  seats: Record<string, SeatAnswer>;
  settings: Record<string, Setting>;
  /** Rows of cavities of each connector, looking into the switch; `null` where there is none. */
  faces: Record<string, (string | null)[][]>;
  outlines: Record<string, string>;
  colours: Record<string, Colour>;
}

export interface PartAnswer {
  number: string;
  url: string;
  status?: Status;
  note?: string;
  seats?: [key: string, how: "came_with" | "fits"][];
  chains?: Chain[];
}

export interface Chain {
  steps: { number: string; url?: string; status?: string; since?: string; needs?: string[]; note?: string }[];
  words: string;
}

export interface SeatAnswer {
  family: string;
  title: string;
  url: string;
  built?: string;
  renewed?: string[];
  plug_title: string;
  wires: number;
  face: string;
  wired: [cavity: string, colour: string, circuit: string][];
  /** The cavities that each jumper in the plug joins. */
  loops?: string[][];
  cranks?: string;
  /** The positions in which it has to crank on the road check, in words. */
  cranks_in?: string;
  /** The positions in which the backup lamps have to light, in words. */
  lamps_in?: string;
  came_with: string;
  came_with_status?: string;
  positions: string;
  known: string;
  vehicles: string[];
  measure_first?: string;
  candidates: Candidate[];
}

export interface Candidate {
  number: string;
  url: string;
  family?: string;
  status?: Status;
  status_words?: string;
  verdict: VerdictWord;
  group: Group;
  warning?: string;
  orders?: Order[];
  /** Parts and pieces beside the kits, and work. */
  also?: string[];
  work?: string[];
  /** Why it must not be fitted, in six words. */
  brief?: string;
  /** The same as data: what kind of thing, which, how many of it. */
  beside?: [kind: string, what: string, count: number][];
  moves?: Move[];
  moves_why?: string;
  /** The connector of the plug that a kit supplies, and the holes of its rear seal. */
  /** The same in the plug that goes onto this part. */
  loops?: string[][];
  renewed_to?: string;
  seal?: number;
  blanks?: number;
  idle?: string[];
  idle_words?: string;
  why?: string[];
  /** Its name among the `settings`. */
  setting?: string;
  checks?: [says: Says, check: string, text: string][];
  note?: string;
  unsaid?: string;
  /** What was tried of it in the bay on these vehicles. */
  tried?: string[];
  known: string;
  stands_on: string;
}

export interface Order {
  number: string;
  title?: string;
  url?: string;
  uses?: string;
  /** What goes wrong with it. */
  cautions?: string[];
  /** The wire holes of the rear seal out of its bag. */
  seal?: number;
  /** Blanking plugs that are in no bag. */
  more?: number;
}

export interface Move {
  old: string;
  new: string;
  colour: string;
  circuit: string;
}

export interface Setting {
  set_in?: string;
  method?: string;
  torque?: string;
  cautions?: string[];
}

/** A wire's colour: its name, then its base and its stripes, if they are known. */
export type Colour = [name: string, ...bands: string[]];

/** `data/kits.json`: kits by their normalised numbers. */
export type Kits = Record<string, { number: string; title: string; url: string; code: Code }>;

/** `data/compare/*.json` */
export interface Compared {
  edition: string;
  family: FamilyHead;
  seats: Record<string, ComparedSeat>;
  colours: Record<string, Colour>;
}

export interface ComparedSeat {
  plug: string;
  face: string | null;
  vehicles: string[];
  came_with: string;
  positions: string[];
  /** The jumpers in the plug and what positions mean, in sentences. */
  says: string[];
  wires: [cavity: string, colour: string | null, circuit: string][];
  parts: Record<string, ComparedPart>;
  pairs: [a: string, b: string, rows: string[][], marks: string[][], of: Record<string, number>][];
}

/** Without `place` the plug is not known to go on; then the keys after it are not there either. */
export interface ComparedPart {
  key: string;
  family: string;
  url: string;
  place?: (string | null)[];
  pins?: (string | null)[];
  idle?: string[];
  kits?: string;
  powered?: { terminal: string; outcome: Says; text: string }[];
}

/** A powered output: its pin, what it is for, unit, what it is measured against, and a value for each position. */
export type SignalRow = [pin: string, name: string, unit: string, ends: string, values: string[]];

/** `data/proof/*.json` */
export interface Proofs {
  edition: string;
  family: FamilyHead;
  meter: string;
  reading: ReadingRules;
  faults: Record<string, [what: string, todo: string]>;
  notes: Note[];
  /** The faces of the vehicles' plugs and the colours of their wires, as in the answers. */
  faces: Record<string, (string | null)[][]>;
  outlines: Record<string, string>;
  colours: Record<string, Colour>;
  parts: Record<string, ProofPart>;
}

/** How what a meter shows is read, and when a path counts as closed or open. */
export interface ReadingRules {
  no_path: string[];
  number: string;
  unclear: string;
  factors: Record<string, number>;
  closed_below: number;
  open_above: number;
  widest_percent: number;
  /** How far a meter may be off, as a part of what it shows. */
  meter: number;
  /** Within which a factor, and siemens beside, are looked for. */
  drift: [low: number, high: number];
  shunt: [low: number, high: number];
  worn_leads: [low: number, high: number];
  /** All kinds of faults in the order in which they are told. */
  kinds: string[];
  /** Kinds that are told of a part on which all reads as it should, where they would show nowhere. */
  beside_good: string[];
  most_compared: number;
}

/** A paragraph of a family's notes, the kinds of faults of which it may speak, and the keys of the parts that it names. */
export type Note = [head: string, text: string, kinds: string[], parts: string[]];
export interface ProofPart {
  number: string;
  url: string;
  face: string | null;
  /** The cavities that hold a pin; empty where that is not stated. */
  pins: string[];
  positions: string[];
  signals: SignalRow[];
  contacts: StatedContact[];
  sheets: Sheet[];
  code: Code;
  /** From which layer it is and what one says instead of another; left out in a book of one layer. */
  layers?: string[];
}

/** What is stated of a contact in a position: ohms, 0 closed, null not known. */
export type MeteredState = number | "open" | null;

/** A contact as the entry has it, with what that comes to in each of the part's positions. */
export interface StatedContact {
  pins: [string, string];
  closed?: string[];
  overlaps?: string[];
  one_way?: boolean;
  ohms?: [position: string, ohms: number | "open"][];
  tolerance_percent?: number;
  rated_a?: number;
  states: MeteredState[];
}

/** What a meter is to show: 1 closed, 0 open, ohms and a tolerance in percent, null not known; of a fault also a span (null for no path), one
 * of several, or ohms from the least to the most that are times a factor (1), or with something beside (1), which is the same for all. */
export type Expected =
  | 0
  | 1
  | [ohms: number, percent: number]
  | null
  | { between: [low: number, high: number | null] }
  | { either: Expected[] }
  | { common: [low: number | null, high: number | null, times: 0 | 1, beside: 0 | 1] };

export interface Sheet {
  where: string;
  short: string;
  seats: string[];
  plugs: string[];
  /** The vehicle's plug, and its wires with their colours; nothing on the bench. */
  face: string;
  wires: [cavity: string, colour: string][];
  /** The pin that a terminal meets, where that has another label. */
  pins: Record<string, string | null>;
  positions: string[];
  lines: [a: string, b: string, names: string, says: string[]][];
  /** How the insulation is measured, each with the place of its line. */
  insulation: [line: number, how: string][];
  notes: string[];
  /** The lines of which it is asked what they read, where that is not stated. */
  asks: number[];
  /** The contacts of the part in series on a line, by their places, where a reading tells of them. */
  tells: [line: number, contacts: number[]][];
  sure: boolean;
  rows: Expected[][];
  /** The place of a row for each line, of a good part. */
  good: number[];
  /** Each fault: the line and the place of its row for each line that reads otherwise, the bundles of contacts that it
   * touches, the positions in which it does, the contact that it is of, and whether it shows without another one. */
  known: [kind: string, ends: string[], changed: number[], zone: number[] | null, acts: number[] | null, contact: number | null, shown: 0 | 1][];
  net: Net;
}

/** The contacts between the pins, and what meets these: from it is reckoned what two faults together would make a meter read. */
export interface Net {
  contacts: [a: string, b: string, bundle: number, ladder: 0 | 1, one_way: 0 | 1, percent: number, ohms: MeteredState[]][];
  /** Terminal -> the pin that it meets. */
  pins: Record<string, string>;
  /** Those that are tied together where a terminal is read against all others. */
  tied: Record<string, string[]>;
  /** Pins of which nothing is stated; terminals with electronics behind them. */
  loose: string[];
  powered: string[];
  electronics: boolean;
  /** The place of a row for each line, by the contacts alone; the bundles of each line. */
  raw: number[];
  zones: number[][];
}

/** A QR code: its modules row by row, end to end, as a number in hex. */
export interface Code {
  says: string;
  address: boolean;
  size: number;
  bits: string;
}

/** `data/lever/*.json`: what a contact does is 0 open, 1 closed, 2 not stated, or a figure as it is drawn. */
export type ContactState = 0 | 1 | 2 | string;
export type Reading = [state: ContactState, words: string];

export interface Levers {
  edition: string;
  family: FamilyHead;
  meter: string;
  readings: Reading[];
  parts: Record<string, LeverPart>;
  plugs: Record<string, LeverPlug>;
  colours: Record<string, Colour>;
}

export interface LeverPart {
  number: string;
  url: string;
  positions: string[];
  terminals: [name: string, circuit: string][];
  contacts: [a: number, b: number, states: ContactState[]][];
  stated: boolean;
  /** What to see while the lever is moved slowly: contacts that open late. */
  /** What positions mean and which contacts overlap, in sentences. */
  says: string[];
  rows: number[][];
  pairs: [a: number, b: number, row: number][];
  signals: SignalRow[];
  plugs: string[];
}

export interface LeverPlug {
  name: string;
  title: string;
  positions: string[];
  vehicles: string[];
  wires: [cavity: string, colour: string | null, circuit: string, note: string | null][];
}

/** `data/identify.json`: each list in the order of the fields of its class in `desk/identify/table.py`. */
export interface IdentifyData {
  edition: string;
  families: string[];
  titles: string[];
  faces: [id: string, title: string, outline: string, rows: (string | null)[][]][];
  mountings: [bolts: number | null, shaft: string | null, across_mm: number | null][];
  marks: string[];
  gearboxes: string[];
  vehicles: string[];
  places: [face: number | null, must: string | null, may: string | null, fewest: number | null, most: number | null, rides: RideRow[], seat: string | null][];
  rows: [number: string, family: number, face: number | null, pins: string | null, mounting: number | null, marks: number[], places: number[]][];
  words: IdentifyWords;
  shaft_mm: number;
}

export type RideRow = [vehicle: number | null, first: number | null, last: number | null, gearboxes: number[]];

export interface IdentifyWords {
  questions: Record<string, string>;
  facts: Record<string, string>;
  answers: Record<string, Record<string, string>>;
  mirrored: Record<string, string>;
  yes: string;
  no: string;
  cannot_tell: string;
  none_of_these: string;
}

/** Where a circuit may be joined, and what the linter says of a contact that joins it elsewhere. */
export interface Guard {
  circuit: string;
  joined_in: string[];
  words: string;
  words_housing: string;
}

/** `data/write.json`: the schemas are the files of the top folder `schema`, as they are. */
export interface WriteData {
  schemas: Record<"switch" | "connector" | "kit" | "common", SchemaNode>;
  circuits: [name: string, title: string][];
  /** What the linter says of a path that must not be: `words` to a pin, `words_housing` to the metal. */
  guards: Guard[];
  connectors: { id: string; title: string; cavities: string[] }[];
  families: { id: string; title: string; positions: string[]; mounts: string[]; guards: Guard[] | null }[];
  ids: Record<"switches" | "connectors" | "kits", string[]>;
}

/** A value of an entry as it was typed; a mapping as its pairs, so that keys like `2` stay where they were put. */
export type TypedValue = string | TypedValue[] | { pairs: [key: string, value: TypedValue][] };

/** Lines, from 0, that state a key: `first` up to, not including, `after`, comments above it with them; the key itself stands on `line`. */
export interface StatedLines {
  key: string;
  first: number;
  line: number;
  after: number;
  value: TypedValue;
  items: [first: number, after: number][];
}

/** `data/lines/*.json`: a family's entry as it stands in its file. */
export interface EntryLines {
  text: string;
  crlf: boolean;
  new?: true;
  gearboxes: string[];
  plugs: string[];
  parts: { number: string; indent: number; keys: StatedLines[] }[];
  places: Record<string, { line: number; indent: number; heading: boolean }>;
  comments: Record<string, string>;
}

/** What of JSON Schema is read here; a schema holds more. */
export interface SchemaNode {
  required?: string[];
  $ref?: string;
  type?: string;
  description?: string;
  enum?: (string | number | boolean)[];
  "x-expected"?: string;
  "x-label"?: string;
  "x-seldom"?: boolean;
  properties?: Record<string, SchemaNode>;
  items?: SchemaNode;
  anyOf?: SchemaNode[];
  additionalProperties?: boolean | SchemaNode;
  [key: string]: unknown;
}

/** `edition.json` */
export interface EditionFile {
  mark: string;
  date: string | null;
  words: string;
  digest: string;
}

/** `data/identify/looks.json`: of a large book what can be seen of every part, without numbers, vehicles and seats. */
export interface IdentifyLooks {
  edition: string;
  faces: IdentifyData["faces"];
  mountings: IdentifyData["mountings"];
  marks: string[];
  newest: number;
  /** Questions about the vehicle that tell some parts of the book apart. */
  asks: string[];
  /** How many families a block has. */
  block: number;
  shapes: LookedRow[][];
  /** The shape of each family, its patterns (as numbers, each less the one before, or as they are) and its mountings, end to end. */
  families: number[];
  patterns: (number | string)[];
  mounted: number[];
  words: IdentifyWords;
  shaft_mm: number;
}

/** A part of a family: patterns and mountings by their places among the family's; -1 for a count is as many as the pattern has. */
export type LookedRow = [face: number | null, pins: number | null, mounting: number | null, marks: number[], places: LookedPlace[]];
export type LookedPlace = [face: number | null, must: number | null, may: number | null, fewest: number | null, most: number | null];

/** `data/identify/block/*.json`: rows and places of some families as in the whole table, with the names that they stand for. */
export interface IdentifyBlock {
  first: number;
  families: [id: string, title: string][];
  gearboxes: [place: number, name: string][];
  vehicles: [place: number, name: string][];
  places: IdentifyData["places"];
  /** Of each family its rows: the places are those of this block. */
  rows: [number: string, places: number[]][][];
}
