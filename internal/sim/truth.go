package sim

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Truth is how things really stood at one moment.
type Truth struct {
	T          boat.Time
	TWDDeg     float64 // from, true, over the water
	TWSKn      float64
	TWADeg     float64 // of the bow, -180..180, starboard positive
	HeadingDeg float64 // true
	YawDps     float64
	STWKn      float64 // through the water, along the bow; astern negative
	SOGKn      float64
	COGDeg     float64
	HeelDeg    float64
	Pos        geo.Position
	Mode       boat.Mode
	SheetDeg   float64 // boom off the centre line
	BestDeg    float64 // the boom angle that drives best
	AimDeg     float64 // the wind angle the learner means to sail, unsigned
	LeewayDeg  float64 // to leeward positive
	BeatDeg    float64 // the angle of her bow that makes most to windward now, unsigned
	BeatUpKn   float64 // what she makes good to windward there at her best trim
	RunDeg     float64 // and to leeward
	BestKn     float64 // her speed on this course at her best trim
	Lee        bool    // she lies in dead air: less than half the wind reaches her
}

// SheetErrDeg is how far the boom is from where it drives best, degrees: in too
// far positive, so that easing helps.
func (t Truth) SheetErrDeg() float64 { return t.BestDeg - t.SheetDeg }

// Truth returns how things stand after the last Step.
func (s *Sim) Truth() Truth {
	h, ms := &s.hull, s.wind.kn*geo.KnotMS
	twa := geo.Diff(h.headingDeg, s.wind.dirDeg)
	return Truth{
		T: s.now, TWDDeg: s.wind.dirDeg, TWSKn: s.wind.kn, TWADeg: twa,
		HeadingDeg: h.headingDeg, YawDps: h.yawDps, STWKn: h.speedKn,
		SOGKn:   math.Hypot(h.eastMS, h.northMS) / geo.KnotMS,
		COGDeg:  geo.Wrap360(geo.Deg(math.Atan2(h.eastMS, h.northMS))),
		HeelDeg: h.heelDeg, Pos: place(s.origin, h.eastM, h.northM), Mode: s.learner.mode(h),
		SheetDeg: h.sheetDeg, BestDeg: h.boomDeg(math.Abs(twa), s.wind.kn), AimDeg: s.learner.aimDeg(), LeewayDeg: h.leewayDeg,
		BeatDeg: geo.Deg(h.book.BestBeat(ms)), BeatUpKn: h.book.BeatMS(ms) / geo.KnotMS, RunDeg: geo.Deg(h.book.BestRun(ms)),
		BestKn: h.book.Speed(ms, geo.Rad(math.Abs(twa))) / geo.KnotMS,
		Lee:    s.wind.left(h.eastM, h.northM) < 0.5,
	}
}

// A TruthWriter writes truth as comma-separated values with a heading line.
type TruthWriter struct {
	out  *csv.Writer
	head bool
}

// NewTruthWriter makes a TruthWriter on w.
func NewTruthWriter(w io.Writer) *TruthWriter { return &TruthWriter{out: csv.NewWriter(w)} }

// Write adds one line.
func (w *TruthWriter) Write(t Truth) error {
	if !w.head {
		w.head = true
		head := []string{"t", "twd", "tws", "twa", "heading", "yaw", "stw", "sog", "cog", "heel", "lat", "lon", "mode", "sheet", "best_sheet", "sheet_error", "aim", "leeway", "beat", "run", "best_kn", "lee"}
		if err := w.out.Write(head); err != nil {
			return fmt.Errorf("writing the heading of the truth: %w", err)
		}
	}
	line := []string{strconv.FormatInt(int64(t.T), 10)}
	for _, v := range []float64{t.TWDDeg, t.TWSKn, t.TWADeg, t.HeadingDeg, t.YawDps, t.STWKn, t.SOGKn, t.COGDeg, t.HeelDeg} {
		line = append(line, strconv.FormatFloat(v, 'f', 2, 64))
	}
	line = append(line, strconv.FormatFloat(t.Pos.LatDeg, 'f', 7, 64), strconv.FormatFloat(t.Pos.LonDeg, 'f', 7, 64), t.Mode.String())
	for _, v := range []float64{t.SheetDeg, t.BestDeg, t.SheetErrDeg(), t.AimDeg, t.LeewayDeg, t.BeatDeg, t.RunDeg, t.BestKn} {
		line = append(line, strconv.FormatFloat(v, 'f', 2, 64))
	}
	line = append(line, strconv.FormatBool(t.Lee))
	if err := w.out.Write(line); err != nil {
		return fmt.Errorf("writing the truth at %d ms: %w", t.T, err)
	}
	return nil
}

// Flush hands on what was written and returns the first error there was.
func (w *TruthWriter) Flush() error {
	w.out.Flush()
	return w.out.Error()
}

// place is where a point east and north of p lies. A lake is flat enough: over
// two kilometres the sphere differs by centimetres.
func place(p geo.Position, eastM, northM float64) geo.Position {
	const metrePerDeg = 1852 * 60
	return geo.Position{
		LatDeg: p.LatDeg + northM/metrePerDeg,
		LonDeg: p.LonDeg + eastM/(metrePerDeg*math.Cos(geo.Rad(p.LatDeg))),
	}
}
