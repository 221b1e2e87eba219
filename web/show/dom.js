/** An element that the page must have. @param {string} id @returns {HTMLElement} */
export function el(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no ${id}`);
  return found;
}

/** @param {string} id @returns {SVGElement} */
export function svg(id) {
  return /** @type {SVGElement} */ (/** @type {unknown} */ (el(id)));
}

/** Only a change touches the document: a screen reader repeats what is set again. @param {HTMLElement} e @param {string} text */
export function say(e, text) {
  if (e.textContent !== text) e.textContent = text;
}

/** @param {string} id @param {boolean} on */
export function pressed(id, on) {
  el(id).setAttribute('aria-pressed', String(on));
}

/** @param {string} id @param {boolean} can */
export function able(id, can) {
  /** @type {HTMLButtonElement} */ (el(id)).disabled = !can;
}
