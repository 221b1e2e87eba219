/**
 * Keeps the sailor's page, its coach and the voice on the phone, so that all start
 * without any service in reach. The service puts a line before this text that says
 * what there is to keep: self.kept = {version, pages, clips}. A new version is fetched
 * beside the one in use and takes its place when no page is open, or when a page on
 * which nothing is under way says now.
 */
/** @type {{version: string, pages: string[], clips: string[]}} */
const kept = self.kept;
const SHELF = `helmcue.pages.${kept.version}`;
const AT_ONCE = 6; // clips fetched at a time

/** @param {Cache} shelf @param {string[]} paths */
async function fill(shelf, paths) {
  const waiting = [...paths];
  const one = async () => {
    for (let path = waiting.shift(); path; path = waiting.shift()) {
      if (!(await shelf.match(path))) await shelf.add(new Request(path, { cache: 'no-cache' }));
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, one));
}

self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(SHELF).then((shelf) => fill(shelf, [...kept.pages, ...kept.clips])));
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name !== SHELF) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener('message', (event) => {
  if (event.data === 'now') self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  event.respondWith(caches.open(SHELF).then((shelf) => shelf.match(url.pathname)).then((found) => found ?? fetch(event.request)));
});
