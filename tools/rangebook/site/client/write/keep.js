// What was typed, kept on this device until it is taken out: a page that is left by accident loses nothing.

// Two books on one host are two forms.
const KEY = `rangebook.write ${new URL("../../", import.meta.url).pathname}`;

/** `{kind, states}`: the kind of entry shown last, and for each kind what stood in its form. */
export function kept() {
  try {
    const found = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    return { kind: found.kind, states: found.states ?? {} };
  } catch {
    return { states: {} };
  }
}

/** False where this browser keeps nothing. */
export function keep(all) {
  try {
    localStorage.setItem(KEY, JSON.stringify(all));
    return true;
  } catch {
    return false;
  }
}
