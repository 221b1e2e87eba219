/**
 * Keeps the pages and the voice on this phone, so that it starts without any
 * service in reach (/offline.js). A newer one is taken at once where nothing is under way,
 * else with the next start.
 * @param {() => boolean} idle
 */
export async function keepPages(idle) {
  if (!navigator.serviceWorker) return;
  const had = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    if (had && idle()) location.reload();
  });
  try {
    const kept = await navigator.serviceWorker.register('/offline.js', { scope: '/sailor' });
    const offer = () => idle() && kept.waiting?.postMessage('now');
    offer();
    kept.addEventListener('updatefound', () => kept.installing?.addEventListener('statechange', offer));
  } catch {
    // no service in reach, or its certificate is not trusted: the page works all the same while it is open
  }
}
