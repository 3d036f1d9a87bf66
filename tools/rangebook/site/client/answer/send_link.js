// The link to an answer, to be sent to a colleague: by what the device has for that, or copied.

import { h } from "../shared/dom.js";

/** A box with the whole address, a button that copies it, and one that sends it where the device can. */
export function sendLink(href, about) {
  const address = new URL(href, location.href).href;
  const says = h("span", { class: "send__says", role: "status", "aria-live": "polite" });
  const box = h("input", { class: "send__box", type: "text", readonly: true, value: address, "aria-label": "Link to this answer" });
  const copy = async () => {
    says.textContent = (await copied(address, box)) ? "Copied" : "Copy it from the box";
  };
  // Asked for when it is pressed: a browser may have it and yet refuse this address.
  const send = () => navigator.share({ title: document.title, text: about, url: address }).catch(() => {});
  return h(
    "details",
    { class: "send noprint" },
    h("summary", {}, "Send this answer"),
    box,
    h("p", {}, h("button", { class: "button button--quiet", type: "button", onclick: copy, "data-copy": true }, "Copy the link"), " ", navigator.share && h("button", { class: "button button--quiet", type: "button", onclick: send }, "Send"), " ", says),
  );
}

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
