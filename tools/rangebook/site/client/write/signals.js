// A powered output: the pin that gives it, what feeds it, and what a meter reads in each position.

import { h } from "../shared/dom.js";
import { say } from "../shared/say.js";
import { figure, held, pick, recordOf, row, textOf } from "./fields.js";
import { plainKeys } from "./plain.js";
import { stated } from "./yaml.js";
import "../words/write.js";

/** @import { Front, Held, Value } from "./fields.js" */
/** @import { Known } from "./form.js" */

const OWN = ["pin", "supply", "ground", "kind", "values", "tolerance"];

/** @param {Known} book @param {() => [string, string][]} ends @param {() => string[]} order @param {() => void} changed */
export function signal(book, ends, order, changed) {
  /** @returns {[string, string][]} */
  const pins = () => ends().filter(([name]) => name !== "case");
  const pin = pick(say("write.signal.pin"), pins(), { none: say("write.choose") });
  const supply = pick(say("write.signal.supply"), ends());
  const ground = pick(say("write.signal.ground"), ends());
  const kind = pick(say("write.signal.kind"), [
    ["volts", say("write.signal.volts")],
    ["duty_percent", say("write.signal.duty")],
    ["frequency_hz", say("write.signal.hertz")],
    ["serial", say("write.signal.serial")],
  ]);
  const tolerance = figure(say("write.signal.tolerance"), { help: say("write.signal.tolerance.help") });
  const more = plainKeys(book.schemas, "switch", ["parts", "0", "signals", "0"], OWN, say("write.signal.more"), changed);
  const place = h("div", { class: "write__row" });
  /** @type {Map<string, ReturnType<typeof figure>>} */
  const read = new Map();
  /** @param {string} position */
  const readIn = (position) => {
    const found = read.get(position) ?? figure(say("write.signal.reads", { position }));
    read.set(position, found);
    return found;
  };
  function refresh() {
    pin.offer(pins());
    supply.offer(ends());
    ground.offer(ends());
    place.replaceChildren(...order().map((one) => readIn(one).element));
  }
  refresh();
  /** @type {Held} */
  const values = {
    state: () => Object.fromEntries([...read].map(([name, one]) => [name, one.state()])),
    restore: (states) => {
      for (const [name, typed] of Object.entries(recordOf(states))) read.get(name)?.restore(typed);
    },
    from: (value) => (value instanceof Map ? Object.fromEntries([...value].map(([position, one]) => [position, textOf(one)])) : {}),
  };
  return {
    element: h("div", {}, row(pin, supply, ground, kind), place, row(tolerance), more.element),
    refresh,
    /** @returns {Front} */
    value: () => {
      const said = stated(...order().map((one) => pairOf(one, readIn(one).value())));
      return more.whole(["pin", pin.value()], ["supply", supply.value()], ["ground", ground.value()], ["kind", kind.value()], ["values", said], ["tolerance", tolerance.value()]) ?? new Map();
    },
    ...held({ pin, supply, ground, kind, values, tolerance, more }),
    /** What is said under keys of its own, and what is folded away. @param {Value} value */
    from: (value) => {
      const one = value instanceof Map ? value : new Map();
      return { pin: textOf(one.get("pin")), supply: textOf(one.get("supply")), ground: textOf(one.get("ground")), kind: textOf(one.get("kind")), values: values.from?.(one.get("values") ?? ""), tolerance: textOf(one.get("tolerance")), more: more.from?.(one) };
    },
  };
}

/** @param {string} key @param {Value | undefined} value @returns {[string, Value | undefined]} */
const pairOf = (key, value) => [key, value];
