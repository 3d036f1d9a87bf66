// What a file says several times stands in it once (`rangebook.site.data.said_once`); here it is put together again.

/** Whatever JSON can be. @typedef {null | boolean | number | string | Json[] | { [key: string]: Json }} Json */

/**
 * A file's data with all that it says at its place, each time anew, so that who changes something changes it there alone.
 * @param {{ [key: string]: Json }} data
 * @returns {{ [key: string]: Json }}
 */
export function together({ same, ...data }) {
  const list = Array.isArray(same) ? same : [];
  /** @param {Json} node @returns {Json} */
  const whole = (node) => {
    if (Array.isArray(node)) return node.map(whole);
    if (typeof node !== "object" || node === null) return node;
    const place = node["="];
    if (typeof place !== "number") return mapping(node);
    return place < 0 ? mapping(/** @type {{ [key: string]: Json }} */ (node.of)) : whole(list[place]);
  };
  // By `fromEntries` a key called `__proto__` is a key like any other.
  /** @param {{ [key: string]: Json }} node */
  const mapping = (node) => Object.fromEntries(Object.entries(node).map(([key, one]) => [key, whole(one)]));
  return mapping(data);
}
