package nmea

import (
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// sentence is one sentence being read.
type sentence struct {
	fields
	out       boat.Sample
	at        stamp
	invalid   bool         // by its own status
	variation boat.Reading // magnetic variation the source stated before
}

// reader returns how a sentence of the type is read, or nil. Field numbers are
// the standard's, counted from 0 after the address; meanings are as in the
// library's description of each sentence and its tests.
func reader(typ string) func(*sentence) {
	switch typ {
	case "RMC":
		return (*sentence).rmc
	case "VTG":
		return (*sentence).vtg
	case "GGA":
		return (*sentence).gga
	case "GLL":
		return (*sentence).gll
	case "ZDA":
		return (*sentence).zda
	case "HDG":
		return (*sentence).hdg
	case "HDT":
		return (*sentence).hdt
	case "HDM":
		return (*sentence).hdm
	case "THS":
		return (*sentence).ths
	case "VHW":
		return (*sentence).vhw
	case "MWV":
		return (*sentence).mwv
	case "MWD":
		return (*sentence).mwd
	case "VWR":
		return (*sentence).vwr
	case "VWT":
		return (*sentence).vwt
	case "XDR":
		return (*sentence).xdr
	}
	return nil
}

// need marks the sentence as not valid unless field i is one of the letters.
func (s *sentence) need(i int, letters string) {
	if t := s.text(i); len(t) != 1 || !strings.Contains(letters, t) {
		s.invalid = true
	}
}

// mode checks the mode indicator that newer sentences carry: estimated, manual
// and not valid are no measurement. S (simulator) is taken: trainers send it.
func (s *sentence) mode(i int) {
	if t := s.text(i); t == "N" || t == "E" || t == "M" {
		s.invalid = true
	}
}

func (s *sentence) speed(r boat.Reading) boat.Reading { return within(r, 0, maxKn) }

// rmc: time, status, position, speed in knots, course true, date, variation, mode.
func (s *sentence) rmc() {
	s.need(1, "A")
	s.mode(11)
	s.at = s.ddmmyy(8, s.timeOfDay(0))
	s.out.LatDeg, s.out.LonDeg = s.position(2)
	s.out.SOGKn = s.speed(s.number(6))
	s.out.COGDeg = circle(s.number(7))
	s.out.VarDeg = within(s.signed(9, "E", "W"), -180, 180)
}

// vtg: course true, magnetic, speed in knots, km/h, mode.
func (s *sentence) vtg() {
	s.mode(8)
	s.out.COGDeg = circle(s.unit(0, "T"))
	s.letter(3, "M")
	s.out.SOGKn = s.speed(first(s.unit(4, "N"), inKn(s.unit(6, "K"), "K")))
}

// gga: time, position, quality. The accuracy is not stated in metres.
func (s *sentence) gga() {
	s.need(5, "12345")
	s.at = s.timeOfDay(0)
	s.out.LatDeg, s.out.LonDeg = s.position(1)
}

// gll: position, time, status, mode.
func (s *sentence) gll() {
	s.need(5, "A")
	s.mode(6)
	s.out.LatDeg, s.out.LonDeg = s.position(0)
	s.at = s.timeOfDay(4)
}

// zda: time, day, month, year.
func (s *sentence) zda() {
	s.at = s.timeOfDay(0)
	d, m, y := s.number(1), s.number(2), s.number(3)
	if s.at.ok && d.OK && m.OK && y.OK && y.Val >= 1980 && y.Val < 3000 {
		s.at = s.withDate(s.at, int(y.Val), int(m.Val), int(d.Val))
	}
}

// hdg: compass, deviation, variation. East is added, west taken away, to come
// from the compass to magnetic and from magnetic to true.
func (s *sentence) hdg() {
	h := within(s.number(0), 0, 360)
	dev := within(s.signed(1, "E", "W"), -180, 180)
	s.out.VarDeg = within(s.signed(3, "E", "W"), -180, 180)
	if h.OK {
		s.heading(boat.Some(geo.Wrap360(h.Val+dev.Or(0))), boat.Magnetic)
	}
}

func (s *sentence) heading(r boat.Reading, ref boat.Ref) {
	if r = circle(r); r.OK {
		s.out.HeadingDeg, s.out.HeadingRef = r, ref
	}
}

func (s *sentence) hdt() { s.heading(s.unit(0, "T"), boat.True) }
func (s *sentence) hdm() { s.heading(s.unit(0, "M"), boat.Magnetic) }

func (s *sentence) ths() {
	s.need(1, "AS")
	s.heading(s.number(0), boat.True)
}

// vhw: heading true, magnetic, speed through the water in knots, km/h.
func (s *sentence) vhw() {
	t, m := s.unit(0, "T"), s.unit(2, "M")
	s.heading(m, boat.Magnetic)
	s.heading(t, boat.True) // where both are there, true stays
	s.out.WaterKn = s.speed(first(s.unit(4, "N"), inKn(s.unit(6, "K"), "K")))
}

// mwv: angle 0..360 clockwise from the bow, R relative (apparent) or T
// theoretical (true), speed, its unit, status.
func (s *sentence) mwv() {
	s.need(4, "A")
	angle := circle(s.number(0))
	kn := s.number(2)
	unit := s.letter(3, "KMNS")
	if kn.OK && unit == "" {
		s.bad = true
	}
	if angle.OK {
		angle.Val = geo.Wrap180(angle.Val)
	}
	switch s.letter(1, "RT") {
	case "R":
		s.out.AWADeg, s.out.AWSKn = angle, s.speed(inKn(kn, unit))
	case "T":
		s.out.TWADeg, s.out.TWSKn = angle, s.speed(inKn(kn, unit))
	default:
		s.bad = s.bad || angle.OK || kn.OK
	}
}

// mwd: direction true, magnetic, speed in knots, m/s. A magnetic direction alone
// is of use where the source stated its variation.
func (s *sentence) mwd() {
	t, m := circle(s.unit(0, "T")), circle(s.unit(2, "M"))
	if m.OK && s.variation.OK {
		m.Val = geo.Wrap360(m.Val + s.variation.Val)
	} else {
		m = boat.Reading{}
	}
	s.out.TWDDeg = first(t, m)
	s.out.TWSKn = s.speed(first(s.unit(4, "N"), inKn(s.unit(6, "M"), "M")))
}

// side reads angle 0..180 off the bow, L or R, and speed in knots, m/s, km/h.
func (s *sentence) side() (angle, kn boat.Reading) {
	angle = within(s.signed(0, "R", "L"), -180, 180)
	if angle.OK {
		angle.Val = geo.Wrap180(angle.Val)
	}
	return angle, s.speed(first(s.unit(2, "N"), inKn(s.unit(4, "M"), "M"), inKn(s.unit(6, "K"), "K")))
}

func (s *sentence) vwr() { s.out.AWADeg, s.out.AWSKn = s.side() }
func (s *sentence) vwt() { s.out.TWADeg, s.out.TWSKn = s.side() }

// xdr: groups of type, value, unit, name, in any number and order. Names are
// those of the standard's transducer table and of devices met; clockwise seen
// from astern, starboard side down, is positive there.
func (s *sentence) xdr() {
	if len(s.f)%4 != 0 {
		s.bad = true
		return
	}
	for i := 0; i < len(s.f); i += 4 {
		v := s.number(i + 1)
		if s.text(i) != "A" || s.text(i+2) != "D" {
			continue
		}
		switch strings.ToUpper(s.text(i + 3)) {
		case "ROLL", "HEEL", "RL":
			s.out.HeelDeg = first(s.out.HeelDeg, within(v, -180, 180))
		case "PITCH", "PTCH", "TRIM":
			s.out.PitchDeg = first(s.out.PitchDeg, within(v, -90, 90))
		}
	}
}
