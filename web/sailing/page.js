import { able, el, pressed, say, svg } from '../show/dom.js';
import { drawFan, fan } from '../show/fan.js';
import { practice, underWay } from '../show/practice.js';
import { span, speedSentence } from '../show/words.js';
import { drawShare, drawWake } from '../show/wake.js';
import { checklist, stillOpen } from './check.js';
import { carriage } from './state.js';
import { sentences } from './sum.js';
import { card, header, missing, windLine } from './view.js';

/** @typedef {import('./state.js').Page} Page */

/** Brings the document to the state; may be called any number of times. @param {Page} p @param {number} now */
export function update(p, now) {
  for (const [id, phase] of [['pair', 'pair'], ['check', 'check'], ['sail', 'sail'], ['stopped', 'stopped']]) el(id).hidden = p.phase !== phase;
  document.title = p.boat && p.phase !== 'pair' ? `${p.boat} · sailing` : 'Sailing';
  for (const id of ['here', 'here-2']) pressed(id, !p.muted);
  for (const id of ['boat-only', 'boat-only-2']) pressed(id, p.muted);
  if (p.phase === 'pair') updatePair(p);
  if (p.phase === 'check') updateCheck(p);
  if (p.phase === 'sail') updateSail(p, now);
  if (p.phase === 'stopped') updateStopped(p);
}

/** @param {Page} p */
function updateStopped(p) {
  const says = sentences(p.sum);
  if (el('sum').children.length !== says.length) {
    el('sum').replaceChildren(...says.map((text) => Object.assign(document.createElement('li'), { textContent: text })));
  }
  say(el('stopped-says'), p.waiting === 0 ? 'What was sailed is kept by the service.'
    : `Only this phone has the last ${span(p.waiting * 100)} so far. It goes to the service when that is in reach: open this page there.`);
}

/** @param {Page} p */
function updatePair(p) {
  el('pair-fault').hidden = p.pairing === '';
  say(el('pair-fault'), p.pairing);
}

/** @param {Page} p */
function updateCheck(p) {
  say(el('check-who'), [p.boat, p.up ? 'linked' : 'no link'].filter(Boolean).join(' · '));
  el('ready').hidden = p.ready;
  for (const id of ['items', 'go', 'still-open']) el(id).hidden = !p.ready;
  el('ask-sound').hidden = !p.ready || p.muted || (p.heard && p.sound);
  el('beat').hidden = !p.ready || p.muted || !p.heard || !p.sound || !p.sensed.tilt;
  able('beat', p.delay !== 'listening');
  el('level').hidden = !p.ready || p.mounting !== 'fixed' || !p.sensed.tilt;
  able('level', p.levelled !== 'holding');
  say(el('level'), p.levelled === 'yes' ? 'Level again' : 'Level now');
  el('mounting-hint').hidden = p.mounting === 'worn';
  el('flap').hidden = !p.ready || p.mounting === null || p.sensed.hdg === undefined || p.status?.twd_known === true;
  say(el('flap'), p.mounting === 'worn' ? 'The phone points into the wind' : 'Sails flapping, bow into the wind');
  pressed('fixed', p.mounting === 'fixed');
  pressed('worn', p.mounting === 'worn');
  el('go').classList.toggle('first', stillOpen(p) === 0);
  say(el('still-open'), stillOpen(p) ? 'You may go with sentences unticked: the voice then does without, or says so.' : 'All is ready.');
  list(p);
}

/** The controls that stand at a sentence of the checklist. */
const CONTROLS = [['mounting', 'ask-mounting'], ['level', 'level'], ['sound', 'ask-sound'], ['sound', 'beat'], ['sound', 'who-speaks'], ['wind', 'flap']];

