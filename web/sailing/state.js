import { turnFrom } from '../sense/attitude.js';
import { WAKE, grown } from '../show/wake.js';
import { nothing, told, turned, went } from './sum.js';

/**
 * Everything the sailor's page knows, and what each event does to it. No
 * document, no clock, no socket: times come in with the events, in ms by this
 * device's clock.
 *
 * @typedef {import('../link/messages.js').State} Status
 * @typedef {import('../link/messages.js').Cue} Cue
 * @typedef {import('../link/messages.js').Mounting} Mounting
 * @typedef {{words: string, why: string, urgency: string, at: number, id: number}} Card
 *
 * @typedef {object} Page
 * @property {'pair'|'check'|'sail'|'stopped'} phase
 * @property {boolean} ready the one tap was made
 * @property {number|null} readyAt when
 * @property {string} boat
 * @property {string} level
 * @property {string} pairing what went wrong with pairing
 * @property {boolean} up
 * @property {number|null} upAt when the link last changed
 * @property {number} waiting samples the service does not have yet
 * @property {Status|null} status
 * @property {number} statusAt
 * @property {import('../link/messages.js').Exercise|null} exercise
 * @property {number} heardAt when the exercise's word came, by this device's clock
 * @property {Card|null} card
 * @property {import('../show/wake.js').Point[]} points
 * @property {number[]} cues when cues came, for the wake
 * @property {Mounting|null} mounting null until asked
 * @property {'unknown'|'worn'|'fixed'} looks how it swings
 * @property {boolean} carriageSaid asked whether it is worn, a person has answered
 * @property {'no'|'holding'|'moved'|'yes'} levelled
 * @property {boolean} heard the sound check was answered
 * @property {string} checkWords what the sound check says
 * @property {number} plays how often it was played
 * @property {boolean} windTold before the sail
 * @property {boolean} sound the audio runs
 * @property {number} clipsMissing of the voice, once all were asked for
 * @property {boolean} muted only the boat's loudspeaker speaks
 * @property {'yes'|'no'|'none'} awake
 * @property {boolean} motionDenied
 * @property {Sensed} sensed
 * @property {number} agree seconds the compass agreed with the course; negative: disagreed
 * @property {number|null} hiddenAt
 * @property {{ms: number, at: number}|null} deaf the last time the page was away
 * @property {{text: string, at: number}|null} told a fault, a note, an answer
 * @property {boolean} replaced a newer page speaks for this boat
 * @property {number|null|'listening'|'unsure'} delay seconds from here to the ear, where it was measured
 * @property {'loading'|'ready'|'speaks'|'none'} alone whether the page's own coach could speak, or does
 * @property {string} journal what keeps this phone from keeping: full, broken or nothing
 * @property {import('./sum.js').Sum} sum of this sail
 *
 * @typedef {object} Sensed
 * @property {number} at
 * @property {import('../sense/position.js').Fix|null} fix
 * @property {number} [fixAge] ms
 * @property {''|'denied'|'none'|'waiting'} trouble with the position
 * @property {number} [hdg]
 * @property {boolean} tilt
 * @property {number|null} batt
 * @property {number|null} [left] minutes the battery may last
 * @property {string} [strain] what a phone that may be hot shows, and what to do
 */

/** @returns {Page} */
export function blank() {
  return {
    phase: 'pair', ready: false, readyAt: null, boat: '', level: '', pairing: '', up: false, upAt: null, waiting: 0, status: null, statusAt: 0, exercise: null, heardAt: 0,
    card: null, points: [], cues: [], mounting: null, looks: 'unknown', carriageSaid: false, levelled: 'no', heard: false, checkWords: '', plays: 0, windTold: false, sound: false, clipsMissing: 0, muted: false,
    awake: 'no', motionDenied: false, sensed: { at: 0, fix: null, trouble: 'waiting', tilt: false, batt: null }, agree: 0,
    hiddenAt: null, deaf: null, told: null, replaced: false, delay: null, alone: 'loading', journal: '', sum: nothing(),
  };
}

