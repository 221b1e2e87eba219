import { able, el, say } from '../show/dom.js';
import { drawFan, fan } from '../show/fan.js';
import { practising, underWay } from '../show/practice.js';
import { direction, sentence, wind } from '../show/words.js';
import { line, targetWords, title } from './state.js';

/** @typedef {import('./state.js').Page} Page */

/** How many of the phrases stand on an opened line, without another tap. */
const QUICK = 6;

/** Brings the document to the state; may be called any number of times. @param {Page} p @param {number} now */
export function update(p, now) {
  el('pair').hidden = p.phase !== 'pair';
  el('follow').hidden = p.phase !== 'follow';
  el('pair-fault').hidden = p.pairing === '';
  say(el('pair-fault'), p.pairing);
  say(el('title'), title(p));
  const first = p.learners.find((l) => l.status.twd_known)?.status;
  say(el('wind'), p.learners.length ? wind(first?.twd, first?.twd_sd, first?.tws) : '');
  el('link').hidden = p.up;
  say(el('link'), p.up ? '' : `No link to the service for ${Math.round((now - p.upAt) / 1000)} s. What stands here is old; acts are not sent.`);
  el('none').hidden = p.learners.length > 0;
  say(el('sent'), p.sent && now - p.sent.at < 8000 ? p.sent.text : '');
  for (const id of ['say', 'set-wind', 'mark']) {
    able(id, !p.looks && p.up && p.learners.length > 0);
  }
  boats(p, now);
  addressees(p);
  sheets(p);
  say(el('say-title'), `Say to ${targetWords(p)}`);
  say(el('wind-title'), `Wind for ${targetWords(p)}`);
}

/** @param {Page} p @param {number} now */
function boats(p, now) {
  const list = el('boats');
  p.learners.forEach((learner, i) => {
    const li = /** @type {HTMLElement} */ (list.children[i] ?? list.appendChild(boatLine()));
    const words = line(learner, now);
    const open = p.chosen === learner.boat;
    li.classList.toggle('help', words.help !== '');
    li.dataset.boat = learner.boat;
    part(li, 'open').setAttribute('aria-expanded', String(open));
    say(part(li, 'called'), words.name);
    part(li, 'word').hidden = words.help === '';
    say(part(li, 'word'), words.help);
    for (const k of /** @type {const} */ (['going', 'practice', 'told', 'health'])) say(part(li, k), words[k]);
    part(li, 'practice').hidden = words.practice === '';
    part(li, 'health').hidden = words.health === '';
    part(li, 'more').hidden = !open;
    if (open) opened(li, learner, p);
  });
}

/** @param {HTMLElement} li @param {import('./state.js').Learner} learner @param {Page} p */
function opened(li, learner, p) {
  const f = fan(learner.status);
  drawFan(/** @type {SVGElement} */ (/** @type {unknown} */ (part(li, 'fan'))), f);
  say(part(li, 'angle'), f.says);
  phraseButtons(part(li, 'phrases'), p.looks ? [] : p.phrases.slice(0, QUICK));
  part(li, 'acts').hidden = p.looks;
  for (const b of part(li, 'acts').children) /** @type {HTMLButtonElement} */ (b).disabled = !p.up;
}

/** @param {HTMLElement} li @param {string} name @returns {HTMLElement} */
function part(li, name) {
  return /** @type {HTMLElement} */ (li.querySelector(`.${name}`));
}

/** An empty line, filled by every update. */
function boatLine() {
  const li = document.createElement('li');
  li.className = 'boat';
  const open = made('button', 'open');
  open.setAttribute('type', 'button');
  const name = made('span', 'name');
  name.append(made('span', 'called'), made('span', 'word'));
  open.append(name, made('span', 'going'), made('span', 'practice'), made('span', 'told'), made('span', 'health'));
  const more = made('div', 'more');
  const ends = made('p', 'ends soft');
  ends.setAttribute('aria-hidden', 'true');
  for (const word of ['from port', 'wind', 'from starboard']) ends.append(Object.assign(made('span', ''), { textContent: word }));
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  svg.setAttribute('class', 'fan');
  more.append(ends, svg, made('p', 'angle'), made('div', 'phrases'), acts());
  li.append(open, more);
  return li;
}

/** The acts on one boat: two at a tap, the rest behind a sheet of their own. */
function acts() {
  const box = made('div', 'acts phrases');
  for (const [word, data] of /** @type {[string, Record<string, string>][]} */ ([
    ['Quiet', { act: 'quiet' }], ['Speak again', { act: 'resume' }], ['Turn …', { sheet: 'turn-sheet' }],
    ['Practise …', { sheet: 'practice-sheet' }], ['Level, limit …', { sheet: 'set-sheet' }],
  ])) box.append(button(word, data));
  return box;
}

/** @param {string} tag @param {string} name @returns {HTMLElement} */
function made(tag, name) {
  const e = document.createElement(tag);
  e.className = name;
  return e;
}

/** Buttons for phrases, rebuilt only when the phrases change. @param {HTMLElement} box @param {{key: string, words: string}[]} phrases @param {string} [what] what the key is of */
export function phraseButtons(box, phrases, what = 'phrase') {
  const want = JSON.stringify(phrases);
  if (box.dataset.says === want) return;
  box.dataset.says = want;
  box.replaceChildren(...phrases.map((ph) => button(sentence(ph.words), { [what]: ph.key })));
}

/** @param {string} text @param {Record<string, string>} data */
function button(text, data) {
  const b = document.createElement('button');
  b.type = 'button';
  b.className = 'hold';
  b.textContent = text;
  Object.assign(b.dataset, data);
  return b;
}

/** The sheets of the boat whose line is open. @param {Page} p */
function sheets(p) {
  const learner = p.learners.find((l) => l.boat === p.chosen);
  const whom = p.chosen || 'no boat';
  say(el('turn-title'), `Turn for ${whom}`);
  say(el('practice-title'), `Practise · ${whom}`);
  say(el('set-title'), `Level and limit · ${whom}`);
  const x = learner?.status.exercise;
  const on = learner !== undefined && underWay(x, learner.status.t);
  say(el('practice-now'), on && x ? practising(x) : 'Nothing is practised: free sailing.');
  for (const id of ['skip', 'cease']) able(id, on && p.up);
  phraseButtons(el('plans'), p.plans, 'plan');
  phraseButtons(el('exercises'), p.exercises, 'exercise');
  for (const b of [...el('plans').children, ...el('exercises').children]) /** @type {HTMLButtonElement} */ (b).disabled = !p.up;
}

/** @param {number} kn */
export function updateLimit(kn) {
  say(el('limit-kn'), `${kn} knots`);
}

/** The row that says whom acts are for. @param {Page} p */
function addressees(p) {
  const box = el('to');
  box.hidden = p.learners.length < 2 || p.looks;
  const names = ['', ...p.learners.map((l) => l.boat)];
  const want = JSON.stringify(names);
  if (box.dataset.says !== want) {
    box.dataset.says = want;
    box.replaceChildren(...names.map((n) => button(n || 'All', { to: n })));
  }
  for (const b of box.children) b.setAttribute('aria-pressed', String(/** @type {HTMLElement} */ (b).dataset.to === p.to));
}

/** @param {import('./act.js').Wind} w */
export function updateWind(w) {
  say(el('wind-dir'), w.dir === null ? 'From: not set' : `From ${direction(w.dir)} ${w.ref === 'mag' ? 'by compass' : 'true'}`);
  say(el('wind-kn'), w.kn === null ? 'Speed: not set' : `${w.kn} knots`);
  able('send-wind', w.dir !== null || w.kn !== null);
}
