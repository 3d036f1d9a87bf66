// Asks the browser to keep the book on the device, says whether it does, and tells of a new edition. Nothing is replaced under the
// reader's hands: the page stays what it is until it is loaded again.

import { figure, say } from "../shared/say.js";
import { scriptUrl } from "../shared/trusted.js";
import { edition, markOf, serverEdition } from "./edition.js";

const top = new URL("../../", import.meta.url);
const kept = document.querySelector("[data-kept]");
const bar = document.querySelector("[data-newer]");
const workers = navigator.serviceWorker;

/** @param {string} text @param {"all" | "some" | "coming" | "not"} state */
function tell(text, state) {
  if (!(kept instanceof HTMLElement)) return;
  kept.textContent = text;
  kept.dataset.kept = state;
  kept.hidden = false;
}

/** @param {string} words */
function tellOfNewer(words) {
  if (!(bar instanceof HTMLElement)) return;
  bar.querySelector("[data-newer-words]")?.replaceChildren(words);
  bar.hidden = false;
}

bar?.querySelector("[data-newer-load]")?.addEventListener("click", () => location.reload());
bar?.querySelector("[data-newer-later]")?.addEventListener("click", () => {
  if (bar instanceof HTMLElement) bar.hidden = true;
});

/** Without a worker the server is asked, now and then, which edition it has. */
async function askServer() {
  // No connection: then there is nothing newer to be had either.
  const [mark, now] = await Promise.all([edition, serverEdition()]);
  if (mark && now && now.mark !== mark) tellOfNewer(now.words);
}

const WORKER = new URL("sw.js", top).href;

/** @param {MessageEvent} event */
async function heard({ data, source }) {
  // A book that lies below another one is first opened under the other one's worker: that has nothing to say of it.
  if (!(source instanceof ServiceWorker) || source.scriptURL !== WORKER) return;
  if (data?.book === "edition" && data.mark !== (await edition)) tellOfNewer(data.words);
  if (data?.book !== "kept") return;
  if (data.newer) tellOfNewer(data.words);
  if (data.families === data.of) tell(data.left ? say("offline.answers", { left: figure(data.left) }) : say("offline.all"), data.left ? "some" : "all");
  else if (data.of) tell(say("offline.some", { families: figure(data.families), of: figure(data.of) }), "some");
}

async function greet() {
  const { controller } = workers;
  if (controller?.scriptURL === WORKER) controller.postMessage({ book: "hello", mark: await edition, page: markOf("book-page") });
}

async function keep() {
  workers.addEventListener("message", heard);
  workers.addEventListener("controllerchange", greet);
  workers.startMessages();
  greet();
  try {
    const registration = await workers.register(scriptUrl(WORKER), { scope: top.pathname, updateViaCache: "none" });
    if (!registration.active) {
      tell(say("offline.coming"), "coming");
      const worker = registration.installing;
      worker?.addEventListener("statechange", () => {
        if (worker.state === "redundant" && !registration.active) tell(say("offline.not"), "not");
      });
    }
    nowAndThen(() => registration.update().catch(() => {}));
  } catch {
    tell(say("offline.not"), "not");
    nowAndThen(askServer);
  }
}

/** Whenever the page is looked at again. @param {() => unknown} work */
function nowAndThen(work) {
  const look = () => document.visibilityState === "visible" && work();
  document.addEventListener("visibilitychange", look);
  addEventListener("focus", look);
}

if (workers && isSecureContext) {
  // What the page itself needs comes first.
  if (document.readyState === "complete") keep();
  else addEventListener("load", keep);
} else {
  tell(say("offline.no_https"), "not");
  nowAndThen(askServer);
}
