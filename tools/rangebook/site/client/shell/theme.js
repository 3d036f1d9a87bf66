// Light or dark: as the device has it, unless the reader chose; and what has to be known of the address. Runs before the page is drawn, so that it does not flash.
(() => {
  const KEY = "rangebook-theme";
  const root = document.documentElement;
  root.classList.add("has-script");
  // Something is asked for in the address: the page keeps its place free until it is there, so that nothing jumps under the thumb.
  if (/[?&](q|part|a|seat)=[^&]/.test(location.search)) root.classList.add("is-coming");
  const device = matchMedia("(prefers-color-scheme: dark)");
  const kept = () => {
    try {
      return localStorage.getItem(KEY);
    } catch {
      return null;
    }
  };
  const isDark = () => (root.dataset.theme ? root.dataset.theme === "dark" : device.matches);
  const stored = kept();
  if (stored === "light" || stored === "dark") root.dataset.theme = stored;

  addEventListener("DOMContentLoaded", () => {
    const button = document.querySelector("[data-theme-switch]");
    const words = button?.querySelector("[data-theme-words]");
    if (!(button instanceof HTMLElement) || !(words instanceof HTMLElement)) return;
    const say = () => {
      words.textContent = (isDark() ? words.dataset.light : words.dataset.dark) ?? "";
    };
    button.hidden = false;
    button.addEventListener("click", () => {
      root.dataset.theme = isDark() ? "light" : "dark";
      try {
        localStorage.setItem(KEY, root.dataset.theme);
      } catch {
        // The choice then holds for this page only.
      }
      say();
    });
    device.addEventListener("change", say);
    say();
  });
})();
