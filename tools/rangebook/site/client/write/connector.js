// What is asked of a connector: its housing is drawn as its cavities are tapped.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { picture } from "../shared/shapes.js";
import { named, sources } from "./common.js";
import { figure, group, held, number, pick, row, same, text, textsOf } from "./fields.js";
import { photos } from "./photos.js";
import { plainKeys } from "./plain.js";
import "../words/write.js";

/** @import { Form, Known } from "./form.js" */
/** A cavity: its row, and its turn in it, along the rows, along them from the right, and down the columns. @typedef {{ y: number, inRow: number, along: number, back: number, down: number }} At */

const OUTLINES = ["oval", "rectangular", "round", "square", "d-shaped"];
const STYLES = ["blade", "pin", "socket", "ring"];
const MOST = 16;
/** @type {Record<string, [down: number, across: number]>} */
const ARROWS = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] };

/** @type {(at: number) => string} */
const letter = (at) => (at < 26 ? String.fromCharCode(65 + at) : `${letter(Math.floor(at / 26) - 1)}${letter(at % 26)}`);

/** How cavities are labelled. @type {Record<string, { words: string, label: (at: At) => string }>} */
const LABELS = {
  rows: { words: say("write.connector.by_rows"), label: ({ along }) => String(along + 1) },
  back: { words: say("write.connector.by_back"), label: ({ back }) => String(back + 1) },
  columns: { words: say("write.connector.by_columns"), label: ({ down }) => String(down + 1) },
  letters: { words: say("write.connector.by_letters"), label: ({ along }) => letter(along) },
  both: { words: say("write.connector.by_both"), label: ({ y, inRow }) => `${letter(y)}${inRow + 1}` },
};

/** Rows of labels, `-` where there is no cavity. @param {number} down @param {number} wide @param {Set<string>} none @param {string} how */
export function labelsOf(down, wide, none, how) {
  const grid = Array.from({ length: down }, (_, y) => Array.from({ length: wide }, (_, x) => !none.has(`${y} ${x}`)));
  /** @param {(y: number, x: number) => boolean} test */
  const before = (test) => grid.flatMap((line, y) => line.map((yes, x) => yes && test(y, x))).filter(Boolean).length;
  return grid.map((line, y) =>
    line.map((yes, x) =>
      yes
        ? LABELS[how].label({
            y,
            inRow: line.slice(0, x).filter(Boolean).length,
            along: before((b, a) => b < y || (b === y && a < x)),
            back: before((b, a) => b < y || (b === y && a > x)),
            down: before((b, a) => a < x || (a === x && b < y)),
          })
        : "-",
    ),
  );
}

