package nmea

import (
	"strconv"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// fields reads a sentence's fields. The library gives 0 for an empty number and
// takes NaN, so numbers come from the raw text here. The first thing wrong is
// kept in bad, and reading goes on; a field past the end is empty.
type fields struct {
	f   []string
	bad bool
}

func (f *fields) text(i int) string {
	if i >= len(f.f) {
		return ""
	}
	return strings.TrimSpace(f.f[i])
}

// number takes digits with at most a sign and a point, as the standard writes them.
func (f *fields) number(i int) boat.Reading {
	s := f.text(i)
	if s == "" {
		return boat.Reading{}
	}
	if strings.Trim(s, "+-.0123456789") != "" || len(s) > 20 {
		f.bad = true
		return boat.Reading{}
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		f.bad = true
		return boat.Reading{}
	}
	return boat.Some(v)
}

// letter returns the field where it is one of those allowed or empty; another
// one means that the fields are shifted.
func (f *fields) letter(i int, allowed string) string {
	s := f.text(i)
	if s != "" && (len(s) != 1 || !strings.Contains(allowed, s)) {
		f.bad = true
	}
	return s
}

// unit returns the number at i, whose letter must stand in the field after it.
func (f *fields) unit(i int, letter string) boat.Reading {
	r := f.number(i)
	if f.letter(i+1, letter) == "" && r.OK {
		f.bad = true
	}
	return r
}

// signed returns the number at i, negative where the letter after it says minus.
// A number without its letter has no known sign.
func (f *fields) signed(i int, plus, minus string) boat.Reading {
	r := f.number(i)
	switch f.letter(i+1, plus+minus) {
	case "":
		if r.OK && r.Val != 0 {
			f.bad = true
		}
	case minus:
		r.Val = -r.Val
	}
	return r
}

// within makes a reading absent that is out of range.
func within(r boat.Reading, lo, hi float64) boat.Reading {
	if r.Val < lo || r.Val > hi {
		return boat.Reading{}
	}
	return r
}

// circle turns a direction of 0..360 into 0 <= d < 360.
func circle(r boat.Reading) boat.Reading {
	if r = within(r, 0, 360); r.OK {
		r.Val = geo.Wrap360(r.Val)
	}
	return r
}

// maxKn is beyond any wind measured at the surface and any boat (about 220 and
// 275 knots, from memory).
const maxKn = 250

// inKn turns a speed into knots by the letter of its unit.
func inKn(r boat.Reading, unit string) boat.Reading {
	if !r.OK {
		return r
	}
	switch unit {
	case "K":
		return boat.Some(r.Val / 1.852)
	case "M":
		return boat.Some(r.Val / geo.KnotMS)
	case "S": // statute miles an hour; the international mile is 1609.344 m
		return boat.Some(r.Val * 1.609344 / 1.852)
	}
	return r
}

// first returns the first reading that is there.
func first(rs ...boat.Reading) boat.Reading {
	for _, r := range rs {
		if r.OK {
			return r
		}
	}
	return boat.Reading{}
}

// position reads four fields: ddmm.mmm, N or S, dddmm.mmm, E or W. Half a
// position is none, and a wrong letter or 60 minutes is a malformed field.
func (f *fields) position(i int) (lat, lon boat.Reading) {
	lat = f.degMin(i, "N", "S", 90)
	lon = f.degMin(i+2, "E", "W", 180)
	if !lat.OK || !lon.OK {
		return boat.Reading{}, boat.Reading{}
	}
	return lat, lon
}

func (f *fields) degMin(i int, plus, minus string, most float64) boat.Reading {
	s := f.text(i)
	side := f.letter(i+1, plus+minus)
	if s == "" {
		return boat.Reading{}
	}
	whole, _, _ := strings.Cut(s, ".")
	if side == "" || len(whole) < 3 || strings.Trim(s, ".0123456789") != "" {
		f.bad = true
		return boat.Reading{}
	}
	deg, err1 := strconv.ParseFloat(whole[:len(whole)-2], 64)
	mins, err2 := strconv.ParseFloat(s[len(whole)-2:], 64)
	v := deg + mins/60
	if err1 != nil || err2 != nil || mins >= 60 || v > most {
		f.bad = true
		return boat.Reading{}
	}
	if side == minus {
		v = -v
	}
	return boat.Some(v)
}
