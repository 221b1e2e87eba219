import { SURE } from './state.js';
import { windLine } from './view.js';

/**
 * The checklist before sailing: sentences that tick themselves, in the order in
 * which hands do it: with the phone in the hand, then at its place, then the boat
 * into the wind. open: still to be had; done; never: this phone cannot, and here is
 * what that means.
 * @typedef {{id: string, state: 'open'|'done'|'never', text: string}} Item
 */

/** Better than this a position is good enough to sail by, metres. */
const GOOD = 10;

/** @param {import('./state.js').Page} p @returns {Item[]} */
export function checklist(p) {
  return [link(p), position(p), sound(p), mounting(p), level(p), compass(p), wind(p), alone(p), awake(p), battery(p)].filter((i) => i !== null);
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
  if (trouble === 'denied') return { id: 'position', state: 'open', text: 'Position is refused: allow location for this page in the browser’s settings, then load it again.' };
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

/** A sensor that says nothing for so long after it was asked is none, ms. */
const NONE = 3000;

/** Whether the phone has had time to tell what it has. @param {import('./state.js').Page} p */
function told(p) {
  return p.ready && p.sensed.at - (p.readyAt ?? 0) > NONE;
}

/** @param {import('./state.js').Page} p @returns {Item|null} */
function level(p) {
  if (p.mounting === 'worn') return null;
  if (told(p) && !p.sensed.tilt) return { id: 'level', state: 'never', text: p.motionDenied ? 'Motion is refused, so there is no heel: close the page, open it again and allow motion.' : 'This phone tells no heel. The voice does without.' };
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
  if (told(p) && !has) return { id: 'compass', state: 'never', text: 'This phone tells no compass heading: nothing to do, the voice goes by the course once she moves.' };
  if (p.mounting === 'worn') return { id: 'compass', state: 'never', text: 'Worn, the compass turns with you and is not used.' };
  if (p.agree <= -SURE) return { id: 'compass', state: 'open', text: 'The compass does not agree with the course. Is the phone near iron or a magnet, or turned round?' };
  return item(p.agree >= SURE, 'compass', 'The compass agrees with the course.', 'The compass is checked against the course once she moves.');
}

/** @param {import('./state.js').Page} p @returns {Item} */
function wind(p) {
  if (p.status?.twd_known) return { id: 'wind', state: 'done', text: windLine(p) };
  if (told(p) && p.sensed.hdg === undefined) return { id: 'wind', state: 'never', text: 'Without a compass the wind cannot be told from here: it is learnt from her first tacks.' };
  if (p.windTold) return { id: 'wind', state: 'open', text: 'The wind is told, and counts once the coach has it.' };
  return { id: 'wind', state: 'open', text: p.mounting === 'worn' ? 'Point the phone to where the wind comes from, then tap.' : 'Let the sails flap with the bow into the wind for three seconds, then tap.' };
}

/** @param {import('./state.js').Page} p @returns {Item} */
function sound(p) {
  if (p.muted) return { id: 'sound', state: 'done', text: 'Only the boat’s loudspeaker speaks.' };
  if (p.heard) return { id: 'sound', state: 'done', text: `Sound was heard${late(p)}.` };
  if (p.ready && !p.sound) return { id: 'sound', state: 'open', text: 'Sound is not running. Tap “Play it again”.' };
  if (p.plays > 1) return { id: 'sound', state: 'open', text: 'Heard it now? Knock twice or tap yes; if not, turn the volume up and the silent switch off, and play it again.' };
  const what = p.checkWords ? `“${p.checkWords}”` : 'the sound';
  return { id: 'sound', state: 'open', text: `Did you hear ${what}? Knock twice on the case, or tap yes.` };
}

/** @param {import('./state.js').Page} p @returns {Item} */
function awake(p) {
  if (p.awake === 'none') return { id: 'awake', state: 'never', text: 'This browser cannot keep the screen on. Set the phone never to lock.' };
  return item(p.awake === 'yes', 'awake', 'The screen stays on.', 'The screen may lock, and then the phone is deaf: set it never to lock.');
}

/** @param {import('./state.js').Page} p @returns {Item|null} */
function battery(p) {
  const { batt } = p.sensed;
  if (batt === null) return null;
  const share = `Battery ${Math.round(batt * 100)} %`;
  return item(batt >= 0.5, 'battery', `${share}.`, `${share}: two hours of sailing may need more. Bring a power bank.`);
}
