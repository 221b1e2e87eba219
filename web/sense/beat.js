/**
 * How long a sound takes to the ear, from a hand that knocks along with an even
 * beat. Who answers a single sound is late by his own reaction; who goes along with
 * a beat is on it, a little early: people tap some 30 ms ahead of what they hear
 * (synchronised tapping, from memory). So the knock's lateness is the sound's.
 */
export const BEATS = 7;
export const PERIOD = 900; // ms, slow enough to tell a late knock from an early one
const EARLY = 30; // ms people are ahead of the beat
const FIRST = 2; // beats to find into it
const LEAST = 4; // knocks that must agree
const AGREE = 70; // ms they may lie from their middle
const MOST = 600; // ms, more than any loudspeaker takes

/**
 * @param {number[]} beats when each left, ms
 * @param {number[]} knocks when each was felt, same clock
 * @returns {number|null} seconds from the page to the ear; null where the knocks say nothing sure
 */
export function delayOf(beats, knocks) {
  const late = [];
  for (const beat of beats.slice(FIRST)) {
    const near = knocks.map((k) => k - beat).filter((d) => d > -150 && d < MOST);
    if (near.length === 1) late.push(near[0]); // two in one beat: no telling which was meant
  }
  late.sort((a, b) => a - b);
  const middle = late[Math.floor(late.length / 2)];
  const agree = late.filter((d) => Math.abs(d - middle) <= AGREE);
  if (agree.length < LEAST) return null;
  const mean = agree.reduce((a, b) => a + b, 0) / agree.length;
  return Math.max(0, Math.round(mean + EARLY) / 1000);
}
