// The form that writes an entry: what is asked on one side, the text that it makes on the other.

import { bookOf } from "../shared/book.js";
import { counted, h } from "../shared/dom.js";
import { findNumbers } from "../shared/search.js";
import { checkerOf } from "./check.js";
import { connector } from "./connector.js";
import { family } from "./family.js";
import { keep, kept } from "./keep.js";
import { kit } from "./kit.js";
import { partOf } from "./part.js";
import { toDo } from "./to_do.js";
import { entryText, itemLines } from "./yaml.js";

const KINDS = [
  ["part", "A part of a family in the book", "switch", partOf],
  ["connector", "A connector", "connector", connector],
  ["kit", "A plug renewal kit", "kit", kit],
  ["family", "A new family of switches", "switch", family],
];
const MOST_TOLD = 6;
const LONGEST_ADDRESS = 6000;

const home = document.querySelector("[data-write]");
const at = (name) => home.querySelector(`[data-write-${name}]`);
const book = bookOf(home);
const data = await load();
const check = checkerOf(data.schemas);
const known = { ...data, face: book.face };
const memory = kept();
let chosen = null;
let choosing = null;
let address = "";
let turn = 0;

async function load() {
  try {
    const answer = await fetch(home.dataset.book);
    if (!answer.ok) throw new Error(String(answer.status));
    return await answer.json();
  } catch (error) {
    home.append(h("p", { class: "box", role: "alert" }, "The form could not be loaded: there is no signal, and this device has not kept it. Load the page again."));
    throw error;
  }
}

async function choose(kind, state = memory.states[kind]) {
  const [, , schema, make] = KINDS.find(([name]) => name === kind);
  chosen = null;
  const made = make(known, () => chosen && chosen.made === made && show());
  at("fields").replaceChildren(...made.elements);
  const mine = { kind, schema, made };
  choosing = mine;
  if (state) await made.restore(state);
  if (choosing !== mine) return;
  memory.kind = kind;
  chosen = mine;
  show();
}

async function show() {
  if (!chosen) return;
  const { made, schema, kind } = chosen;
  memory.states[kind] = made.state();
  at("not-kept").hidden = keep(memory);
  const front = made.value() ?? new Map();
  const { inner } = made;
  const text = inner ? `${front.get(inner).flatMap((one) => itemLines(one, 2, true)).join("\n")}\n` : entryText(front);
  at("text").textContent = text;
  hand(text, made.file(front), Boolean(inner), front);
  const mine = ++turn;
  const told = [...(made.wrong?.() ?? []), ...check(schema, front).map(toDo)].filter(Boolean);
  if (inner && !front.get("id")) told.splice(0, told.length, ...made.wrong());
  const there = await taken(made, front);
  if (mine !== turn) return;
  say([...there, ...told], made.left().filter(Boolean));
}

/** The ways in which the text leaves the page. */
function hand(text, file, inside, front) {
  if (address) URL.revokeObjectURL(address);
  address = URL.createObjectURL(new Blob([text], { type: "text/markdown" }));
  at("file").href = address;
  at("file").download = inside ? `${front.get("parts")?.[0]?.get("number") ?? "part"}.txt` : `${front.get("id") ?? "entry"}.md`;
  const [folder, name] = file.split("/");
  const path = `entries/${folder}/${name || "…"}.md`;
  at("where").replaceChildren(...(inside ? ["Goes into ", h("code", {}, path), ", on the line below ", h("code", {}, "parts:")] : ["Goes in as a new file, ", h("code", {}, path)]));
  const { edit, add } = home.dataset;
  const link = at("editor");
  link.hidden = !name || !(inside ? edit : add);
  if (link.hidden) return;
  link.textContent = inside ? `Open ${name}.md in the repository's editor` : "Open a new file in the repository's editor";
  const named = `${add}${folder}?${new URLSearchParams({ filename: `${name}.md`, file_name: `${name}.md` })}`;
  const filled = `${named}&${new URLSearchParams({ value: text })}`;
  link.href = inside ? `${edit}${folder}/${name}.md` : filled.length > LONGEST_ADDRESS ? named : filled;
}

/** What of the entry the book has already. */
async function taken(made, front) {
  const found = [];
  const id = !made.inner && front.get("id");
  const [folder] = made.file(front).split("/");
  if (id && data.ids[folder].includes(id)) found.push(`Name of the file: there is ${id}.md already; mend that one, or name this one otherwise`);
  try {
    for (const number of made.numbers?.().filter(Boolean) ?? []) {
      const [one] = findNumbers(await book.numbers(), String(number)).exact;
      if (one) found.push(`Number: ${one.number} is in the book already; mend that entry`);
    }
  } catch {
    found.push("Number: whether the book has it could not be looked up without a signal");
  }
  return found;
}

function say(told, left) {
  const unknown = left.length > 0 && h("div", { class: "write__left" }, h("p", {}, h("strong", {}, "Left out:"), ` ${left.join("; ")}. The book will say “not known” of it, and what to measure.`));
  at("against").replaceChildren(
    told.length
      ? h("div", { class: "box write__against" }, h("p", {}, h("strong", {}, `Still to do: ${counted(told.length, "thing")}`)), h("ul", {}, told.slice(0, MOST_TOLD).map((one) => h("li", {}, one))), told.length > MOST_TOLD && h("p", { class: "soft" }, `and ${told.length - MOST_TOLD} more`))
      : h("p", { class: "box write__whole" }, "Nothing is missing that an entry has to have."),
    ...[unknown].filter(Boolean),
  );
  at("jump").textContent = told.length ? `Still to do: ${told.length}` : "Ready to send";
}

async function empty() {
  const { kind } = chosen;
  const was = memory.states[kind];
  memory.states[kind] = undefined;
  await choose(kind);
  at("emptied").replaceChildren(
    "The form is empty. ",
    h("button", { type: "button", class: "button button--quiet", onclick: async () => (at("emptied").replaceChildren(), await choose(kind, was), at("empty").focus()) }, "Take it back"),
  );
}

const asked = new URLSearchParams(location.search);
const first = [asked.get("kind"), asked.get("family") && "part", memory.kind, KINDS[0][0]].find((kind) => KINDS.some(([name]) => name === kind));
at("kind").append(
  h(
    "div",
    { class: "write__choices" },
    KINDS.map(([name, words]) => h("label", { class: "write__choice" }, h("input", { type: "radio", name: "write-kind", value: name, autocomplete: "off", checked: name === first, onchange: () => (at("emptied").replaceChildren(), choose(name)) }), words)),
  ),
);
at("fields").addEventListener("input", () => (at("emptied").replaceChildren(), show()));
at("fields").addEventListener("change", () => show());
at("form").addEventListener("submit", (event) => event.preventDefault());
at("empty").addEventListener("click", empty);
at("copy").addEventListener("click", async () => {
  const button = at("copy");
  try {
    await navigator.clipboard.writeText(at("text").textContent);
    button.textContent = "Copied";
  } catch {
    getSelection().selectAllChildren(at("text"));
    button.textContent = "Marked: copy it with the keys";
  }
  setTimeout(() => (button.textContent = "Copy the text"), 3000);
});
at("cols").hidden = false;
await choose(first, asked.get("family") && memory.states.part?.family !== asked.get("family") ? { family: asked.get("family") } : memory.states[first]);
