/** @typedef {import('../link/messages.js').Cue} Cue */

/**
 * Whose turn it is to be spoken. One cue at a time; danger cuts in at once;
 * what cannot begin before it expires is dropped, never spoken late.
 * @typedef {{speaking: Cue|null, waiting: Cue[]}} Turns
 * @typedef {{turns: Turns, start: Cue|null, cut: Cue|null, drop: Cue[]}} Step what to begin, break off and give up
 */

/** @returns {Turns} */
export function silent() {
  return { speaking: null, waiting: [] };
}

/**
 * @param {Turns} turns
 * @param {Cue} cue
 * @param {number} now by the service's clock, ms
 * @returns {Step}
 */
export function arrived(turns, cue, now) {
  if (now > cue.expires) return { turns, start: null, cut: null, drop: [cue] };
  if (!turns.speaking) return { turns: { speaking: cue, waiting: turns.waiting }, start: cue, cut: null, drop: [] };
  if (cue.urgency === 'danger' && turns.speaking.urgency !== 'danger') {
    return { turns: { speaking: cue, waiting: [] }, start: cue, cut: turns.speaking, drop: turns.waiting };
  }
  return { turns: { speaking: turns.speaking, waiting: [...turns.waiting, cue] }, start: null, cut: null, drop: [] };
}

/**
 * The cue that was speaking is over.
 * @param {Turns} turns
 * @param {number} now by the service's clock, ms
 * @returns {Step}
 */
export function ended(turns, now) {
  const alive = turns.waiting.filter((c) => now <= c.expires);
  const drop = turns.waiting.filter((c) => now > c.expires);
  const [start = null, ...rest] = alive;
  return { turns: { speaking: start, waiting: rest }, start, cut: null, drop };
}
