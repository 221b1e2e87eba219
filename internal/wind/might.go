package wind

import (
	"math"

	"helmcue/internal/boat"
)

// might is the wind's speed together with how fast this boat is against her polar:
// a small grid beside that of the direction. The two are coupled through what each
// expects of the other, since her own speed tells little of either (common practice,
// no source, for the figures).
type might struct {
	p    [mightKn][mightBy]float64
	best [mightKn][angles]float64 // speed by the polar, knots, every angleDeg
	at   boat.Time
	on   bool
}

const (
	mightKn  = 13
	mightBy  = 5
	angleDeg = 4.0
	angles   = 46

	usualKn   = 8.0 // what people learn to sail in
	usualLn   = 0.5
	boatSD    = 0.12
	gustLn2S  = 0.37 * 0.37 / 900 // the wind's speed wanders so much a second, of its logarithm squared
	goodShare = 0.65              // she is sailed well so often, by an exponential of lazy
	lazy      = 0.25
	overSD    = 0.12 // of speed over polar: the polar's error and gusts
	overFloor = 0.02
	nearSteps = 2   // of angleDeg
	firstTell = 0.5 // power of a leg's first speed, the only one that counts: polar, trim and gust are much the same all along
	mightTell = 0.2
)

func mightLevels() [mightKn]float64 {
	return [mightKn]float64{1.6, 2.2, 3, 4, 5, 6.2, 7.6, 9.2, 11, 13.5, 16.5, 20, 25}
}

func boatLevels() [mightBy]float64 { return [mightBy]float64{0.8, 0.9, 1, 1.12, 1.26} }

func (m *might) begin(t boat.Time) {
	*m = might{at: t, on: true}
	for i, kn := range mightLevels() {
		for k, by := range boatLevels() {
			m.p[i][k] = bell(math.Log(kn), math.Log(usualKn), usualLn) * bell(by, 1, boatSD)
		}
	}
	m.whole()
}

func (m *might) whole() {
	sum := 0.0
	for i := range m.p {
		for _, v := range m.p[i] {
			sum += v
		}
	}
	for i := range m.p {
		for k := range m.p[i] {
			m.p[i][k] /= sum
		}
	}
}

// step lets the wind's speed wander until t.
func (m *might) step(t boat.Time) {
	if !m.on {
		m.begin(t)
	}
	dt := t.Seconds(m.at)
	if dt <= 0 {
		return
	}
	m.at = t
	const levelLn = 0.22
	total := math.Min(40, gustLn2S*dt/(levelLn*levelLn)/2)
	for ; total > 0; total -= 0.25 {
		share := math.Min(0.25, total)
		for k := range mightBy {
			for i := 1; i < mightKn; i++ {
				d := share * (m.p[i][k] - m.p[i-1][k])
				m.p[i][k] -= d
				m.p[i-1][k] += d
			}
		}
	}
}

// told takes a wind speed that something measured.
func (m *might) told(t boat.Time, kn, sd float64) {
	m.step(t)
	for i, level := range mightLevels() {
		v := bell(level, kn, math.Hypot(sd, 0.1*level)) + 1e-4
		for k := range m.p[i] {
			m.p[i][k] *= v
		}
	}
	m.whole()
}

// draw tabulates the polar.
func (m *might) draw(polar func(twsKn, twaDeg float64) float64) {
	for i, kn := range mightLevels() {
		for a := range m.best[i] {
			v := polar(kn, float64(a)*angleDeg)
			if !(v > 0.02) || math.IsInf(v, 0) {
				v = 0.02
			}
			m.best[i][a] = v
		}
	}
}

// kn returns the mean and deviation of the wind's speed.
func (m *might) kn() (mean, sd float64) {
	square := 0.0
	for i, kn := range mightLevels() {
		for _, p := range m.p[i] {
			mean += float64(p * kn)
			square += float64(p * kn * kn)
		}
	}
	return mean, math.Sqrt(math.Max(0.01, square-float64(mean*mean)))
}

// speed is what the polar gives at an angle in the winds that may be.
func (m *might) speed(a float64) float64 {
	x := math.Max(0, math.Min(179.9, a)) / angleDeg
	k := int(x)
	sum := 0.0
	for i := range m.p {
		v := m.best[i][k] + float64((x-float64(k))*(m.best[i][k+1]-m.best[i][k]))
		for _, p := range m.p[i] {
			sum += float64(p * v)
		}
	}
	return sum
}

// near is the most she makes at an angle or a little lower: polars, headings and
// leeway are off by so much.
func (m *might) near(wind, a int) float64 {
	most := m.best[wind][a]
	for k := a + 1; k <= a+nearSteps && k < angles; k++ {
		most = math.Max(most, m.best[wind][k])
	}
	return most
}

// allowed is how likely such a share of her best is at an angle: going slower says
// nothing of it, since no sail need be trimmed well, going faster excludes it.
func allowed(share float64) float64 {
	if share <= 1 {
		return 1
	}
	return bell(share, 1, overSD) + overFloor
}

// skill is how often she makes so much of what she could in this wind.
func skill(share float64) float64 {
	if share <= 1 {
		return 1 - goodShare + float64(goodShare*math.Exp((share-1)/lazy))
	}
	return bell(share, 1, overSD) + overFloor
}

// speedTells takes the speed of a block: what it says of her angle to the wind, and
// of the wind's strength and the boat.
func (e *Estimator) speedTells(b *block) {
	m := &e.might
	var angle [angles]float64 // how likely each angle is, over winds and boats
	var weight [angles]float64
	for i, p := range e.dir.p {
		weight[nearAngle(b.hdg, i)] += p
	}
	var next [mightKn][mightBy]float64
	for i := range m.p {
		for k, by := range boatLevels() {
			sum := 0.0
			for a := range angles {
				angle[a] += float64(m.p[i][k] * allowed(b.kn/(by*m.near(i, a))))
				v := skill(b.kn / (by * m.best[i][a]))
				sum += float64(weight[a] * v)
			}
			next[i][k] = m.p[i][k] * math.Pow(sum, mightTell)
		}
	}
	m.p = next
	m.whole()
	if !b.first {
		return
	}
	e.sailedBy(b, 1, func(dir float64) float64 {
		return math.Pow(angle[nearAngle(b.hdg, int(dir/binDeg))], firstTell)
	})
}
