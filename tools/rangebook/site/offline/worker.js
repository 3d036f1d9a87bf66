// The book on this device. The build puts `const BOOK = {digest, mark, words, list, edition, tops}` in front of this file.
//
// One cache holds one edition, filled whole before it is used; every file is checked against its hash. A page is bound to the edition
// that it came from until it is loaded again, also when a newer edition has arrived meanwhile: no page ever shows pieces of two.

/** @typedef {{ mark: string, date: string | null, words: string, digest: string, families: number, of: number, left: number, keep: [path: string, hash: string, size: number][] }} List */

// A worker of this kind is what this file runs in and nothing else; its types do not say so.
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

const SCOPE = new URL(worker.registration.scope);
const EVERY = `rangebook ${SCOPE.pathname} `;
const OURS = EVERY + BOOK.digest;
const PINS = `${EVERY}pins`;
const AT_ONCE = 6;
const MOST_VISITED = 400;
const PIN_LIVES_MS = 600_000;
const TIDY_EVERY_MS = 120_000;
const NETWORK = "network";
const NOT_KEPT = "not-kept/index.html";

/** @param {string} path */
const at = (path) => new URL(path.replace(/(^|\/)index\.html$/, "$1"), SCOPE).href;

/** A request's place in the site: `""` and what ends in a slash are pages of that name. @param {URL} url */
function pathOf(url) {
  const path = url.pathname.slice(SCOPE.pathname.length);
  return path === "" || path.endsWith("/") ? `${path}index.html` : path;
}

/** @param {URL} url */
const keyOf = (url) => at(pathOf(url));

// Filling

worker.addEventListener("install", (event) => event.waitUntil(fill().then(() => worker.skipWaiting())));

async function fill() {
  const answer = await fetch(at(BOOK.list), { cache: "no-store" });
  if (!answer.ok) throw new Error(`${BOOK.list}: ${answer.status}`);
  /** @type {List} */
  const list = await answer.json();
  if (list.digest !== BOOK.digest) throw new Error("another edition is being published: later");
  const cache = await caches.open(OURS);
  const there = new Set((await cache.keys()).map((request) => request.url));
  const older = await olderEdition();
  const waiting = list.keep.filter(([path]) => !there.has(at(path)));
  const work = async () => {
    for (let next = waiting.shift(); next; next = waiting.shift()) {
      const [path, hash] = next;
      await cache.put(at(path), (await older.same(path, hash)) ?? (await checked(path, hash)));
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  await revisit(cache, older.visited);
  // Last of all: what has this file in it is whole.
  await cache.put(at(BOOK.list), Response.json(list));
}

/** A file of this edition and no other: the browser compares it with its hash. @param {string} path @param {string} hash */
async function checked(path, hash) {
  const answer = await fetch(at(path), { cache: "no-cache", integrity: `sha256-${hash}` });
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  return plain(answer);
}

/** An answer as it can be kept: a page that a server reached by a redirect could not be shown. @param {Response} answer */
async function plain(answer) {
  const headers = new Headers(answer.headers);
  headers.delete("Content-Encoding");
  return new Response(await answer.blob(), { status: 200, headers });
}

/**
 * The newest edition that is here already: its files with the same hash need not come over the air again.
 * @returns {Promise<{ same: (path: string, hash: string) => Promise<Response | undefined>, visited: string[] }>}
 */
async function olderEdition() {
  for (const name of (await caches.keys()).reverse()) {
    if (!name.startsWith(EVERY) || name === PINS || name === OURS) continue;
    const cache = await caches.open(name);
    const list = await listIn(cache);
    if (!list) continue;
    const hashes = new Map(list.keep.map(([path, hash]) => [path, hash]));
    const kept = new Set([...hashes.keys(), BOOK.list].map(at));
    return {
      same: async (path, hash) => (hashes.get(path) === hash ? cache.match(at(path)) : undefined),
      visited: (await cache.keys()).map((request) => request.url).filter((url) => !kept.has(url)),
    };
  }
  return { same: async () => undefined, visited: [] };
}

/** The list of a whole edition. @param {Cache} cache @returns {Promise<List | undefined>} */
async function listIn(cache) {
  return (await cache.match(at(BOOK.list)))?.json();
}

/** What the list of a whole edition says of that. @param {Cache} cache */
async function headIn(cache) {
  const list = await listIn(cache);
  return list && { mark: list.mark, date: list.date, words: list.words, digest: list.digest };
}

/** Pages that were opened before stay at hand; one that cannot be had now is no reason to do without the edition. @param {Cache} cache @param {string[]} addresses */
async function revisit(cache, addresses) {
  const known = new Set((await cache.keys()).map((request) => request.url));
  for (const url of addresses.slice(-MOST_VISITED)) {
    if (known.has(url)) continue;
    try {
      await fromServer(new Request(url), cache, BOOK.digest);
    } catch {
      // Opened again, it is fetched again.
    }
  }
}

// Taking over

worker.addEventListener("activate", (event) => event.waitUntil(takeOver()));

async function takeOver() {
  await worker.clients.claim();
  for (const client of await worker.clients.matchAll({ type: "window" })) client.postMessage({ book: "edition", mark: BOOK.mark, words: BOOK.words });
  await tidy();
}

let tidied = 0;
/** Editions that no page shows any more are let go of, now and then; not while another one is being filled. */
async function tidy() {
  if (worker.registration.installing || worker.registration.waiting || Date.now() - tidied < TIDY_EVERY_MS) return;
  tidied = Date.now();
  const pins = await caches.open(PINS);
  const live = new Set((await worker.clients.matchAll({ type: "all", includeUncontrolled: true })).map((client) => client.id));
  const used = new Set([OURS, PINS]);
  for (const request of await pins.keys()) {
    const written = await (await pins.match(request))?.json();
    if (!written) continue;
    const { digest, since } = written;
    // A page that is only just being opened, or may be gone back to, is not among the clients.
    if (live.has(new URL(request.url).searchParams.get("client") ?? "") || Date.now() - since < PIN_LIVES_MS) used.add(EVERY + digest);
    else await pins.delete(request);
  }
  for (const name of await caches.keys()) if (name.startsWith(EVERY) && !used.has(name)) await caches.delete(name);
}

// Which edition a page is bound to. The browser may end this worker at any time, so it is written down.

/** @type {Map<string, string>} */
const pinned = new Map();
/** @param {string} client */
const pinKey = (client) => `${SCOPE.href}pin?client=${encodeURIComponent(client)}`;

/** @param {string} client @param {string} digest */
async function pin(client, digest) {
  if (!client) return;
  pinned.set(client, digest);
  await (await caches.open(PINS)).put(pinKey(client), Response.json({ digest, since: Date.now() }));
}

/** @param {string} client @returns {Promise<string | undefined>} */
async function pinOf(client) {
  if (!client) return undefined;
  if (pinned.has(client)) return pinned.get(client);
  const found = await (await caches.open(PINS)).match(pinKey(client));
  return found ? (await found.json()).digest : undefined;
}

worker.addEventListener("message", (event) => {
  if (event.data?.book === "hello" && event.source instanceof Client) event.waitUntil(greet(event.source, event.data.mark, event.data.page));
});

/** A page says of which edition it is; one that came from the server before this worker was there is bound now. @param {Client} client @param {string} mark @param {string} page */
async function greet(client, mark, page) {
  const bound = await pinOf(client.id);
  const same = bound === undefined && mark === BOOK.mark && (await isSame(client, page));
  const newer = bound === undefined ? !same : bound !== BOOK.digest && bound !== NETWORK;
  if (bound === undefined) await pin(client.id, same ? BOOK.digest : NETWORK);
  const list = await listIn(await caches.open(OURS));
  client.postMessage({ book: "kept", mark: BOOK.mark, words: BOOK.words, newer, families: list?.families, of: list?.of, left: list?.left });
}

/** Whether a page is the one that this edition has: it asks which edition there is only when it is there itself. @param {Client} client @param {string} page */
async function isSame(client, page) {
  const kept = await (await caches.open(OURS)).match(keyOf(new URL(client.url)));
  return !kept || (await kept.text()).includes(`<meta name="book-page" content="${page}">`);
}

// Answering

const TOPS = new Set(BOOK.tops);
const NOT_OURS = /^(?:sw\.js|offline\.json|api\/.*)$/;

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== SCOPE.origin || !url.pathname.startsWith(SCOPE.pathname)) return;
  const path = url.pathname.slice(SCOPE.pathname.length);
  if (NOT_OURS.test(path) || (path && !TOPS.has(decoded(path.split("/")[0])))) return;
  event.respondWith(request.mode === "navigate" ? page(event, url) : piece(event, url));
});

