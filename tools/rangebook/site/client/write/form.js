// What every kind of entry gives to the page: the pieces to show, the entry that they make, and what is still to be said of it.

/** @import { WriteData } from "../types/data.js" */
/** @import { Front, Held } from "./fields.js" */
/** What the book has, and the drawing of a housing. @typedef {WriteData & { face: (connector: string) => Promise<string> }} Known */
/** Something to say, or nothing. @typedef {string | false | null | undefined} Maybe */
/**
 * `left` is what is not known, `wrong` what contradicts itself, `numbers` what the book must not have yet, `inner` the list that the text
 * goes into where it is no file of its own, `file` its folder and name.
 * @typedef {Held & { elements: Node[], value: () => Front | undefined, left: () => Maybe[], wrong: () => Maybe[], numbers: () => (string | undefined)[], inner?: string, file: (front: Front) => string }} Form
 */

export {};
