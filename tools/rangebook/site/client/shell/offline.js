// Asks the browser to keep the book on the device, says whether it does, and tells of a new edition. Nothing is replaced under the
// reader's hands: the page stays what it is until it is loaded again.

const top = new URL("../../", import.meta.url);
const mark = document.querySelector('meta[name="book-edition"]')?.content ?? "";
const kept = document.querySelector("[data-kept]");
const bar = document.querySelector("[data-newer]");
const workers = navigator.serviceWorker;

function say(text, state) {
  if (!kept) return;
  kept.textContent = text;
  kept.dataset.kept = state;
  kept.hidden = false;
}

function tellOfNewer(words) {
  if (!bar) return;
  bar.querySelector("[data-newer-words]").textContent = words;
  bar.hidden = false;
}

bar?.querySelector("[data-newer-load]").addEventListener("click", () => location.reload());
bar?.querySelector("[data-newer-later]").addEventListener("click", () => {
  bar.hidden = true;
});

/** Without a worker the server is asked, now and then, which edition it has. */
async function askServer() {
  try {
    const answer = await fetch(new URL("edition.json", top), { cache: "no-store" });
    const now = answer.ok ? await answer.json() : null;
    if (now && now.mark !== mark) tellOfNewer(now.words);
  } catch {
    // No connection: then there is nothing newer to be had either.
  }
}

const WORKER = new URL("sw.js", top).href;

function heard({ data, source }) {
  // A book that lies below another one is first opened under the other one's worker: that has nothing to say of it.
  if (source?.scriptURL !== WORKER) return;
  if (data?.book === "edition" && data.mark !== mark) tellOfNewer(data.words);
  if (data?.book === "edition" || data?.book !== "kept") return;
  if (data.newer) tellOfNewer(data.words);
  if (data.families === data.of) say("The whole book is on this device and works without a connection.", "all");
  else if (data.of) say(`On this device, for the time without a connection: the find box and ${data.families.toLocaleString("en")} of ${data.of.toLocaleString("en")} switch families; other pages once you have opened them.`, "some");
}

function greet() {
  if (workers.controller?.scriptURL === WORKER) workers.controller.postMessage({ book: "hello", mark });
}

async function keep() {
  workers.addEventListener("message", heard);
  workers.addEventListener("controllerchange", greet);
  workers.startMessages();
  greet();
  try {
    const registration = await workers.register(WORKER, { scope: top.pathname, updateViaCache: "none" });
    if (!registration.active) {
      say("Being put on this device, for the time without a connection …", "coming");
      registration.installing?.addEventListener("statechange", (event) => {
        if (event.target.state === "redundant" && !registration.active) say("The book could not be put on this device: it needs a connection.", "not");
      });
    }
    const look = () => document.visibilityState === "visible" && registration.update().catch(() => {});
    document.addEventListener("visibilitychange", look);
    addEventListener("focus", look);
  } catch {
    say("The book could not be put on this device: it needs a connection.", "not");
    askNowAndThen();
  }
}

function askNowAndThen() {
  const look = () => document.visibilityState === "visible" && askServer();
  document.addEventListener("visibilitychange", look);
  addEventListener("focus", look);
}

if (workers && isSecureContext) {
  // What the page itself needs comes first.
  if (document.readyState === "complete") keep();
  else addEventListener("load", keep);
} else {
  say("Here the book needs a connection: a browser keeps it on the device only if it comes by https.", "not");
  askNowAndThen();
}
