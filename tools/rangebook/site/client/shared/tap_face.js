// The drawing of a connector's face to tap on: each cavity has something in it, has nothing, or cannot be told.

const SVG = "http://www.w3.org/2000/svg";
const NEXT = { mixed: "true", true: "false", false: "mixed" };
const STATE = { true: "pin", false: "empty", mixed: "bare" };

/**
 * `{element, value, turn, set}` from the text of a drawing. `words` are `{label, yes, no, mixed}`; `value()` is `{yes, no}`, the
 * labels that were tapped so; `changed` is called after each tap. A tap, Enter or space goes on to the next of the three; the
 * arrow keys go from cavity to cavity.
 */
export function tapFace(text, words, start = {}, changed = () => {}) {
  const element = document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true);
  // A picture has no parts for those who hear it; this one has.
  element.setAttribute("role", "group");
  element.removeAttribute("aria-labelledby");
  element.removeAttribute("aria-describedby");
  element.setAttribute("aria-label", words.label);
  element.querySelectorAll(":scope > title, :scope > desc, [data-cavity] > title").forEach((one) => one.remove());
  element.classList.add("tap");
  const cavities = [...element.querySelectorAll("[data-cavity]")];
  const has = new Map();

  const show = (cavity) => {
    const label = cavity.dataset.cavity;
    const pressed = has.get(label);
    cavity.setAttribute("aria-pressed", pressed);
    cavity.setAttribute("aria-label", `${label}: ${pressed === "mixed" ? words.mixed : pressed === "true" ? words.yes : words.no}`);
    for (const state of Object.values(STATE)) cavity.classList.toggle(`rb-cavity--${state}`, state === STATE[pressed]);
    cavity.querySelector(".tap__mark").textContent = { mixed: "?", false: "–", true: "" }[pressed];
  };
  const set = ({ yes = [], no = [] }) => {
    for (const cavity of cavities) {
      const label = cavity.dataset.cavity;
      has.set(label, yes.includes(label) ? "true" : no.includes(label) ? "false" : "mixed");
      show(cavity);
    }
  };
  const tap = (cavity) => {
    has.set(cavity.dataset.cavity, NEXT[has.get(cavity.dataset.cavity)]);
    show(cavity);
    changed();
  };
  const move = (cavity, across, down) => {
    const row = Number(cavity.dataset.row) + down;
    const column = Number(cavity.dataset.column) + across;
    const at = (one) => Number(one.dataset.row) === row && Number(one.dataset.column) === column;
    cavities.find(at)?.focus();
  };
  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  for (const cavity of cavities) {
    cavity.setAttribute("role", "button");
    cavity.setAttribute("tabindex", "0");
    const box = cavity.querySelector(".rb-box");
    const mark = document.createElementNS(SVG, "text");
    mark.setAttribute("class", "tap__mark rb-text");
    mark.setAttribute("x", Number(box.getAttribute("x")) + Number(box.getAttribute("width")) / 2);
    mark.setAttribute("y", Number(box.getAttribute("y")) + Number(box.getAttribute("height")) - 9);
    mark.setAttribute("text-anchor", "middle");
    mark.setAttribute("aria-hidden", "true");
    cavity.append(mark);
    cavity.addEventListener("click", () => tap(cavity));
    cavity.addEventListener("keydown", (event) => {
      if (event.key === "Enter" || event.key === " ") tap(cavity);
      else if (ARROWS[event.key]) move(cavity, ...ARROWS[event.key]);
      else return;
      event.preventDefault();
    });
  }
  set(start);
  const labels = (pressed) => cavities.map((one) => one.dataset.cavity).filter((label) => has.get(label) === pressed);
  return { element, set, labels: cavities.map((one) => one.dataset.cavity), value: () => ({ yes: labels("true"), no: labels("false") }) };
}
