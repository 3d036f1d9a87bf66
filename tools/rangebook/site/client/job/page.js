// The job sheet: one answer, with everything that has to be in the hand while it is done, on paper.

import { bookOf, familyOf } from "../shared/book.js";
import { counted, h, mark } from "../shared/dom.js";
import { proofTable } from "../prove/table.js";
import { qr } from "../shared/qr.js";

const home = document.querySelector("[data-job]");
const place = home.querySelector("[data-job-place]");
const rest = home.querySelector("[data-job-rest]");
const printer = home.querySelector("[data-job-print]");
const book = bookOf(home);
const GOES_ON = new Set(["straight", "with_parts", "rewire"]);

async function show() {
  const query = new URLSearchParams(location.search);
  const [key, fit, off] = ["seat", "fit", "off"].map((name) => query.get(name) ?? "");
  if (!key || !fit) {
    refuse("Look up what came off first; each answer has its job sheet.");
    return;
  }
  try {
    const numbers = await book.numbers();
    const found = familyOf(numbers, fit);
    const data = await book.answers(key.split("/")[0]).catch(() => null);
    const seat = data?.seats[key];
    const one = seat?.candidates.find((candidate) => found && candidate.number === found.number);
    if (!found || !seat || !one) refuse("This answer is not in the book any more. Look it up again.");
    else if (!GOES_ON.has(one.verdict) || one.group === "withdrawn") refuse(`${one.number} is not to be fitted here, so there is no job sheet for it.`, one);
    else sheet({ data, seat, one, off: familyOf(numbers, off) ?? familyOf(numbers, seat.came_with), key, proof: await book.proof(found.family), part: found.key, words: (await book.index()).words });
  } catch {
    refuse("The book could not be loaded. Is there a connection?");
  }
}

function refuse(text, one) {
  place.replaceChildren(
    h("div", { class: `box ${one ? "box--unknown" : ""}`, "data-job-refused": true }, h("p", {}, one && mark(one.verdict), " ", text), (one?.why ?? []).map((line) => h("p", {}, `${line}.`)), h("p", {}, h("a", { href: book.to("") }, "To the find box"))),
  );
}

async function sheet({ data, seat, one, off, key, proof, part, words }) {
  const setting = data.settings?.[seat.family];
  const code = off ? (await book.proof(off.family)).parts[off.key].code : null;
  // What is left of the address is enough to come back to this very answer.
  const back = new URL(book.to(`?${new URLSearchParams({ q: off?.number ?? seat.came_with, seat: key })}`), location.href).href;
  place.replaceChildren(
    h(
      "div",
      { class: "job__top" },
      h(
        "dl",
        { class: "job__facts" },
        fact("Came off", h("span", { class: "number" }, off?.number ?? seat.came_with)),
        fact("Vehicle", seat.vehicles.length > 1 ? h("span", {}, "one of: ", seat.vehicles.join("; ")) : seat.vehicles[0]),
        fact("Plug", `${seat.plug}, ${counted(seat.wires, "wire")} (${seat.plug_title})`),
        fact("Fit", [h("span", { class: "number job__fit" }, one.number), " ", h("span", { class: `badge badge--${one.verdict}` }, mark(one.verdict), words.verdict[one.verdict])]),
      ),
      code && h("figure", { class: "job__code" }, qr(code, `QR code: ${code.says}`), h("figcaption", {}, code.address ? "Back to the answer" : `Holds ${code.says}`)),
    ),
    section("Order", [
      h(
        "ul",
        { class: "ticks" },
        h("li", {}, "Switch ", h("b", { class: "number" }, one.number), one.status_words ? ` (${one.status_words})` : ""),
        (one.orders ?? []).map((order) => h("li", {}, "Kit ", h("b", { class: "number" }, order.number), ` ${order.title ?? ""}. `, order.uses ? `${order.uses}.` : "")),
      ),
      !(one.orders ?? []).length && h("p", {}, "Nothing else."),
    ]),
    section("Before it goes on", [
      one.moves
        ? [
            h("p", {}, `Wires: ${one.moves_why}.`),
            h("table", { class: "job__moves" }, h("thead", {}, h("tr", {}, ["From", "To", "Colour", "What it is for", "Done"].map((word) => h("th", { scope: "col" }, word)))), h("tbody", {}, one.moves.map((move) => h("tr", {}, h("th", { scope: "row" }, move.old), h("td", {}, h("b", {}, move.new)), h("td", {}, move.colour), h("td", {}, move.circuit), h("td", {}, h("span", { class: "blank__box" })))))),
          ]
        : h("p", {}, "No wire is moved."),
      one.idle && h("p", {}, `${one.idle_words}.`),
      one.note && h("p", { class: "note" }, one.note),
    ]),
    proofSection(proof, proof.parts[part]),
    section("Fit and set it", [
      setting && (setting.set_in || setting.method || setting.torque)
        ? [
            h("dl", { class: "job__facts" }, setting.set_in && fact("Set in", setting.set_in), setting.torque && fact("Torque", setting.torque)),
            setting.method && h("p", {}, setting.method),
          ]
        : h("p", {}, "How it is set is not in the book: go by the vehicle maker's service information."),
      (setting?.cautions ?? []).length > 0 && h("ul", { class: "cautions" }, setting.cautions.map((line) => h("li", {}, line))),
    ]),
  );
  rest.hidden = false;
  printer.hidden = false;
  rest.append(h("p", { class: "job__link" }, "This answer: ", h("a", { href: back }, back), ` · edition ${data.edition}`));
}

const fact = (name, value) => h("div", {}, h("dt", {}, name), h("dd", {}, value));
const section = (heading, pieces) => h("section", {}, h("h2", {}, heading), pieces);

function proofSection(proof, part) {
  const [bench] = part.sheets;
  if (!bench.lines.length && !part.signals.length) return section("Prove it on the bench", h("p", {}, "Nothing to prove it by is in the book: ", bench.notes.join(" ")));
  return section("Prove it on the bench", [
    bench.lines.length > 0 && [
      h("p", {}, proof.meter),
      h(
        "div",
        { class: "scroll", tabindex: "0", role: "region", "aria-label": "What to read on the bench" },
        proofTable(bench),
      ),
    ],
    bench.notes.length > 0 && h("ul", {}, bench.notes.map((note) => h("li", {}, note))),
  ]);
}

printer.addEventListener("click", () => print());
show();
