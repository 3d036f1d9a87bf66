// Numbers as they were typed.

/** A number as somebody typed it: `1.200` is written as `1.200`, whatever it is worth. */
export class Figure {
  /** @param {string} typed */
  constructor(typed) {
    this.typed = typed;
  }
}

/** What is a number as a figure; what is none as it is, for the check to tell. @param {string} typed */
export const figureOf = (typed) => (/^-?\d+(\.\d+)?$/.test(typed) ? new Figure(typed) : typed);
