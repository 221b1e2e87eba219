import { practising, underWay } from '../show/practice.js';
import { ago, count, knots, sailing, sentence, turnsSentence } from '../show/words.js';

/**
 * What the instructor's page knows: one entry a boat, in the order the boats
 * were first heard of, so that nothing moves under the thumb. Times are by this
 * device's clock, ms.
 *
 * @typedef {import('../link/messages.js').State} Status
 * @typedef {object} Learner
 * @property {string} boat
 * @property {Status} status
 * @property {number} at when the status came
 * @property {{words: string, at: number}|null} told
 * @property {number|null} helpSince when she began to need help
 * @property {boolean} wasOver she was over when last heard
 *
 * @typedef {object} Page
 * @property {'pair'|'follow'} phase
 * @property {string} pairing
 * @property {boolean} up
 * @property {number} upAt
 * @property {Learner[]} learners
 * @property {{key: string, words: string}[]} phrases
 * @property {{key: string, words: string}[]} plans
 * @property {{key: string, words: string}[]} exercises
 * @property {string} chosen the boat whose line is open, or ''
 * @property {string} to whom acts are for; '' is all
 * @property {{text: string, at: number}|null} sent
 * @property {boolean} looks a viewer: may look, not act
 */

/** @returns {Page} */
export function blank() {
  return { phase: 'pair', pairing: '', up: false, upAt: 0, learners: [], phrases: [], plans: [], exercises: [], chosen: '', to: '', sent: null, looks: false };
}

/**
 * @param {Page} p
 * @param {import('../link/messages.js').FromService} m
 * @param {number} at
 * @param {(t: number) => number} here a time by the service's clock, by this device's
 * @returns {Page}
 */
export function heard(p, m, at, here) {
  switch (m.type) {
    case 'joined':
      return { ...p, phrases: m.phrases, plans: m.plans ?? [], exercises: m.exercises ?? [], looks: m.role === 'viewer' };
    case 'state':
      return { ...p, learners: placed(p.learners, m, at, here) };
    case 'cue':
      return { ...p, learners: p.learners.map((l) => (l.boat === m.boat ? { ...l, told: { words: m.words, at } } : l)) };
    case 'error':
      if (m.code === 'bad_token') return { ...p, phase: 'pair', pairing: 'This device is no longer known here. Pair it again.' };
      return { ...p, sent: { text: sentence(m.text), at } };
    case 'note':
      return { ...p, sent: { text: `${m.boat}: ${m.text}`, at } };
    default:
      return p;
  }
}

/**
 * @param {Learner[]} learners
 * @param {Status} m
 * @param {number} at
 * @param {(t: number) => number} here
 */
function placed(learners, m, at, here) {
  const old = learners.find((l) => l.boat === m.boat);
  const told = m.told ? { words: m.told.words, at: here(m.told.t) } : old?.told ?? null;
  const wasOver = m.mode === 'capsized' || (old?.wasOver === true && m.health.link !== 'ok');
  /** @type {Learner} */
  const next = { boat: m.boat, status: m, at, told, helpSince: null, wasOver };
  next.helpSince = help(next, at) ? old?.helpSince ?? at : null;
  return old ? learners.map((l) => (l === old ? next : l)) : [...learners, next];
}

/** Past this without a word about a boat her line is not to be trusted, ms. */
const STALE = 10000;

/**
 * The word that says why a boat needs help, or ''.
 * @param {Learner} l @param {number} now
 */
export function help(l, now) {
  const { mode, health } = l.status;
  if (l.wasOver && health.link !== 'ok') return 'capsized, then silent';
  if (mode === 'capsized') return 'capsized';
  if (mode === 'irons') return 'in irons';
  if (now - l.at > STALE || health.link === 'lost') return 'link lost';
  if (health.deaf) return 'phone is deaf';
  if (health.sound === 'failed') return 'hears nothing';
  return '';
}

/**
 * One boat's lines. @param {Learner} l @param {number} now
 * @returns {{name: string, help: string, going: string, practice: string, told: string, health: string}}
 */
export function line(l, now) {
  const word = help(l, now);
  const since = word && l.helpSince !== null && now - l.helpSince >= 3000 ? ` for ${Math.round((now - l.helpSince) / 1000)} s` : '';
  return { name: l.boat, help: word ? `${word}${since}` : '', going: going(l.status), practice: practice(l.status), told: told(l, now), health: health(l, now) };
}

/** @param {Status} s */
function going(s) {
  const way = sailing(s.mode, s.twa);
  if (s.sog === null) return `${way}. Speed not known.`;
  if (s.target_kn !== null && s.share !== null && s.share >= 0.95) return `${way}, ${knots(s.sog)}, all she has.`;
  const pace = s.target_kn === null || s.share === null ? '' : ` of ${knots(s.target_kn).replace(/ knots?$/, '')}`;
  const short = pace ? knots(s.sog).replace(/ knots?$/, '') + pace + (Math.round(s.target_kn ?? 0) === 1 ? ' knot' : ' knots') : knots(s.sog);
  const doubt = s.twd_known ? '' : ' Her wind is not known.';
  return `${way}, ${short}.${doubt}`;
}

/** Both times are the service's. @param {Status} s */
function practice(s) {
  return underWay(s.exercise, s.t) ? practising(s.exercise) : '';
}

/** @param {Learner} l @param {number} now */
function told(l, now) {
  const words = l.told ? `Told “${l.told.words}” ${ago(now - l.told.at)}.` : 'Nothing said yet.';
  return [words, turnsSentence(l.status.turns)].filter(Boolean).join(' ');
}

/** @param {Learner} l @param {number} now */
function health(l, now) {
  const { health: h } = l.status;
  const out = [];
  if (now - l.at > STALE) out.push(`not heard of for ${Math.round((now - l.at) / 1000)} s`);
  else if (h.link === 'quiet') out.push('link quiet');
  if (h.acc !== undefined && h.acc > 15) out.push(`position only to ${Math.round(h.acc)} m`);
  if (h.acc === undefined && h.link === 'ok') out.push('no position');
  if (!h.compass) out.push('no compass');
  if (h.batt !== undefined && h.batt <= 0.3) out.push(`battery ${Math.round(h.batt * 100)} %`);
  return [out.length ? `${sentence(out.join(', '))}.` : '', current(l.status)].filter(Boolean).join(' ');
}

/** The water under her, where it is sure that it runs. @param {Status} s */
function current(s) {
  if (s.set === undefined || s.drift === undefined) return '';
  const towards = String(Math.round(s.set / 5) * 5 % 360).padStart(3, '0');
  return `The water sets towards ${towards}° true, ${knots(s.drift)}.`;
}

/** @param {Page} p */
export function title(p) {
  const n = p.learners.length;
  if (n === 0) return 'No boat yet';
  return `${sentence(count(n))} ${n === 1 ? 'boat' : 'boats'} out`;
}

/** Whom an act is for: the names. @param {Page} p @returns {string[]} */
export function targets(p) {
  return p.to ? [p.to] : p.learners.map((l) => l.boat);
}

/** @param {Page} p @returns {string} "Wren", "all three boats" */
export function targetWords(p) {
  if (p.to) return p.to;
  const n = p.learners.length;
  return n === 1 ? p.learners[0].boat : `all ${count(n)} boats`;
}
