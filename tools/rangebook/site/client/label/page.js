// Labels for the parts bin: one part, or every part of a family.

import { bookOf, familyOf } from "../shared/book.js";
import { h } from "../shared/dom.js";
import { qr } from "../shared/qr.js";

const home = document.querySelector("[data-label]");
const place = home.querySelector("[data-label-place]");
const printer = home.querySelector("[data-label-print]");
const book = bookOf(home);

async function show() {
  const query = new URLSearchParams(location.search);
  const asked = (query.get("part") ?? "").trim();
  const family = query.get("family");
  if (!asked && !family) return;
  try {
    const found = asked ? familyOf(await book.numbers(), asked) : null;
    if (asked && !found) {
      place.replaceChildren(h("p", { class: "box", "data-not-in-book": true }, `“${asked}” is not in the book.`));
      return;
    }
    const id = found?.family ?? family;
    const [proof, answers] = await Promise.all([book.proof(id), book.answers(id)]);
    const words = (await book.index()).words.status;
    const keys = found ? [found.key] : Object.keys(proof.parts);
    place.replaceChildren(...keys.map((key) => label(proof, proof.parts[key], answers.parts[key].status, words)));
    printer.hidden = false;
  } catch {
    place.replaceChildren(h("p", { class: "box" }, "The book could not be loaded. Is there a connection?"));
  }
}

function label(proof, part, status, words) {
  const { code } = part;
  return h(
    "div",
    { class: "label", "data-number": part.number },
    qr(code, `QR code: ${code.says}`),
    h(
      "div",
      { class: "label__words" },
      h("p", { class: "number label__number" }, part.number),
      h("p", {}, proof.family.title),
      status !== "current" && h("p", { class: "label__status" }, words[status ? status[0] : "?"]),
      h("p", { class: "label__small" }, code.address ? "Scan: what fits, what else to order" : "The code holds the number"),
    ),
  );
}

printer.addEventListener("click", () => print());
show();
