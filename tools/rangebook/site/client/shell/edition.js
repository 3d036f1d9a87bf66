// Which edition of the book a page is of. What is about one entry does not say so itself, so that it stays the same file when another
// entry changes: it asks once, when it is there.

/** @import { EditionFile } from "../types/data.js" */

const ADDRESS = new URL("../../edition.json", import.meta.url);

/** What a page says of itself in its head; empty where it says nothing. @param {"book-edition" | "book-page"} name */
export function markOf(name) {
  const meta = document.querySelector(`meta[name="${name}"]`);
  return meta instanceof HTMLMetaElement ? meta.content : "";
}

/** The edition that is to be had now, `null` where none is. @returns {Promise<EditionFile | null>} */
export async function serverEdition() {
  try {
    const answer = await fetch(ADDRESS, { cache: "no-store" });
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}

async function asked() {
  const now = await serverEdition();
  if (!now) return "";
  document.querySelector('meta[name="book-edition"]')?.setAttribute("content", now.mark);
  return now.mark;
}

/** Its mark; empty where nobody knows. @type {Promise<string>} */
export const edition = markOf("book-edition") ? Promise.resolve(markOf("book-edition")) : asked();
