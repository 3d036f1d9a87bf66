// One answer, shown. Every verdict, its order and its words were computed when the site was built.

import { counted, fold, h, listed, mark } from "../shared/dom.js";
import { besideLink, nextSteps } from "./next_steps.js";
import { sendLink } from "./send_link.js";

const SHOWN_VEHICLES = 4;

const capital = (text) => text[0].toUpperCase() + text.slice(1);

/** A part that came off: what it is, where the maker's chain leads, and the answer, or one line for each plug to choose from. */
export function partAnswer(part, data, view) {
  const all = part.seats ?? [];
  const chosen = all.filter(([key]) => key === view.seat);
  const seats = all.length === 1 ? all : chosen;
  return [
    h(
      "div",
      { class: "answer__head" },
      h("h2", { class: "number" }, part.number),
      h("p", {}, capital(view.words.status[part.status ? part.status[0] : "?"]), ". ", h("a", { href: view.to(part.url) }, data.family.title)),
      part.note && h("p", { class: "note" }, part.note),
    ),
    !part.seats &&
      h(
        "p",
        { class: "box" },
        "No vehicle in the book is known to take this part, so nothing can be said about what fits in its place. ",
        h("a", { href: view.to(part.url) }, "What is known of the part"),
      ),
    all.length > 1 && chooser(part, data, view, chosen.length > 0),
    seats.map(([key, how]) => seatAnswer(key, data, view, how === "fits" ? part.number : null)),
    part.chains && chainSection(part.chains, view),
  ];
}

/** The answer for one vehicle's plug. `fittedInstead` is the number that came off where another one was built in. */
export function seatAnswer(key, data, plainView, fittedInstead = null) {
  const seat = data.seats[key];
  const view = {
    ...plainView,
    steps: (one) => [nextSteps(one, key, fittedInstead ?? seat.came_with, plainView), one.number !== seat.came_with && besideLink(one, key, seat.came_with, plainView)],
  };
  const of = (group) => seat.candidates.filter((one) => one.group === group);
  const [first, ...more] = of("fit");
  const shelf = of("shelf");
  const unknown = of("unknown");
  return h(
    "section",
    { class: "seat", "data-seat": key },
    vehicleList(seat),
    h(
      "p",
      { class: "seat__facts" },
      `Plug ${seat.plug}, ${counted(seat.wires, "wire")} (${seat.plug_title}). Built with `,
      h("span", { class: "number" }, seat.came_with),
      fittedInstead ? `; ${fittedInstead} fits there too and may have been put in later.` : ".",
    ),
    first
      ? [h("h3", { class: "group" }, view.words.group.fit), choice(first, view)]
      : h("p", { class: "box box--unknown" }, mark("unknown"), ` Nothing that is sold today is known to fit here.${shelf.length ? " Look for one that is on a shelf:" : ""}`),
    others(more, `${more.length} more that would do`, view),
    others(shelf, `${view.words.group.shelf} (${shelf.length})`, view, !first),
    others(unknown, `${view.words.group.unknown} (${unknown.length})`, view, !first && !shelf.length),
    others(of("withdrawn"), `${view.words.group.withdrawn} (${of("withdrawn").length})`, view),
    others(of("no"), `${view.words.group.no} (${of("no").length})`, view),
    setLine(data.settings?.[seat.family], seat, view),
    h("p", { class: "soft" }, `The vehicle's plug is known from: ${seat.known}.`),
    h("p", {}, h("a", { href: view.to(seat.url) }, "The whole page of this family")),
    sendLink(view.link(key), seat.vehicles[0]),
  );
}

function vehicleList(seat) {
  const line = (text) => h("li", {}, text);
  const shown = seat.vehicles.slice(0, SHOWN_VEHICLES);
  const more = seat.vehicles.slice(SHOWN_VEHICLES);
  return [
    h("ul", { class: "vehicles vehicles--head" }, shown.map(line)),
    more.length > 0 && fold({}, `and ${counted(more.length, "more vehicle")}`, () => h("ul", { class: "vehicles" }, more.map(line))),
  ];
}

/** Where the answer hangs on the vehicle: one line for each plug, with the first thing to fit in it, to be opened. */
function chooser(part, data, view, chosen) {
  const all = part.seats ?? [];
  if (chosen) {
    return h("p", {}, h("a", { class: "chip", href: view.link(null), onclick: view.go(null) }, `All ${all.length} plugs that it goes in`));
  }
  return h(
    "section",
    {},
    h("h3", {}, `It goes in vehicles with ${all.length} different plugs. Which one is it?`),
    h("ul", { class: "rows rows--one" }, all.map(([key, how]) => h("li", {}, short(key, how, part, data, view)))),
  );
}

