// Labels for the parts bin: one part, or every part of a family.

import { letterOf } from "../answer/pieces.js";
import { bookOf, familyOf } from "../shared/book.js";
import { h, need } from "../shared/dom.js";
import { qr } from "../shared/qr.js";
import { say } from "../shared/say.js";
import "../words/label.js";

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
    const found = asked ? familyOf(await book.numbers(), asked) : null;
    if (asked && !found) {
      place.replaceChildren(h("p", { class: "box", "data-not-in-book": true }, say("label.missing", { number: asked })));
      return;
    }
    const id = found?.family ?? family ?? "";
    const [proof, answers] = await Promise.all([book.proof(id), book.answers(id)]);
    const words = (await book.index()).words.status;
    const keys = found ? [found.key] : Object.keys(proof.parts);
    place.replaceChildren(...keys.map((key) => label(proof, proof.parts[key], answers.parts[key].status, words)));
    printer.hidden = false;
  } catch {
    place.replaceChildren(h("p", { class: "box" }, say("load.failed")));
  }
}

/** @param {Proofs} proof @param {ProofPart} part @param {Status | undefined} status @param {Words["status"]} words */
function label(proof, part, status, words) {
  const { code } = part;
  return h(
    "div",
    { class: "label", "data-number": part.number },
    qr(code, say("code.label", { says: code.says })),
    h(
      "div",
      { class: "label__words" },
      h("p", { class: "number label__number" }, part.number),
      h("p", {}, proof.family.title),
      status !== "current" && h("p", { class: `label__status${status === "withdrawn" ? " label__status--withdrawn" : ""}` }, words[letterOf(status)]),
      h("p", { class: "label__small" }, say(code.address ? "label.scan" : "label.number")),
    ),
  );
}

printer.addEventListener("click", () => print());
show();
