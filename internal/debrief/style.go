package debrief

// style is the look of the page: ink on paper, one accent, thickness and words
// for meaning. Sizes are in rem so that larger text enlarges the drawings too.
const style = `
:root { --paper: #fcfbf7; --sheet: #f1efe7; --ink: #12161b; --soft: #51585f; --hair: #c9c6ba; --mark: #0a4d8c;
 font: 400 1.125rem/1.4 "Atkinson Hyperlegible Next", system-ui, sans-serif; color: var(--ink); background: var(--paper); }
@media screen and (prefers-color-scheme: dark) {
 :root { --paper: #0d1013; --sheet: #171c21; --ink: #f4f2ea; --soft: #b3b9bf; --hair: #3b4249; --mark: #8fc7ff; } }
* { box-sizing: border-box; margin: 0; }
main { max-width: 76rem; margin: 0 auto; padding: 1rem; display: grid; gap: 1rem; }
main > *, .two > * { min-width: 0; }
h1, h2 { line-height: 1.15; letter-spacing: -0.01em; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; } h2 { font-size: 1.15rem; margin-bottom: .5rem; }
.soft, caption { color: var(--soft); }
.card { border: 2px solid var(--hair); border-radius: .75rem; padding: .9rem 1rem; }
.card p + p, .card ul + p, .card p + ul { margin-top: .6rem; }
.lead p { font-size: 1.15rem; }
.two { display: grid; gap: 1rem; align-items: start; }
@media (min-width: 50rem) { .two { grid-template-columns: minmax(0, 5fr) minmax(0, 4fr); } }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
caption { text-align: left; padding-bottom: .3rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem .3rem 0; border-bottom: 1px solid var(--hair); }
td { text-wrap: balance; } td:last-child, th:last-child { padding-right: 0; }
thead th { color: var(--soft); font-weight: 400; }
tbody th { font-weight: 400; }
table + table, .wide + table, p + table, table + p { margin-top: 1rem; } .wide + p { margin-top: .4rem; }
td .soft { display: block; font-size: .9rem; }
.strong { font-weight: 700; }
.wide { overflow-x: auto; }
a { color: var(--mark); }
:focus-visible { outline: 3px solid var(--mark); outline-offset: 2px; }
svg { display: block; }
svg text { font-family: inherit; fill: var(--ink); }
svg .faint { fill: var(--soft); }
svg .hair { stroke: var(--hair); stroke-width: 1; }
svg .ink, svg .sure, .track polyline { fill: none; stroke: var(--ink); stroke-width: 1.6; stroke-linejoin: round; stroke-linecap: round; }
svg .sure { stroke: var(--mark); }
svg .band { fill: var(--mark); opacity: .18; }
svg .cue { stroke: var(--mark); stroke-width: 1.5; } svg .cue.strong { stroke: var(--ink); stroke-width: 4; }
svg :target .cue { stroke-width: 6; }
svg .bracket { fill: none; stroke: var(--ink); stroke-width: 3; }
.ribbon { display: flex; overflow-x: auto; padding-bottom: .4rem; }
.ribbon svg { flex: none; height: 27.5rem; overflow: visible; font-size: 14px; }
.ribbon .piece { width: 37.5rem; } .ribbon .names { width: 4.4rem; position: sticky; left: 0; z-index: 1; background: var(--paper); border-right: 1px solid var(--hair); overflow: hidden; }
.ribbon .paper { display: none; }
.track { width: 100%; min-width: 17rem; height: auto; }
.track .t0 { stroke-width: 1.2; stroke-dasharray: 3 4; } .track .t1 { stroke-width: 1.2; } .track .t2 { stroke-width: 2.6; } .track .t3 { stroke-width: 4.5; } .track .t4 { stroke-width: 7; }
.track .spot { fill: var(--mark); } .track .wind { stroke: var(--mark); stroke-width: 4; } .track .head { fill: var(--mark); }
.track .end { fill: var(--ink); } .track .start { fill: var(--paper); stroke: var(--ink); stroke-width: 2.5; }
.track .halo { stroke: var(--paper); stroke-width: 4px; paint-order: stroke; stroke-linejoin: round; }
.track text { font-size: 15px; } .track .slim { display: none; }
@media (max-width: 50rem) { .track text { font-size: 24px; } }
@media (max-width: 34rem) { .track text { font-size: 26px; } .track .slim { display: inline; } .track .words { display: none; } }
@media (max-width: 34rem) { .card { padding: .7rem .75rem; } main { padding: .6rem; } th, td { padding-right: .4rem; } }
@media print {
 :root { font-size: 10pt; } main { padding: 0; } .card { break-inside: avoid; border-width: 1px; } .card.long { break-inside: auto; }
 .ribbon { display: block; overflow: visible; } .ribbon .names { display: none; } .ribbon .paper { display: inline; }
 .ribbon .piece { width: 100%; height: auto; break-inside: avoid; margin-bottom: 1rem; }
 .track text { font-size: 13px; } .track .slim { display: none; } .track .words { display: inline; }
 tr { break-inside: avoid; } a { color: inherit; text-decoration: none; } }
`