/**
 * What the samples are to say of the phone's carriage. One that swings as a worn one
 * does counts as worn until a person says that it is fixed: a body's lean taken for
 * the boat's would have the sheet let go for nothing.
 * @param {Page} p @returns {Mounting}
 */
export function carriage(p) {
  if (p.looks === 'worn' && !p.carriageSaid) return 'worn';
  return p.mounting ?? 'fixed';
}

/** What the service said. @param {Page} p @param {import('../link/messages.js').FromService} m @param {number} at @returns {Page} */
export function heard(p, m, at) {
  switch (m.type) {
    case 'joined':
      return { ...p, boat: m.boat, level: m.settings.level, replaced: false };
    case 'state': {
      const points = m.share === null ? p.points : grown(p.points, { t: at, share: m.share });
      return { ...p, ...(m.health ? practised(p, m.exercise, at) : {}), status: m, statusAt: at, points, sum: p.phase === 'sail' ? went(p.sum, m, at) : p.sum };
    }
    case 'cue':
      return { ...p, card: { words: m.words, why: m.why, urgency: m.urgency, at, id: m.id }, sum: told(p.sum), cues: [...p.cues.filter((t) => at - t <= WAKE), at] };
    case 'manoeuvre':
      return p.phase === 'sail' ? { ...p, sum: turned(p.sum, m) } : p;
    case 'exercise':
      return { ...p, ...practised(p, m, at) };
    case 'note':
      return { ...p, told: { text: m.text, at } };
    case 'error':
      if (m.code === 'replaced') return { ...p, replaced: true };
      if (m.code === 'bad_token') return { ...p, phase: 'pair', pairing: 'This phone is no longer known here. Pair it again.' };
      return { ...p, told: { text: m.text, at } };
    default:
      return p;
  }
}

/**
 * A state repeats what was said of an exercise: only the first time counts. The
 * states of the page's own engine tell of none, and have no health.
 * @param {Page} p @param {import('../link/messages.js').Exercise|undefined} x @param {number} at
 */
function practised(p, x, at) {
  const same = p.exercise && x && p.exercise.t === x.t && p.exercise.name === x.name && p.exercise.phase === x.phase;
  return same ? {} : { exercise: x ?? null, heardAt: at };
}

/** @param {Page} p @param {boolean} up @param {number} at @returns {Page} */
export function linked(p, up, at) {
  return p.up === up ? p : { ...p, up, upAt: at };
}

/** Slower than this a course over the ground means nothing, knots (common practice, no source). */
const WAY = 1.5;
/** Magnetic against true, leeway and a loose strap all fit in this, degrees. */
const AGREES = 30;
/** Seconds of agreement, or of the opposite, before anything is said. */
export const SURE = 5;

/** What the sensors said since the last call. @param {Page} p @param {Sensed} s @returns {Page} */
export function sensed(p, s) {
  const dt = p.sensed.at ? Math.min(1, (s.at - p.sensed.at) / 1000) : 0;
  const fresh = s.fix && (s.fixAge ?? 0) < 3000 ? s.fix : null;
  let agree = p.agree;
  if (fresh && s.hdg !== undefined && fresh.cog !== undefined && (fresh.sog ?? 0) >= WAY) {
    const step = Math.abs(turnFrom(s.hdg, fresh.cog)) <= AGREES ? dt : -dt;
    agree = Math.max(-2 * SURE, Math.min(2 * SURE, agree + step));
  }
  return { ...p, sensed: s, agree };
}

/** The page was left or came back. @param {Page} p @param {boolean} hidden @param {number} at @returns {Page} */
export function away(p, hidden, at) {
  if (hidden) return p.hiddenAt === null ? { ...p, hiddenAt: at } : p;
  if (p.hiddenAt === null) return p;
  return { ...p, hiddenAt: null, deaf: { ms: at - p.hiddenAt, at } };
}

/** Two knocks answer the sound check while it waits. @param {Page} p @param {number} n */
export function answersCheck(p, n) {
  return n === 2 && p.phase === 'check' && p.ready && !p.heard;
}
