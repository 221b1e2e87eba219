import { joined, sounding } from './trim.js';
import { arrived, ended, silent } from './turn.js';

/** @typedef {import('../link/messages.js').Cue} Cue */
/** @typedef {{text: string, seconds?: number}} ClipInfo */

/** Long enough for the audio thread to take the order, short against a word. */
const LEAD = 0.02;
const FADE = 0.005; // a cut without a click
const DEAD = 4; // times in a row that a clock is found standing

/**
 * Speaks cues on this phone by Web Audio. Must be started from a tap.
 */
export class Player {
  /**
   * @param {object} config
   * @param {(id: number, what: 'started'|'finished'|'dropped'|'failed', note?: string) => void} config.spoken
   * @param {() => number} config.serverNow by the service's clock, ms
   * @param {() => void} config.changed
   */
  constructor(config) {
    this.config = config;
    /** @type {AudioContext|null} */
    this.context = null;
    /** @type {Map<string, AudioBuffer>} */
    this.buffers = new Map();
    /** @type {Record<string, ClipInfo>} */
    this.clips = {};
    this.voice = '';
    this.muted = false;
    this.turns = silent();
    /** @type {{gain: GainNode, sources: AudioBufferSourceNode[], over: boolean}|null} */
    this.sounding = null;
    /** @type {{context: AudioContext, at: number, stood: number}|null} */
    this.felt = null; // where its clock last stood
    this.missing = 0; // clips that did not load
  }

  get running() {
    return this.context?.state === 'running';
  }

  /** Starts or revives the sound; call it straight from a tap, before anything is awaited. */
  start() {
    const session = /** @type {{audioSession?: {type: string}}} */ (/** @type {unknown} */ (navigator)).audioSession;
    if (session) session.type = 'playback'; // else the silent switch of some phones mutes the page
    if (!this.context || this.context.state === 'closed') {
      this.context = new AudioContext({ latencyHint: 'interactive' });
      this.context.addEventListener('statechange', () => this.#stateChanged());
      this.#bed(this.context);
    }
    const context = this.context;
    return context.resume().catch(() => {});
  }

  /** After a call or a lock a context may say it runs and be dead: a new one is sure. */
  revive() {
    const old = this.context;
    this.context = null;
    old?.close().catch(() => {});
    return this.start();
  }

  /** Learns what a voice has, and goes on to load every clip, those of danger first. @param {string} voice */
  async load(voice) {
    if (!this.context || voice === this.voice) return;
    this.voice = voice;
    this.buffers.clear();
    this.missing = 0;
    try {
      const answer = await fetch(`/voices/${encodeURIComponent(voice)}/manifest.json`);
      if (!answer.ok) throw new Error(`${answer.status}`);
      this.clips = (await answer.json()).clips ?? {};
    } catch {
      this.voice = ''; // the next joined tries again
      this.config.changed();
      return;
    }
    this.config.changed();
    this.#loadAll(voice);
  }

  /** @param {string} voice */
  async #loadAll(voice) {
    const keys = Object.keys(this.clips).sort((a, b) => rank(a) - rank(b));
    for (const key of keys) {
      if (this.voice !== voice) return;
      await this.#buffer(key).catch(() => this.missing++);
    }
    this.config.changed();
  }

  /**
   * @param {Cue} cue
   * @param {boolean} [own] of the page's own engine: nothing else speaks then, so it is said even where only the boat's loudspeaker was wanted
   */
  hear(cue, own = false) {
    if (this.muted && !own) return;
    if (!this.running) {
      this.config.spoken(cue.id, 'failed', 'sound is not running');
      return;
    }
    this.#act(arrived(this.turns, cue, this.config.serverNow()));
  }

  /** Says a clip of the page's own choice, or sounds a tone; nobody is told. @param {string|undefined} key */
  async check(key) {
    const buffer = key ? await this.#buffer(key).catch(() => null) : null;
    if (this.sounding || !this.context) return;
    if (buffer) this.#play([buffer], 0, () => {});
    else this.#tone(this.context);
  }

  /**
   * Sounds an even beat. @param {number} n @param {number} period ms
   * @returns {number[]} when each beat leaves, by the clock of events
   */
  beat(n, period) {
    const context = this.context;
    if (!context || !this.running) return [];
    const from = context.currentTime + 0.3;
    const gain = new GainNode(context, { gain: 0 });
    gain.connect(context.destination);
    const tone = new OscillatorNode(context, { frequency: 880 });
    tone.connect(gain);
    const times = Array.from({ length: n }, (_, i) => from + (i * period) / 1000);
    for (const t of times) {
      gain.gain.setValueAtTime(0.4, t);
      gain.gain.setTargetAtTime(0, t + 0.03, 0.015);
    }
    tone.start(from);
    tone.stop(times[n - 1] + 0.5);
    const zero = performance.now() - context.currentTime * 1000;
    return times.map((t) => zero + t * 1000);
  }

  /**
   * A context can say that it runs and be dead (after a call, on some phones): its
   * clock stands still. Called now and then; a dead one is given up, and the page
   * asks for the tap that builds a new one.
   */
  feel() {
    const context = this.context;
    if (!context || context.state !== 'running') return;
    const stood = context === this.felt?.context && context.currentTime === this.felt.at ? this.felt.stood + 1 : 0;
    this.felt = { context, at: context.currentTime, stood };
    if (stood < DEAD) return;
    this.felt = null;
    this.context = null;
    context.close().catch(() => {});
    this.#stateChanged();
  }

