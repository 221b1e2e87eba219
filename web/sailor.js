/**
 * The sailor's page: wires the phone's senses, the link and the sound to the
 * page's state (sailing/state.js) and draws it (sailing/page.js).
 */
import { codeIn, pair, store, stored } from './link/pair.js';
import { levelling, windFix } from './sailing/acts.js';
import { Coach, remembered } from './sailing/coach.js';
import { measured } from './sailing/delay.js';
import { Gear, PACE } from './sailing/gear.js';
import { update } from './sailing/page.js';
import { keepPages } from './sailing/offline.js';
import { answersCheck, away, blank, carriage, heard, linked, sensed } from './sailing/state.js';
import { SailingLock } from './sailing/lock.js';
import { Steady } from './link/steady.js';
import { swung, unseen } from './sense/carried.js';
import { spinNow, upNow } from './sense/sample.js';
import { fallAnHour, rested, strained, ticked } from './sense/strain.js';
import { minutesLeft } from './sense/battery.js';
import { Awake, Sensors, askMotion } from './sense/sensors.js';
import { el, say } from './show/dom.js';
import { slideToAct } from './show/slide.js';
import { sentence } from './show/words.js';
import { Player } from './sound/player.js';

/** @typedef {import('./sailing/state.js').Page} Page */

const clock = new Steady({ wall: () => Date.now(), passed: () => performance.now() });
const now = () => clock.now();
let page = blank();
let pass = stored(localStorage, 'sailor');
/** @type {import('./sense/attitude.js').Mount|null} */
let mount = null;
/** @type {ReturnType<typeof setInterval>|undefined} */
let ticking;
let voice = '';
const carried = unseen();
const strain = rested();

/** @param {Partial<Page>} change */
function set(change) {
  become({ ...page, ...change });
}

/** @param {Page} next */
function become(next) {
  page = next;
  update(page, now());
}

const awake = new Awake();
awake.changed = () => set({ awake: awake.held });
const sensors = new Sensors({ now, knocks, changed: sense });
const gear = new Gear({
  sensors, now, join,
  notBefore: (t) => clock.notBefore(t),
  heard: fromService,
  made: (m) => coach.made(m),
  linked: (up) => become(linked(page, up, now())),
  kept: (trouble) => set({ journal: trouble }),
});
const coach = new Coach({
  now,
  time: gear.time,
  tell: (m) => gear.tell(m),
  say: (cue, own) => player.hear(cue, own),
  show: (m) => become(heard(page, m, now())),
  changed: () => set({ alone: coach.speaks ? 'speaks' : coach.engine.ready ? 'ready' : coach.engine.trouble ? 'none' : 'loading' }),
});
const lock = new SailingLock(replacedHere);
const player = new Player({
  serverNow: () => gear.time.there(now()),
  spoken: (id, what, note) => coach.spoken(id, what, note),
  changed: () => set({ sound: player.running, checkWords: checkWords(), clipsMissing: player.missing }),
});

function join() {
  return {
    type: 'join', v: 1, role: 'sailor', token: pass?.token ?? '', boat: pass?.boat ?? '', mount: page.mounting ?? 'fixed', t: now(),
    caps: { sound: player.running && !page.muted, wake: awake.held, motion: !page.motionDenied, compass: page.sensed.hdg !== undefined, engine: coach.engine.trouble === '' }, // also while it loads: this link may last all day
  };
}

/** @param {import('./link/messages.js').FromService} m */
function fromService(m) {
  if (coach.heard(m)) become(heard(page, m, now()));
  if (m.type === 'joined') {
    voice = m.voice;
    loadVoice();
  }
  if (m.type === 'error' && (m.code === 'bad_token' || m.code === 'replaced')) {
    rest(); // trying again by itself would only take the voice back and forth
    if (m.code === 'bad_token') forget();
  }
}

async function loadVoice() {
  if (!voice || !page.ready) return;
  const first = player.voice === '';
  await player.load(voice);
  set({ checkWords: checkWords(), sound: player.running });
  if (first && page.phase === 'check' && !page.heard && !page.muted) checkSound();
}

/** What the sound check says: words of the voice itself, in the order we would like them. */
function checkKey() {
  return player.find('that is good') ?? player.find('look around you') ?? Object.keys(player.clips)[0];
}

function checkWords() {
  const key = checkKey();
  return key ? player.clips[key].text : '';
}

function checkSound() {
  player.check(checkKey());
  set({ plays: page.plays + 1 });
}

function forget() {
  pass = null;
  store(localStorage, 'sailor', null);
}

/** Straight from the tap: motion is asked for and sound started before anything is awaited. */
function ready() {
  const motion = askMotion();
  const sound = player.start();
  sensors.start(motion);
  awake.take();
  set({ ready: true, readyAt: now() });
  sailOn();
  navigator.storage?.persist?.();
  motion.then((ok) => set({ motionDenied: !ok }));
  sound.then(() => {
    set({ sound: player.running });
    loadVoice();
  });
}

/** What another page left is read within this time, ms; a store that does not answer stops nobody from sailing. */
const HANDED = 1500;

