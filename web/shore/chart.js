/**
 * A chart under the pen. No document, no clock. Places are [longitude, latitude] in
 * degrees; heights are metres above the water, null where not known.
 *
 * @typedef {[number, number]} Place
 * @typedef {'land'|'water'|'shallow'|'mark'|'ramp'} Kind
 * @typedef {{kind: Kind, at: Place[], height: number|null, name: string}} Feature an area's corners, or the one place of a mark
 * @typedef {{middle: Place, wide: number, kind: Kind, open: Place[], done: Feature[], sailed?: Place[]}} Chart wide is the sheet's width in metres, sailed are places where boats have sailed
 */

/** Metres in a degree of latitude, by the mean radius of the earth (6,371 km, IUGG). */
const DEGREE = (6371008.8 * Math.PI) / 180;

/** @param {Place} middle @returns {Chart} */
export function blank(middle) {
  return { middle, wide: 1000, kind: 'land', open: [], done: [] };
}

/** A place on the sheet, in shares of its width from the middle, east and south. @param {Chart} c @param {Place} at @returns {[number, number]} */
export function onSheet(c, at) {
  const east = ((at[0] - c.middle[0] + 540) % 360) - 180;
  return [(east * DEGREE * Math.cos((c.middle[1] * Math.PI) / 180)) / c.wide, ((c.middle[1] - at[1]) * DEGREE) / c.wide];
}

/** @param {Chart} c @param {number} x @param {number} y @returns {Place} to 10 cm, as RFC 7946 advises */
export function atSheet(c, x, y) {
  const lon = c.middle[0] + (x * c.wide) / (DEGREE * Math.cos((c.middle[1] * Math.PI) / 180));
  return [round(((lon + 540) % 360) - 180), round(c.middle[1] - (y * c.wide) / DEGREE)];
}

/** @param {number} v */
const round = (v) => Math.round(v * 1e6) / 1e6;

/** @param {Kind} kind */
export const isArea = (kind) => kind === 'land' || kind === 'water' || kind === 'shallow';

/** One tap: a corner, or a mark. @param {Chart} c @param {Place} at @param {string} name @returns {Chart} */
export function put(c, at, name) {
  if (isArea(c.kind)) return { ...c, open: [...c.open, at] };
  return { ...c, done: [...c.done, { kind: c.kind, at: [at], height: null, name }] };
}

/** The outline becomes an area; null where it has no three corners yet. @param {Chart} c @param {number|null} height @param {string} name @returns {Chart|null} */
export function closed(c, height, name) {
  if (c.open.length < 3 || !isArea(c.kind)) return null;
  return { ...c, open: [], done: [...c.done, { kind: c.kind, at: c.open, height: c.kind === 'shallow' ? null : height, name }] };
}

/** Takes back the last corner; without an outline the last that was drawn, an area's outline opened again. @param {Chart} c @returns {Chart} */
export function undone(c) {
  if (c.open.length) return { ...c, open: c.open.slice(0, -1) };
  const last = c.done.at(-1);
  if (!last) return c;
  return { ...c, kind: last.kind, open: isArea(last.kind) ? last.at : [], done: c.done.slice(0, -1) };
}

/** The chart as GeoJSON (RFC 7946): rings closed, the outer one anticlockwise. @param {Chart} c */
export function geojson(c) {
  const sailed = c.sailed?.length ? [{ type: 'Feature', properties: { kind: 'sailed' }, geometry: { type: 'MultiPoint', coordinates: c.sailed } }] : [];
  return { type: 'FeatureCollection', features: [...c.done.map(feature), ...sailed] };
}

