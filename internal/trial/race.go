package trial

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// course is what is sailed in a race.
type course int

const (
	laps    course = iota // to windward and back, now and then across
	oneTack               // one beat without a tack
)

// weather is what sets one race apart from another.
type weather struct {
	everyS     int     // between what the receiver shows
	kn         float64 // mean wind
	stepDeg    float64 // lasting shifts are of 0.5 to 1.1 times this; 0: none
	stepEveryS float64 // from one to the next, in the mean
	slowDeg    float64 // sd of the slow swing
	slowS      float64 // its correlation time
	flutterDeg float64
	pointDeg   float64 // how much lower than the boat can she is beaten; higher negative
	lopsided   float64 // how much lower on starboard tack than on port, degrees
	currentKn  float64 // sd of each part
	course     course
	level      bool // a compass and a level are on board
}

// race is a second world, by another hand than the simulator's and sharing nothing
// with it: a yacht of eight metres, sailed for hours, of which a receiver shows
// place, course and speed over the ground every so many seconds and mostly nothing
// else. She moves by rules of thumb and not by forces. All numbers are common
// practice, no source.
type race struct {
	weather
	r     *rand.Rand
	ticks int

	base                float64 // degrees; takes the lasting steps
	slow, flutter, gust wander
	breeze              wander
	stepAtS             float64
	steps               []jump
	wind, windKn        float64

	felt          float64 // where the sailor takes the wind to come from
	helm          wander
	lowDeg        float64 // how much lower than the boat can this sailor beats
	pace          float64 // share of what she could do
	side          float64
	leg           int
	legTo, turnTo float64
	aim           float64
	turning       boat.Mode

	heading, stw       float64
	eastM, northM      float64
	vE, vN             float64 // over the ground, m/s
	sE, sN             float64 // the receiver's, late and smooth
	noiseE, noiseN     wander
	currentE, currentN float64
	leewayDeg          float64
	offDeg             float64 // the compass's error
	roll               wander
}

// wander forgets itself over tauS and keeps within about sd of nought.
type wander struct{ sd, tauS, val float64 }

func (w *wander) step(r *rand.Rand) float64 {
	f := math.Exp(-1 / w.tauS)
	w.val = f*w.val + w.sd*math.Sqrt(1-f*f)*r.NormFloat64()
	return w.val
}

func newRace(seed uint64, w weather) *race {
	r := rand.New(rand.NewPCG(seed, 0x5ea))
	c := &race{
		weather: w, r: r, side: 1, base: 360 * r.Float64(),
		slow: wander{sd: w.slowDeg, tauS: w.slowS}, flutter: wander{sd: w.flutterDeg, tauS: 15},
		breeze: wander{sd: 0.25 * w.kn, tauS: 1200}, gust: wander{sd: 0.12, tauS: 40},
		helm: wander{sd: 2 + 2*r.Float64(), tauS: 40}, lowDeg: w.pointDeg + 2*r.NormFloat64(), pace: 0.85 + 0.13*r.Float64(),
		noiseE: wander{sd: 0.06, tauS: 5}, noiseN: wander{sd: 0.06, tauS: 5}, roll: wander{sd: 1.5, tauS: 1},
		currentE: w.currentKn * r.NormFloat64(), currentN: w.currentKn * r.NormFloat64(), leewayDeg: 3 + 2*r.Float64(),
		offDeg: compassOffDeg * r.NormFloat64(),
	}
	c.stepAtS = c.wait(w.stepEveryS)
	c.blow()
	c.felt, c.heading = c.wind, c.wind-60
	c.begin()
	return c
}

const compassOffDeg = 2.0 // sd of its constant error

func (c *race) wait(meanS float64) float64 { return c.second() + meanS*(0.5+c.r.ExpFloat64()/2) }

func (c *race) second() float64 { return float64(c.ticks / 10) }

// Settings are those of the yacht; her polar is the built-in one, which is not hers.
func (c *race) Settings() boat.Settings {
	return boat.Settings{LengthM: 8, Jib: true, LimitKn: boat.DefaultLimitKn}
}

// Hear does nothing: racers have no coach.
func (c *race) Hear(boat.Cue) {}

// Step lets a tenth of a second pass; she moves once a second.
func (c *race) Step() []boat.Input {
	c.ticks++
	if c.ticks%10 != 0 {
		return nil
	}
	c.blow()
	c.steer()
	c.move()
	e, n := c.sE/geo.KnotMS+c.noiseE.step(c.r), c.sN/geo.KnotMS+c.noiseN.step(c.r)
	if int(c.second())%c.everyS != 0 {
		return nil
	}
	p := geo.NewFrame(geo.Position{LatDeg: 44.1, LonDeg: -32.6}).From(c.eastM, c.northM)
	t := start + boat.Time(c.ticks)*100
	s := &boat.Sample{
		LatDeg: boat.Some(p.LatDeg).Round(1e-6), LonDeg: boat.Some(p.LonDeg).Round(1e-6),
		SOGKn: boat.Some(math.Hypot(e, n)).Round(0.1), COGDeg: boat.Some(geo.Wrap360(math.Round(geo.Deg(math.Atan2(e, n))))),
	}
	if c.level {
		s.HeadingDeg, s.HeadingRef = boat.Some(geo.Wrap360(math.Round(c.heading+c.offDeg))), boat.True
		s.HeelDeg = boat.Some(c.heel() + c.roll.step(c.r)).Round(0.1)
	}
	return []boat.Input{{T: t, Sent: t, Kind: boat.SampleIn, Source: "nmea", Sample: s}}
}

