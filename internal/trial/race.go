package trial

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// race is a second world, by another hand than the simulator's and sharing nothing
// with it: a yacht of eight metres raced round a course for hours in a light wind
// that shifts by up to 45 degrees, of which a receiver shows place, course and speed
// over the ground every so many seconds and nothing else. It moves by rules of thumb
// and not by forces. All its numbers are common practice, no source.
type race struct {
	r      *rand.Rand
	everyS int
	ticks  int

	base, slow, flutter wander // degrees; base takes the lasting steps
	kn, gust            wander
	stepAtS             float64
	steps               []jump
	wind, windKn        float64

	felt          float64 // where the sailor takes the wind to come from
	helm          wander
	pointDeg      float64 // how much lower than the boat can this sailor beats
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
}

// wander forgets itself over tauS and keeps within about sd of nought.
type wander struct{ sd, tauS, val float64 }

func (w *wander) step(r *rand.Rand) float64 {
	f := math.Exp(-1 / w.tauS)
	w.val = f*w.val + w.sd*math.Sqrt(1-f*f)*r.NormFloat64()
	return w.val
}

func newRace(seed uint64, everyS int) *race {
	r := rand.New(rand.NewPCG(seed, 0x5ea))
	c := &race{
		r: r, everyS: everyS, side: 1,
		base: wander{val: 360 * r.Float64()}, slow: wander{sd: 10, tauS: 900}, flutter: wander{sd: 4, tauS: 15},
		kn: wander{sd: 1.8, tauS: 1200}, gust: wander{sd: 0.12, tauS: 40},
		helm: wander{sd: 2 + 2*r.Float64(), tauS: 40}, pointDeg: 3 * r.NormFloat64(), pace: 0.85 + 0.13*r.Float64(),
		noiseE: wander{sd: 0.06, tauS: 5}, noiseN: wander{sd: 0.06, tauS: 5},
		currentE: 0.15 * r.NormFloat64(), currentN: 0.15 * r.NormFloat64(), leewayDeg: 3 + 2*r.Float64(),
	}
	c.stepAtS = c.wait(2400)
	c.blow()
	c.felt, c.heading = c.wind, c.wind-60
	c.begin()
	return c
}

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
	return []boat.Input{{T: t, Sent: t, Kind: boat.SampleIn, Source: "nmea", Sample: &boat.Sample{
		LatDeg: boat.Some(p.LatDeg).Round(1e-6), LonDeg: boat.Some(p.LonDeg).Round(1e-6),
		SOGKn: boat.Some(math.Hypot(e, n)).Round(0.1), COGDeg: boat.Some(geo.Wrap360(math.Round(geo.Deg(math.Atan2(e, n))))),
	}}}
}

func (c *race) blow() {
	if c.second() >= c.stepAtS {
		d := math.Copysign(20+25*c.r.Float64(), c.r.NormFloat64())
		c.base.val += d
		c.steps = append(c.steps, jump{c.second(), d})
		c.stepAtS = c.wait(2400)
	}
	c.wind = geo.Wrap360(c.base.val + c.slow.step(c.r) + c.flutter.step(c.r))
	c.windKn = math.Min(10, math.Max(3, 6.5+c.kn.step(c.r))) * (1 + c.gust.step(c.r))
	c.felt = geo.Wrap360(c.felt + geo.Diff(c.felt, c.wind)/8)
}

// begin enters the next leg: to windward, to leeward, and now and then across.
func (c *race) begin() {
	c.legTo, c.turnTo = c.wait(900), c.wait(240)
	switch {
	case c.leg%2 == 0:
		c.aim = 42 + 9*math.Exp(-(c.windKn-3)/2.5) + c.pointDeg
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
	headed := c.leg%2 == 0 && c.r.Float64() < 0.05 && geo.Diff(c.base.val, c.felt)*c.side < -9
	if c.turning == boat.Unknown && (t >= c.turnTo || headed) {
		c.turnTo = c.wait(240)
		if c.aim < 60 || c.aim > 120 {
			c.side = -c.side
			c.turning = boat.Gybing
			if c.aim < 60 {
				c.turning = boat.Tacking
			}
		}
	}
	want := c.felt - c.side*(c.aim+c.helm.step(c.r))
	off := geo.Diff(c.heading, want)
	if c.turning != boat.Unknown {
		off = c.throughWind(off)
		if math.Abs(off) < 6 {
			c.turning = boat.Unknown
		}
	}
	c.heading = geo.Wrap360(c.heading + math.Copysign(math.Min(math.Abs(off), 9), off))
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

func (c *race) move() {
	a := geo.Diff(c.heading, c.wind)
	goal := 6.6 * (1 - math.Exp(-c.windKn/6.5)) * shape(math.Abs(a)) * c.pace
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
