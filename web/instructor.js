/**
 * The instructor's page: wires the link and the acts to the page's state
 * (following/state.js) and draws it (following/page.js).
 */
import { aimed, blow, turn, windAct, windFrom } from './following/act.js';
import { phraseButtons, update, updateLimit, updateWind } from './following/page.js';
import { blank, heard, targetWords, targets } from './following/state.js';
import { Link, address } from './link/link.js';
import { codeIn, pair, store, stored } from './link/pair.js';
import { ServerTime } from './link/servertime.js';
import { pointedAt } from './sailing/acts.js';
import { Sensors, askMotion } from './sense/sensors.js';
import { el, say } from './show/dom.js';
import { slideToAct } from './show/slide.js';
import { sentence } from './show/words.js';

const now = () => Date.now();
let page = blank();
let pass = stored(localStorage, 'instructor');
let wind = windFrom(undefined);
/** Wind limits as this page set them, knots, by boat; '' is the service's own. @type {Map<string, number>} */
const limits = new Map([['', 15]]);
let limit = 15;
const time = new ServerTime();
/** @type {Sensors|null} */
let sensors = null;

/** @param {Partial<import('./following/state.js').Page>} change */
function set(change) {
  page = { ...page, ...change };
  update(page, now());
}

const link = new Link({
  url: address(location),
  now,
  join: () => ({ type: 'join', v: 1, role: pass?.role ?? 'instructor', token: pass?.token ?? '', t: now() }),
  changed: (up) => set({ up, upAt: now() }),
  heard: (m, asked) => {
    if (m.type === 'joined') time.sync(m.serverTime, asked, now());
    set(heard(page, m, now(), (t) => time.here(t)));
    if (m.type === 'joined') {
      phraseButtons(el('phrases'), m.phrases);
      limits.set('', m.settings.limit_kn);
    }
    if (m.type === 'error' && m.code === 'bad_token') {
      link.close();
      pass = null;
      store(localStorage, 'instructor', null);
    }
  },
});

/** Sends one act for each boat it is for, and says what became of it. @param {string} what @param {(boat: string) => import('./link/messages.js').ToService|null} make @param {string[]} [to] */
function act(what, make, to = targets(page)) {
  const messages = to.map(make).filter((m) => m !== null);
  const left = messages.filter((m) => link.send(m)).length;
  const whom = to.length === 1 ? to[0] : targetWords(page);
  set({ sent: { text: left === messages.length ? `${what} · ${whom}` : 'Not sent: no link. Try again when it is back.', at: now() } });
}

/** @param {string} phrase @param {string[]} [to] */
function sayPhrase(phrase, to) {
  const words = page.phrases.find((ph) => ph.key === phrase)?.words ?? phrase;
  act(`Sent “${words}”`, (boat) => ({ type: 'act', t: now(), act: 'say', phrase, boat }), to);
}

function mark() {
  act(`Marked ${new Date().toLocaleTimeString('en-GB')}`, (boat) => ({ type: 'act', t: now(), act: 'mark', boat }));
}

/**
 * One act on the boat whose line is open.
 * @param {string} what @param {object} fields of the act, act among them
 * @param {string} [sheet] to be closed, so that the line that says what became of it is seen
 */
function actOn(what, fields, sheet) {
  if (!page.chosen) return;
  act(what, (boat) => ({ type: 'act', t: now(), boat, ...fields }), [page.chosen]);
  if (sheet) close(sheet);
}

/** @param {string} sheet of the boat whose line is open */
function openFor(sheet) {
  limit = limits.get(page.chosen) ?? limits.get('') ?? 15;
  updateLimit(limit);
  update(page, now());
  open(sheet);
}

function sendLimit() {
  limits.set(page.chosen, limit);
  actOn(`Wind limit ${limit} knots`, { act: 'limit', kn: limit }, 'set-sheet');
}

function sendWind() {
  act('Wind set', (boat) => windAct(wind, boat, now()));
  close('wind-sheet');
}

/** Motion is asked for in the first tap; the heading is there at the next. */
function aim() {
  if (!sensors) {
    const listening = new Sensors({ now, knocks: () => {}, changed: () => {} });
    sensors = listening;
    askMotion().then((ok) => {
      listening.listen();
      say(el('aim-hint'), ok ? 'Point it into the wind and tap once more.' : 'Motion is refused: allow it in the browser’s settings, or use the steps.');
    });
    return;
  }
  const hdg = pointedAt(sensors.senses, now());
  if (hdg === undefined) {
    say(el('aim-hint'), 'This device tells no compass heading. Use the steps.');
    return;
  }
  wind = aimed(wind, hdg);
  updateWind(wind);
}

/** @param {string} sheet */
function open(sheet) {
  /** @type {HTMLDialogElement} */ (el(sheet)).showModal();
}

/** @param {string} sheet */
function close(sheet) {
  /** @type {HTMLDialogElement} */ (el(sheet)).close();
}

