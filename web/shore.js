/** Draws a chart by tapping: wires the sheet and the buttons to shore/chart.js. */
import { Link, address } from './link/link.js';
import { stored } from './link/pair.js';
import { WIDTHS, atSheet, blank, closed, further, geojson, isArea, onSheet, opened, put, says, undone } from './shore/chart.js';
import { able, el, say, svg } from './show/dom.js';
import { px, shape } from './show/svg.js';

const SHELF = 'helmcue.shore';

/** @type {import('./shore/chart.js').Chart|null} */
let chart = kept();
let cross = [0, 0];
/** Where this device was since its position was asked for. @type {import('./shore/chart.js').Place[]} */
let walked = [];
let watching = false;
/** The boats' tracks while the page is open, by name. @type {Map<string, import('./shore/chart.js').Place[]>} */
const boats = new Map();

function kept() {
  try {
    const c = JSON.parse(localStorage.getItem(SHELF) ?? 'null');
    return Array.isArray(c?.middle) && Array.isArray(c.done) ? c : null;
  } catch {
    return null; // of an older page
  }
}

/** @param {import('./shore/chart.js').Chart|null} next */
function set(next) {
  chart = next;
  if (chart) localStorage.setItem(SHELF, JSON.stringify(chart));
  tell('');
  el('checked').replaceChildren();
  draw();
}

/** @param {string} words */
function tell(words) {
  el('told').hidden = words === '';
  say(el('told'), words);
}

/** @param {import('./shore/chart.js').Chart} c @param {import('./shore/chart.js').Place[]} line @param {string} kind @param {boolean} [ring] */
function path(c, line, kind, ring) {
  const d = line.map((at, i) => `${i ? 'L' : 'M'}${onSheet(c, at).map((v) => px(v * 1000)).join(' ')}`).join('') + (ring ? 'Z' : '');
  return shape('path', { d, class: kind });
}

function draw() {
  const c = chart;
  for (const b of el('kinds').children) b.setAttribute('aria-pressed', String(/** @type {HTMLElement} */ (b).dataset.kind === c?.kind));
  for (const id of ['undo', 'close', 'walk', 'nearer', 'wider', 'check', 'save']) able(id, c !== null);
  if (!c) {
    say(el('scale'), 'Say first where the middle of the sheet is.');
    return;
  }
  able('close', c.open.length >= 3);
  able('undo', c.open.length + c.done.length > 0);
  for (const id of ['check', 'save']) able(id, c.done.length > 0 && c.open.length === 0);
  say(el('scale'), `The sheet is ${c.wide} m wide. ${c.open.length ? `${c.open.length} corners of an open outline: close it to check or save.` : 'No outline is open.'}`);
  svg('sheet').replaceChildren(
    ...(c.sailed?.length ? [dots(c, c.sailed)] : []),
    ...[...boats].flatMap(([name, at]) => [path(c, at, 'walked'), called(c, at[at.length - 1], name)]),
    ...(walked.length ? [path(c, walked, 'walked'), here(c, walked[walked.length - 1])] : []),
    ...c.done.filter((f) => isArea(f.kind)).map((f) => path(c, f.at, f.kind, true)),
    ...c.done.filter((f) => !isArea(f.kind)).map((f) => buoy(c, f)),
    ...(c.open.length ? [path(c, c.open, 'open'), ...c.open.map((at) => dot(c, at))] : []),
    shape('path', { d: `M${cross[0] - 30} ${cross[1]}h60M${cross[0]} ${cross[1] - 30}v60`, class: 'cross' }),
  );
  el('drawn').replaceChildren(...(c.done.length ? c.done.map(says) : ['Nothing yet.']).map(item));
}

/** @param {import('./shore/chart.js').Chart} c @param {import('./shore/chart.js').Place} at */
function dot(c, at) {
  const [x, y] = onSheet(c, at);
  return shape('circle', { cx: px(x * 1000), cy: px(y * 1000), r: 10, class: 'corner' });
}