/** Ten times a second from here: this page senses, sends and may speak by itself. */
async function sailOn() {
  const news = await lock.take();
  if (news) await Promise.race([gear.takeUp(), new Promise((f) => setTimeout(f, HANDED))]); // its numbers go on from there
  if (page.replaced || page.phase === 'stopped') return; // meanwhile
  clearInterval(ticking);
  ticking = setInterval(tick, PACE);
  coach.allow();
}

/** Nothing is sensed any more, and this page is silent; what is kept still leaves. Resolves once it is written down. */
function rest() {
  clearInterval(ticking);
  coach.allowed = false;
  gear.link.close();
  return gear.write();
}

/** Another page on this phone sails now: two would hear and speak the same. */
function replacedHere() {
  const written = rest();
  set({ replaced: true });
  return written;
}

function takeOver() {
  set({ replaced: false });
  gear.link.restart();
  if (page.ready) sailOn();
}

function tick() {
  const t = now();
  gear.tick({ mount, mounting: carriage(page) });
  ticked(strain, t);
  if (page.phase === 'sail') swing(t);
  coach.pass({ up: page.up, waiting: gear.queue.waiting });
}

/** Does the phone swing as it was said to be carried? @param {number} t */
function swing(t) {
  const s = sensors.senses;
  swung(carried, { t, up: upNow(s, t), spin: spinNow(s, t), sog: t - sensors.fixHeard < STALE ? s.fix?.sog : undefined });
  if (carried.looks !== page.looks) set({ looks: carried.looks });
}

/** An older position tells no speed of now, ms. */
const STALE = 5000;

/** How long the link may be gone before the phone says so by itself, ms. */
const LOST = 5000;
let saidLost = false;

/** Without the service nobody else can say it; once for each loss. */
function sayLost() {
  if (page.up) saidLost = false;
  else if (!saidLost && !coach.speaks && page.phase === 'sail' && !page.replaced && now() - (page.upAt ?? 0) > LOST) {
    saidLost = true;
    player.own('lost phone link');
  }
}

/** Twice a second: what the senses say goes into the page. */
function sense() {
  const s = sensors.senses;
  const t = now();
  become(sensed({ ...page, waiting: gear.queue.waiting }, {
    at: t, fix: s.fix, fixAge: s.fix ? t - sensors.fixHeard : undefined, trouble: sensors.positionTrouble,
    hdg: gear.motion(mount).hdg, tilt: upNow(s, t) !== null, batt: s.batt,
    left: minutesLeft(sensors.battery, t), strain: strained(strain.pace, fallAnHour(sensors.battery, t)),
  }));
}

/** @param {number} n */
function knocks(n) {
  if (answersCheck(page, n)) set({ heard: true });
  else if (page.phase === 'sail') {
    gear.tell({ type: 'answer', t: now(), knocks: n });
    set({ told: { text: n === 2 ? 'two knocks heard: say it again' : 'three knocks heard: quiet for two minutes', at: now() } });
  }
}

async function levelNow() {
  set({ levelled: 'holding' });
  const found = await levelling(sensors.senses, now);
  mount = found ?? mount;
  set({ levelled: found ? 'yes' : 'moved' });
}

async function beat() {
  set({ delay: 'listening' });
  const s = await measured(player, sensors);
  if (s !== null) gear.tell({ type: 'sound_delay', t: now(), s });
  set({ delay: s ?? 'unsure' });
}

/** @param {'pointed'|'head_to_wind'} method */
function tellWind(method) {
  const fix = windFix(sensors.senses, method, { now: now(), fixHeard: sensors.fixHeard });
  if (!fix) {
    say(el('wind-sent'), 'The phone told no heading just now. Hold it flat or upright and tap again.');
    return;
  }
  gear.tell(fix);
  set({ windTold: true });
  say(el('wind-sent'), page.up ? 'Told.' : 'Kept, and told as soon as the link is back.');
}

/** @param {boolean} muted */
function mute(muted) {
  player.muted = muted;
  localStorage.setItem('helmcue.muted', muted ? 'yes' : '');
  set({ muted });
}

/** @param {'fixed'|'worn'} mounting */
function carry(mounting) {
  localStorage.setItem('helmcue.mounting', mounting);
  if (mounting !== page.mounting) mount = null;
  set({ mounting, levelled: mounting === page.mounting ? page.levelled : 'no' });
}

/** @param {boolean} dark */
function darken(dark) {
  document.documentElement.classList.toggle('dark', dark);
  localStorage.setItem('helmcue.dark', dark ? 'yes' : '');
  for (const id of ['check-dark', 'sail-dark']) el(id).setAttribute('aria-pressed', String(dark));
}

function reviveSound() {
  player.revive().then(() => set({ sound: player.running }));
  loadVoice();
}

function stop() {
  clearInterval(ticking);
  coach.allowed = false;
  awake.release();
  for (const d of document.querySelectorAll('dialog')) d.close();
  set({ phase: 'stopped', waiting: gear.queue.waiting });
  gear.write();
  ticking = setInterval(bringHome, PACE);
}

