// One reading to a screen, in large figures, for both hands on the probes.

import { h } from "../shared/dom.js";
import { end } from "../shared/one_part.js";
import { say } from "../shared/say.js";
import { canSpeak, keepAwake, speakAloud } from "./awake.js";
import { fits } from "./match.js";
import { ohmsOf, unitsAsked } from "./readings.js";
import { moveWords } from "./rows.js";
import "../words/prove.js";

/** @import { Child } from "../shared/dom.js" */
/** @import { ReadingRules, Sheet } from "../types/data.js" */
/** @import { Face } from "./face.js" */
/** @import { Row } from "./rows.js" */
/** @import { Typed } from "./readings.js" */
/**
 * What is guided through: `told` takes what was typed for a row, `ends` draws a terminal with its wire, `last` what all of it comes to, and
 * `next` the line and position to read next, where that would tell causes apart.
 * @typedef {{ face: () => Face, sheet: Sheet, rows: Row[], typed: Typed, rules: ReadingRules, told: (row: Row, text: string) => void, ends: (terminal: string) => Child, last: () => Node[], next: () => [line: number, at: number] | null, closed: () => void }} Guided
 */

const ALOUD = "rangebook-aloud";

/** Open it at the first reading that is left. @param {Guided} guided */
export function guide(guided) {
  const { face, sheet, rows, typed, rules, told, ends, last, next, closed } = guided;
  const awake = keepAwake();
  let aloud = canSpeak && keptAloud();
  const textOf = (/** @type {Row} */ row) => typed[row.ids[0]] ?? "";
  const isLeft = (/** @type {Row} */ row) => ohmsOf(textOf(row), row.wanted, rules) === null;
  let place = Math.max(0, rows.findIndex(isLeft));
  /** @type {Row | undefined} */
  let before;
  const drawing = face();
  const count = h("p", { class: "guide__count" });
  const move = h("p", { class: "guide__move" });
  const probes = h("p", { class: "guide__probes" });
  const names = h("p", { class: "soft" });
  const lever = h("p", { class: "guide__lever" });
  const want = h("p", { class: "guide__want" });
  const verdict = h("p", { class: "guide__says", role: "status", "aria-live": "polite" });
  const asks = h("p", { class: "guide__asks" });
  const box = h("input", { class: "guide__box", type: "text", inputmode: "decimal", autocomplete: "off", autocapitalize: "off", spellcheck: "false", placeholder: say("prove.ohms"), "aria-label": say("guide.read") });
  const says = h("div", { class: "guide__last" });
  /** @param {string} word @param {string} value */
  const state = (word, value) =>
    h(
      "button",
      {
        class: "guide__state",
        type: "button",
        onclick: () => {
          box.value = value;
          if (take()) goOn();
        },
      },
      word,
    );
  const speaker = h("button", { class: "button button--quiet", type: "button", "aria-pressed": String(aloud), hidden: !canSpeak, onclick: () => setAloud(!aloud) }, say("guide.aloud"));
  const follow = h("button", { class: "button button--quiet", type: "button", hidden: true, onclick: () => jump() }, say("guide.follow"));
  const go = h("button", { class: "button guide__go", type: "submit" }, say("guide.go"));
  const form = h(
    "form",
    {
      class: "guide__form",
      onsubmit: (event) => {
        event.preventDefault();
        if (box.value.trim() === "" || take()) goOn();
      },
    },
    h("div", { class: "guide__states" }, state(say("prove.closed"), "0"), state(say("prove.open"), "OL"), box),
    asks,
    verdict,
    go,
  );
  const card = h("div", { class: "guide__card" }, move, probes, names, lever, want, drawing.element && h("div", { class: "rb-scroll prove__face" }, drawing.element), form);
  const dialog = h("dialog", { class: "guide", "aria-label": say("guide.title") });
  dialog.append(
    h("div", { class: "guide__top" }, count, speaker, h("button", { class: "button button--quiet", type: "button", onclick: () => dialog.close() }, say("guide.leave"))),
    card,
    says,
    h("p", {}, h("button", { class: "button button--quiet", type: "button", onclick: () => back() }, say("guide.back")), " ", follow),
  );

  /** Take what stands in the box: whether it is understood, and as it should be. */
  function take() {
    const row = rows[place];
    told(row, box.value.trim());
    return judge();
  }

  function judge() {
    const row = rows[place];
    const text = box.value;
    const units = unitsAsked(text, row.wanted, rules);
    const ohms = ohmsOf(text, row.wanted, rules);
    const right = ohms !== null && fits(row.wanted, ohms, rules);
    const found = text.trim() === "" ? "" : units.length ? "which" : ohms === null ? "unclear" : right ? (row.wanted === null ? "noted" : "right") : "wrong";
    card.dataset.state = found;
    verdict.textContent = found === "" ? "" : found === "wrong" ? say("prove.wrong", { expected: sheet.lines[row.line][3][row.ats[0]] }) : say(`prove.${found}`);
    asks.replaceChildren(
      ...units.map((unit) =>
        h(
          "button",
          {
            class: "button",
            type: "button",
            onclick: () => {
              box.value = unit;
              if (take()) goOn();
            },
          },
          unit,
        ),
      ),
    );
    follow.hidden = next() === null;
    return right;
  }

  /** To the next reading that is left, from here on and then from the top; to the last word when there is none. */
  function goOn() {
    const order = [...rows.keys()].map((step) => (place + 1 + step) % rows.length);
    const to = order.find((at) => at !== place && isLeft(rows[at]));
    if (to !== undefined) show(to);
    else if (isLeft(rows[place])) show(place);
    else finish();
  }

  function back() {
    show(card.hidden ? place : Math.max(0, place - 1));
  }

  function jump() {
    const follows = next();
    const to = follows ? rows.findIndex((row) => row.line === follows[0] && row.ats.includes(follows[1])) : -1;
    if (to >= 0) show(to);
  }

  function finish() {
    card.hidden = true;
    count.textContent = say("guide.done");
    const done = h("button", { class: "button guide__go", type: "button", onclick: () => dialog.close() }, say("guide.to_list"));
    says.replaceChildren(...last(), done);
    done.focus();
    follow.hidden = next() === null;
    if (aloud) speakAloud(says.textContent ?? "");
  }

  /** @param {number} at */
  function show(at) {
    if (!card.hidden) before = at === place ? before : rows[place];
    place = at;
    const row = rows[at];
    const [a, b, what, words] = sheet.lines[row.line];
    names.textContent = what;
    card.hidden = false;
    says.replaceChildren();
    count.textContent = say("guide.count", { at: at + 1, all: rows.length });
    move.textContent = moveWords(sheet, before, row, end);
    probes.replaceChildren(...[ends(a), " – ", ends(b)].flatMap((one) => (Array.isArray(one) ? one : [one])).filter((one) => one instanceof Node || typeof one === "string"));
    lever.replaceChildren(say("prove.lever", { position: row.position }));
    want.textContent = words[row.ats[0]];
    drawing.point([a, b]);
    box.value = textOf(row);
    judge();
    if (aloud) speakAloud(say("guide.spoken", { move: move.textContent ?? "", position: row.position, expected: want.textContent ?? "" }));
    // A pedal goes to what has the focus; on a touch screen a box with it would put the keyboard over half of this.
    (matchMedia("(pointer: coarse)").matches ? go : box).focus();
  }

  /** @param {boolean} now */
  function setAloud(now) {
    aloud = now;
    speaker.setAttribute("aria-pressed", String(now));
    try {
      localStorage.setItem(ALOUD, now ? "1" : "");
    } catch {
      // It is asked for again the next time.
    }
    if (now && !card.hidden) show(place);
    else if (canSpeak) speechSynthesis.cancel();
  }

  dialog.addEventListener("keydown", (event) => {
    // A pedal is a keyboard of one key. In a box that holds something a space is a space, on a button it presses that.
    if (event.target instanceof HTMLButtonElement || !(event.key === "Enter" || (event.key === " " && (event.target !== box || box.value === "")))) return;
    event.preventDefault();
    if (!card.hidden) form.requestSubmit();
  });
  dialog.addEventListener("close", () => {
    awake.letGo();
    if (canSpeak) speechSynthesis.cancel();
    dialog.remove();
    closed();
  });
  document.body.append(dialog);
  dialog.showModal();
  if (rows.some(isLeft)) show(place);
  else finish();
}

function keptAloud() {
  try {
    return localStorage.getItem(ALOUD) === "1";
  } catch {
    return false;
  }
}