/** @param {Known} book @param {() => void} changed @returns {Form} */
export function connector(book, changed) {
  const title = text(say("write.title"), { help: say("write.connector.title.help") });
  const id = named(title, changed);
  const tiles = OUTLINES.map((one) => h("input", { type: "radio", name: "write-outline", value: one, onchange: () => draw() }));
  const outline = {
    value: () => tiles.find((one) => one.checked)?.value,
    state: () => tiles.find((one) => one.checked)?.value ?? "",
    /** @param {unknown} value */
    restore: (value) => {
      for (const one of tiles) one.checked = one.value === value;
      draw();
    },
  };
  const rows = number(say("write.connector.rows"), 2, MOST);
  const across = number(say("write.connector.across"), 4, MOST);
  const labelled = pick(say("write.connector.labelled"), Object.entries(LABELS).map(([name, { words }]) => [name, words]), { none: "", help: say("write.connector.labelled.help") });
  const place = h("div", { class: "write__grid", role: "group", "aria-label": say("write.connector.grid") });
  /** @type {Set<string>} */
  const none = new Set();
  const taken = {
    state: () => [...none],
    /** @param {unknown} keys */
    restore: (keys) => {
      for (const one of textsOf(keys)) none.add(one);
      draw();
    },
  };
  /** @type {string[][]} */
  let labels = [];
  /** @param {number} y @param {number} x */
  const focus = (y, x) => {
    const found = place.querySelector(`[data-key="${y} ${x}"]`);
    if (found instanceof HTMLElement) found.focus();
    return found;
  };
  /** @param {string} label @param {number} y @param {number} x */
  function cavity(label, y, x) {
    const key = `${y} ${x}`;
    const at = { row: y + 1, place: x + 1 };
    const tap = () => {
      if (!none.delete(key)) none.add(key);
      draw();
      focus(y, x);
    };
    const move = (/** @type {KeyboardEvent} */ event) => {
      const by = ARROWS[event.key];
      if (!by) return;
      event.preventDefault();
      focus(y + by[0], x + by[1]);
    };
    const words = label === "-" ? say("write.connector.place.none", at) : say("write.connector.place.cavity", { ...at, label });
    return h("button", { type: "button", class: "write__cavity", "data-key": key, "aria-pressed": String(label !== "-"), "aria-label": words, onclick: tap, onkeydown: move }, label === "-" ? "–" : label);
  }
  function draw() {
    place.dataset.outline = outline.value() ?? "";
    labels = labelsOf(rows.value() ?? 0, across.value() ?? 0, none, labelled.value() ?? "rows");
    place.replaceChildren(
      h("span", { class: "write__latch", "aria-hidden": "true" }, say("write.connector.latch")),
      ...labels.map((line, y) => h("div", { class: "write__line" }, line.map((label, x) => cavity(label, y, x)))),
    );
    changed();
  }
  for (const one of [rows, across]) one.input.addEventListener("input", () => draw());
  labelled.input.addEventListener("change", () => draw());
  const sealed = pick(say("write.connector.sealed"), [["yes", say("write.connector.yes")], ["no", say("write.connector.no")]]);
  const style = pick(say("write.connector.style"), same(STYLES));
  const width = figure(say("write.connector.width"));
  const half = pick(say("write.connector.half"), [["male", say("write.connector.male")], ["female", say("write.connector.female")]]);
  const more = plainKeys(book.schemas, "connector", [], ["id", "title", "outline", "rows", "terminal", "sealed"], undefined, changed);
  const made = plainKeys(book.schemas, "connector", ["terminal"], ["style", "width_mm", "on_switch"], say("write.connector.more"), changed);
  const source = sources();
  const pictures = photos(() => id.value(), changed);
  draw();
  const choices = tiles.map((box) => h("label", { class: "write__choice" }, box, picture("outline", box.value), box.value));
  return {
    elements: [
      group(say("write.connector.housing"), row(title, id), h("p", { class: "write__words" }, say("write.connector.outline")), h("div", { class: "write__choices" }, choices)),
      group(say("write.connector.cavities"), h("p", { class: "soft" }, say("write.connector.tap")), row(rows, across, labelled), h("div", { class: "rb-scroll" }, place)),
      group(say("write.connector.terminals"), row(sealed, style, width, half), made.element, more.element),
      pictures.element,
      source.element,
    ],
    value: () =>
      more.whole(
        ["kind", "connector"],
        ["id", id.value()],
        ["title", title.value()],
        ["outline", outline.value()],
        ["rows", labels],
        ["terminal", made.whole(["style", style.value()], ["width_mm", width.value()], ["on_switch", half.value()])],
        ["sealed", sealed.value() && sealed.value() === "yes"],
        ["photos", pictures.value()],
        ["sources", source.value()],
      ),
    numbers: () => [],
    left: () => [
      !sealed.value() && say("write.left.sealed"),
      !style.value() && say("write.left.terminals"),
      !half.value() && say("write.left.half"),
      !source.value() && say("write.left.source"),
    ],
    wrong: () => [],
    ...held({ title, id, outline, rows, across, labelled, taken, sealed, style, width, half, made, more, source }),
    pictures: pictures.files,
    file: (front) => `connectors/${front.get("id") ?? ""}`,
  };
}
