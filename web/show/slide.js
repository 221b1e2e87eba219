/**
 * An act that water cannot do: hold, then slide. A wet screen holds buttons by
 * itself, so holding alone is not enough, and neither is a swipe.
 */
export const HOLD = 450; // ms
export const FAR = 0.45; // of the control's width

/** @typedef {{at: number, x: number, fill: number, done: boolean}|null} Grip */

/** @param {number} t @param {number} x @returns {Grip} */
export function gripped(t, x) {
  return { at: t, x, fill: 0, done: false };
}

/**
 * @param {Grip} grip
 * @param {number} t ms
 * @param {number} x where the finger is, in the control's widths
 * @returns {Grip} fill 0..1: the first third shows the hold, the rest the slide
 */
export function held(grip, t, x) {
  if (!grip || grip.done) return grip;
  const hold = Math.min(1, (t - grip.at) / HOLD);
  const moved = x - grip.x;
  if (hold < 1) {
    if (Math.abs(moved) > 0.08) return null; // slid before it was held: a wipe, a wave
    return { ...grip, fill: hold / 3 };
  }
  const slid = Math.min(1, Math.max(0, moved / FAR));
  return { ...grip, fill: (1 + 2 * slid) / 3, done: slid >= 1 };
}

/**
 * Makes a button such an act. A click that no finger made (keyboard, switch,
 * screen reader) acts at once: water has no keyboard.
 * @param {HTMLElement} button
 * @param {() => void} act
 */
export function slideToAct(button, act) {
  /** @type {Grip} */
  let grip = null;
  /** @type {ReturnType<typeof setInterval>|undefined} */
  let timer;
  let x = 0;
  const where = (/** @type {PointerEvent} */ e) => (e.clientX - button.getBoundingClientRect().left) / button.clientWidth;
  const show = () => {
    button.style.setProperty('--fill', `${Math.round((grip?.fill ?? 0) * 100)}%`);
    button.classList.toggle('held', (grip?.fill ?? 0) >= 1 / 3);
  };
  const step = () => {
    grip = held(grip, performance.now(), x);
    if (grip?.done) {
      act();
      grip = null;
    }
    if (!grip) clearInterval(timer);
    show();
  };
  const release = () => {
    grip = null;
    clearInterval(timer);
    show();
  };
  button.addEventListener('pointerdown', (e) => {
    button.setPointerCapture(e.pointerId);
    x = where(e);
    grip = gripped(performance.now(), x);
    clearInterval(timer);
    timer = setInterval(step, 40);
  });
  button.addEventListener('pointermove', (e) => {
    x = where(e);
    if (grip) step();
  });
  for (const end of ['pointerup', 'pointercancel', 'lostpointercapture']) button.addEventListener(end, release);
  button.addEventListener('contextmenu', (e) => e.preventDefault());
  button.addEventListener('click', (e) => {
    if (e.detail === 0) act();
  });
}