/** @param {string} text */
function decoded(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** A page is of the newest edition that is whole on this device; what is not kept comes from the server, if that has the same one. @param {FetchEvent} event @param {URL} url */
async function page(event, url) {
  const client = event.resultingClientId;
  const cache = await caches.open(OURS);
  event.waitUntil(tidy());
  const kept = await cache.match(keyOf(url));
  if (kept) {
    await pin(client, BOOK.digest);
    return kept;
  }
  if (await cache.match(`${url.origin}${url.pathname}/`)) return Response.redirect(`${url.pathname}/${url.search}`);
  try {
    const { answer, same } = await fromServer(event.request, cache, BOOK.digest);
    await pin(client, same ? BOOK.digest : NETWORK);
    return answer;
  } catch {
    return Response.redirect(at(NOT_KEPT));
  }
}

/** @param {FetchEvent} event @param {URL} url */
async function piece(event, url) {
  const bound = await pinOf(event.clientId);
  if (bound === undefined || bound === NETWORK || !(await caches.has(EVERY + bound))) {
    // Of a page that this worker did not give; should the server be gone, what is here is better than nothing for one that asks first.
    return fetch(event.request).catch(async (error) => {
      const kept = bound === undefined ? await (await caches.open(OURS)).match(keyOf(url)) : undefined;
      if (kept) return kept;
      throw error;
    });
  }
  const cache = await caches.open(EVERY + bound);
  if (keyOf(url) === at(BOOK.edition)) return Response.json(await headIn(cache));
  const kept = await cache.match(keyOf(url));
  if (kept) return kept;
  const { answer, same } = await fromServer(event.request, cache, bound);
  return same || !answer.ok ? answer : new Response("another edition", { status: 409 });
}

/** `{answer, same}`: what the server has, and whether it is of this edition; then it is kept. Which one it has is asked afterwards: had it
 * changed in between, the answer would not be the same. Rejects without a connection. @param {Request} request @param {Cache} cache @param {string} digest */
async function fromServer(request, cache, digest) {
  const answer = await fetch(request);
  if (!answer.ok) return { answer, same: false };
  const now = await fetch(at(BOOK.edition), { cache: "no-store" });
  const same = now.ok && (await now.json()).digest === digest;
  if (same && (await cache.keys()).length < MOST_VISITED + ((await keptBy(cache)) ?? 0)) {
    await cache.put(keyOf(new URL(request.url)), await plain(answer.clone()));
  }
  return { answer, same };
}

/** @param {Cache} cache */
async function keptBy(cache) {
  return (await listIn(cache))?.keep.length;
}
