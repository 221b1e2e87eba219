package sim

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// phone is what lies fixed in the boat: a compass with errors of its own, a gyro,
// and a receiver that smooths over a second and is a second or two late.
type phone struct {
	seq        int64
	offDeg     float64 // compass error, constant
	swayDeg    float64 // and its first harmonic of the heading
	swayAt     float64
	quadAt     float64 // where its second harmonic begins
	tiltDeg    float64 // mount, added to heel
	gyroDps    float64 // gyro bias
	lagS       float64
	wavePhase  float64
	waveDeg    float64
	compass    noise
	east       noise
	north      noise
	speed      noise
	course     noise
	acc        noise
	past       [40]moment // of the last four seconds, by step
	of         Phone
	sway       noise // worn: the body's own turning and leaning
	lean       noise
	turned     float64 // the body, at the last step
	dueAt      float64 // next sample
	silentTill float64
	batt       float64
	lastFixSec int64
}

type moment struct{ eastM, northM, eastMS, northMS float64 }

func newPhone(r *rand.Rand, c Conditions) phone {
	off, harmonic, tilt := or(c.Phone.CompassDeg, 3), or(c.Phone.HarmonicDeg, 3), or(c.Phone.TiltDeg, 2)
	p := phone{
		of: c.Phone, sway: noise{sd: 18, tauS: 20}, lean: noise{sd: 8, tauS: 10},
		offDeg: between(r, -off, off), swayDeg: between(r, harmonic/6, harmonic), swayAt: between(r, 0, 360),
		tiltDeg: between(r, -tilt, tilt), gyroDps: between(r, -0.2, 0.2), lagS: between(r, 1, 1.8),
		wavePhase: between(r, 0, 6), waveDeg: 0.25 * math.Sqrt(c.Wind.Kn) * or(c.Water.Rough, 1),
		compass: noise{sd: 1, tauS: 0.6}, east: settled(r, 2, 60), north: settled(r, 2, 60),
		speed: noise{sd: 0.08, tauS: 4}, course: noise{sd: 0.08, tauS: 4}, acc: settled(r, 0.8, 30),
		batt: between(r, 0.6, 0.95), lastFixSec: -1,
	}
	p.lagS = or(c.Phone.LagS, p.lagS)
	if c.Phone.QuadDeg != 0 { // drawn only where asked for: other phones keep their chances
		p.quadAt = between(r, 0, 180)
	}
	return p
}

// deviation is how far the compass is off with the bow so and such a heel, degrees: a
// constant, the harmonics of hard and soft iron, and the heeling error, which goes
// with the cosine of the heading (the form of the deviation of a magnetic compass,
// any manual of compass adjustment; from memory).
func (p *phone) deviation(bow, varDeg, heelDeg float64) float64 {
	hard := float64(p.swayDeg * math.Sin(geo.Rad(bow-p.swayAt)))
	soft := float64(p.of.QuadDeg * math.Sin(2*geo.Rad(bow-p.quadAt)))
	return p.offDeg + hard + soft + float64(p.of.HeelErr*heelDeg*math.Cos(geo.Rad(bow-varDeg)))
}