/** After the sail: what the service does not have yet goes to it, then the link ends. */
function bringHome() {
  gear.bringHome();
  if (gear.queue.waiting !== page.waiting) set({ waiting: gear.queue.waiting });
  if (gear.queue.waiting > 0) return;
  clearInterval(ticking);
  gear.write();
  gear.link.close();
}

function resume() {
  if (!gear.link.socket) gear.link.open();
  player.start();
  awake.take();
  set({ phase: 'sail' });
  sailOn();
}

/** @param {{code: string, boat: string}} ask */
async function pairWith(ask) {
  try {
    const got = await pair(ask);
    if (got.role !== 'sailor') {
      store(localStorage, 'instructor', got);
      location.assign('/instructor');
      return;
    }
    pass = got;
    store(localStorage, 'sailor', got);
    set({ phase: 'check', boat: got.boat, pairing: '' });
    gear.link.open();
  } catch (e) {
    set({ pairing: e instanceof Error ? sentence(e.message) : String(e) });
  }
}

/** @param {string} id @param {() => void} act */
function onTap(id, act) {
  el(id).addEventListener('click', act);
}

/** @param {string} opener @param {string} sheet */
function opens(opener, sheet) {
  onTap(opener, () => openSheet(sheet));
  el(sheet).querySelector('.close')?.addEventListener('click', () => /** @type {HTMLDialogElement} */ (el(sheet)).close());
}

/** @param {string} sheet */
function openSheet(sheet) {
  say(el('wind-sent'), '');
  /** @type {HTMLDialogElement} */ (el(sheet)).showModal();
}

function wire() {
  onTap('ready', ready);
  onTap('fixed', () => carry('fixed'));
  onTap('worn', () => carry('worn'));
  onTap('level', levelNow);
  onTap('flap', () => tellWind(page.mounting === 'worn' ? 'pointed' : 'head_to_wind'));
  onTap('beat', beat);
  onTap('again', () => {
    if (!player.running) reviveSound();
    else if (player.voice) checkSound();
    else loadVoice();
  });
  onTap('yes', () => set({ heard: true }));
  for (const id of ['here', 'here-2']) onTap(id, () => mute(false));
  for (const id of ['boat-only', 'boat-only-2']) onTap(id, () => mute(true));
  onTap('go', () => set({ phase: 'sail' }));
  onTap('resume', resume);
  onTap('pointed', () => tellWind('pointed'));
  onTap('head-to-wind', () => tellWind('head_to_wind'));
  for (const id of ['check-dark', 'sail-dark']) onTap(id, () => darken(!document.documentElement.classList.contains('dark')));
  opens('open-wind', 'wind-sheet');
  opens('open-more', 'more-sheet');
  slideToAct(el('done'), () => {
    gear.tell({ type: 'answer', t: now(), done: true });
    set({ told: { text: 'told: I did it', at: now() } });
  });
  slideToAct(el('stop'), stop);
  el('missing').addEventListener('click', (e) => {
    const act = /** @type {HTMLElement} */ (e.target).dataset.act;
    if (act === 'sound') reviveSound();
    if (act === 'take') takeOver();
    if (act === 'worn' || act === 'fixed') {
      carry(act);
      set({ carriageSaid: true });
    }
  });
  el('pair-form').addEventListener('submit', (e) => {
    e.preventDefault();
    const data = new FormData(/** @type {HTMLFormElement} */ (e.target));
    pairWith({ code: String(data.get('code')), boat: String(data.get('boat')).trim() });
  });
  document.addEventListener('visibilitychange', () => {
    const hidden = document.visibilityState === 'hidden';
    if (!hidden) clock.woke();
    if (page.ready && !page.replaced) gear.tell({ type: hidden ? 'hidden' : 'shown', t: now() });
    become(away(page, hidden, now()));
    if (hidden) gear.write();
    if (!hidden && !page.replaced && page.phase !== 'pair' && page.phase !== 'stopped') gear.link.retry();
  });
}

function begin() {
  wire();
  darken(localStorage.getItem('helmcue.dark') === 'yes');
  player.muted = localStorage.getItem('helmcue.muted') === 'yes';
  const mounting = localStorage.getItem('helmcue.mounting');
  const code = codeIn(location.hash);
  if (code) history.replaceState(null, '', location.pathname); // a used code is no business of the address bar
  set({ muted: player.muted, mounting: mounting === 'fixed' || mounting === 'worn' ? mounting : null, phase: pass && !code ? 'check' : 'pair', boat: pass?.boat ?? '' });
  setInterval(() => {
    sayLost();
    player.feel();
    if (!page.ready) gear.bringHome(500); // what an earlier page left
    if (page.ready) sense();
    else update(page, now());
  }, 500);
  voice = remembered()?.voice ?? '';
  gear.takeUp().then((before) => coach.start(before));
  keepPages(() => page.phase === 'pair' || page.phase === 'check' && !page.ready);
  if (code) {
    /** @type {HTMLInputElement} */ (el('code')).value = code;
    pairWith({ code, boat: '' });
  } else if (pass) gear.link.open();
}

begin();
