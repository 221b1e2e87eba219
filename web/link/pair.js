/** @typedef {import('./messages.js').Role} Role */
/** @typedef {{token: string, role: Role, boat: string}} Pass */

const SHELF = 'helmcue.pass';

/**
 * The code a QR picture put behind the #, which browsers never send.
 * @param {string} hash
 */
export function codeIn(hash) {
  return decodeURIComponent(hash.replace(/^#/, '')).trim();
}

/** @param {Storage} storage @param {string} page @returns {Pass|null} */
export function stored(storage, page) {
  try {
    const pass = JSON.parse(storage.getItem(`${SHELF}.${page}`) ?? 'null');
    return typeof pass?.token === 'string' ? pass : null;
  } catch {
    return null; // written by hand or by an older page: pair again
  }
}

/** @param {Storage} storage @param {string} page @param {Pass|null} pass */
export function store(storage, page, pass) {
  if (pass) storage.setItem(`${SHELF}.${page}`, JSON.stringify(pass));
  else storage.removeItem(`${SHELF}.${page}`);
}

/**
 * Exchanges a one-time code for a token. Throws an Error whose message can be
 * shown as it is.
 * @param {{code: string, boat: string}} ask
 * @returns {Promise<Pass>}
 */
export async function pair(ask) {
  let answer;
  try {
    answer = await fetch('/pair', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(ask),
    });
  } catch {
    throw new Error('The service does not answer. Is this phone on the boat’s network?');
  }
  const body = await answer.json().catch(() => ({}));
  if (!answer.ok || typeof body.token !== 'string') {
    throw new Error(body.text || 'That code is not known. Ask for a new one: a code works once, for a quarter of an hour.');
  }
  return body;
}
