// Loads the page again once the server shows another one at its address. It keeps the place on the page.

const meta = document.querySelector('meta[name="shown"]');
const PLACE = "rangebook.live.place";
const PAUSE_MS = 150;

const was = sessionStorage.getItem(PLACE);
sessionStorage.removeItem(PLACE);
if (was) {
  const { path, top } = JSON.parse(was);
  if (path === location.pathname) scrollTo({ top, behavior: "instant" });
}

/** @param {string} seen */
async function watch(seen) {
  for (;;) {
    await new Promise((done) => setTimeout(done, PAUSE_MS));
    try {
      const answer = await fetch(`/live/shown?${new URLSearchParams({ page: location.pathname })}`, { cache: "no-store" });
      const { shown } = await answer.json();
      if (shown && shown !== seen) {
        sessionStorage.setItem(PLACE, JSON.stringify({ path: location.pathname, top: scrollY }));
        location.reload();
        return;
      }
    } catch {
      // The server is away; perhaps it comes back.
    }
  }
}

if (meta instanceof HTMLMetaElement) watch(meta.content);