/** Lies under the pen what a file holds: of a chart its areas, marks and places sailed, of a draft the places alone, for its shores are none. @param {any} file GeoJSON @returns {Chart|string} or why not */
export function opened(file) {
  if (file?.type !== 'FeatureCollection' || !Array.isArray(file.features)) return 'This is no chart: expected a GeoJSON FeatureCollection.';
  /** @type {Place[]} */
  const sailed = [];
  /** @type {Feature[]} */
  const done = [];
  for (const { geometry: g, properties: p } of file.features) {
    if (g?.type === 'MultiPoint' && p?.kind === 'sailed') sailed.push(...g.coordinates.map(flat));
    else if (file.draft) continue;
    else if (g?.type === 'Polygon' && g.coordinates.length === 1) done.push({ kind: p?.kind || 'land', at: g.coordinates[0].slice(0, -1).map(flat), height: p?.height_m ?? null, name: p?.name ?? '' });
    else if (g?.type === 'Point') done.push({ kind: p?.kind || 'mark', at: [flat(g.coordinates)], height: null, name: p?.name ?? '' });
    else return 'This chart has more than can be drawn here (bridges, holes, several areas in one): change it in a text editor.';
    if (p?.porosity) return 'This chart tells how much wind passes its trees, which cannot be drawn here: change it in a text editor.';
  }
  const all = [...sailed, ...done.flatMap((f) => f.at)];
  if (!all.length || !all.every((at) => at.every(Number.isFinite))) return 'There is nothing in this chart that can be drawn here.';
  return fitted({ ...blank(all[0]), done, sailed }, all);
}

/** @param {number[]} at @returns {Place} */
const flat = (at) => [at[0], at[1]];

/** The sheet so that it holds all places. @param {Chart} c @param {Place[]} all @returns {Chart} */
function fitted(c, all) {
  const east = all.map((at) => onSheet(c, at)[0]);
  const south = all.map((at) => onSheet(c, at)[1]);
  const span = Math.max(...east.concat(0)) - Math.min(...east.concat(0));
  const tall = Math.max(...south.concat(0)) - Math.min(...south.concat(0));
  const middle = atSheet(c, (Math.max(...east) + Math.min(...east)) / 2, (Math.max(...south) + Math.min(...south)) / 2);
  const needs = 1.1 * Math.max(span, tall) * c.wide;
  return { ...c, middle, wide: WIDTHS.find((w) => w >= needs) ?? WIDTHS[WIDTHS.length - 1] };
}

/** A track with one more place, if it is another; the last ones of it. @param {Place[]} track @param {Place} at @returns {Place[]} */
export function further(track, at) {
  const last = track[track.length - 1];
  const same = last && Math.hypot((at[0] - last[0]) * Math.cos((at[1] * Math.PI) / 180), at[1] - last[1]) * DEGREE < 2;
  return same ? track : [...track, at].slice(-3000);
}

/** The widths a sheet may have, metres. */
export const WIDTHS = [100, 200, 500, 1000, 2000, 5000, 10000, 20000];

/** @param {Feature} f */
function feature(f) {
  const properties = { kind: f.kind, ...(f.name ? { name: f.name } : {}), ...(f.height === null ? {} : { height_m: f.height }) };
  if (!isArea(f.kind)) return { type: 'Feature', properties, geometry: { type: 'Point', coordinates: f.at[0] } };
  const ring = turns(f.at) < 0 ? [...f.at].reverse() : f.at;
  return { type: 'Feature', properties, geometry: { type: 'Polygon', coordinates: [[...ring, ring[0]]] } };
}

/** Twice the signed area: positive anticlockwise. @param {Place[]} ring */
function turns(ring) {
  return ring.reduce((sum, [x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length];
    return sum + (x - ring[0][0]) * (v - ring[0][1]) - (u - ring[0][0]) * (y - ring[0][1]);
  }, 0);
}

/** @param {Feature} f @returns {string} */
export function says(f) {
  const what = { land: 'Land', water: 'Water', shallow: 'Shallow', mark: 'Mark', ramp: 'Ramp' }[f.kind] + (f.name ? ` “${f.name}”` : '');
  if (!isArea(f.kind)) return `${what}.`;
  const height = f.kind === 'shallow' ? '' : f.height === null ? ', height not known: nothing is said of the wind behind it' : `, ${f.height} m high`;
  return `${what}, ${f.at.length} corners${height}.`;
}
