package force

import "math"

// Book is what a boat can do, found by trying every sheet on every course: her own
// polar, with the sheet that belongs to each speed.
type Book struct {
	WindMS []float64   // ascending
	TWA    []float64   // radians, ascending
	MS     [][]float64 // speed, by wind and angle
	Sheet  [][]float64 // radians
	Leeway [][]float64 // radians
	Beat   []float64   // angle of the bow that makes most to windward, by wind
	Run    []float64   // and to leeward
}

func bookWinds() []float64 { return []float64{1.5, 3, 4.7, 7, 10} }

func bookAngles() []float64 {
	out := []float64{30, 38, 46, 55, 68, 85, 105, 130, 155, 178}
	for i := range out {
		out[i] *= math.Pi / 180
	}
	return out
}

// Book tries her. It takes some tenths of a second.
func (b Boat) Book() *Book {
	k := &Book{WindMS: bookWinds(), TWA: bookAngles()}
	for _, ms := range k.WindMS {
		var speed, sheet, leeway []float64
		var at Settled
		for _, a := range k.TWA {
			var s float64
			s, at = b.Trim(a, ms, at)
			speed, sheet, leeway = append(speed, math.Max(0, at.MS)), append(sheet, s), append(leeway, at.Leeway)
		}
		k.MS, k.Sheet, k.Leeway = append(k.MS, speed), append(k.Sheet, sheet), append(k.Leeway, leeway)
	}
	for i := range k.WindMS {
		k.Beat = append(k.Beat, k.best(i, 1, 35, 65))
		k.Run = append(k.Run, k.best(i, -1, 125, 178))
	}
	return k
}

// best is the angle that makes most good up (way 1) or down the wind.
func (k *Book) best(i int, way float64, fromDeg, toDeg float64) float64 {
	best, at := math.Inf(-1), 0.0
	for deg := fromDeg; deg <= toDeg; deg += 0.5 {
		a := deg * math.Pi / 180
		good := way * k.Speed(k.WindMS[i], a) * math.Cos(a+k.look(k.Leeway, k.WindMS[i], a))
		if good > best {
			best, at = good, a
		}
	}
	return at
}

// Speed is what she makes at her best trim, m/s, angle 0 to pi.
func (k *Book) Speed(windMS, twa float64) float64 { return k.look(k.MS, windMS, twa) }

// BestSheet is the trim for that, radians.
func (k *Book) BestSheet(windMS, twa float64) float64 { return k.look(k.Sheet, windMS, twa) }

// BestBeat and BestRun are the angles that make most good, radians.
func (k *Book) BestBeat(windMS float64) float64 { return along(k.WindMS, k.Beat, windMS) }

// BeatMS is what she makes good to windward at that angle, m/s, leeway taken off.
func (k *Book) BeatMS(windMS float64) float64 {
	a := k.BestBeat(windMS)
	return k.Speed(windMS, a) * math.Cos(a+k.look(k.Leeway, windMS, a))
}

// BestRun is BestBeat down the wind.
func (k *Book) BestRun(windMS float64) float64 { return along(k.WindMS, k.Run, windMS) }

// look is linear in wind and angle, flat beyond the table.
func (k *Book) look(table [][]float64, windMS, twa float64) float64 {
	i, f := place(k.WindMS, windMS)
	return mix(along(k.TWA, table[i], twa), along(k.TWA, table[i+1], twa), f)
}

func along(at, is []float64, x float64) float64 {
	i, f := place(at, x)
	return mix(is[i], is[i+1], f)
}

// place is the step of an ascending list that holds x, and how far into it.
func place(at []float64, x float64) (int, float64) {
	i := 0
	for i < len(at)-2 && x > at[i+1] {
		i++
	}
	return i, clamp((x-at[i])/(at[i+1]-at[i]), 0, 1)
}
