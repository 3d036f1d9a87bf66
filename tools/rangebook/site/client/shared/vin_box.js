// A box for a VIN that gives the model year. The VIN itself stays in the box: it names one vehicle, and belongs into no address.

import { say } from "./say.js";
import { modelYear } from "./vin.js";
import "../words/vin.js";

/**
 * Listens to an input. `told` is called with the years of a VIN, or null where it is
 * refused or gone; `says` is where it is put into words.
 * @param {HTMLInputElement} input
 * @param {HTMLElement} says
 * @param {(years: number[] | null) => void} told
 */
export function listenForVin(input, says, told) {
  const newest = new Date().getFullYear() + 1;
  /** @type {number[] | null} */
  let last = null;
  input.addEventListener("input", () => {
    const text = input.value;
    const short = text.replace(/[\s-]/g, "").length < 17;
    const seen = short ? null : modelYear(text, newest);
    says.textContent = seen ? seen.why : text.trim() ? say("vin.short") : "";
    says.classList.toggle("is-refused", seen !== null && !seen.years.length);
    const years = seen?.years.length ? seen.years : null;
    if (JSON.stringify(years) !== JSON.stringify(last)) told(years);
    last = years;
  });
}
