// The bar's keys: a scanner that types, `/` goes to the find box, arrows walk through what it found, Escape closes the menu.

const box = document.querySelector("#q");
const menu = document.querySelector("[data-menu]");

/** Whether a key is meant for the page and not for something that is being written. @param {KeyboardEvent} event */
function isFree(event) {
  const at = event.target;
  const typing = at instanceof HTMLElement && (at.isContentEditable || ["INPUT", "TEXTAREA", "SELECT"].includes(at.tagName));
  return !typing && !event.ctrlKey && !event.metaKey && !event.altKey;
}

/** The rows that were found, and the box above them. @param {number} by */
function walk(by) {
  const rows = [...document.querySelectorAll("[data-find-answer] a.row, [data-find-answer] .choice__number a")].filter((one) => one instanceof HTMLElement && one.checkVisibility());
  const stops = [box, ...rows];
  const at = document.activeElement ? stops.indexOf(document.activeElement) : -1;
  const next = stops[at + by];
  if (at < 0 || !(next instanceof HTMLElement)) return false;
  next.focus();
  return true;
}

const BURST_MS = 60;
const SHORTEST = 4;
let burst = "";
let last = 0;

/**
 * A scanner types faster than anybody and ends with Enter. It is heard wherever on the page one is, but in a field, where it types by itself.
 * True where its Enter has been taken.
 * @param {KeyboardEvent} event
 */
function scanned(event) {
  if (!(box instanceof HTMLInputElement) || !isFree(event)) return false;
  if (event.timeStamp - last > BURST_MS) burst = "";
  last = event.timeStamp;
  if (event.key.length === 1) burst += event.key;
  if (event.key !== "Enter" || burst.length < SHORTEST) return false;
  box.value = burst;
  burst = "";
  box.dispatchEvent(new Event("input", { bubbles: true }));
  box.form?.requestSubmit();
  return true;
}

addEventListener("keydown", (event) => {
  if (scanned(event)) {
    event.preventDefault();
  } else if (event.key === "/" && !burst.slice(0, -1) && isFree(event) && box instanceof HTMLInputElement) {
    event.preventDefault();
    box.focus();
    box.select();
  } else if ((event.key === "ArrowDown" && walk(1)) || (event.key === "ArrowUp" && walk(-1))) {
    event.preventDefault();
  } else if (event.key === "Escape" && menu instanceof HTMLDetailsElement && menu.open) {
    menu.open = false;
    menu.querySelector("summary")?.focus();
  }
});
addEventListener("click", ({ target }) => {
  if (menu instanceof HTMLDetailsElement && target instanceof Node && !menu.contains(target)) menu.open = false;
});
