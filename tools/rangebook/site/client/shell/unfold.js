// What an address points at inside a folded part of the page is unfolded, also in browsers that do not do so themselves.
function unfold() {
  const target = location.hash ? document.getElementById(decodeURIComponent(location.hash.slice(1))) : null;
  if (!target) return;
  for (let fold = target.closest("details"); fold; fold = fold.parentElement?.closest("details") ?? null) fold.open = true;
  target.scrollIntoView();
}
addEventListener("hashchange", unfold);
unfold();
