// The form that writes an entry: what is asked on one side, the text that it makes on the other.

import { bookOf } from "../shared/book.js";
import { h, need } from "../shared/dom.js";
import { phrase, say } from "../shared/say.js";
import { findNumbers } from "../shared/search.js";
import { checkerOf } from "./check.js";
import { connector } from "./connector.js";
import { family } from "./family.js";
import { recordOf } from "./fields.js";
import { keep, kept } from "./keep.js";
import { kit } from "./kit.js";
import { partOf } from "./part.js";
import { toDo } from "./to_do.js";
import { vehicleOf } from "./vehicle.js";
import { entryText, itemLines } from "./yaml.js";
import "../words/write.js";

/** @import { Kind } from "./check.js" */
/** @import { Front } from "./fields.js" */
/** @import { Form, Known, Maybe } from "./form.js" */
/** What leaves the page: a file's name, where it goes in words, and the text. @typedef {{ name: string, where: string, text: string, pictures: File[] }} Sent */
/** A kind of entry: its name, what it is called, the schema that it follows, and its form. @typedef {{ name: string, words: string, schema: Kind, make: (book: Known, changed: () => void) => Form }} Choice */

/** @type {Choice[]} */
const KINDS = [
  { name: "part", words: say("write.kind.part"), schema: "switch", make: partOf },
  { name: "vehicle", words: say("write.kind.vehicle"), schema: "switch", make: vehicleOf },
  { name: "connector", words: say("write.kind.connector"), schema: "connector", make: connector },
  { name: "kit", words: say("write.kind.kit"), schema: "kit", make: kit },
  { name: "family", words: say("write.kind.family"), schema: "switch", make: family },
];
const MOST_TOLD = 6;
const LONGEST_ADDRESS = 6000;
const LONGEST_LETTER = 8000;
const COPIED_FOR_MS = 3000;

const home = need(document, "[data-write]", HTMLElement);
/** @param {string} name */
const at = (name) => need(home, `[data-write-${name}]`, HTMLElement);
/** @param {string} name */
const linkAt = (name) => need(home, `[data-write-${name}]`, HTMLAnchorElement);
const book = bookOf(home);
const data = await load();
const check = checkerOf(data.schemas);
/** @type {Known} */
const known = { ...data, face: book.face, lines: book.lines };
const memory = kept();
/** @type {{ choice: Choice, made: Form } | null} */
let chosen = null;
/** @type {Form | null} */
let choosing = null;
let address = "";
/** @type {Sent | null} */
let sent = null;
let turn = 0;

async function load() {
  try {
    return await book.write();
  } catch (error) {
    home.append(h("p", { class: "box", role: "alert" }, say("write.failed")));
    throw error;
  }
}

/** @param {Choice} choice @param {unknown} [state] */
async function choose(choice, state = memory.states[choice.name]) {
  chosen = null;
  // A form tells of a change already while it is made, when nothing is chosen yet.
  const made = choice.make(known, () => chosen && chosen.made === made && show());
  at("fields").replaceChildren(...made.elements);
  choosing = made;
  if (state) await made.restore(state);
  if (choosing !== made) return;
  memory.kind = choice.name;
  chosen = { choice, made };
  show();
}

async function show() {
  if (!chosen) return;
  const { choice, made } = chosen;
  memory.states[choice.name] = made.state();
  at("not-kept").hidden = keep(memory);
  /** @type {Front} */
  const front = made.value() ?? new Map();
  const whole = made.whole?.() ?? undefined;
  const text = whole ?? (made.inner ? innerText(front, made.inner) : entryText(front));
  at("text").textContent = text;
  const how = made.isNew?.() ? "new_file" : whole !== undefined ? "in_place" : made.inner ? "into" : "new_file";
  hand(text, made.file(front), how, front);
  const mine = ++turn;
  // Without its family a part has nothing to be held against.
  const against = made.inner && !front.get("id") ? [] : check(choice.schema, front).map(toDo);
  const there = await taken(made, front);
  if (mine !== turn) return;
  report(texts([...there, ...made.wrong(), ...against]), texts(made.left()), texts(made.told?.() ?? []));
}

/** The items of a list, to be put into a file that is there. @param {Front} front @param {string} inner */
function innerText(front, inner) {
  const items = front.get(inner);
  return `${(Array.isArray(items) ? items : []).flatMap((one) => itemLines(one, 2, true)).join("\n")}\n`;
}

/** What there is to say. @param {Maybe[]} words */
const texts = (words) => words.filter((one) => typeof one === "string");

