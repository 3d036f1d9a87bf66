// What is there and the form cannot say stays: a piece that is filled in from an entry gives back, for each key that it could not say and
// that nobody has changed, what stands there.

import { recordOf } from "./fields.js";
import { alike, asData, asTyped, written } from "./lines.js";

/** @import { TypedValue } from "../types/data.js" */
/** @import { Front, Stating, Value } from "./fields.js" */

/** @param {unknown} data @returns {Front | undefined} */
function frontOf(data) {
  const made = data === undefined ? undefined : asTyped(/** @type {TypedValue} */ (data));
  return made instanceof Map ? made : undefined;
}

/** @template {Stating<Front>} P @param {P} piece @returns {P} */
export function keeping(piece) {
  /** What stands in the entry, and what the piece said of it before anybody typed. @type {{ stands: Front, was: Front } | undefined} */
  let kept;
  /** @returns {Front | undefined} */
  const value = () => {
    const now = piece.value();
    if (!kept || !now) return now;
    const { stands, was } = kept;
    /** @type {Front} */
    const made = new Map();
    for (const [key, said] of now) {
      const stood = stands.get(key);
      made.set(key, stood !== undefined && written(said) === written(was.get(key)) && !alike(stood, said) ? stood : said);
    }
    for (const [key, stood] of stands) if (!made.has(key) && !was.has(key)) made.set(key, stood);
    return made;
  };
  return {
    ...piece,
    value,
    state: () => (kept ? { inner: piece.state(), stands: asData(kept.stands), was: asData(kept.was) } : piece.state()),
    /** @param {unknown} state */
    restore: async (state) => {
      const { inner, stands, was } = recordOf(state);
      await piece.restore(inner ?? state);
      const stood = frontOf(stands);
      kept = stood && { stands: stood, was: frontOf(was) ?? piece.value() ?? new Map() };
    },
    /** @param {Value} stated */
    from: (stated) => ({ inner: piece.from?.(stated), stands: asData(stated) }),
  };
}
