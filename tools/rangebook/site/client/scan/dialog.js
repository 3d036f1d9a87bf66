// A window that reads a code: through the camera where the browser has a reader of its own, else from a picture.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { codeIn, ownDetector } from "./codes.js";
import "../words/scan.js";

/** @import { Detector } from "../types/scan.js" */

/** Milliseconds between two looks. */
const LOOK_EVERY = 150;

/** Open it; `found` is told what the code says, once. @param {(says: string) => void} found */
export async function scan(found) {
  const detector = await ownDetector();
  const video = h("video", { class: "scan__video", muted: true, playsinline: true, hidden: true });
  const status = h("p", { role: "status", "aria-live": "polite" });
  const picture = h("input", { type: "file", accept: "image/*", capture: "environment", id: "scan-picture" });
  const dialog = h("dialog", { class: "scan", "aria-label": say("scan.open") }, video, status, h("label", { class: "find__label", for: "scan-picture" }, say("scan.picture")), picture);
  dialog.append(h("p", {}, h("button", { class: "button button--quiet", type: "button", onclick: () => dialog.close() }, say("scan.close"))));
  /** @type {MediaStream | null} */
  let stream = null;
  let open = true;
  dialog.addEventListener("close", () => {
    open = false;
    for (const track of stream?.getTracks() ?? []) track.stop();
    dialog.remove();
  });
  /** @param {string} says */
  const tell = (says) => {
    if (!open) return;
    // The window tells of its closing later; what is found twice meanwhile counts once.
    open = false;
    dialog.close();
    found(says.trim());
  };
  picture.addEventListener("change", async () => {
    const [file] = picture.files ?? [];
    if (!file) return;
    status.textContent = say("scan.looking");
    const says = await codeIn(file, detector);
    if (says) tell(says);
    else status.textContent = say("scan.none");
    picture.value = "";
  });
  document.body.append(dialog);
  dialog.showModal();
  if (!detector) return;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
  } catch {
    status.textContent = say("scan.no_camera");
    return;
  }
  video.srcObject = stream;
  video.hidden = false;
  status.textContent = say("scan.aim");
  // Not waited for: a browser may take its time, and a look at what is not there yet finds nothing.
  video.play().catch(() => {});
  while (open) {
    const says = await seen(detector, video);
    if (says) tell(says);
    else await new Promise((go) => setTimeout(go, LOOK_EVERY));
  }
  for (const track of stream.getTracks()) track.stop();
}

/** @param {Detector} detector @param {HTMLVideoElement} video */
async function seen(detector, video) {
  const [one] = await detector.detect(video).catch(() => []);
  return one?.rawValue ?? "";
}
