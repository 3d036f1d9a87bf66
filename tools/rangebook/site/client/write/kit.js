// What is asked of a plug renewal kit.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { named, sources } from "./common.js";
import { figure, group, held, pick, recordOf, row, same, split, text } from "./fields.js";
import { figureOf } from "./figure.js";
import { photos } from "./photos.js";
import { plainKeys } from "./plain.js";
import { stated } from "./yaml.js";
import "../words/write.js";

/** @import { Value } from "./fields.js" */
/** @import { Form, Known } from "./form.js" */

/** @param {Known} book @param {() => void} changed @returns {Form} */
export function kit(book, changed) {
  const number = text(say("write.kit.number"), { help: say("write.kit.number.help") });
  const title = text(say("write.title"), { help: say("write.kit.title.help") });
  const id = named(title, changed);
  /** @type {[string, string][]} */
  const housings = book.connectors.map((one) => [one.id, one.title]);
  const from = pick(say("write.kit.from"), housings, { none: say("write.choose") });
  const to = pick(say("write.kit.to"), housings, { none: say("write.choose") });
  const place = h("div", { class: "write__row" });
  /** @type {{ old: string, where: ReturnType<typeof pick> }[]} */
  let wires = [];
  /** @param {string | undefined} name */
  const cavities = (name) => book.connectors.find((one) => one.id === name)?.cavities ?? [];
  const toAlike = () => {
    for (const { old, where } of wires) if (!where.value()) where.restore(old);
    changed();
  };
  const alike = h("button", { type: "button", class: "button button--quiet", onclick: toAlike }, say("write.kit.alike"));
  function ask() {
    const there = cavities(to.value());
    wires = there.length ? cavities(from.value()).map((old) => ({ old, where: pick(say("write.kit.wire", { cavity: old }), same(there), { none: say("write.kit.wire.none") }) })) : [];
    place.replaceChildren(...(wires.length ? wires.map((one) => one.where.element) : [h("p", { class: "soft" }, say("write.kit.plugs_first"))]));
    alike.hidden = !wires.some(({ old }) => there.includes(old));
  }
  for (const one of [from, to]) one.input.addEventListener("change", ask);
  ask();
  const moves = {
    state: () => Object.fromEntries(wires.map(({ old, where }) => [old, where.state()])),
    /** @param {unknown} state */
    restore: (state) => {
      const states = recordOf(state);
      for (const { old, where } of wires) if (states[old]) where.restore(states[old]);
    },
  };
  const seals = text(say("write.kit.seals"), { help: say("write.kit.seals.help") });
  const blanks = figure(say("write.kit.blanks"), { help: say("write.kit.blanks.help") });
  const more = plainKeys(book.schemas, "kit", [], ["id", "number", "title", "from", "to", "moves", "seals", "blanks"], undefined, changed);
  const also = text(say("write.kit.also"), { help: say("write.kit.also.help") });
  const fans = text(say("write.kit.fans"), { help: say("write.kit.fans.help") });
  /** A wire's place, and where it goes as well. @param {string} old @param {string | undefined} where @returns {[string, Value | undefined]} */
  const placeOf = (old, where) => {
    const more = split(fans.value()).map((one) => split(one, /[:=]/)).filter(([cavity]) => cavity === old).map(([, also = "?"]) => also);
    return [old, where === undefined || !more.length ? where : [where, ...more]];
  };
  const source = sources();
  const pictures = photos(() => id.value(), changed);
  return {
    elements: [
      group(say("write.kit.group"), row(number, title, id, from, to, also), more.element),
      group(say("write.kit.moves"), h("p", { class: "soft" }, say("write.kit.moves.help")), alike, place, row(fans)),
      group(say("write.kit.bag"), row(seals, blanks)),
      pictures.element,
      source.element,
    ],
    value: () =>
      more.whole(
        ["kind", "kit"],
        ["id", id.value()],
        ["number", number.value()],
        ["title", title.value()],
        ["from", split(also.value()).length ? [from.value(), ...split(also.value())].filter((one) => one !== undefined) : from.value()],
        ["to", to.value()],
        ["moves", stated(...wires.map(({ old, where }) => placeOf(old, where.value())))],
        ["seals", split(seals.value()).map(figureOf)],
        ["blanks", blanks.value()],
        ["photos", pictures.value()],
        ["sources", source.value()],
      ),
    numbers: () => [number.value()],
    left: () => [
      wires.length > 0 && wires.every((one) => !one.where.value()) && say("write.left.moves"),
      seals.value() === undefined && say("write.left.seals"),
      blanks.value() === undefined && say("write.left.blanks"),
      !source.value() && say("write.left.source"),
    ],
    wrong: () => {
      const used = wires.map((one) => one.where.value()).filter((one) => one !== undefined);
      return [...new Set(used.filter((one, at) => used.indexOf(one) !== at))].map((cavity) => say("write.kit.twice", { cavity }));
    },
    ...held({ number, title, id, from, to, also, moves, fans, seals, blanks, more, source }),
    pictures: pictures.files,
    file: (front) => `kits/${front.get("id") ?? ""}`,
  };
}