// step makes the sample at t seconds. Readings are rounded as a phone's are, and
// the receiver's are there only when it made new ones, once a second.
func (p *phone) step(s *Sim, t float64) *boat.Sample {
	h := &s.hull
	p.past[p.seq%int64(len(p.past))] = moment{h.eastM, h.northM, h.eastMS, h.northMS}
	p.seq++
	wave := p.waveDeg * math.Sin(2*math.Pi*t/2.3+p.wavePhase)
	roll := p.waveDeg * 1.2 * math.Sin(2*math.Pi*t/2.9+2*p.wavePhase)
	swing := p.waveDeg * 0.6 * math.Sin(2*math.Pi*t/3.1)
	swingDps := p.waveDeg * 0.6 * 2 * math.Pi / 3.1 * math.Cos(2*math.Pi*t/3.1)
	bow := h.headingDeg + swing
	shown := bow - s.varDeg + p.deviation(bow, s.varDeg, h.heelDeg) + p.compass.step(s.chance.phone, stepS)
	sway, lean := p.sway.step(s.chance.phone, stepS), p.lean.step(s.chance.phone, stepS)
	tilt := p.tiltDeg
	if s.with.mount() == boat.Worn { // who turns round bends, too
		shown, tilt = shown+sway, tilt+lean
		wave += 0.35 * sway
		swingDps += (sway - p.turned) / stepS
		p.turned = sway
	}
	out := &boat.Sample{
		Seq:        p.seq,
		HeadingDeg: boat.Some(geo.Wrap360(shown)).Round(0.1), HeadingRef: boat.Magnetic,
		HeelDeg:  boat.Some(h.heelDeg + roll + tilt + 0.4*s.chance.phone.NormFloat64()).Round(0.1),
		PitchDeg: boat.Some(wave + 0.4*s.chance.phone.NormFloat64()).Round(0.1),
		YawDps:   boat.Some(h.yawDps + swingDps + p.gyroDps + 0.5*s.chance.phone.NormFloat64()).Round(0.1),
		Mount:    s.with.mount(),
		Batt:     boat.Some(math.Max(0.05, p.batt-t/36000)).Round(0.01),
	}
	if out.HeadingDeg.Val >= 360 { // 359.97 rounds up
		out.HeadingDeg.Val = 0
	}
	if p.of.NoGyro {
		out.YawDps = boat.Reading{}
	}
	if p.of.NoCompass {
		*out = boat.Sample{Seq: out.Seq, Mount: out.Mount, Batt: out.Batt}
	}
	p.receive(s, t, out)
	return p.sends(s.chance.phone, t, out)
}

// sends lets a sample out when one is due and the phone is not silent.
func (p *phone) sends(r *rand.Rand, t float64, out *boat.Sample) *boat.Sample {
	if t < p.silentTill || t < p.dueAt-stepS/2 {
		return nil
	}
	p.dueAt = math.Max(p.dueAt+p.of.EveryS, t)
	if p.of.DropsPerH > 0 && r.Float64() < p.of.DropsPerH/3600*math.Max(stepS, p.of.EveryS) {
		p.silentTill = t + p.of.DropS
	}
	return out
}

// receive adds the receiver's readings when a second is full. The velocity is the
// mean of about a second, as late as the receiver is; a course is given only
// while she moves.
func (p *phone) receive(s *Sim, t float64, out *boat.Sample) {
	e, n := p.east.step(s.chance.phone, stepS), p.north.step(s.chance.phone, stepS)
	de, dn := p.speed.step(s.chance.phone, stepS), p.course.step(s.chance.phone, stepS)
	acc := 4 + p.acc.step(s.chance.phone, stepS)
	sec := int64(t)
	if sec == p.lastFixSec || p.of.EveryS > 0 && t < p.dueAt-stepS/2 {
		return
	}
	p.lastFixSec = sec
	mid, vel := p.late()
	at := place(s.origin, mid.eastM+e, mid.northM+n)
	out.LatDeg, out.LonDeg = boat.Some(at.LatDeg).Round(1e-7), boat.Some(at.LonDeg).Round(1e-7)
	out.AccM = boat.Some(math.Max(2, acc)).Round(0.1)
	ve, vn := vel.eastMS/geo.KnotMS+de, vel.northMS/geo.KnotMS+dn
	sog := math.Hypot(ve, vn)
	out.SOGKn = boat.Some(sog).Round(0.01)
	if sog > 0.4 {
		out.COGDeg = boat.Some(geo.Wrap360(math.Round(geo.Deg(math.Atan2(ve, vn))*10) / 10))
	}
}

// late is the moment lagS ago and the mean velocity of the second around it.
func (p *phone) late() (at, vel moment) {
	n := int64(len(p.past))
	back := int64(math.Round(p.lagS / stepS))
	get := func(k int64) moment { return p.past[max(p.seq-1-k, 0)%n] }
	const half = 5
	for k := back - half; k <= back+half; k++ {
		m := get(k)
		vel.eastMS += m.eastMS / (2*half + 1)
		vel.northMS += m.northMS / (2*half + 1)
	}
	return get(back), vel
}
