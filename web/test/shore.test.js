import assert from 'node:assert/strict';
import { test } from 'node:test';
import { atSheet, blank, closed, further, geojson, onSheet, opened, put, says, undone } from '../shore/chart.js';

const drawn = (corners, height = 8) => closed(corners.reduce((c, at) => put(c, at, ''), blank([8.2, 47.1])), height, '');
const box = [[8.2, 47.1], [8.2, 47.101], [8.201, 47.101], [8.201, 47.1]]; // clockwise

test('a place on the sheet and back is the same to 10 cm, also over the date line', () => {
  for (const middle of [[8.2, 47.1], [179.999, -60], [-179.999, 0]]) {
    const c = blank(middle);
    const [x, y] = onSheet(c, atSheet(c, 0.3, -0.4));
    assert.ok(Math.hypot(x - 0.3, y + 0.4) * c.wide < 0.12, `${x} ${y}`);
  }
});

test('north is up and east is right; a degree of latitude is 111.2 km', () => {
  const c = blank([8.2, 47.1]);
  const [x, y] = onSheet(c, [8.2, 47.104]);
  assert.equal(x, 0);
  assert.ok(Math.abs(y + 0.4448) < 0.0005); // 0.004 of 111.195 km in 1 km
  assert.ok(onSheet(c, [8.21, 47.1])[0] > 0);
});

test('a ring is closed and anticlockwise (RFC 7946, 3.1.6), whichever way it was tapped', () => {
  for (const corners of [box, [...box].reverse()]) {
    const [ring] = geojson(drawn(corners)).features[0].geometry.coordinates;
    assert.deepEqual(ring[0], ring.at(-1));
    const twice = ring.slice(1).reduce((sum, [x, y], i) => sum + ring[i][0] * y - x * ring[i][1], 0);
    assert.ok(twice > 0);
  }
});

test('two corners are no area; undo opens what was closed; a height not known is left out', () => {
  assert.equal(drawn(box.slice(0, 2)), null);
  const c = undone(drawn(box));
  assert.equal(c.open.length, 4);
  assert.equal(undone(c).open.length, 3);
  assert.deepEqual(geojson(drawn(box, null)).features[0].properties, { kind: 'land' });
  assert.match(says(drawn(box, null).done[0]), /height not known/);
});

test('a mark is one place and opens no outline', () => {
  const c = put({ ...blank([8.2, 47.1]), kind: 'ramp' }, [8.2, 47.1], 'Slip');
  assert.deepEqual(geojson(c).features[0], { type: 'Feature', properties: { kind: 'ramp', name: 'Slip' }, geometry: { type: 'Point', coordinates: [8.2, 47.1] } });
  assert.equal(undone(c).done.length, 0);
});

test('a chart from a file lies under the pen and is written as it was, places sailed and all', () => {
  const c = drawn(box);
  const chart = geojson({ ...c, sailed: [[8.2003, 47.1004], [8.2005, 47.1006]] });
  const again = opened(chart);
  assert.notEqual(typeof again, 'string');
  assert.deepEqual(geojson(again), chart);
  for (const at of [...box, [8.2003, 47.1004]]) {
    const [x, y] = onSheet(again, at);
    assert.ok(Math.abs(x) < 0.5 && Math.abs(y) < 0.5, 'all of it is on the sheet');
  }
});

test('of a draft only the places sailed are taken: its shores are none', () => {
  const draft = { ...geojson({ ...drawn(box), sailed: [[8.2003, 47.1004]] }), draft: true };
  const got = opened(draft);
  assert.deepEqual([got.done, got.sailed], [[], [[8.2003, 47.1004]]]);
});

test('what cannot be drawn is refused whole, so that nothing of a chart is lost', () => {
  const hole = { type: 'FeatureCollection', features: [{ type: 'Feature', properties: { kind: 'land' }, geometry: { type: 'Polygon', coordinates: [[], []] } }] };
  const bridge = { type: 'FeatureCollection', features: [{ type: 'Feature', properties: { kind: 'bridge' }, geometry: { type: 'LineString', coordinates: [[8, 47], [8, 48]] } }] };
  for (const file of [null, 7, {}, { type: 'Feature' }, { type: 'FeatureCollection', features: [] }, hole, bridge]) assert.equal(typeof opened(file), 'string');
});

test('a track grows by places that differ, and keeps the last ones', () => {
  const track = further([], [8.2, 47.1]);
  assert.equal(further(track, [8.20001, 47.1]), track); // 0.8 m
  assert.equal(further(track, [8.2001, 47.1]).length, 2); // 7.6 m
  let long = track;
  for (let i = 0; i < 3100; i++) long = further(long, [8.2, 47.2 + i / 1000]);
  assert.equal(long.length, 3000);
});
