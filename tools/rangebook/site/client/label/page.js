// Labels for the parts bin: one part, or every part of a family.

import { letterOf } from "../answer/pieces.js";
import { bookOf, familyOf } from "../shared/book.js";
import { h, need } from "../shared/dom.js";
import { say } from "../shared/say.js";
import "../words/label.js";
import { label } from "./label.js";

/** @import { ProofPart, Proofs, Status, Words } from "../types/data.js" */

const home = need(document, "[data-label]", HTMLElement);
const place = need(home, "[data-label-place]", HTMLElement);
const printer = need(home, "[data-label-print]", HTMLElement);
const book = bookOf(home);

async function show() {
  const query = new URLSearchParams(location.search);
  const asked = (query.get("part") ?? "").trim();
  const family = query.get("family");
  if (!asked && !family) return;
  try {
    const found = asked ? familyOf(await book.numbers(asked), asked) : null;
    if (asked && !found) {
      place.replaceChildren(h("p", { class: "box", "data-not-in-book": true }, say("label.missing", { number: asked })));
      return;
    }
    const id = found?.family ?? family ?? "";
    const [proof, answers] = await Promise.all([book.proof(id), book.answers(id)]);
    const words = (await book.words()).status;
    const keys = found ? [found.key] : Object.keys(proof.parts);
    place.replaceChildren(...keys.map((key) => labelOf(proof, proof.parts[key], answers.parts[key].status, words)));
    printer.hidden = false;
  } catch {
    place.replaceChildren(h("p", { class: "box" }, say("load.failed")));
  }
}

/** @param {Proofs} proof @param {ProofPart} part @param {Status | undefined} status @param {Words["status"]} words */
function labelOf(proof, part, status, words) {
  return label({ says: part.number, about: proof.family.title, layers: part.layers, code: part.code, status: status === "current" ? "" : words[letterOf(status)], withdrawn: status === "withdrawn" });
}

printer.addEventListener("click", () => print());
show();