/** The number of the part that is written, for a file of its own. @param {Front} front */
function partName(front) {
  const parts = front.get("parts");
  const first = Array.isArray(parts) ? parts[0] : undefined;
  return (first instanceof Map && first.get("number")) || "part";
}

/** The ways in which the text leaves the page. @param {string} text @param {string} file @param {"in_place" | "into" | "new_file"} how @param {Front} front */
function hand(text, file, how, front) {
  const inside = how !== "new_file";
  if (address) URL.revokeObjectURL(address);
  address = URL.createObjectURL(new Blob([text], { type: "text/markdown" }));
  linkAt("file").href = address;
  const download = how === "into" ? `${partName(front)}.txt` : `${front.get("id") ?? "entry"}.md`;
  linkAt("file").download = download;
  const [folder, name] = file.split("/");
  const path = h("code", {}, `entries/${folder}/${name || "…"}.md`);
  const where = h("span", {}, how === "into" ? phrase("write.into", { path, key: h("code", {}, "parts:") }) : phrase(`write.${how}`, { path }));
  sent = { name: download, where: where.textContent ?? "", text, pictures: chosen?.made.pictures?.() ?? [] };
  showPictures(sent.pictures, file);
  at("where").replaceChildren(...where.childNodes);
  linkAt("mail").href = mailOf(sent);
  const { edit, add } = home.dataset;
  const link = linkAt("editor");
  link.hidden = !name || !(inside ? edit : add);
  if (link.hidden) return;
  link.textContent = inside ? say("write.editor", { name }) : say("write.editor.new");
  const named = `${add}${folder}?${new URLSearchParams({ filename: `${name}.md`, file_name: `${name}.md` })}`;
  const filled = `${named}&${new URLSearchParams({ value: text })}`;
  link.href = inside ? `${edit}${folder}/${name}.md` : filled.length > LONGEST_ADDRESS ? named : filled;
}

/** @type {string[]} */
let pictured = [];
let picturedFor = "";

/** The pictures that go with the entry: where, and each to save. @param {File[]} pictures @param {string} file */
function showPictures(pictures, file) {
  const now = [file, ...pictures.map((one) => one.name)].join("\n");
  // A button that is put anew while somebody taps it is not tapped.
  if (now === picturedFor) return;
  picturedFor = now;
  for (const one of pictured) URL.revokeObjectURL(one);
  pictured = pictures.map((one) => URL.createObjectURL(one));
  const [folder, name] = file.split("/");
  const path = h("code", {}, `entries/${folder}/photos/${name || "…"}/`);
  at("pictures").replaceChildren(
    ...(pictures.length ? [h("p", {}, phrase("write.photo.goes", { path })), h("p", { class: "write__go" }, pictures.map((one, index) => [h("a", { class: "button button--quiet", href: pictured[index], download: one.name }, say("write.photo.save", { name: one.name })), " "]))] : []),
  );
}

/** A letter with the text in it; where that is too long for an address only what it is, and the text is copied as it is begun. @param {Sent} one */
function mailOf({ name, where, text }) {
  const letter = (/** @type {string} */ body) => `mailto:?${new URLSearchParams({ subject: say("write.mail.subject", { name }), body }).toString().replaceAll("+", "%20")}`;
  const whole = letter(`${where}\r\n\r\n${text.replaceAll("\n", "\r\n")}`);
  return whole.length > LONGEST_LETTER ? letter(`${where}\r\n\r\n`) : whole;
}

/** By what the device has for sending: as a file where it takes one, else as text. */
async function share() {
  if (!sent) return;
  const file = new File([sent.text], sent.name.replace(/\.md$/, ".txt"), { type: "text/plain" });
  const files = [file, ...sent.pictures];
  const about = { title: sent.name, text: `${sent.where}\n\n${sent.text}` };
  try {
    await navigator.share(navigator.canShare?.({ files }) ? { title: about.title, text: sent.where, files } : about);
  } catch {
    // Put off, or refused: nothing was sent, and nothing is lost.
  }
}

/** What of the entry the book has already. @param {Form} made @param {Front} front */
async function taken(made, front) {
  /** @type {string[]} */
  const found = [];
  const id = made.inner || (made.whole?.() ?? undefined) !== undefined ? undefined : front.get("id");
  const [folder] = made.file(front).split("/");
  /** @type {Record<string, string[]>} */
  const ids = data.ids;
  if (typeof id === "string" && ids[folder].includes(id)) found.push(say("write.taken.id", { id }));
  try {
    for (const number of made.numbers()) {
      const [one] = number ? findNumbers(await book.numbers(number), number).exact : [];
      if (one) found.push(say("write.taken.number", { number: one.number }));
    }
  } catch {
    found.push(say("write.taken.unknown"));
  }
  return found;
}

