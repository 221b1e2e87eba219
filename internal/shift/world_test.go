package shift

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// world is a wind, a helm and a phone made for this test alone: it shares no code
// and no table with what it judges. What a helm and a lake wind do is common
// practice, no source.
type world struct {
	r        *rand.Rand
	t        float64
	side     float64 // +1 starboard tack
	turnDeg  float64 // the whole world is turned by so much
	swingDeg float64
	periodS  float64
	phase    float64
	driftDeg float64 // an hour
	stepDeg  float64 // clockwise
	stepAt   float64
	skill    float64 // 0..1
	tacksS   float64
	offAt    float64 // a pinch or a foot begins here
	offDeg   float64 // wider positive
	offS     float64
	habit    float64
	wander   float64
	gust     float64
	gustS    float64
	flutter  float64
	phone    float64
	heading  float64
	kn       float64
	lastTack float64
}

func newWorld(seed uint64) *world {
	w := &world{r: rand.New(rand.NewPCG(seed, 5)), side: 1, periodS: 240, skill: 0.5, kn: 3.5, gustS: []float64{10, 20, 40}[seed%3], stepAt: 1e9, offAt: 1e9, lastTack: -1e9}
	w.phase = 2 * math.Pi * w.r.Float64()
	return w
}

func (w *world) ou(x *float64, sd, tau float64) float64 {
	k := math.Exp(-1 / tau)
	*x = float64(k**x) + float64(sd*math.Sqrt(1-k*k)*w.r.NormFloat64())
	return *x
}

// windDeg is the true direction without flutter.
func (w *world) windDeg() float64 {
	d := w.turnDeg + float64(w.swingDeg*math.Sin(2*math.Pi*w.t/w.periodS+w.phase)) + float64(w.driftDeg*w.t/3600)
	if w.t >= w.stepAt {
		d += w.stepDeg
	}
	return d
}

func (w *world) close() float64 { return w.windDeg() - w.side*45 }

// next lets a second pass.
func (w *world) next() Sight {
	if w.t == 0 {
		w.heading = w.close()
	}
	w.t++
	lack := 1 - w.skill
	w.ou(&w.flutter, 2, 6)
	off := w.ou(&w.habit, 1+3*lack, 40)
	if w.t >= w.offAt && w.t < w.offAt+w.offS {
		off += w.offDeg
	}
	want := w.close() + w.flutter - float64(w.side*off) + w.ou(&w.wander, 0.5+1.5*lack, 6)
	w.heading += float64(0.25 * (want - w.heading)) // the helm follows the luff in about four seconds
	angle := math.Abs(geo.Diff(w.heading, w.windDeg()+w.flutter))
	kn := float64(3.6*slope(angle)) * (1 + w.ou(&w.gust, 0.06, w.gustS))
	w.kn += float64(0.25 * (kn - w.kn))
	seen := w.heading + w.ou(&w.phone, 1.5, 3)
	s := Sight{Mode: boat.CloseHauled, TWADeg: boat.Some(w.side * 45)}
	s.State = boat.State{T: boat.Time(1_800_000_000_000 + int64(w.t*1000)), HeadingDeg: boat.Some(geo.Wrap360(seen)), SpeedKn: boat.Some(w.kn)}
	if w.tacksS > 0 && w.t-w.lastTack > w.tacksS {
		if w.lastTack > 0 {
			w.side = -w.side
			w.heading = w.close()
		}
		w.lastTack = w.t
	}
	if w.t-w.lastTack < 8 {
		s.Mode, s.Turn.Phase = boat.Tacking, boat.Turning
	}
	return s
}

// slope is a small boat's speed about her best angle: it falls steeply when she is
// pinched and grows slowly when she foots.
func slope(angle float64) float64 {
	d := angle - 45
	if d < 0 {
		return math.Max(0.2, 1+float64(0.02*d)-float64(0.001*d*d))
	}
	return 1 + 0.012*math.Min(d, 25)
}
