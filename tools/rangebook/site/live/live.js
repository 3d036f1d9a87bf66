// Loads the page again once the server shows another one at its address. It keeps the place on the page.

const meta = document.querySelector('meta[name="shown"]');
const PLACE = "rangebook.live.place";
const PAUSE_MS = 1000;

const was = sessionStorage.getItem(PLACE);
sessionStorage.removeItem(PLACE);
if (was) {
  const { path, top } = JSON.parse(was);
  if (path === location.pathname) scrollTo({ top, behavior: "instant" });
}

/** @param {string} seen */
async function watch(seen) {
  for (;;) {
    try {
      const query = new URLSearchParams({ page: location.pathname, seen });
      const answer = await fetch(`/live/wait?${query}`, { cache: "no-store" });
      const { shown } = await answer.json();
      if (shown && shown !== seen) {
        sessionStorage.setItem(PLACE, JSON.stringify({ path: location.pathname, top: scrollY }));
        location.reload();
        return;
      }
    } catch {
      await new Promise((done) => setTimeout(done, PAUSE_MS));
    }
  }
}

if (meta instanceof HTMLMetaElement) watch(meta.content);
