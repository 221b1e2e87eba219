package debrief

// The page, in parts. It is written so that both HTML and XML readers take it.

const pageText = `{{define "page"}}<!DOCTYPE html>
<html lang="en" xmlns="http://www.w3.org/1999/xhtml"><head><meta charset="utf-8"/><meta name="viewport" content="width=device-width, initial-scale=1"/>
<title>{{.Title}}</title><style>{{.Style}}</style></head>
<body><main>
<header><h1>{{.Title}}</h1><p class="soft">{{.Facts}}</p></header>
<section class="card lead" aria-labelledby="sum"><h2 id="sum">What went well, what it cost, what to practise</h2>
<p>{{.Well}}</p><p>{{.MostCost}}</p><p class="strong">{{.Practise}}</p></section>
{{if .Missing}}<section class="card" aria-labelledby="miss"><h2 id="miss">What could not be seen</h2><ul>{{range .Missing}}<li>{{.}}</li>{{end}}</ul></section>{{end}}
<div class="two">{{template "track" .}}{{template "turns" .}}</div>
{{if .Practised}}{{template "practised" .}}{{end}}{{template "ribbon" .}}
{{template "said" .}}
<footer class="soft"><p>Times are minutes and seconds from the start, {{.Began}}.{{if .Voice}} Voice: {{.Voice}}.{{end}} A length is {{printf "%.1f" .LengthM}} m.</p>
<p>Sensors heard this, and they err. Lookout comes first; local rules and the word of a licensed instructor outrank this page.</p></footer>
</main></body></html>
{{end}}`

const tablesText = `{{define "turns"}}<section class="card" aria-labelledby="tacks"><h2 id="tacks">Tacks and time on target</h2>
{{if .Turned}}<div class="wide" tabindex="0" role="region" aria-label="table of tacks and gybes"><table><thead><tr><th scope="col">at</th><th scope="col">tack</th><th scope="col">through</th><th scope="col">back to speed</th><th scope="col">lengths lost</th></tr></thead><tbody>
{{range .Turned}}<tr><td>{{.Time}}</td><td>{{if ne .Kind "tack"}}{{.Kind}} {{end}}{{if .To}}to {{.To}}{{else if eq .Kind "tack"}}tack{{end}}</td><td>{{.Turn}}</td><td>{{.Back}}</td><td>{{.Lost}}</td></tr>
{{end}}</tbody></table></div>{{if .Gained}}<p class="soft">A minus is a gain against keeping on.</p>{{end}}{{else}}<p>No tack or gybe was seen.</p>{{end}}
{{if .Times}}<table><caption>Time on target, turns left out</caption><tbody>{{range .Times}}<tr><th scope="row" class="soft">{{.Name}}</th><td>{{.Value}}</td></tr>{{end}}</tbody></table>{{else}}<p>Time on target is not known: it needs the direction and the speed of the wind.</p>{{end}}
{{if .Lost}}<table><caption>Metres lost</caption><tbody>{{range .Lost}}<tr><th scope="row" class="soft">{{.Name}}</th><td>{{.Value}}</td></tr>{{end}}</tbody></table>{{end}}
{{if .MarkList}}<table><caption>Moments the instructor marked</caption><tbody>{{range .MarkList}}<tr><td>{{.Name}}</td><td>{{.Value}}</td></tr>{{end}}</tbody></table>{{end}}</section>{{end}}

{{define "practised"}}<section class="card long" aria-labelledby="prac"><h2 id="prac">Exercises</h2>
<p class="strong">{{.Next}}</p><table><thead><tr><th scope="col">at</th><th scope="col">exercise, and each try</th><th scope="col">came to</th></tr></thead><tbody>
{{range .Practised}}<tr><td>{{.Time}}</td><td>{{.Title}}{{range .Tries}}<span class="soft">{{.Name}}: {{.Value}}</span>{{end}}</td><td>{{.Outcome}}</td></tr>
{{end}}</tbody></table></section>
{{end}}

{{define "said"}}<section class="card long" aria-labelledby="said"><h2 id="said">What was said</h2>
{{if .Listed}}<p class="soft">{{.Counts}}</p><table><thead><tr><th scope="col">at</th><th scope="col">words, and why</th><th scope="col">answered</th></tr></thead><tbody>
{{range .Listed}}<tr id="row-{{.N}}"><td>{{if .OnRibbon}}<a href="#cue-{{.N}}">{{.Time}}</a>{{else}}{{.Time}}{{end}}</td><td><span{{if .Strong}} class="strong"{{end}}>{{.Words}}</span>{{if .Why}}<span class="soft">{{.Why}}</span>{{end}}{{if .Own}}<span class="soft">said by the phone itself, without a link</span>{{end}}</td><td>{{.Answered}}{{if .Because}}<span class="soft">{{.Because}}</span>{{end}}</td></tr>
{{end}}</tbody></table>{{else}}<p>Nothing was said.</p>{{end}}</section>{{end}}`

