// Building pieces of a page. Text is only ever set as text, so nothing that stands in an entry can become markup.

const SVG = "http://www.w3.org/2000/svg";

/** An element with attributes and children; `null`, `false` and `""` among the children are left out. */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false && child !== ""));
  return element;
}

const waiting = new Set();
const idle = globalThis.requestIdleCallback ?? ((work) => setTimeout(work, 50));

/**
 * A folded piece whose inside is built when there is time for it, or when it is opened: what is asked for is shown first. Until
 * then it carries `data-later`.
 */
export function fold(attributes, summary, inside) {
  const element = h("details", attributes, h("summary", {}, summary));
  const fill = () => {
    if (!waiting.delete(fill)) return;
    element.removeAttribute("data-later");
    element.append(...[inside()].flat(Infinity).filter(Boolean));
  };
  waiting.add(fill);
  if (attributes.open) fill();
  else {
    element.setAttribute("data-later", "");
    element.addEventListener("toggle", fill);
    if (waiting.size === 1) idle(fillSome, { timeout: 1000 });
  }
  return element;
}

function fillSome(time) {
  for (const fill of [...waiting]) {
    if (time?.timeRemaining && !time.didTimeout && time.timeRemaining() < 4) break;
    fill();
  }
  if (waiting.size) idle(fillSome, { timeout: 1000 });
}

addEventListener("beforeprint", () => [...waiting].forEach((fill) => fill()));

/** The mark of a verdict: its shape. The words stand beside it. */
export function mark(verdict) {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("class", "mark");
  svg.setAttribute("aria-hidden", "true");
  const use = document.createElementNS(SVG, "use");
  use.setAttribute("href", `#v-${verdict}`);
  svg.append(use);
  return svg;
}

/** `1 wire`, `7 wires`. */
export function counted(count, one, many = `${one}s`) {
  return `${count} ${count === 1 ? one : many}`;
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(words) {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