function short(key, how, part, data, view) {
  const seat = data.seats[key];
  const first = seat.candidates.find((one) => one.group === "fit");
  const kits = (first?.orders ?? []).map((order) => order.number);
  const rest = seat.vehicles.length - 2;
  return h(
    "a",
    { class: "row row--answer", href: view.link(key), onclick: view.go(key), "data-seat": key },
    seat.vehicles.slice(0, 2).map((line) => h("strong", {}, line)),
    rest > 0 && h("span", {}, `and ${counted(rest, "more vehicle")}`),
    h("span", {}, `${counted(seat.wires, "wire")}, ${seat.plug_title}`, how === "fits" && `; built with ${seat.came_with}, and ${part.number} fits there`),
    first
      ? h(
          "span",
          { class: "row__pick" },
          h("b", { class: "number" }, first.number),
          h("span", { class: `badge badge--${first.verdict}` }, mark(first.verdict), view.words.verdict[first.verdict]),
          kits.length > 0 && h("b", {}, `with kit ${listed(kits)}`),
        )
      : h("span", { class: "row__pick" }, h("span", { class: "badge badge--unknown" }, mark("unknown"), "nothing sold today is known to fit")),
  );
}

function others(candidates, heading, view, open = false) {
  if (!candidates.length) return null;
  return fold({ class: "others", open }, heading, () => candidates.map((one) => choice(one, view)));
}

function choice(one, view) {
  return h(
    "div",
    { class: "choice", "data-candidate": one.number, "data-verdict": one.verdict },
    h("p", { class: "choice__number" }, h("a", { href: view.to(one.url) }, one.number)),
    h("span", { class: `badge badge--${one.verdict}` }, mark(one.verdict), view.words.verdict[one.verdict]),
    h("p", { class: "soft" }, [one.family, one.status_words].filter(Boolean).join("; ")),
    h(
      "div",
      { class: "choice__why" },
      one.verdict === "unknown" && h("p", {}, h("strong", {}, "Measure first:")),
      (one.why ?? []).map((line) => h("p", {}, `${line}.`)),
    ),
    one.unsaid && h("p", { class: "soft" }, `${one.unsaid}.`),
    (one.orders ?? []).map((order) =>
      h(
        "div",
        { class: "need" },
        h("strong", {}, "Order with it: kit ", order.url ? h("a", { class: "number", href: view.to(order.url) }, order.number) : h("span", { class: "number" }, order.number)),
        `${order.title ?? ""}. `,
        order.uses ? `${order.uses}.` : "",
      ),
    ),
    one.moves && moves(one),
    one.idle &&
      h(
        "p",
        { class: "need need--idle" },
        `${one.idle_words}.`,
      ),
    one.note && h("p", { class: "note" }, one.note),
    view.steps?.(one),
    h("p", { class: "soft choice__known" }, `Known from: ${one.known}. The answer is known no better than: ${one.stands_on}.`),
    fold({}, "Everything that was checked", () => checks(one, view)),
  );
}

function moves(one) {
  return h(
    "div",
    { class: "need need--move" },
    h("strong", {}, "Wires"),
    `${one.moves_why}.`,
    fold({}, "Wire by wire", () =>
      h("ul", { class: "moves" }, one.moves.map((move) => h("li", {}, h("strong", { class: "inline" }, `${move.old} → ${move.new}`), ` ${move.colour}, ${move.circuit}`))),
    ),
  );
}

function checks(one, view) {
  return h(
    "ul",
    { class: "checks" },
    (one.checks ?? []).map(([says, check, text]) =>
      h("li", { class: `check check--${says}` }, h("span", { class: "sr-only" }, `${view.words.says[says]}: `), h("strong", {}, check), ` ${text}`),
    ),
  );
}

function chainSection(chains, view) {
  return h(
    "section",
    {},
    h("h3", {}, "What the maker says"),
    chains.map((chain) => [
      h(
        "ol",
        { class: "chain" },
        chain.steps.map((step) =>
          h(
            "li",
            {},
            step.url ? h("a", { class: "number", href: view.to(step.url) }, step.number) : h("span", { class: "number" }, step.number),
            step.since ? ` since ${step.since}` : "",
            step.needs ? `, with ${step.needs.join("; ")}` : "",
          ),
        ),
      ),
      h("p", { class: "soft" }, chain.words),
    ]),
  );
}

function setLine(setting, seat, view) {
  if (!setting) return null;
  const parts = [setting.method, setting.torque && `Torque ${setting.torque}.`].filter(Boolean);
  if (!parts.length && !setting.set_in) return null;
  const page = seat.url.split("#")[0];
  return h(
    "div",
    { class: "set" },
    h("p", {}, h("strong", {}, setting.set_in ? `Set it in ${setting.set_in}: ` : "Setting it: "), parts.join(" "), " ", h("a", { href: `${view.to(page)}#Setting` }, "How to prove it")),
    (setting.cautions ?? []).length > 0 && h("ul", { class: "cautions" }, setting.cautions.map((one) => h("li", {}, one))),
  );
}
