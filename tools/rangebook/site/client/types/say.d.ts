// What a message has to be given, read off its text.

import type { WORDS } from "../words/en.js";

export type Words = typeof WORDS;
export type Id = keyof Words;

/** The names between braces in a text. */
type Names<S extends string> = S extends `${string}{${infer N}}${infer R}` ? N | Names<R> : never;

/** One that goes by a number is given `count`. */
type Given<M> = M extends string ? Names<M> : M extends { other: infer O extends string } ? "count" | Names<O> : never;

/** What comes after the id: nothing, or each of its names with a value. */
export type Values<K extends Id, V> = [Given<Words[K]>] extends [never] ? [] : [Record<Given<Words[K]>, V>];
