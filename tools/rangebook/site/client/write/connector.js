// What is asked of a connector: its housing is drawn as its cavities are tapped.

import { h } from "../shared/dom.js";
import { picture } from "../shared/shapes.js";
import { named, sources } from "./common.js";
import { group, held, number, pick, row, same, stated, text } from "./fields.js";

const OUTLINES = ["oval", "rectangular", "round", "square", "d-shaped"];
const MOST = 16;

const letter = (at) => (at < 26 ? String.fromCharCode(65 + at) : `${letter(Math.floor(at / 26) - 1)}${letter(at % 26)}`);

/** How cavities are labelled: from a cavity's row, column, and its turn along the rows and down the columns. */
const LABELS = {
  rows: ["1 2 3, row by row", ({ along }) => String(along + 1)],
  back: ["3 2 1, each row from the right", ({ back }) => String(back + 1)],
  columns: ["1 2 3, down each column", ({ down }) => String(down + 1)],
  letters: ["A B C, row by row", ({ along }) => letter(along)],
  both: ["A1 A2, B1 B2: a letter for each row", ({ y, inRow }) => `${letter(y)}${inRow + 1}`],
};

/** Rows of labels, `-` where there is no cavity. */
export function labelsOf(down, wide, none, how) {
  const there = (y, x) => !none.has(`${y} ${x}`);
  const grid = Array.from({ length: down }, (_, y) => Array.from({ length: wide }, (_, x) => there(y, x)));
  const before = (test) => grid.flatMap((line, y) => line.map((yes, x) => yes && test(y, x))).filter(Boolean).length;
  return grid.map((line, y) =>
    line.map((yes, x) =>
      yes
        ? LABELS[how][1]({
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

export function connector(book, changed) {
  const title = text("What people call it", { help: "As in: nine-way oval, early." });
  const id = named(title, changed);
  const tiles = OUTLINES.map((one) => h("input", { type: "radio", name: "write-outline", value: one, onchange: () => draw() }));
  const outline = {
    value: () => tiles.find((one) => one.checked)?.value,
    state: () => tiles.find((one) => one.checked)?.value ?? "",
    restore: (value) => (tiles.forEach((one) => (one.checked = one.value === value)), draw()),
  };
  const rows = number("Rows of cavities", 2, MOST);
  const across = number("Cavities in the longest row", 4, MOST);
  const labelled = pick("They are labelled", Object.entries(LABELS).map(([name, [words]]) => [name, words]), { none: "", help: "As moulded into the housing." });
  const place = h("div", { class: "write__grid", role: "group", "aria-label": "The housing, looking into the switch, latch up" });
  const none = new Set();
  const taken = { state: () => [...none], restore: (keys) => (keys.forEach((one) => none.add(one)), draw()) };
  let labels = [];
  function draw(focus) {
    const [down, wide] = [rows.value() ?? 0, across.value() ?? 0];
    place.dataset.outline = outline.value() ?? "";
    labels = labelsOf(down, wide, none, labelled.value());
    place.replaceChildren(
      h("span", { class: "write__latch", "aria-hidden": "true" }, "latch"),
      ...labels.map((line, y) =>
        h(
          "div",
          { class: "write__line" },
          line.map((label, x) => {
            const key = `${y} ${x}`;
            const words = `row ${y + 1}, place ${x + 1}: ${label === "-" ? "no cavity" : `cavity ${label}`}`;
            const tap = () => (none.has(key) ? none.delete(key) : none.add(key), draw(key));
            return h("button", { type: "button", class: "write__cavity", "data-key": key, "aria-pressed": String(label !== "-"), "aria-label": words, onclick: tap }, label === "-" ? "–" : label);
          }),
        ),
      ),
    );
    if (focus) place.querySelector(`[data-key="${focus}"]`)?.focus();
    changed();
  }
  place.addEventListener("keydown", (event) => {
    const [y, x] = (event.target.dataset?.key ?? "").split(" ").map(Number);
    const by = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] }[event.key];
    if (!by || Number.isNaN(y)) return;
    event.preventDefault();
    place.querySelector(`[data-key="${y + by[0]} ${x + by[1]}"]`)?.focus();
  });
  for (const one of [rows, across]) one.input.addEventListener("input", () => draw());
  labelled.input.addEventListener("change", () => draw());
  const sealed = pick("Sealed against water", same(["yes", "no"]));
  const style = pick("Terminals", same(["blade", "pin", "socket", "ring"]));
  const width = text("Width of a terminal, mm", { number: true });
  const half = pick("On the switch sits", [["male", "the male half (blades or pins)"], ["female", "the female half (sockets)"]]);
  const source = sources();
  draw();
  return {
    elements: [
      group("The housing", row(title, id), h("p", { class: "write__words" }, "Its outline"), h("div", { class: "write__choices" }, tiles.map((box) => h("label", { class: "write__choice" }, box, picture("outline", box.value), box.value)))),
      group("Its cavities", h("p", { class: "soft" }, "Looking into the switch, latch up. Tap a place that has no cavity; tap again to have it back. A cavity counts whether it carries a pin or not."), row(rows, across, labelled), h("div", { class: "rb-scroll" }, place)),
      group("Its terminals", row(sealed, style, width, half)),
      source.element,
    ],
    value: () =>
      stated(
        ["kind", "connector"],
        ["id", id.value()],
        ["title", title.value()],
        ["outline", outline.value()],
        ["rows", labels],
        ["terminal", stated(["style", style.value()], ["width_mm", width.value()], ["on_switch", half.value()])],
        ["sealed", { yes: true, no: false }[sealed.value()]],
        ["sources", source.value()],
      ),
    left: () => [
      !sealed.value() && "whether it is sealed",
      !style.value() && "its terminals",
      !half.value() && "which half sits on the switch",
      !source.value() && "where it is known from",
    ],
    ...held({ title, id, outline, rows, across, labelled, taken, sealed, style, width, half, source }),
    file: (front) => `connectors/${front.get("id") ?? ""}`,
  };
}
