package force

import (
	"fmt"
	"math"
	"testing"
)

func TestTackShow(t *testing.T) {
	b := Of(4.2, true)
	for _, kn := range []float64{4, 9, 14} {
		for _, entry := range []float64{1, 0.5, 0.3, 0.15} {
			for _, rud := range []float64{0.35, 0.6} {
				w := Wind{From: 0, MS: kn * 0.5144}
				sh, at := b.Trim(0.8, w.MS, Settled{})
				s := State{Heading: -0.8, U: at.MS * entry, Boom: sh, Heel: -at.Heel, V: -at.MS * entry * at.Leeway}
				hike := at.Hike
				line := ""
				out := -1.0
				least := 9.0
				for i := range 400 {
					rudder := rud
					if s.Heading > 0.7 {
						rudder = clamp(2*(0.85-s.Heading)-1.0*s.R, -0.6, 0.6)
					}
					awa, _ := b.apparent(s, w)
					lee := -s.Heel
					if awa < 0 {
						lee = s.Heel
					}
					hike = crew(hike, lee, 0.05)
					b.Step(&s, Controls{Sheet: sh, Rudder: rudder, Hike: hike}, w, 0.05)
					if i%20 == 0 {
						line += fmt.Sprintf("%.0f/%.1f/%.0f ", s.Heading*57.3, s.U/0.5144, s.Heel*57.3)
					}
					least = math.Min(least, s.U/0.5144)
					if out < 0 && s.Heading > 0 {
						out = float64(i) * 0.05
					}
				}
				t.Logf("%2.0f kn entry %.2f rud %.2f eye %.1f least %.2f: %s", kn, entry, rud, out, least, line)
			}
		}
	}
}
