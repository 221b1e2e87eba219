import { BEATS, PERIOD, delayOf } from '../sense/beat.js';

/**
 * Sounds a beat and listens to the hand that knocks along.
 * @param {import('../sound/player.js').Player} player
 * @param {import('../sense/sensors.js').Sensors} sensors
 * @returns {Promise<number|null>} seconds from the page to the ear
 */
export function measured(player, sensors) {
  /** @type {number[]} */
  const knocks = [];
  const beats = player.beat(BEATS, PERIOD);
  sensors.struck = (t) => knocks.push(t);
  return new Promise((done) => {
    setTimeout(() => {
      sensors.struck = () => {};
      done(delayOf(beats, knocks));
    }, (BEATS + 1) * PERIOD);
  });
}