const ribbonText = `{{define "ribbon"}}{{if .Pieces}}<section class="card long" aria-labelledby="rib"><h2 id="rib">The session along time</h2>
<p class="soft">Angle off the wind (above the line: wind from starboard), speed (the line is what she could do), heel and wind direction; brackets are turns with what they lost; marks are cues.</p>
<div class="ribbon" tabindex="0" role="region" aria-label="ribbon of the session, scrolls sideways">
<svg class="names" viewBox="0 0 70 {{.RibbonH}}" aria-hidden="true">{{range .LaneYs}}<text x="0" y="{{.Mid}}">{{.Name}}</text>{{if .TopWords}}<text class="faint" x="0" y="{{.UpperY}}" font-size="11">{{.TopWords}}</text><text class="faint" x="0" y="{{.LowerY}}" font-size="11">{{.LowWords}}</text>{{end}}{{end}}</svg>
{{$page := .}}{{range .Pieces}}<svg class="piece" viewBox="0 0 600 {{$page.RibbonH}}" role="img" aria-label="{{.Label}}">
{{range $page.LaneYs}}<line class="hair" x1="0" y1="{{.Line}}" x2="600" y2="{{.Line}}"/><text class="faint paper" x="0" y="{{.UpperY}}" font-size="11">{{.Name}}</text>{{end}}
{{range .Bands}}<polygon class="band" points="{{.}}"/>{{end}}{{range .Lines}}<polyline class="{{.Class}}" points="{{.Points}}"/>{{end}}
{{range .Blanks}}<text class="faint" x="{{.X}}" y="285" font-size="12">{{.Words}}</text>{{end}}
{{range .Brackets}}<path class="bracket" d="{{.Path}}"/><text x="{{.X}}" y="14">{{.Words}}</text>{{end}}
{{range .Ticks}}<text class="faint" x="{{.X}}" y="{{$page.MarksY}}" dy="14" font-size="12">{{.Words}}</text><line class="hair" x1="{{.X}}" y1="34" x2="{{.X}}" y2="{{$page.MarksY}}"/>{{end}}
{{range .Marks}}<g id="cue-{{.ID}}"><title>{{.Title}}</title><line class="cue{{if .Strong}} strong{{end}}" x1="{{.X}}" y1="34" x2="{{.X}}" y2="{{if .WordY}}{{.WordY}}{{else}}{{$page.MarksY}}{{end}}"/>{{if .Words}}<text x="{{.WordX}}" y="{{.WordY}}" dx="{{if .Anchor}}-4{{else}}4{{end}}"{{if .Anchor}} text-anchor="{{.Anchor}}"{{end}}{{if .Strong}} font-weight="700"{{end}}>{{.Words}}</text>{{end}}</g>{{end}}
</svg>{{end}}</div></section>{{end}}{{end}}`

const trackText = `{{define "track"}}<section class="card" aria-labelledby="trk"><h2 id="trk">The track</h2>{{with .Track}}
<div class="wide" tabindex="0" role="region" aria-label="the track"><svg class="track" viewBox="0 0 {{.W}} {{.H}}" role="img" aria-label="track, north up, thicker where she was nearer to the speed she could do">
{{range .Lines}}<polyline class="{{.Class}}" points="{{.Points}}"/>{{end}}
{{range .Said}}<circle class="spot" cx="{{.X}}" cy="{{.Y}}" r="3.5"/>{{end}}
<circle class="start" cx="{{.Start.X}}" cy="{{.Start.Y}}" r="6"/><circle class="end" cx="{{.End.X}}" cy="{{.End.Y}}" r="6"/>
<g class="words">{{range .Wide}}<text class="halo" x="{{.X}}" y="{{.Y}}" text-anchor="{{.Anchor}}"{{if .Strong}} font-weight="700"{{end}}>{{.Words}}</text>{{end}}</g>
<g class="slim">{{range .Slim}}<text class="halo" x="{{.X}}" y="{{.Y}}" text-anchor="{{.Anchor}}"{{if .Strong}} font-weight="700"{{end}}>{{.Words}}</text>{{end}}</g>
<line class="ink" x1="{{.Scale.X1}}" y1="{{.Scale.Y}}" x2="{{.Scale.X2}}" y2="{{.Scale.Y}}"/><text x="{{.Scale.X1}}" y="{{.Scale.Y}}" dy="-6">{{.Scale.Words}}</text>
{{with .Wind}}<line class="wind" x1="{{.X1}}" y1="{{.Y1}}" x2="{{.X2}}" y2="{{.Y2}}"/><path class="head" d="{{.Head}}"/><text x="{{.TextX}}" y="{{.TextY}}" text-anchor="middle">{{.Words}}</text>{{end}}
</svg></div><p class="soft">North is up. The line is thicker where she was nearer to the speed she could do, dashed where that is not known; the ring is the start, the disc the end.</p>{{else}}<p>No position was heard, so there is no track.</p>{{end}}</section>{{end}}`
