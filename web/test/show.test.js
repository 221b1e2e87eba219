import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { fan } from '../show/fan.js';
import { FAR, HOLD, gripped, held } from '../show/slide.js';
import { grown, strokes } from '../show/wake.js';
import { ago, direction, knots, sailing, span, speedSentence, tack, turnsSentence, wind } from '../show/words.js';

test('speeds as a person says them, to half a knot', () => {
  const cases = [[0.1, 'hardly moving'], [0.5, 'half a knot'], [1.1, 'one knot'], [1.6, 'one and a half knots'], [2.3, 'two and a half knots'], [3, 'three knots'], [14, '14 knots']];
  for (const [kn, want] of cases) assert.equal(knots(kn), want);
  assert.equal(speedSentence(2, 3, 0.67), 'Two knots. She could do three.');
  assert.equal(speedSentence(3, 3.05, 0.98), 'Three knots, all she has.');
  assert.equal(speedSentence(2.8, 3.1, 0.9), 'Three knots, nearly all she has.');
  assert.equal(speedSentence(2, null, null), 'Two knots.');
  assert.equal(speedSentence(null, 3, null), 'Speed not known.');
  assert.equal(speedSentence(0, 2, 0), 'Hardly moving. She could do two.');
});

test('the tack is the side the wind comes from', () => {
  // International Regulations / Racing Rules definition of tack: the windward side (common practice, no source read here).
  assert.equal(tack(40), ' on starboard');
  assert.equal(tack(-40), ' on port');
  assert.equal(tack(null), '');
  assert.equal(sailing('close_hauled', -45), 'Close-hauled on port');
});

test('every mode of the service has words', () => {
  const schema = JSON.parse(readFileSync(new URL('../../internal/phonemsg/schema.json', import.meta.url), 'utf8'));
  const modes = schema.$defs.state.properties.mode.enum;
  assert.ok(modes.length >= 12);
  for (const m of modes) if (m !== 'unknown') assert.notEqual(sailing(m, 40), sailing('unknown', 40), m);
});

test('times and directions at the precision they deserve', () => {
  assert.equal(ago(1000), 'just now');
  assert.equal(ago(8000), '8 seconds ago');
  assert.equal(span(1000), '1 second');
  assert.equal(span(240000), '4 minutes');
  assert.equal(direction(358), '000°');
  assert.equal(direction(12), '010°');
  assert.equal(wind(240, 6.2, 9.4), 'wind from 240°, sure to 6° · 9 knots');
  assert.equal(wind(null, null, null), 'wind not known');
  assert.equal(turnsSentence({ tacks: 7, gybes: 0, bestLengths: 2.14 }), 'Seven tacks, best 2.1 lengths.');
  assert.equal(turnsSentence({ tacks: 1, gybes: 0, bestLengths: -0.1 }), 'One tack, best 0.0 lengths.'); // none lost
  assert.equal(turnsSentence({ tacks: 0, gybes: 0 }), '');
});

const state = { twd: 240, twd_sd: 5, twd_lo: 232, twd_hi: 248, twd_known: true, twd_other: null, twa: 33, target_twa: 45, target_kn: 3, heading: 207, sog: 2, share: 0.7 };

test('the fan: a tick for the boat, a bracket for the target, a blur as wide as the doubt', () => {
  const f = fan(state);
  assert.deepEqual(f.ticks, [{ deg: 33, hollow: false }]);
  assert.deepEqual(f.band, { from: 42, to: 48 });
  assert.deepEqual(f.blur, { from: 25, to: 41 });
  assert.equal(f.says, '33° on starboard, best 42 to 48°');
});

test('the fan is the same seen in a mirror', () => {
  const f = fan({ ...state, twa: -33, heading: 273 });
  assert.deepEqual(f.ticks, [{ deg: -33, hollow: false }]);
  assert.deepEqual(f.band, { from: -48, to: -42 });
  assert.equal(f.says, '33° on port, best 42 to 48°');
});