/** @param {Page} p */
function list(p) {
  if (!p.ready) return;
  const items = checklist(p);
  const ul = el('items');
  for (const li of [...ul.children]) {
    if (!items.some((i) => i.id === /** @type {HTMLElement} */ (li).dataset.id)) li.remove();
  }
  items.forEach((item, i) => {
    const li = /** @type {HTMLElement} */ (ul.querySelector(`[data-id="${item.id}"]`) ?? entry(ul, item.id, i));
    li.className = item.state;
    say(/** @type {HTMLElement} */ (li.querySelector('.tick')), { done: 'done: ', never: 'not here: ', open: 'open: ' }[item.state]);
    say(/** @type {HTMLElement} */ (li.querySelector('.says')), item.text);
  });
}

/** @param {HTMLElement} ul @param {string} id @param {number} at */
function entry(ul, id, at) {
  const li = document.createElement('li');
  li.dataset.id = id;
  for (const name of ['tick unseen', 'says']) li.append(Object.assign(document.createElement('span'), { className: name }));
  for (const [where, control] of CONTROLS) if (where === id) li.append(el(control));
  ul.insertBefore(li, ul.children[at] ?? null);
  return li;
}

/** @param {Page} p @param {number} now */
function updateSail(p, now) {
  const top = header(p, now);
  say(el('who'), top.who);
  say(el('how'), top.how);
  updateMissing(p, now);
  const c = card(p, now);
  el('said').className = `said ${c.age}${c.warn ? ' framed' : ''}`;
  el('warn').hidden = c.warn === '';
  say(el('warn'), c.warn);
  say(el('words'), c.words);
  say(el('why'), c.why);
  say(el('ago'), c.ago);
  const x = p.exercise;
  el('practice').hidden = !underWay(x && { ...x, t: p.heardAt }, now);
  say(el('practice'), x ? practice(x) : '');
  const s = p.status;
  say(el('speed'), speedSentence(s?.sog ?? null, s?.target_kn ?? null, s?.share ?? null));
  drawShare(svg('share'), s?.share ?? null);
  const f = fan(s);
  drawFan(svg('fan'), f);
  say(el('angle'), f.says);
  drawWake(svg('wake'), { points: p.points, cues: p.cues, now });
  el('open-wind').classList.toggle('first', s !== null && !s.twd_known);
  updateWind(p);
}

/** @param {Page} p @param {number} now */
function updateMissing(p, now) {
  const lines = missing(p, now).slice(0, 3);
  const box = el('missing');
  const want = JSON.stringify(lines);
  if (box.dataset.says === want) return; // buttons must not be rebuilt under a thumb
  box.dataset.says = want;
  box.replaceChildren(...lines.flatMap(({ text, acts }) => {
    const line = document.createElement('p');
    line.textContent = text;
    const buttons = acts.map(button);
    if (acts.length < 2) return [line, ...buttons];
    const pair = document.createElement('div');
    pair.className = 'pair-of';
    pair.append(...buttons);
    return [line, pair];
  }));
}

/** @param {import('./view.js').Act} act */
function button(act) {
  const b = document.createElement('button');
  b.className = 'hold';
  b.type = 'button';
  b.dataset.act = act;
  b.textContent = { sound: 'Start the sound', take: 'Speak on this phone instead', worn: 'It is worn', fixed: 'It is fixed' }[act];
  return b;
}

/** @param {Page} p */
function updateWind(p) {
  say(el('wind-line'), windLine(p));
  const compass = p.sensed.hdg !== undefined;
  able('pointed', compass);
  say(el('pointed-hint'), compass
    ? 'Flat: the top of the page to where the wind comes from. Upright: its back. Then tap.'
    : 'This phone tells no compass heading, so pointing it says nothing.');
  const fixed = compass && carriage(p) === 'fixed';
  able('head-to-wind', fixed);
  say(el('head-hint'), fixed
    ? 'Let the sheets go, wait until the bow lies into the wind, then tap.'
    : 'Only with a compass, and the phone fixed in the boat: else it does not know where the bow is.');
}
