// What the theme's own script expects to find, set from a file because no page of ours carries a script in itself.
window.__md_scope = new URL("../../", document.currentScript.src);
window.__md_hash = (text) => [...text].reduce((sum, one) => (sum << 5) - sum + one.charCodeAt(0), 0);
window.__md_get = (key, store = localStorage, scope = window.__md_scope) => JSON.parse(store.getItem(`${scope.pathname}.${key}`));
window.__md_set = (key, value, store = localStorage, scope = window.__md_scope) => {
  try {
    store.setItem(`${scope.pathname}.${key}`, JSON.stringify(value));
  } catch {
    // A browser that keeps nothing loses only where one was.
  }
};
