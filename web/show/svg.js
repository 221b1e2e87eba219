const SPACE = 'http://www.w3.org/2000/svg';

/**
 * @param {string} name
 * @param {Record<string, string|number>} attributes class among them; no style
 * @returns {SVGElement}
 */
export function shape(name, attributes) {
  const el = document.createElementNS(SPACE, name);
  for (const [k, v] of Object.entries(attributes)) el.setAttribute(k, String(v));
  return el;
}

/** @param {number} v one decimal is finer than any screen here */
export function px(v) {
  return Math.round(v * 10) / 10;
}
