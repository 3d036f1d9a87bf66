// What an address points at inside a folded part of the page is unfolded, also in browsers that do not do so themselves.
/** The element that the address points at; one that is badly written points at nothing. */
function pointedAt() {
  try {
    return document.getElementById(decodeURIComponent(location.hash.slice(1)));
  } catch {
    return null;
  }
}

function unfold() {
  const target = pointedAt();
  if (!target) return;
  for (let fold = target.closest("details"); fold; fold = fold.parentElement?.closest("details") ?? null) fold.open = true;
  target.scrollIntoView();
}
addEventListener("hashchange", unfold);
unfold();