test('with the side unknown both ticks are hollow and there is no target', () => {
  const f = fan({ ...state, twd_known: false, twd: 240, twd_other: 174, twa: null });
  assert.deepEqual(f.ticks, [{ deg: 33, hollow: true }, { deg: -33, hollow: true }]);
  assert.equal(f.band, null);
  assert.match(f.says, /Not sure/);
  assert.deepEqual(fan({ ...state, twd_known: false, twd_other: null, twa: null }).ticks.map((t) => t.deg), [33, -33]);
});

test('off the wind there is no band, and the angle stands alone', () => {
  const f = fan({ ...state, twa: -95, target_twa: null });
  assert.equal(f.band, null);
  assert.equal(f.says, '95° off the wind on port');
});

test('nothing known draws nothing', () => {
  assert.deepEqual(fan(null).ticks, []);
  assert.deepEqual(fan({ ...state, twd: null, twa: null, twd_known: false }).ticks, []);
  assert.match(fan({ ...state, twa: null, heading: null }).says, /Heading not known/);
});

test('the wake keeps ten minutes and shows gaps as gaps', () => {
  let points = [];
  for (let t = 0; t <= 700000; t += 500) points = grown(points, { t, share: 0.5 });
  assert.ok(points[0].t >= 100000 - 1000 && points.length <= 602, `${points.length} from ${points[0].t}`);
  assert.equal(strokes([{ t: 0, share: 1 }, { t: 1000, share: 1 }, { t: 30000, share: 9 }], 30000).length, 2);
  assert.deepEqual(strokes([{ t: 600000, share: 9 }], 600000), [[{ x: 1, share: 1.25 }]]);
});

test('hold, then slide: neither alone is enough', () => {
  const g = gripped(0, 0.2);
  assert.equal(held(g, 100, 0.5), null, 'a swipe');
  const one = held(g, HOLD, 0.2);
  assert.ok(one && !one.done && one.fill >= 1 / 3, 'a hold');
  const long = held(one, 60000, 0.2);
  assert.ok(long && !long.done, 'water holding it for a minute');
  const two = held(one, HOLD + 200, 0.2 + FAR);
  assert.ok(two?.done);
  assert.ok(held(one, HOLD + 200, 0).fill >= 1 / 3, 'sliding back is no slide');
});

// WCAG 2.2, success criteria 1.4.3 and 1.4.6, and its definitions of relative
// luminance and contrast ratio (formula from memory; black on white is 21 and
// #777 on white 4.48, also from memory).
function luminance(hex) {
  const [r, g, b] = [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16) / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a, b) {
  const [hi, lo] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (hi + 0.05) / (lo + 0.05);
}

test('contrast: AAA for what is read at a glance, AA for the rest, both themes', () => {
  assert.ok(Math.abs(contrast('#000000', '#ffffff') - 21) < 1e-9);
  assert.ok(Math.abs(contrast('#777777', '#ffffff') - 4.48) < 0.005);
  const css = readFileSync(new URL('../look.css', import.meta.url), 'utf8');
  const blocks = [...css.matchAll(/:root(?:\.dark)? \{([^}]*)\}/g)].map((m) => Object.fromEntries([...m[1].matchAll(/--(\w+): (#[0-9a-f]{6})/g)].map((x) => [x[1], x[2]])));
  assert.equal(blocks.length, 2);
  for (const c of blocks) {
    assert.ok(contrast(c.ink, c.paper) >= 7);
    assert.ok(contrast(c.ink, c.hair) >= 7, 'words over the fill of a held button');
    for (const under of [c.paper, c.sheet]) {
      for (const over of [c.soft, c.mark]) assert.ok(contrast(over, under) >= 4.5, `${over} on ${under}: ${contrast(over, under)}`);
    }
    assert.ok(contrast(c.edge, c.paper) >= 3, '1.4.11: edges of controls');
  }
});