// heel grows with the square of the wind and falls off before it, starboard down
// positive.
func (c *race) heel() float64 {
	a := geo.Diff(c.heading, c.wind)
	load := math.Min(1, math.Max(0.1, (150-math.Abs(a))/90))
	return -math.Copysign(math.Min(28, 0.13*c.windKn*c.windKn*load), a)
}

func (c *race) blow() {
	if c.stepDeg > 0 && c.second() >= c.stepAtS {
		d := c.stepDeg * math.Copysign(0.5+0.6*c.r.Float64(), c.r.NormFloat64())
		c.base += d
		c.steps = append(c.steps, jump{c.second(), d})
		c.stepAtS = c.wait(c.stepEveryS)
	}
	c.wind = geo.Wrap360(c.base + c.slow.step(c.r) + c.flutter.step(c.r))
	c.windKn = math.Max(2.5, c.kn+math.Min(0.6*c.kn, c.breeze.step(c.r))) * (1 + c.gust.step(c.r))
	c.felt = geo.Wrap360(c.felt + geo.Diff(c.felt, c.wind)/8)
}

// begin enters the next leg: to windward, to leeward, and now and then across.
func (c *race) begin() {
	c.legTo, c.turnTo = c.wait(900), c.wait(240)
	switch {
	case c.leg%2 == 0 || c.course == oneTack:
		c.aim = 42 + 9*math.Exp(-(c.windKn-3)/2.5) + c.lowDeg
	case c.leg%5 == 3:
		c.aim = 75 + 35*c.r.Float64()
	default:
		c.aim = 138 + 22*(1-math.Exp(-c.windKn/6))*(0.6+0.5*c.r.Float64())
	}
}

func (c *race) steer() {
	t := c.second()
	if t >= c.legTo {
		c.leg++
		c.begin()
	}
	headed := c.aim < 60 && c.r.Float64() < 0.05 && geo.Diff(c.base, c.felt)*c.side < -9
	if c.turning == boat.Unknown && c.course != oneTack && (t >= c.turnTo || headed) {
		c.turnTo = c.wait(240)
		c.turn()
	}
	want := c.felt - c.side*(c.aim+c.lopsided*c.side/2+c.helm.step(c.r))
	off := geo.Diff(c.heading, want)
	if c.turning != boat.Unknown {
		off = c.throughWind(off)
		if math.Abs(off) < 6 {
			c.turning = boat.Unknown
		}
	}
	c.heading = geo.Wrap360(c.heading + math.Copysign(math.Min(math.Abs(off), 9), off))
}

// turn tacks on a beat and gybes before the wind; on a reach between two marks she
// holds her course.
func (c *race) turn() {
	switch {
	case c.aim > 120:
		c.turning = boat.Gybing
	case c.aim < 60:
		c.turning = boat.Tacking
	default:
		return
	}
	c.side = -c.side
}

// throughWind sends a turn of off degrees the way that takes the bow through the
// wind in a tack and the stern in a gybe.
func (c *race) throughWind(off float64) float64 {
	middle := math.Cos(geo.Rad(geo.Diff(c.wind, c.heading+off/2))) // 1: it goes through the eye
	if math.Abs(off) > 40 && (c.turning == boat.Tacking) != (middle > 0) {
		return off - math.Copysign(360, off)
	}
	return off
}

// shape is the share of her best speed by angle.
func shape(a float64) float64 {
	at := []float64{28, 38, 45, 60, 90, 110, 135, 160, 180}
	is := []float64{0, 0.55, 0.78, 0.92, 1, 1, 0.88, 0.72, 0.66}
	for i := 1; i < len(at); i++ {
		if a < at[i] {
			return math.Max(0, is[i-1]+(is[i]-is[i-1])*(a-at[i-1])/(at[i]-at[i-1]))
		}
	}
	return is[len(is)-1]
}

// raceKn is what she does at a degrees off the wind when all is right.
func raceKn(windKn, a float64) float64 { return 6.6 * (1 - math.Exp(-windKn/6.5)) * shape(a) }

func (c *race) move() {
	a := geo.Diff(c.heading, c.wind)
	goal := raceKn(c.windKn, math.Abs(a)) * c.pace
	tau := 12.0
	if goal < c.stw {
		tau = 16
	}
	c.stw += (goal - c.stw) / tau
	leeway := c.leewayDeg * math.Min(1, math.Max(0, (130-math.Abs(a))/85))
	sin, cos := math.Sincos(geo.Rad(c.heading - math.Copysign(leeway, a)))
	c.vE, c.vN = (c.stw*sin+c.currentE)*geo.KnotMS, (c.stw*cos+c.currentN)*geo.KnotMS
	c.eastM += c.vE
	c.northM += c.vN
	c.sE += (c.vE - c.sE) / 2
	c.sN += (c.vN - c.sN) / 2
}

// Truth is how things stand.
func (c *race) Truth() sim.Truth {
	a := geo.Diff(c.heading, c.wind)
	mode := boat.Reaching
	switch {
	case c.turning != boat.Unknown:
		mode = c.turning
	case math.Abs(a) < beatUnderDeg+2:
		mode = boat.CloseHauled
	case math.Abs(a) > 140:
		mode = boat.Running
	}
	return sim.Truth{
		T: start + boat.Time(c.ticks)*100, TWDDeg: c.wind, TWSKn: c.windKn, TWADeg: a, HeadingDeg: c.heading, STWKn: c.stw,
		SOGKn: math.Hypot(c.vE, c.vN) / geo.KnotMS, COGDeg: geo.Wrap360(geo.Deg(math.Atan2(c.vE, c.vN))), Mode: mode, AimDeg: c.aim,
	}
}
