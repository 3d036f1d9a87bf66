// Pictures: made small on this device, and drawn anew, so that nothing of where and when they were taken is in them.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { group, row, slug, text } from "./fields.js";
import { stated } from "./yaml.js";
import "../words/write.js";

/** @import { Front } from "./fields.js" */
/** A picture: its file, and what is said of it. @typedef {{ element: HTMLElement, file: File, view: ReturnType<typeof text>, shows: ReturnType<typeof text> }} Taken */

const LONGEST_SIDE = 1600;
const QUALITY = 0.85;

/**
 * Pictures of one thing. `name()` is what their files are called after. They are not kept when the page is left: a browser keeps words.
 * @param {() => string | undefined} name @param {() => void} changed
 */
export function photos(name, changed) {
  /** @type {Taken[]} */
  const taken = [];
  const place = h("div", {});
  const says = h("p", { role: "status" });
  const input = h("input", { type: "file", accept: "image/*", multiple: true, id: "write-photos" });
  /** @param {File} chosen */
  async function take(chosen) {
    const file = await small(chosen, `${slug(name() ?? "") || "picture"}-${anyName()}.jpg`);
    const view = text(say("write.photo.view"), { help: say("write.photo.view.help") });
    const shows = text(say("write.photo.shows"), { help: say("write.photo.shows.help") });
    const remove = h("button", { type: "button", class: "button button--quiet" }, say("write.photo.take"));
    const picture = h("img", { src: await addressOf(file), alt: say("write.photo.of", { name: file.name }), class: "write__photo" });
    const element = h("div", { class: "write__item", role: "group", "aria-label": file.name }, h("p", { class: "write__words" }, say("write.photo.made", { name: file.name, kilobytes: Math.ceil(file.size / 1000) })), picture, row(view, shows), remove);
    const one = { element, file, view, shows };
    remove.addEventListener("click", () => {
      taken.splice(taken.indexOf(one), 1);
      element.remove();
      input.focus();
      changed();
    });
    taken.push(one);
    place.append(element);
  }
  input.addEventListener("change", async () => {
    says.textContent = "";
    for (const one of input.files ?? []) {
      try {
        await take(one);
      } catch {
        says.textContent = say("write.photo.failed", { name: one.name });
      }
    }
    input.value = "";
    changed();
  });
  return {
    element: group(say("write.photo.group"), h("div", { class: "write__field" }, h("label", { for: "write-photos" }, say("write.photo.choose")), input, h("small", {}, say("write.photo.help"))), says, place),
    /** @returns {Front[]} */
    value: () => taken.map((one) => stated(["file", one.file.name], ["view", one.view.value()], ["shows", one.shows.value()]) ?? new Map()),
    files: () => taken.map((one) => one.file),
  };
}

/** A picture that is no larger than a page needs, as a new file with nothing in it but what is to be seen. @param {File} chosen @param {string} name */
async function small(chosen, name) {
  const whole = await createImageBitmap(chosen, { imageOrientation: "from-image" });
  const by = Math.min(1, LONGEST_SIDE / Math.max(whole.width, whole.height));
  const canvas = h("canvas", { width: Math.round(whole.width * by), height: Math.round(whole.height * by) });
  const pen = canvas.getContext("2d");
  pen?.drawImage(whole, 0, 0, canvas.width, canvas.height);
  whole.close();
  /** @type {Blob | null} */
  const made = await new Promise((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
  if (!made || !pen) throw new Error(name);
  return new File([made], name, { type: "image/jpeg" });
}

/** Four signs that no other picture has, most likely; the hour would tell when it was taken. */
const anyName = () => [...crypto.getRandomValues(new Uint8Array(2))].map((one) => one.toString(16).padStart(2, "0")).join("");

/** A file as an address that a page may show. @param {File} file @returns {Promise<string>} */
function addressOf(file) {
  return new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(String(reader.result));
    reader.onerror = () => failed(reader.error);
    reader.readAsDataURL(file);
  });
}
