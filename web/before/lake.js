// A lake as ink on paper: land, lee by hatching, rooms as circles, the wind as strokes.

const ns = "http://www.w3.org/2000/svg";
const WIDE = 600;

/** @param {string} name @param {Record<string, string | number>} with_ */
function el(name, with_) {
  const e = document.createElementNS(ns, name);
  for (const [k, v] of Object.entries(with_)) e.setAttribute(k, String(v));
  return e;
}

/**
 * places returns what turns longitude and latitude into the drawing's own units, with
 * the same scale both ways at the chart's middle.
 * @param {{West: number, East: number, North: number, South: number}} m
 */
export function places(m) {
  const shrink = Math.cos(((m.North + m.South) / 2) * Math.PI / 180);
  const scale = WIDE / ((m.East - m.West) * shrink);
  return {
    high: (m.North - m.South) * scale,
    metre: scale / 111195,
    /** @param {number} lon @param {number} lat */
    at: (lon, lat) => /** @type {[number, number]} */ ([(lon - m.West) * shrink * scale, (m.North - lat) * scale]),
  };
}

/**
 * runs joins equal letters of a row into stretches, so that a map is few shapes.
 * @param {string} row @returns {{from: number, to: number, letter: string}[]}
 */
export function runs(row) {
  const out = [];
  for (let i = 0; i < row.length;) {
    let k = i;
    while (k < row.length && row[k] === row[i]) k++;
    out.push({ from: i, to: k, letter: row[i] });
    i = k;
  }
  return out;
}

const hatch = /** @type {Record<string, string>} */ ({ D: "url(#dead)", d: "url(#stirred)", "?": "url(#unknown)" });

/** @param {any} plan @param {any} map @param {number} fromDeg */
export function drawLake(plan, map, fromDeg) {
  const p = places(map);
  const svg = el("svg", { viewBox: `0 0 ${WIDE} ${p.high.toFixed(1)}`, role: "img", "aria-label": "The water, its lee and its open rooms" });
  for (const a of plan.areas) {
    const d = a.rings.map((/** @type {[number, number][]} */ ring) =>
      "M" + ring.map(([lon, lat]) => p.at(lon, lat).map((v) => v.toFixed(1)).join(" ")).join("L") + "Z").join("");
    svg.append(el("path", { d, class: a.kind === "water" ? "water" : "land" }));
  }
  const wide = WIDE / map.Rows[0].length, high = p.high / map.Rows.length;
  map.Rows.forEach((/** @type {string} */ row, /** @type {number} */ i) => {
    for (const r of runs(row)) {
      if (hatch[r.letter]) {
        svg.append(el("rect", { x: (r.from * wide).toFixed(1), y: (i * high).toFixed(1), width: ((r.to - r.from) * wide + 0.3).toFixed(1), height: (high + 0.3).toFixed(1), fill: hatch[r.letter], class: "lee" }));
      }
    }
  });
  for (const b of plan.bridges ?? []) {
    svg.append(el("polyline", { points: b.line.map((/** @type {[number, number]} */ [lon, lat]) => p.at(lon, lat).join(",")).join(" "), class: "bridge" }));
  }
  (plan.rooms ?? []).forEach((/** @type {any} */ room, /** @type {number} */ i) => {
    const [x, y] = p.at(room.at[0], room.at[1]);
    svg.append(el("circle", { cx: x, cy: y, r: room.radius_m * p.metre, class: i + 1 === plan.suggested ? "room best" : "room" }));
  });
  for (const m of plan.marks ?? []) {
    const [x, y] = p.at(m.at[0], m.at[1]);
    svg.append(m.kind === "ramp" ? el("rect", { x: x - 6, y: y - 6, width: 12, height: 12, class: "buoy" }) : el("circle", { cx: x, cy: y, r: 5, class: "buoy" }));
    const words = el("text", { x: x + 9, y: y + 5, "font-size": 17 });
    words.textContent = m.name || m.kind;
    svg.append(words);
  }
  svg.append(...blows(fromDeg, p.high));
  return svg;
}

/** Strokes in the corner that fly with the wind. @param {number} fromDeg @param {number} high */
function blows(fromDeg, high) {
  const to = (fromDeg + 180) * Math.PI / 180, dx = Math.sin(to), dy = -Math.cos(to);
  const cx = 52, cy = Math.min(52, high / 4);
  return [-14, 0, 14].map((off, i) => {
    const half = i === 1 ? 30 : 18, x = cx - dy * off, y = cy + dx * off;
    const head = i === 1 ? `M${x + dx * half} ${y + dy * half}l${-dx * 12 - dy * 7} ${-dy * 12 + dx * 7}M${x + dx * half} ${y + dy * half}l${-dx * 12 + dy * 7} ${-dy * 12 - dx * 7}` : "";
    return el("path", { d: `M${x - dx * half} ${y - dy * half}L${x + dx * half} ${y + dy * half}${head}`, class: "blows" });
  });
}
