import { ago, sentence, span, whyQuiet, wind } from '../show/words.js';
import { SURE } from './state.js';

/** @typedef {import('./state.js').Page} Page */

/** @typedef {'sound'|'take'|'worn'|'fixed'} Act what a button under a sentence does */

/** Past this without a state the page says so, ms; states come twice a second. */
const SILENT = 5000;

/**
 * The word card: the last cue and its reason, paler as it ages.
 * @param {Page} p @param {number} now
 * @returns {{words: string, why: string, age: 'new'|'fading'|'old'|'none', warn: string, ago: string}}
 */
export function card(p, now) {
  if (!p.card) return { words: 'Nothing to say yet', why: 'Sail on. It speaks when there is something to change.', age: 'none', warn: '', ago: '' };
  const ms = now - p.card.at;
  const age = ms < 15000 ? 'new' : ms < 60000 ? 'fading' : 'old';
  const warn = ms >= 60000 ? '' : p.card.urgency === 'danger' ? 'Danger' : p.card.urgency === 'warning' ? 'Warning' : '';
  return { words: sentence(p.card.words), why: sentence(p.card.why), age, warn, ago: `said ${ago(ms)}` };
}

/**
 * What is missing and what to do, the weightiest first.
 * @param {Page} p @param {number} now
 * @returns {{text: string, acts: Act[]}[]}
 */
export function missing(p, now) {
  /** @type {{text: string, acts: Act[]}[]} */
  const out = [];
  const say = (/** @type {string} */ text, /** @type {Act[]} */ ...acts) => out.push({ text, acts });
  if (p.replaced) say('Another page speaks for this boat now.', 'take');
  else if (!p.up) say(`${p.upAt === null ? 'No link.' : `Link lost ${ago(now - p.upAt)}.`} ${linkless(p)}; your track is kept${p.waiting > 600 ? ` (${span(p.waiting * 100)} so far)` : ''}.`);
  else if (now - p.statusAt > SILENT) say('The service is linked but says nothing. It may be starting.');
  if (p.deaf && now - p.deaf.at < 30000 && p.deaf.ms >= 1000) say(`Deaf for ${span(p.deaf.ms)} while the page was away.`);
  if (!p.muted && !p.sound) say('Sound is off.', 'sound');
  if (!p.muted && p.clipsMissing) say(`${p.clipsMissing} clips did not load: what they say is only shown here.`);
  const quiet = p.status ? whyQuiet(p.status.mode) : '';
  if (quiet) say(quiet);
  if (p.sensed.trouble === 'denied') say('Position is refused: allow location in the browser’s settings.');
  else if (!p.sensed.fix || (p.sensed.fixAge ?? 0) > 10000) say('No position. Keep the phone under open sky.');
  carried(p, say);
  if (p.status && !p.status.twd_known) say(windSays(p.status));
  if (p.agree <= -SURE) say('The compass does not agree with the course. Move iron and magnets away from the phone.');
  if (p.sensed.batt !== null && p.sensed.batt <= 0.2) say(`Battery ${Math.round(p.sensed.batt * 100)} %${p.sensed.left ? `: about ${span(p.sensed.left * 60000)} left` : ''}.`);
  if (p.sensed.strain) say(p.sensed.strain);
  if (p.journal) say(p.journal === 'full' ? 'No room on this phone: what is not sent yet is lost if this page ends. Free some room.' : 'This phone cannot keep what is not sent yet: do not close this page.');
  if (p.awake === 'no') say('The screen may lock. Keep it awake by hand.');
  if (p.told && now - p.told.at < 12000) say(sentence(p.told.text));
  return out;
}

/** The phone swings otherwise than was said. @param {Page} p @param {(text: string, ...acts: Act[]) => void} say */
function carried(p, say) {
  if (p.carriageSaid || p.looks === 'unknown' || p.looks === (p.mounting ?? 'fixed')) return;
  if (p.looks === 'worn') say('The phone swings as if worn: its heel and heading are not used. Is it worn?', 'worn', 'fixed');
  else say('The phone lies still, as if fixed in the boat: then heel and heading would help. Is it fixed?', 'fixed', 'worn');
}

/** Who speaks without a link. @param {Page} p */
function linkless(p) {
  return p.alone === 'speaks' || p.alone === 'ready' ? 'This phone speaks by itself' : 'No words until it is back';
}

/** @param {import('./state.js').Status} s */
function windSays(s) {
  if (s.twd === null) return 'Wind not known, so it says little. Tap Wind: point the phone into it, or let the sails flap head to wind.';
  return 'Not sure which side the wind is on, so it says little. Tap Wind: point the phone into it, or lie head to wind.';
}

/** The small line at the top. @param {Page} p @param {number} now */
export function header(p, now) {
  const fix = p.sensed.fix;
  const position = fix && (p.sensed.fixAge ?? 0) <= 10000 ? `position to ${Math.max(1, Math.round(fix.acc))} m` : 'no position';
  const listening = p.alone === 'speaks' ? 'alone' : !p.up ? 'no link' : now - p.statusAt > SILENT ? 'no news' : 'listening';
  return { who: [p.boat, p.level].filter(Boolean).join(' · '), how: `${position} · ${listening}` };
}

/** What is believed about the wind, for the wind sheet. @param {Page} p */
export function windLine(p) {
  if (!p.status?.twd_known) return 'Wind not known.';
  return `${sentence(wind(p.status.twd, p.status.twd_sd, p.status.tws))}.`;
}
