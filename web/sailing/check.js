import { SURE } from './state.js';

/**
 * The checklist before sailing: sentences that tick themselves. open: still to
 * be had; done; never: this phone cannot, and here is what that means.
 * @typedef {{id: string, state: 'open'|'done'|'never', text: string}} Item
 */

/** Better than this a position is good enough to sail by, metres. */
const GOOD = 10;

/** @param {import('./state.js').Page} p @returns {Item[]} */
export function checklist(p) {
  return [link(p), alone(p), position(p), mounting(p), level(p), compass(p), sound(p), awake(p), battery(p)].filter((i) => i !== null);
}

/** @param {import('./state.js').Page} p @returns {number} how many are still open */
export function stillOpen(p) {
  return checklist(p).filter((i) => i.state === 'open').length;
}

/** @param {boolean} done @param {string} id @param {string} yes @param {string} no @returns {Item} */
function item(done, id, yes, no) {
  return { id, state: done ? 'done' : 'open', text: done ? yes : no };
}

/** How late it is heard. @param {import('./state.js').Page} p */
function late(p) {
  switch (p.delay) {
    case null: return '';
    case 'listening': return '; knock along with the beats';
    case 'unsure': return '; the knocks did not go with the beats';
    default: return `, ${p.delay.toFixed(1)} s late: that is counted in`;
  }
}

/** @param {import('./state.js').Page} p */
function link(p) {
  return item(p.up, 'link', 'Linked to the service.', 'No link yet. Is this phone on the boat’s network?');
}

/** @param {import('./state.js').Page} p @returns {Item} */
function alone(p) {
  if (p.alone === 'none') return { id: 'alone', state: 'never', text: 'Without a link this phone falls silent: its own coach did not load.' };
  return item(p.alone !== 'loading', 'alone', 'Without a link this phone speaks by itself.', 'The phone’s own coach is loading.');
}

/** @param {import('./state.js').Page} p @returns {Item} */
function position(p) {
  const { fix, trouble } = p.sensed;
  if (trouble === 'denied') return { id: 'position', state: 'open', text: 'Position is refused. Allow location for this page in the browser’s settings, then load it again.' };
  if (trouble === 'none') return { id: 'position', state: 'never', text: 'This browser has no position. Use another browser.' };
  if (!fix) return { id: 'position', state: 'open', text: 'Waiting for a position. Go where you see the sky.' };
  const m = Math.max(1, Math.round(fix.acc));
  return item(fix.acc <= GOOD, 'position', `Position is good to ${m} m.`, `Position is good to ${m} m only. Wait under open sky.`);
}

/** @param {import('./state.js').Page} p @returns {Item} */
function mounting(p) {
  if (p.mounting === 'worn') return { id: 'mounting', state: 'done', text: 'The phone is worn. Heel and heading would be yours, not the boat’s, so it goes by the course and says less.' };
  return item(p.mounting === 'fixed', 'mounting', 'The phone is fixed in the boat.', 'Is the phone fixed in the boat, or worn?');
}

/** @param {import('./state.js').Page} p @returns {Item|null} */
function level(p) {
  if (p.mounting === 'worn') return null;
  if (p.ready && !p.sensed.tilt && p.sensed.at) return { id: 'level', state: 'never', text: p.motionDenied ? 'Motion is refused, so there is no heel. Close the page, open it again and allow motion.' : 'This phone tells no heel. The voice does without.' };
  switch (p.levelled) {
    case 'yes': return { id: 'level', state: 'done', text: 'Levelled: this is upright.' };
    case 'holding': return { id: 'level', state: 'open', text: 'Hold still …' };
    case 'moved': return { id: 'level', state: 'open', text: 'It moved. Keep the boat upright and try again.' };
    default: return { id: 'level', state: 'open', text: 'Level the phone: boat upright, then hold still.' };
  }
}

/** @param {import('./state.js').Page} p @returns {Item} */
function compass(p) {
  const has = p.sensed.hdg !== undefined;
  if (p.ready && !has && p.sensed.at) return { id: 'compass', state: 'never', text: 'This phone tells no compass heading. The voice goes by the course once she moves.' };
  if (p.mounting === 'worn') return { id: 'compass', state: 'never', text: 'Worn, the compass turns with you and is not used.' };
  if (p.agree <= -SURE) return { id: 'compass', state: 'open', text: 'The compass does not agree with the course. Is the phone near iron or a magnet, or turned round?' };
  return item(p.agree >= SURE, 'compass', 'The compass agrees with the course.', 'The compass is checked against the course once she moves.');
}

/** @param {import('./state.js').Page} p @returns {Item} */
function sound(p) {
  if (p.muted) return { id: 'sound', state: 'done', text: 'Only the boat’s loudspeaker speaks.' };
  if (p.heard) return { id: 'sound', state: 'done', text: `Sound was heard${late(p)}.` };
  if (p.ready && !p.sound) return { id: 'sound', state: 'open', text: 'Sound is not running. Tap “Play it again”.' };
  const what = p.checkWords ? `“${p.checkWords}”` : 'the sound';
  return { id: 'sound', state: 'open', text: `Did you hear ${what}? Knock twice on the case, or tap yes.` };
}

/** @param {import('./state.js').Page} p @returns {Item} */
function awake(p) {
  if (p.awake === 'none') return { id: 'awake', state: 'never', text: 'This browser cannot keep the screen on. Set the phone never to lock.' };
  return item(p.awake === 'yes', 'awake', 'The screen stays on.', 'The screen may lock, and then the phone is deaf.');
}

/** @param {import('./state.js').Page} p @returns {Item|null} */
function battery(p) {
  const { batt } = p.sensed;
  if (batt === null) return null;
  const share = `Battery ${Math.round(batt * 100)} %`;
  return item(batt >= 0.5, 'battery', `${share}.`, `${share}: two hours of sailing may need more. Bring a power bank.`);
}
