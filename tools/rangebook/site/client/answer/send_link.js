// The link to an answer, to be sent to a colleague: by what the device has for that, or copied.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import "../words/answer.js";

/** A box with the whole address, a button that copies it, and one that sends it where the device can. @param {string} href @param {string} about @param {string} [head] */
export function sendLink(href, about, head = say("send.head")) {
  const address = new URL(href, location.href).href;
  const says = h("span", { class: "send__says", role: "status", "aria-live": "polite" });
  const box = h("input", { class: "send__box", type: "text", readonly: true, value: address, "aria-label": say("send.box") });
  const copy = async () => {
    says.textContent = say((await copied(address, box)) ? "send.copied" : "send.by_hand");
  };
  // Asked for when it is pressed: a browser may have it and yet refuse this address.
  const send = () => navigator.share({ title: document.title, text: about, url: address }).catch(() => {});
  return h(
    "details",
    { class: "send noprint", id: "answer-send" },
    h("summary", {}, head),
    box,
    h(
      "p",
      {},
      h("button", { class: "button button--quiet", type: "button", onclick: copy, "data-copy": true }, say("send.copy")),
      " ",
      // Not every browser has it, whatever the types say.
      "share" in navigator && h("button", { class: "button button--quiet", type: "button", onclick: send }, say("send.send")),
      " ",
      says,
    ),
  );
}

/** @param {string} text @param {HTMLInputElement} box */
async function copied(text, box) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    // An intranet page without https has no clipboard of its own; the old way still works there.
    box.focus();
    box.select();
    return document.execCommand("copy");
  }
}
