// What a message has to be given, read off its text.

import type { ANSWER } from "../words/answer.js";
import type { COMPARE } from "../words/compare.js";
import type { FIND } from "../words/find.js";
import type { IDENTIFY } from "../words/identify.js";
import type { JOB } from "../words/job.js";
import type { LABEL } from "../words/label.js";
import type { LEVER } from "../words/lever.js";
import type { PROVE } from "../words/prove.js";
import type { RECORDS } from "../words/records.js";
import type { SCAN } from "../words/scan.js";
import type { SEVERAL } from "../words/several.js";
import type { SHELF } from "../words/shelf.js";
import type { SHARED } from "../words/shared.js";
import type { VIN } from "../words/vin.js";
import type { WRITE } from "../words/write.js";

export type Words = typeof ANSWER & typeof COMPARE & typeof FIND & typeof IDENTIFY & typeof JOB & typeof LABEL & typeof LEVER & typeof PROVE & typeof RECORDS & typeof SCAN & typeof SEVERAL & typeof SHELF & typeof SHARED & typeof VIN & typeof WRITE;
export type Id = keyof Words;

/** A text, or one for each plural form; every language has the form `other`. */
export type Message = string | Readonly<Record<string, string> & { other: string }>;

/** The names between braces in a text. */
type Names<S extends string> = S extends `${string}{${infer N}}${infer R}` ? N | Names<R> : never;

/** One that goes by a number is given `count`. */
type Given<M> = M extends string ? Names<M> : M extends { other: infer O extends string } ? "count" | Names<O> : never;

/** What comes after the id: nothing, or each of its names with a value. */
export type Values<K extends Id, V> = [Given<Words[K]>] extends [never] ? [] : [Record<Given<Words[K]>, V>];