/** @param {boolean} dark */
function darken(dark) {
  document.documentElement.classList.toggle('dark', dark);
  localStorage.setItem('helmcue.dark', dark ? 'yes' : '');
  el('dark').setAttribute('aria-pressed', String(dark));
}

/** @param {string} id @param {(e: Event & {target: HTMLElement}) => void} act */
function onTap(id, act) {
  el(id).addEventListener('click', (e) => act(/** @type {Event & {target: HTMLElement}} */ (e)));
}

/** The sheets of one boat. */
function wireSheets() {
  slideToAct(el('tack'), () => actOn('Asked for a tack', { act: 'tack' }, 'turn-sheet'));
  slideToAct(el('gybe'), () => actOn('Asked for a gybe', { act: 'gybe' }, 'turn-sheet'));
  onTap('skip', () => actOn('On to the next', { act: 'exercise', text: 'skip' }, 'practice-sheet'));
  onTap('cease', () => actOn('Practice stopped', { act: 'exercise', text: 'stop' }, 'practice-sheet'));
  onTap('plans', ({ target }) => {
    const name = target.dataset.plan;
    if (name) actOn(`Plan “${target.textContent}”`, { act: 'plan', phrase: name }, 'practice-sheet');
  });
  onTap('exercises', ({ target }) => {
    const name = target.dataset.exercise;
    if (name) actOn(`Started “${target.textContent}”`, { act: 'exercise', phrase: name, text: 'start' }, 'practice-sheet');
  });
  onTap('levels', ({ target }) => {
    if (target.dataset.level) actOn(`Words for a ${target.dataset.level}`, { act: 'level', level: target.dataset.level }, 'set-sheet');
  });
  onTap('set-sheet', ({ target }) => {
    if (!target.dataset.limit) return;
    limit = Math.min(60, Math.max(1, limit + Number(target.dataset.limit)));
    updateLimit(limit);
  });
  onTap('send-limit', sendLimit);
}

function wire() {
  wireSheets();
  onTap('say', () => open('say-sheet'));
  onTap('set-wind', () => {
    wind = windFrom((page.learners.find((l) => l.boat === page.to) ?? page.learners[0])?.status);
    updateWind(wind);
    open('wind-sheet');
  });
  onTap('mark', mark);
  onTap('aim', aim);
  onTap('send-wind', sendWind);
  onTap('dark', () => darken(!document.documentElement.classList.contains('dark')));
  onTap('phrases', ({ target }) => {
    if (!target.dataset.phrase) return;
    sayPhrase(target.dataset.phrase);
    close('say-sheet');
  });
  onTap('to', ({ target }) => {
    if (target.dataset.to !== undefined) set({ to: target.dataset.to });
  });
  onTap('boats', ({ target }) => {
    const boat = /** @type {HTMLElement|null} */ (target.closest('.boat'))?.dataset.boat ?? '';
    if (target.dataset.phrase) sayPhrase(target.dataset.phrase, [boat]);
    else if (target.dataset.sheet) openFor(target.dataset.sheet);
    else if (target.dataset.act) actOn(target.dataset.act === 'quiet' ? 'Quiet for two minutes' : 'It speaks again', { act: target.dataset.act });
    else if (target.closest('.open')) {
      set({ chosen: page.chosen === boat ? '' : boat });
      target.closest('.boat')?.scrollIntoView({ block: 'nearest' }); // its buttons must not stay under the bar
    }
  });
  onTap('wind-sheet', ({ target }) => {
    if (target.dataset.turn) wind = turn(wind, Number(target.dataset.turn));
    else if (target.dataset.blow) wind = blow(wind, Number(target.dataset.blow));
    else return;
    updateWind(wind);
  });
  for (const sheet of ['say-sheet', 'wind-sheet', 'turn-sheet', 'practice-sheet', 'set-sheet']) el(sheet).querySelector('.close')?.addEventListener('click', () => close(sheet));
  el('pair-form').addEventListener('submit', (e) => {
    e.preventDefault();
    pairWith(String(new FormData(/** @type {HTMLFormElement} */ (e.target)).get('code')));
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible' && page.phase === 'follow') link.retry();
  });
}

/** @param {string} code */
async function pairWith(code) {
  try {
    const got = await pair({ code, boat: '' });
    if (got.role === 'sailor') {
      store(localStorage, 'sailor', got);
      location.assign('/sailor');
      return;
    }
    pass = got;
    store(localStorage, 'instructor', got);
    set({ phase: 'follow', pairing: '', upAt: now() });
    link.open();
  } catch (e) {
    set({ pairing: e instanceof Error ? sentence(e.message) : String(e) });
  }
}

function begin() {
  wire();
  darken(localStorage.getItem('helmcue.dark') === 'yes');
  const code = codeIn(location.hash);
  if (code) history.replaceState(null, '', location.pathname); // a used code is no business of the address bar
  set({ phase: pass && !code ? 'follow' : 'pair', upAt: now() });
  setInterval(() => update(page, now()), 1000);
  if (code) {
    /** @type {HTMLInputElement} */ (el('code')).value = code;
    pairWith(code);
  } else if (pass) link.open();
}

begin();
