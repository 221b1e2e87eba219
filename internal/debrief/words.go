package debrief

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"helmcue/internal/boat"
)

// clock writes the time since the start as m:ss or h:mm:ss.
func clock(t, start boat.Time) string {
	s := int64(t.Seconds(start))
	sign := ""
	if s < 0 {
		s, sign = -s, "-"
	}
	if s < 3600 {
		return fmt.Sprintf("%s%d:%02d", sign, s/60, s%60)
	}
	return fmt.Sprintf("%s%d:%02d:%02d", sign, s/3600, s/60%60, s%60)
}

// spell writes how long something took, as one would say it.
func spell(seconds float64) string {
	s := int64(math.Round(seconds))
	switch {
	case s < 60:
		return fmt.Sprintf("%d s", s)
	case s < 600 && s%60 != 0:
		return fmt.Sprintf("%d min %d s", s/60, s%60)
	case s < 3600:
		return fmt.Sprintf("%d min", (s+30)/60)
	}
	m := (s + 30) / 60
	return fmt.Sprintf("%d h %d min", m/60, m%60)
}

// five rounds a wind direction to what it deserves: 5 degrees, 000 to 355.
func five(deg float64) string {
	return fmt.Sprintf("%03d°", int(math.Round(deg/5))*5%360)
}

// metres rounds as the number deserves: to 10 from 100 on, to 5 below.
func metres(m float64) string {
	step := 5.0
	if m >= 100 {
		step = 10
	}
	return fmt.Sprintf("%.0f m", math.Round(m/step)*step)
}

// lengths writes a loss in lengths, to a tenth below ten. A gain reads as one.
func lengths(n float64) string {
	if n < 0 {
		return lengths(-n) + " won"
	}
	if n >= 9.95 {
		return fmt.Sprintf("%.0f lengths", n)
	}
	if s := fmt.Sprintf("%.1f", n); s != "1.0" {
		return s + " lengths"
	}
	return "1 length"
}

// whole writes a sum of losses in whole lengths.
func whole(n float64) string { return count(int(math.Round(math.Min(n, 1e9))), "length", "lengths") }

// little writes a loss that may be none: a tack that won is not boasted of.
func little(n float64) string {
	if n < 0.05 {
		return "none"
	}
	return lengths(n)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// of writes "n of m" with the noun that follows m.
func of(n, m int, one, many string) string {
	return fmt.Sprintf("%d of %s", n, count(m, one, many))
}

// plain takes out of a text from outside what no page can show: control
// characters and bytes that are no letters.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == 0xfffe || r == 0xffff {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}
