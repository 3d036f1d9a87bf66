// The files of the book, each asked for once, and which family a number stands in.

import { findNumbers, nearestNumbers, numberList } from "./search.js";

/** `{to, numbers, answers, proof, lever, compare, face}` of the site whose top `home.dataset.base` leads to. */
export function bookOf(home) {
  const to = (url) => `${home.dataset.base}/${url}`;
  const asked = new Map();
  const once = (url, as) => {
    if (!asked.has(url)) {
      const got = fetch(url).then((answer) => {
        if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
        return answer[as]();
      });
      got.catch(() => asked.delete(url));
      asked.set(url, got);
    }
    return asked.get(url);
  };
  const index = () => once(home.dataset.numbers, "json");
  let list = null;
  return {
    to,
    index,
    numbers: async () => (list ??= numberList(await index())),
    answers: (family) => once(to(`data/answers/${family}.json`), "json"),
    proof: (family) => once(to(`data/proof/${family}.json`), "json"),
    lever: (family) => once(to(`data/lever/${family}.json`), "json"),
    compare: (family) => once(to(`data/compare/${family}.json`), "json"),
    face: (connector) => once(to(`data/faces/${connector}.svg`), "text"),
  };
}

/** The part with this number in any spelling, as `{family, key, number, ...}`, or null. */
export function familyOf(numbers, text) {
  return findNumbers(numbers, text).exact.find((one) => one.kind === "part") ?? null;
}

/** The parts whose numbers look most like one that is not in the book. */
export function nearest(numbers, text) {
  return nearestNumbers(numbers, text).filter((one) => one.kind === "part");
}