/** Places sailed, as one shape. @param {import('./shore/chart.js').Chart} c @param {import('./shore/chart.js').Place[]} places */
function dots(c, places) {
  const d = places.map((at) => `M${onSheet(c, at).map((v) => px(v * 1000)).join(' ')}h0`).join('');
  return shape('path', { d, class: 'sailed' });
}

/** @param {import('./shore/chart.js').Chart} c @param {import('./shore/chart.js').Place} at */
function here(c, at) {
  const [x, y] = onSheet(c, at);
  return shape('circle', { cx: px(x * 1000), cy: px(y * 1000), r: 16, class: 'here' });
}

/** A boat's name where she is. @param {import('./shore/chart.js').Chart} c @param {import('./shore/chart.js').Place} at @param {string} name */
function called(c, at, name) {
  const [x, y] = onSheet(c, at);
  const words = shape('text', { x: px(x * 1000 + 12), y: px(y * 1000 - 12), class: 'name' });
  words.textContent = name;
  return words;
}

/** Follows the boats, where this device is paired as instructor. */
function watch() {
  const pass = stored(localStorage, 'instructor');
  if (!pass) return;
  new Link({
    url: address(location), now: Date.now, changed: () => {},
    join: () => ({ type: 'join', v: 1, role: pass.role, token: pass.token, t: Date.now() }),
    heard: (m) => {
      if (m.type !== 'state' || !m.at) return;
      const was = boats.get(m.boat) ?? [];
      const track = further(was, m.at);
      if (track === was) return;
      boats.set(m.boat, track);
      draw();
    },
  }).open();
}

/** Follows this device, once it was asked where it is. */
function follow() {
  if (watching) return;
  watching = true;
  navigator.geolocation.watchPosition(({ coords }) => {
    if (coords.accuracy > 30) return;
    walked = further(walked, [coords.longitude, coords.latitude]);
    draw();
  }, () => {}, { enableHighAccuracy: true });
}

/** @param {import('./shore/chart.js').Chart} c @param {import('./shore/chart.js').Feature} f a ramp is square */
function buoy(c, f) {
  const [x, y] = onSheet(c, f.at[0]).map((v) => v * 1000);
  return f.kind === 'ramp' ? shape('rect', { x: px(x - 14), y: px(y - 14), width: 28, height: 28, class: 'buoy' }) : shape('circle', { cx: px(x), cy: px(y), r: 13, class: 'buoy' });
}

/** @param {string} text */
const item = (text) => Object.assign(document.createElement('li'), { textContent: text });

/** @param {string} form @param {string} name */
const field = (form, name) => /** @type {HTMLInputElement} */ (/** @type {HTMLFormElement} */ (el(form)).elements.namedItem(name));

/** @param {import('./shore/chart.js').Place} at */
function tap(at) {
  if (chart) set(put(chart, at, isArea(chart.kind) ? '' : field('about', 'name').value.trim()));
}

function close() {
  const h = field('about', 'height');
  if (!h.checkValidity()) return tell('The height is metres from 0 to 500, or empty.');
  const next = chart && closed(chart, h.value === '' ? null : Number(h.value), field('about', 'name').value.trim());
  if (next) set(next);
}

/** @param {import('./shore/chart.js').Place} at */
function middle(at) {
  set(chart ? { ...chart, middle: at } : blank(at));
}

/** The device's position, once. @param {(at: import('./shore/chart.js').Place) => void} then */
function whereIAm(then) {
  navigator.geolocation.getCurrentPosition(
    ({ coords }) => {
      if (coords.accuracy > 30) return tell(`The position is good to ${Math.round(coords.accuracy)} m only: wait under open sky, or type it.`);
      then([Math.round(coords.longitude * 1e6) / 1e6, Math.round(coords.latitude * 1e6) / 1e6]);
      follow();
    },
    () => tell('No position: allow it in the browser’s settings, or type the coordinates.'),
    { enableHighAccuracy: true, timeout: 15000 },
  );
}

