package trial

import (
	"math"
	"slices"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// told is the noise of a session as it really was, which no engine is told.
type told struct {
	swingDeg, periodS   float64 // amplitude of the wind's swing
	driftDeg, driftTauS float64
	jumps               []jump
	offDeg, harmonicDeg float64 // sd of the compass's constant error, and of each part of its first harmonic
	noCompass           bool
	currentKn           float64 // sd of each part of the current
	lopsidedDeg         float64 // sd of what she is beaten lower on one tack and higher on the other
	fixSDDeg            float64 // of a fix at the beginning; 0: none was made
}

// jump is a lasting change of the wind.
type jump struct{ atS, deg float64 }

// How the bound is reckoned.
const (
	boundStepS  = 5
	slowHalfS   = 15 // the slow wind is the mean over twice this
	settledS    = 15 // of a leg before its headings count
	compassSD   = 1.0
	courseSDKn  = 0.08 // across the track
	pointSD     = 5.0  // of how close to the wind this sailor beats
	leewaySD    = 2.0
	eyeSD       = 10.0 // what a tack shows of the eye of the wind
	beatAimDeg  = 60.0 // who means to sail closer beats
	clockwiseSD = 100  // of the mean wind: nothing is known of it
)

// Where each component stands in the bound's state.
const (
	mean = iota
	swing
	drift
	helm
	pointing
	offset
	harmSin
	harmCos
	leeway
	currentE
	currentN
	lopside
)

// bound fills in the squared bound of each moment: the posterior Cramér–Rao bound
// of the wind's direction for an observer who sees compass and course on the beat
// and is told all noises as they are.
//
// The model, in degrees. The slow wind is a mean (unknown), a swing of known
// amplitude and period and unknown phase, and an Ornstein-Uhlenbeck drift; at a
// jump, whose moment he is told, the mean gains its square in variance. On a beat
// the bow lies at wind - side * (point + helm) + lopside: point is the sailor's
// angle, a constant with a prior, lopside what he sails lower on one tack than on the
// other, by half, and helm an Ornstein-Uhlenbeck error whose deviation and
// correlation time are those that this session shows against the truth. The compass
// shows the bow with a constant and a first harmonic of error; the course shows it
// with leeway to the side and the current over her speed. A tack shows the eye of the
// wind besides. What the wind flutters about its mean over half a minute nobody can
// tell from a boat that is steered by hand: it is in neither the bound nor the error
// that is set beside it.
//
// All of this is linear, so the Kalman covariance is the inverse of the posterior
// information (gauss.go). It bounds what headings on a beat can tell; turns, speeds,
// heel and lying head to wind may tell more, and then a ratio under one is no
// mistake. Where a swing's phase is random but its amplitude known, the Gaussian
// model is that of the best linear filter.
func bound(ms []moment, w told) {
	b := newBounder(ms, w)
	for i := range ms {
		for _, l := range b.pass(i) {
			b.g.measure(l.row, l.variance)
		}
		ms[i].boundSq = b.g.variance(b.wind)
	}
}

type bounder struct {
	ms    []moment
	w     told
	g     *gauss
	wind  []float64
	since int // moment at which the present leg began
	jump  int
}

func newBounder(ms []moment, w told) *bounder {
	h := helmOf(ms)
	period := w.periodS
	if period == 0 {
		period = 300
	}
	parts := []component{
		mean:     {sdDeg: clockwiseSD},
		swing:    {sdDeg: w.swingDeg / math.Sqrt2, periodS: period},
		drift:    {sdDeg: w.driftDeg, tauS: math.Max(1, w.driftTauS)},
		helm:     {sdDeg: h.sd, tauS: h.tauS},
		pointing: {sdDeg: pointSD, constant: true},
		offset:   {sdDeg: w.offDeg, constant: true},
		harmSin:  {sdDeg: w.harmonicDeg, constant: true},
		harmCos:  {sdDeg: w.harmonicDeg, constant: true},
		leeway:   {sdDeg: leewaySD, constant: true},
		currentE: {sdDeg: w.currentKn, constant: true}, // knots
		currentN: {sdDeg: w.currentKn, constant: true},
		lopside:  {sdDeg: w.lopsidedDeg, constant: true},
	}
	b := &bounder{ms: ms, w: w, g: newGauss(parts)}
	b.wind = make([]float64, b.g.n)
	for _, k := range []int{mean, swing, drift} {
		b.wind[b.g.at[k]] = 1
	}
	if w.fixSDDeg > 0 {
		b.g.measure(b.wind, w.fixSDDeg*w.fixSDDeg)
	}
	return b
}

// pass lets the time up to the i-th moment go by and returns what is seen then.
func (b *bounder) pass(i int) []look {
	if i > 0 {
		b.g.step(b.ms[i].st.T.Seconds(b.ms[i-1].st.T))
	}
	for b.jump < len(b.w.jumps) && b.ms[i].st.T.Seconds(b.ms[0].st.T) >= b.w.jumps[b.jump].atS {
		d := b.w.jumps[b.jump].deg
		b.g.p[b.g.at[mean]][b.g.at[mean]] += d * d
		b.jump++
	}
	var out []look
	if i > 0 && b.ms[i-1].mode == boat.Tacking && b.ms[i].mode != boat.Tacking {
		out = append(out, look{b.wind, eyeSD * eyeSD})
	}
	if !beating(b.ms, i) {
		b.since = i + 1
		return out
	}
	if i-b.since >= settledS && i%boundStepS == 0 {
		out = append(out, b.looks(b.ms[i])...)
	}
	return out
}

// look is one measurement: what of the state it shows, and how well.
type look struct {
	row      []float64
	variance float64 // degrees squared
}

// looks is what the compass and then the course show now.
func (b *bounder) looks(m moment) []look {
	var out []look
	side := math.Copysign(1, m.twa)
	bow := slices.Clone(b.wind)
	bow[b.g.at[helm]], bow[b.g.at[pointing]], bow[b.g.at[lopside]] = -side, -side, 1
	sin, cos := math.Sincos(geo.Rad(m.heading))
	if !b.w.noCompass {
		row := slices.Clone(bow)
		row[b.g.at[offset]], row[b.g.at[harmSin]], row[b.g.at[harmCos]] = 1, sin, cos
		out = append(out, look{row, compassSD * compassSD})
	}
	if m.sog < 0.5 {
		return out
	}
	perKn := geo.Deg(1) / m.sog
	bow[b.g.at[leeway]] = -side
	bow[b.g.at[currentE]], bow[b.g.at[currentN]] = cos*perKn, -sin*perKn
	return append(out, look{bow, courseSDKn * courseSDKn * perKn * perKn})
}

// beating says whether she beats, well or badly: on a straight course that is meant
// to be close-hauled, the wind on one side.
func beating(ms []moment, i int) bool {
	m := ms[i]
	straight := m.mode == boat.CloseHauled || m.mode == boat.Reaching
	return straight && m.aim < beatAimDeg && math.Abs(m.twa) < 90 && (i == 0 || m.twa*ms[i-1].twa > 0)
}

// helmStats is how a session's helm wandered about the slow wind on the beat.
type helmStats struct{ sd, tauS float64 }

// helmOf measures the helm's error of a session by its truth. A session without a
// beat has none; the values returned then are never used.
func helmOf(ms []moment) helmStats {
	out := helmStats{sd: 5, tauS: 30}
	var angle []float64 // NaN where she does not beat
	since := 0
	for i := range ms {
		v := math.NaN()
		if !beating(ms, i) {
			since = i + 1
		} else if i-since >= settledS {
			v = math.Abs(geo.Diff(ms[i].heading, ms[i].slow))
		}
		angle = append(angle, v)
	}
	if sd, rho := lagged(angle, lagS); sd > 0 {
		out.sd = sd
		out.tauS = math.Min(300, math.Max(2, -lagS/math.Log(math.Min(0.97, math.Max(0.01, rho)))))
	}
	return out
}

const lagS = 10

// lagged returns the standard deviation of the values and their correlation over a
// number of places; zero where there are too few.
func lagged(v []float64, lag int) (sd, rho float64) {
	n, sum := 0.0, 0.0
	for _, x := range v {
		if !math.IsNaN(x) {
			n++
			sum += x
		}
	}
	if n < 60 {
		return 0, 0
	}
	var square, product, pairs float64
	for i, x := range v {
		if math.IsNaN(x) {
			continue
		}
		square += (x - sum/n) * (x - sum/n)
		if i >= lag && !math.IsNaN(v[i-lag]) {
			product += (x - sum/n) * (v[i-lag] - sum/n)
			pairs++
		}
	}
	if square == 0 || pairs == 0 {
		return 0, 0
	}
	return math.Sqrt(square / n), product / pairs / (square / n)
}

// slowWind fills in the wind's direction in the mean over half a minute round each
// moment.
func slowWind(ms []moment) {
	for i := range ms {
		sum := 0.0
		lo, hi := max(0, i-slowHalfS), min(len(ms), i+slowHalfS+1)
		for _, m := range ms[lo:hi] {
			sum += geo.Diff(ms[i].twd, m.twd)
		}
		ms[i].slow = geo.Wrap360(ms[i].twd + sum/float64(hi-lo))
	}
}