  /** What the page has to say by itself, where the voice has the words. @param {string} text */
  async own(text) {
    const key = this.find(text);
    if (!key || this.muted || !this.running || this.sounding) return;
    const buffer = await this.#buffer(key).catch(() => null);
    if (buffer && !this.sounding) this.#play([buffer], 0, () => {});
  }

  /** The clip with these words, if the voice has it. @param {string} text */
  find(text) {
    return Object.keys(this.clips).find((k) => this.clips[k].text === text);
  }

  /** @param {import('./turn.js').Step} step */
  #act(step) {
    this.turns = step.turns;
    if (step.cut) {
      this.#cut();
      this.config.spoken(step.cut.id, 'dropped', 'danger came first');
    }
    for (const c of step.drop) this.config.spoken(c.id, 'dropped', 'could not be said in time');
    if (step.start) this.#begin(step.start);
  }

  /** @param {Cue} cue */
  async #begin(cue) {
    let buffers;
    try {
      buffers = await Promise.all(cue.clips.map((c) => this.#buffer(c)));
      if (buffers.length === 0) throw new Error('the cue has no clips');
    } catch (e) {
      this.config.spoken(cue.id, 'failed', e instanceof Error ? e.message : '');
      this.#over(cue);
      return;
    }
    if (this.turns.speaking !== cue) return; // cut while its clips were fetched
    if (this.config.serverNow() > cue.expires) {
      this.config.spoken(cue.id, 'dropped', 'its clips came too late');
      this.#over(cue);
      return;
    }
    this.#play(buffers, cue.gapMs, () => {
      this.config.spoken(cue.id, 'finished');
      this.#over(cue);
    });
    this.config.spoken(cue.id, 'started');
  }

  /** @param {Cue} cue */
  #over(cue) {
    if (this.turns.speaking === cue) this.#act(ended(this.turns, this.config.serverNow()));
  }

  /** A call or a lock stops the sound, and then no end of a clip is ever told. */
  #stateChanged() {
    const cue = this.turns.speaking;
    if (!this.running && cue) {
      this.#cut();
      this.turns = silent();
      this.config.spoken(cue.id, 'failed', 'sound was interrupted');
    }
    this.config.changed();
  }

  /** @param {AudioBuffer[]} buffers @param {number} gapMs @param {() => void} done */
  #play(buffers, gapMs, done) {
    const context = /** @type {AudioContext} */ (this.context);
    const gain = new GainNode(context);
    gain.connect(context.destination);
    const { starts } = joined(buffers.map((b) => b.duration), gapMs, context.currentTime + LEAD);
    const sources = buffers.map((buffer, i) => {
      const source = new AudioBufferSourceNode(context, { buffer });
      source.connect(gain);
      source.start(starts[i]);
      return source;
    });
    const playing = { gain, sources, over: false };
    this.sounding = playing;
    sources[sources.length - 1].onended = () => {
      if (playing.over) return;
      this.sounding = null;
      done();
    };
  }

  #cut() {
    const playing = this.sounding;
    if (!playing || !this.context) return;
    playing.over = true;
    this.sounding = null;
    const now = this.context.currentTime;
    playing.gain.gain.setValueAtTime(1, now);
    playing.gain.gain.linearRampToValueAtTime(0, now + FADE);
    for (const s of playing.sources) s.stop(now + FADE);
  }

  /** @param {string} key @returns {Promise<AudioBuffer>} */
  async #buffer(key) {
    const have = this.buffers.get(key);
    if (have) return have;
    const context = this.context;
    if (!context) throw new Error('sound is not started');
    const answer = await fetch(`/voices/${encodeURIComponent(this.voice)}/${encodeURIComponent(key)}.mp3`);
    if (!answer.ok) throw new Error(`no clip ${key}`);
    const buffer = cut(context, await context.decodeAudioData(await answer.arrayBuffer()));
    this.buffers.set(key, buffer);
    return buffer;
  }

  /**
   * An inaudible bed: a wireless loudspeaker that falls asleep swallows the
   * first syllable (from memory).
   * @param {AudioContext} context
   */
  #bed(context) {
    const gain = new GainNode(context, { gain: 0.0002 });
    const bed = new OscillatorNode(context, { frequency: 40 });
    bed.connect(gain).connect(context.destination);
    bed.start();
  }

  /** Where no clip can be had the sound check is a tone. @param {AudioContext} context */
  #tone(context) {
    const gain = new GainNode(context, { gain: 0.3 });
    const tone = new OscillatorNode(context, { frequency: 660 });
    tone.connect(gain).connect(context.destination);
    const now = context.currentTime + LEAD;
    gain.gain.setValueAtTime(0, now);
    gain.gain.linearRampToValueAtTime(0.3, now + FADE);
    gain.gain.setValueAtTime(0.3, now + 0.6);
    gain.gain.linearRampToValueAtTime(0, now + 0.6 + FADE);
    tone.start(now);
    tone.stop(now + 0.7);
  }
}

/** @param {string} key */
function rank(key) {
  return /let-the-sheet|look-out|mind-the/.test(key) ? 0 : 1;
}

/** @param {AudioContext} context @param {AudioBuffer} buffer */
function cut(context, buffer) {
  const { from, to } = sounding(buffer.getChannelData(0));
  if (to <= from) throw new Error('a clip is silent');
  const out = context.createBuffer(1, to - from, buffer.sampleRate);
  out.copyToChannel(buffer.getChannelData(0).subarray(from, to), 0);
  return out;
}