/** What is left out, with how it is measured: what more answers wait for stands before what fewer do. @type {[string, string][]} */
const MEASURED = [
  [say("write.left.mount"), say("write.first.mount")],
  [say("write.left.hub"), say("write.first.hub")],
  [say("write.left.terminals"), say("write.first.terminals")],
  [say("write.left.half"), say("write.first.terminals")],
  [say("write.left.closes"), say("write.first.closes")],
  [say("write.left.metered"), say("write.first.closes")],
  [say("write.left.seals"), say("write.first.seals")],
];

/** Say what is still to do, what is left out, and what else there is to know. @param {string[]} told @param {string[]} left @param {string[]} also */
function report(told, left, also) {
  const more = told.length - MOST_TOLD;
  at("against").replaceChildren(
    told.length
      ? h("div", { class: "box write__against" }, h("p", {}, h("strong", {}, say("write.still", { count: told.length }))), h("ul", {}, told.slice(0, MOST_TOLD).map((one) => h("li", {}, one))), more > 0 && h("p", { class: "soft" }, say("more.plain", { count: more })))
      : h("p", { class: "box write__whole" }, say("write.whole")),
    left.length ? h("div", { class: "write__left" }, h("p", {}, phrase("write.left", { lead: h("strong", {}, say("write.left.lead")), what: left.join("; ") })), firstOf(left)) : "",
    ...also.map((one) => h("p", {}, one)),
  );
  at("jump").textContent = told.length ? say("write.still.short", { count: told.length }) : say("write.ready");
}

/** The one thing to measure first, where something is left out that is measured, and how. @param {string[]} left */
function firstOf(left) {
  const first = MEASURED.find(([what]) => left.includes(what));
  return first && h("p", {}, phrase("write.first", { lead: h("strong", {}, say("write.first.lead")), how: first[1] }));
}

async function empty() {
  if (!chosen) return;
  const { choice } = chosen;
  const was = memory.states[choice.name];
  memory.states[choice.name] = undefined;
  await choose(choice);
  const back = async () => {
    at("emptied").replaceChildren();
    await choose(choice, was);
    at("empty").focus();
  };
  at("emptied").replaceChildren(say("write.emptied"), " ", h("button", { type: "button", class: "button button--quiet", onclick: back }, say("write.take_back")));
}

async function copy() {
  const button = at("copy");
  try {
    await navigator.clipboard.writeText(at("text").textContent ?? "");
    button.textContent = say("write.copied");
  } catch {
    getSelection()?.selectAllChildren(at("text"));
    button.textContent = say("write.marked");
  }
  setTimeout(() => {
    button.textContent = say("write.copy");
  }, COPIED_FOR_MS);
}

const asked = new URLSearchParams(location.search);
const wanted = asked.get("family");
const first = [asked.get("kind"), wanted && "part", memory.kind].map((name) => KINDS.find((one) => one.name === name)).find((one) => one) ?? KINDS[0];
/** @param {Choice} choice */
const tile = (choice) => {
  const change = () => {
    at("emptied").replaceChildren();
    choose(choice);
  };
  return h("label", { class: "write__choice" }, h("input", { type: "radio", name: "write-kind", value: choice.name, autocomplete: "off", checked: choice === first, onchange: change }), choice.words);
};
at("kind").append(h("div", { class: "write__choices" }, KINDS.map(tile)));
at("fields").addEventListener("input", () => {
  at("emptied").replaceChildren();
  show();
});
at("fields").addEventListener("change", () => show());
at("form").addEventListener("submit", (event) => event.preventDefault());
at("empty").addEventListener("click", empty);
at("copy").addEventListener("click", copy);
linkAt("mail").addEventListener("click", () => sent && linkAt("mail").href.length < sent.text.length && copy());
// What goes into a file that is there is pasted: the editor cannot be given it.
linkAt("editor").addEventListener("click", () => !linkAt("editor").href.includes("value=") && copy());
at("share").addEventListener("click", share);
// Not every browser has it, whatever the types say.
at("share").hidden = !("share" in navigator);
at("cols").hidden = false;
const part = asked.get("part") ?? "";
const before = recordOf(memory.states.part);
const goesOn = before.family === wanted && (!part || before.number === part);
await choose(first, wanted && !goesOn ? { family: wanted, number: part } : memory.states[first.name]);