/** @param {number} by steps */
function resize(by) {
  if (!chart) return;
  const at = WIDTHS.indexOf(chart.wide);
  set({ ...chart, wide: WIDTHS[Math.min(WIDTHS.length - 1, Math.max(0, at + by))] });
}

/** Reads back what the service makes of the chart. */
async function check() {
  const pass = stored(localStorage, 'instructor');
  if (!chart) return;
  if (!pass) return tell('Only a device paired as instructor may have a chart checked: pair it on the page “I follow”. It can be saved all the same; the service checks it when it starts.');
  try {
    const answer = await fetch('/shore.json', { method: 'POST', headers: { Authorization: `Bearer ${pass.token}` }, body: JSON.stringify(geojson(chart)) });
    const got = await answer.json();
    if (!answer.ok) return tell(`Not good yet: ${got.text}.`);
    el('checked').replaceChildren(...[`Good: ${got.says}.`, ...got.notes].map((text) => Object.assign(document.createElement('p'), { textContent: text })));
  } catch {
    tell('The service does not answer: is this device on its network? The chart can be saved without.');
  }
}

/** Lays a chart from a file under the pen, in the place of what was drawn. */
async function lay() {
  const input = /** @type {HTMLInputElement} */ (el('file'));
  const file = input.files?.[0];
  input.value = '';
  if (!file) return;
  if (chart?.done.length && !confirm('What is drawn here gives way to the file. Go on?')) return;
  try {
    const got = opened(JSON.parse(await file.text()));
    if (typeof got === 'string') tell(got);
    else set(got);
  } catch {
    tell('This is no chart: the file is not GeoJSON.');
  }
}

function save() {
  if (!chart) return;
  const url = URL.createObjectURL(new Blob([JSON.stringify(geojson(chart), null, 1)], { type: 'application/geo+json' }));
  Object.assign(document.createElement('a'), { href: url, download: 'lake.geojson' }).click();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}

/** @param {KeyboardEvent} e */
function keyed(e) {
  const step = { ArrowLeft: [-20, 0], ArrowRight: [20, 0], ArrowUp: [0, -20], ArrowDown: [0, 20] }[e.key];
  if (!step && e.key !== 'Enter') return;
  e.preventDefault();
  if (step) {
    cross = cross.map((v, i) => Math.min(500, Math.max(-500, v + step[i])));
    draw();
  } else if (chart) tap(atSheet(chart, cross[0] / 1000, cross[1] / 1000));
}

function wire() {
  el('middle').addEventListener('submit', (e) => {
    e.preventDefault();
    middle([Number(field('middle', 'lon').value), Number(field('middle', 'lat').value)]);
  });
  el('about').addEventListener('submit', (e) => e.preventDefault());
  el('kinds').addEventListener('click', ({ target }) => {
    const kind = /** @type {HTMLElement} */ (target).dataset.kind;
    if (!kind || !chart) return;
    if (chart.open.length && !isArea(/** @type {any} */ (kind))) tell('Close the outline first.');
    else set({ ...chart, kind: /** @type {import('./shore/chart.js').Kind} */ (kind) });
  });
  svg('sheet').addEventListener('click', (e) => {
    const box = svg('sheet').getBoundingClientRect();
    if (chart) tap(atSheet(chart, (e.clientX - box.left) / box.width - 0.5, (e.clientY - box.top) / box.height - 0.5));
  });
  svg('sheet').addEventListener('keydown', keyed);
  el('file').addEventListener('change', lay);
  /** @type {[string, () => void][]} */
  const taps = [['here', () => whereIAm(middle)], ['walk', () => whereIAm(tap)], ['undo', () => chart && set(undone(chart))],
    ['close', close], ['nearer', () => resize(-1)], ['wider', () => resize(1)], ['check', check], ['save', save], ['lay', () => el('file').click()]];
  for (const [id, act] of taps) el(id).addEventListener('click', act);
}

wire();
draw();
watch();
