/**
 * Who speaks: the service's engine while it acknowledges what the phone sends, the
 * page's own when it has not for three seconds, the service's again once it has
 * all. No clock and no link: times come in, ms by this device's clock.
 *
 * Nothing is said twice: both engines hear the same and often mean the same, so
 * what one has said the other does not say again for a while. A coach whose words
 * were not said is told so, or told that they were where the other said them.
 *
 * @typedef {import('../link/messages.js').Cue} Cue
 * @typedef {'service'|'page'} Who
 * @typedef {{key: string, at: number, by: Who}} Said
 * @typedef {{cue: Cue, at: number}} Unsaid
 *
 * @typedef {object} Turn
 * @property {Who} who
 * @property {number} since when it last changed
 * @property {number} ackAt when the service last acknowledged; 0: never
 * @property {Said[]} said of late
 * @property {Unsaid[]} unsaid own cues of which it is open whether the service says the same
 */

/** Acknowledgements stop for so long, and the page speaks, ms. */
export const SILENT = 3000;
/** So many samples at most may be unacknowledged when the service speaks again. */
export const CAUGHT_UP = 20;
/** The same key from the other engine within this time is the same words again, ms. */
export const AGAIN = 20000;
/** A danger is said again sooner: better twice than not at all. */
export const AGAIN_DANGER = 4000;
/** Two engines that mean the same mean it within this time, ms. */
export const SAME = 5000;

/** @param {number} now @returns {Turn} */
export function begun(now) {
  return { who: 'service', since: now, ackAt: now, said: [], unsaid: [] };
}

/** @param {Turn} t @param {number} now @returns {Turn} */
export function acked(t, now) {
  return { ...t, ackAt: now };
}

/**
 * Ten times a second, with every sample.
 * @param {Turn} t
 * @param {{now: number, up: boolean, waiting: number, can: boolean}} at can: the page's own engine is ready, and may speak
 * @returns {Turn}
 */
export function passed(t, { now, up, waiting, can }) {
  const heard = now - t.ackAt;
  if (t.who === 'service' && can && heard > SILENT) return { ...t, who: 'page', since: now };
  const back = up && heard <= SILENT / 3 && waiting <= CAUGHT_UP;
  if (t.who === 'page' && (back || !can)) return { ...t, who: 'service', since: now };
  return t;
}

/**
 * A cue of one of the engines.
 * @param {Turn} t
 * @param {Who} by
 * @param {Cue} cue
 * @param {number} now
 * @returns {{turn: Turn, say: boolean, why: string}} why it is not to be said, for the record
 */
export function offered(t, by, cue, now) {
  if (by !== t.who) {
    const turn = by === 'page' ? { ...t, unsaid: [...t.unsaid, { cue, at: now }] } : t;
    return { turn, say: false, why: by === 'page' ? 'the service speaks' : 'the phone spoke by itself' };
  }
  const within = cue.urgency === 'danger' ? AGAIN_DANGER : AGAIN;
  if (t.said.some((s) => s.by !== by && s.key === cue.key && now - s.at < within)) {
    return { turn: t, say: false, why: 'it was said a moment before, across the change of voice' };
  }
  const said = [...t.said.filter((s) => now - s.at < AGAIN), { key: cue.key, at: now, by }];
  return { turn: { ...t, said }, say: true, why: '' };
}

/**
 * What became of own cues that were not said: the service said the same, or five
 * seconds went by.
 * @param {Turn} t
 * @param {number} now
 * @returns {{turn: Turn, heard: Cue[], dropped: Cue[]}}
 */
export function settled(t, now) {
  if (t.unsaid.length === 0) return { turn: t, heard: [], dropped: [] };
  const same = (/** @type {Unsaid} */ u) => t.said.some((s) => s.by === 'service' && s.key === u.cue.key && Math.abs(s.at - u.at) <= SAME);
  const heard = t.unsaid.filter(same);
  const dropped = t.unsaid.filter((u) => !same(u) && now - u.at > SAME);
  const unsaid = t.unsaid.filter((u) => !heard.includes(u) && !dropped.includes(u));
  return { turn: { ...t, unsaid }, heard: heard.map((u) => u.cue), dropped: dropped.map((u) => u.cue) };
}
