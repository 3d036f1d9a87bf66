// What every kind of entry gives to the page: the pieces to show, the entry that they make, and what is still to be said of it.

/** @import { EntryLines, WriteData } from "../types/data.js" */
/** @import { Front, Held } from "./fields.js" */
/** What the book has, and the drawing of a housing. @typedef {WriteData & { face: (connector: string) => Promise<string>, lines: (family: string) => Promise<EntryLines> }} Known */
/** Something to say, or nothing. @typedef {string | false | null | undefined} Maybe */
/**
 * `left` is what is not known, `wrong` what contradicts itself, `numbers` what the book must not have yet, `inner` the list that the text
 * goes into where it is no file of its own, `file` its folder and name. `whole` is the text of a file that is there, with what is written put
 * into it; undefined as long as that cannot be told, and `isNew` whether that file is
 * still to be made. `told` is what else there is to know, `pictures` the files that go with it.
 * @typedef {Held & { elements: Node[], value: () => Front | undefined, left: () => Maybe[], wrong: () => Maybe[], numbers: () => (string | undefined)[], inner?: string, whole?: () => string | null | undefined, isNew?: () => boolean, told?: () => Maybe[], pictures?: () => File[], file: (front: Front) => string }} Form
 */

export {};
