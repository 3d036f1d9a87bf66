// Records of the bay: fitted here, and it worked or did not, because; with what was metered. Kept on this device, and sent from here.

import { bookOf } from "../shared/book.js";
import { flat, h, need } from "../shared/dom.js";
import { end } from "../shared/one_part.js";
import { listed, say } from "../shared/say.js";
import { findNumbers, vehicleLines } from "../shared/search.js";
import { checkerOf } from "../write/check.js";
import { group, pick, row, text } from "../write/fields.js";
import { toDo } from "../write/to_do.js";
import { keepRecords, keptRecords, newId, today, withRecord } from "./keep.js";
import { byFamily, partsOf, textOf, wholeText } from "./text.js";
import "../words/records.js";

/** @import { Child } from "../shared/dom.js" */
/** @import { Front } from "../write/fields.js" */
/** @import { Kept, Measured } from "./keep.js" */

const home = need(document, "[data-records]", HTMLElement);
/** @param {string} name */
const at = (name) => need(home, `[data-records-${name}]`, HTMLElement);
const status = at("status");
const book = bookOf(home);
await book.renewSeat().catch(() => {});
const query = new URLSearchParams(location.search);

/** Where this browser keeps nothing, they are here until the page is left. */
let held = keptRecords();
/** The record that is being changed, and what was metered with it. @type {{ id: string | null, measured: Measured | undefined }} */
let open = { id: null, measured: undefined };

const number = text(say("records.number"), { autocapitalize: "characters" });
const vehicle = text(say("records.vehicle"), { help: say("records.vehicle.help"), list: "records-vehicles" });
const outcome = pick(say("records.outcome"), [["works", say("records.works")], ["fails", say("records.fails")]], { none: say("records.outcome.none") });
const note = text(say("records.note"), { autocapitalize: "sentences" });
const day = text(say("records.on"), { type: "date", value: today() });
// Nobody is put down who did not say so: a device goes from hand to hand.
const by = text(say("records.by"), { help: say("records.by.help") });
const vehicles = h("datalist", { id: "records-vehicles" });
const metered = h("div", {});
at("fields").replaceChildren(group(say("records.tried"), row(number, vehicle), row(outcome, note), row(day, by), vehicles, metered));
number.input.addEventListener("change", offerVehicles);

/** The vehicles of the seat that was asked for, else of the part's family, to be chosen from. */
async function offerVehicles() {
  const found = await partOf(number.value() ?? "").catch(() => null);
  const lines = vehicleLines(await book.names(), await book.index());
  const seat = query.get("seat");
  const own = seat ? lines.filter((one) => one.seat && `${one.family}/${one.seat}` === seat) : [];
  const near = own.length ? own : lines.filter((one) => one.family === found?.family);
  const names = [...new Set((near.length ? near : lines).map((one) => one.vehicle))];
  vehicles.replaceChildren(...names.map((one) => h("option", { value: one })));
  return own.length && names.length === 1 ? names[0] : "";
}

/** @param {string} typed */
async function partOf(typed) {
  const [one] = typed ? findNumbers(await book.numbers(typed), typed).exact : [];
  return one && "family" in one ? one : null;
}

/** What the schema has against records of one family, in the words of the form. @param {string} family @param {Kept[]} records */
async function against(family, records) {
  const data = await book.write();
  const known = data.families.find((one) => one.id === family);
  /** @type {Front} */
  const front = new Map();
  for (const [key, value] of /** @type {const} */ ([["kind", "switch"], ["id", family], ["title", known?.title ?? family], ["positions", known?.positions ?? ["P"]]])) front.set(key, value);
  front.set("parts", partsOf(records));
  return checkerOf(data.schemas)("switch", front).map(toDo);
}

async function take() {
  const typed = number.value();
  const found = await partOf(typed ?? "");
  if (!typed || !found) return refuse(typed ? say("records.not_in_book", { number: typed }) : say("records.needs_number"));
  if (!outcome.value() && !open.measured) return refuse(say("records.needs_outcome"));
  if (outcome.value() === "fails" && !note.value()) return refuse(say("records.needs_because"));
  /** @type {Kept} */
  const one = { id: open.id ?? newId(held), part: found.number, family: found.family };
  const tried = outcome.value() ? { outcome: outcome.value(), vehicle: vehicle.value(), note: note.value() } : {};
  Object.assign(one, Object.fromEntries(Object.entries({ ...tried, on: day.value(), by: by.value(), measured: open.measured }).filter(([, value]) => value !== undefined)));
  const [wrong] = await against(found.family, [one]);
  if (wrong) return refuse(wrong);
  held = withRecord(held, one);
  const kept = keepRecords(held);
  begin();
  status.textContent = say(kept ? "records.kept" : "records.not_kept");
  return show();
}

/** @param {string} why */
function refuse(why) {
  status.textContent = why;
}

/** An empty form, or one with a record in it. @param {Kept} [one] */
function begin(one) {
  open = { id: one?.id ?? null, measured: one?.measured };
  for (const [field, value] of /** @type {const} */ ([[number, one?.part], [vehicle, one?.vehicle], [note, one?.note], [by, one?.by], [day, one ? one.on : today()]])) field.input.value = value ?? "";
  outcome.input.value = one?.outcome ?? "";
  showMetered(one);
}

