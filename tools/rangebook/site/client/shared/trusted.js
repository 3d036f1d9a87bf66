// The two places where a text becomes more than text: a drawing of this site's, and the script that keeps the book on the device. The
// page's policy lets nothing through but this.

/** @typedef {{ createHTML: (text: string) => string, createScriptURL: (url: string) => string }} Policy */

/** @type {{ trustedTypes?: { createPolicy: (name: string, rules: Policy) => Policy } }} */
const { trustedTypes } = /** @type {object} */ (globalThis);

/** @param {string} url */
function ofThisSite(url) {
  if (new URL(url, location.href).origin !== location.origin) throw new TypeError(url);
  return url;
}

/** @type {Policy} */
const rules = { createHTML: (text) => text, createScriptURL: ofThisSite };
const policy = trustedTypes?.createPolicy("rangebook", rules) ?? rules;

/** A drawing from its text, as an element of this page. @param {string} text */
export const drawingOf = (text) => document.importNode(new DOMParser().parseFromString(policy.createHTML(text), "image/svg+xml").documentElement, true);

/** The address of a script of this site, for a worker. @param {string} url */
export const scriptUrl = (url) => policy.createScriptURL(url);
