// What the theme's own script expects to find, set from a file because no page of ours carries a script in itself.
{
  const script = document.currentScript;
  if (!(script instanceof HTMLScriptElement)) throw new Error("document.currentScript");
  const top = new URL("../../", script.src);
  Object.assign(window, {
    __md_scope: top,
    /** @param {string} text */
    __md_hash: (text) => [...text].reduce((sum, one) => (sum << 5) - sum + one.charCodeAt(0), 0),
    /** @param {string} key */
    __md_get: (key, store = localStorage, scope = top) => JSON.parse(store.getItem(`${scope.pathname}.${key}`) ?? "null"),
    /** @param {string} key @param {unknown} value */
    __md_set: (key, value, store = localStorage, scope = top) => {
      try {
        store.setItem(`${scope.pathname}.${key}`, JSON.stringify(value));
      } catch {
        // A browser that keeps nothing loses only where one was.
      }
    },
  });
}