/** @param {Kept} [one] */
function showMetered(one) {
  const without = () => {
    open.measured = undefined;
    showMetered();
  };
  const { differs = [], unsettled = 0 } = one?.measured ?? {};
  const warned = [
    ...differs.map(([[a, b], positions]) => say("records.differs", { pair: say("pair", { a: end(a), b: end(b) }), positions: listed(positions) })),
    ...(unsettled ? [say("records.unsettled", { count: unsettled })] : []),
    ...(differs.length ? [say("records.second")] : []),
  ];
  const shown = one?.measured ? [h("p", {}, say("records.measured")), warned.length > 0 && h("div", { class: "box box--unknown", "data-records-differs": true }, warned.map((text) => h("p", {}, text))), h("pre", { class: "write__text", tabindex: "0", "data-records-metered": true }, textOf([{ ...one, outcome: undefined }])), h("button", { type: "button", class: "button button--quiet", onclick: without }, say("records.without"))] : [];
  metered.replaceChildren(...flat(shown));
}

/** One record in a line. @param {Kept} one */
function lineOf(one) {
  const what = [one.outcome && say(one.outcome === "works" ? "records.worked" : "records.failed"), one.vehicle, one.on, one.by, one.note, one.measured && say("records.metered"), one.sent && say("records.sent_on", { day: one.sent })];
  return say("records.line", { number: one.part, what: what.filter((each) => typeof each === "string").join("; ") });
}

/** @param {Kept} one */
function item(one) {
  const change = () => {
    begin(one);
    number.input.focus();
  };
  const off = () => {
    held = held.filter((each) => each !== one);
    keepRecords(held);
    show();
  };
  return h("li", { "data-record": one.id }, h("span", {}, lineOf(one)), " ", h("button", { type: "button", class: "button button--quiet", onclick: change }, say("records.change")), " ", h("button", { type: "button", class: "button button--quiet", onclick: off }, say("records.take")));
}

let address = "";
function show() {
  const waiting = held.filter((one) => !one.sent);
  const sent = held.filter((one) => one.sent);
  const clear = () => {
    held = waiting;
    keepRecords(held);
    show();
  };
  at("list").replaceChildren(
    waiting.length ? h("div", {}, h("h2", {}, say("records.waiting", { count: waiting.length })), h("ul", { class: "rows" }, waiting.map(item)), leaving(waiting)) : h("p", { class: "box" }, say("records.none")),
    sent.length ? h("details", { "data-records-sent": true }, h("summary", {}, say("records.gone", { count: sent.length })), h("ul", { class: "rows" }, sent.map(item)), h("button", { type: "button", class: "button button--quiet", onclick: clear }, say("records.clear"))) : "",
  );
}

/** The ways in which records leave the device. @param {Kept[]} records @returns {Child} */
function leaving(records) {
  const whole = wholeText(records);
  const name = `records-${today()}.txt`;
  if (address) URL.revokeObjectURL(address);
  address = URL.createObjectURL(new Blob([whole], { type: "text/plain" }));
  const says = h("span", { role: "status", "aria-live": "polite" });
  const shown = h("pre", { class: "write__text", tabindex: "0", "data-records-text": true }, whole);
  /** @param {string} piece */
  const copy = async (piece) => {
    try {
      await navigator.clipboard.writeText(piece);
      says.textContent = say("records.copied");
    } catch {
      getSelection()?.selectAllChildren(shown);
      says.textContent = say("records.by_hand");
    }
  };
  const marked = () => {
    held = held.map((one) => (records.includes(one) ? { ...one, sent: today() } : one));
    keepRecords(held);
    show();
  };
  const send = async () => {
    const file = new File([whole], name, { type: "text/plain" });
    const about = { title: say("records.about_file", { count: records.length }), text: whole };
    try {
      // As a file where the device takes one; what was put off or refused was not sent.
      await navigator.share(navigator.canShare?.({ files: [file] }) ? { title: about.title, files: [file] } : about);
      marked();
    } catch {
      says.textContent = "";
    }
  };
  const { edit } = home.dataset;
  const editors = byFamily(records).map(([family, its]) => h("a", { class: "button button--quiet", href: `${edit}switches/${family}.md`, onclick: () => copy(textOf(its)), "data-records-editor": family }, say("records.editor", { name: `${family}.md` })));
  return [
    h("p", { class: "soft" }, say("records.where")),
    shown,
    h(
      "p",
      { class: "write__go" },
      h("a", { class: "button", href: address, download: name, "data-records-file": true }, say("records.save")),
      " ",
      // Not every browser has it, whatever the types say.
      "share" in navigator && h("button", { type: "button", class: "button", onclick: send, "data-records-send": true }, say("records.send")),
      " ",
      h("button", { type: "button", class: "button button--quiet", onclick: () => copy(whole) }, say("records.copy")),
      " ",
      edit && editors,
      " ",
      h("button", { type: "button", class: "button button--quiet", onclick: marked, "data-records-mark": true }, say("records.mark_sent")),
      " ",
      says,
    ),
  ];
}

at("form").addEventListener("submit", (event) => {
  event.preventDefault();
  take().catch(() => refuse(say("load.failed")));
});
need(home, "button[type=submit]", HTMLButtonElement).disabled = false;
const wanted = held.find((one) => one.id === query.get("id"));
begin(wanted);
if (!wanted) number.input.value = query.get("part") ?? "";
show();
const only = await offerVehicles().catch(() => "");
if (!vehicle.value()) vehicle.input.value = only;
