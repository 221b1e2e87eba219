package wind

import "math"

// What stands beside the direction in each cell of the joint filter (common
// practice, no source). How close this boat is sailed and by how much closer on one
// tack than on the other stay for a session; how far her helm stands off that
// wanders over a minute, so that more of the same leg is not more of the same fact.
const (
	closes = 5 // levels of her pointing angle
	leans  = 5 // levels by which port tack is sailed closer than starboard tack
	helms  = 7 // levels of the helm on this leg
	runs   = 3 // levels of her angle before the wind
	kinds  = helms + runs + 2
	free   = helms + runs // the kind of a leg that is neither
	motor  = free + 1     // and of one under engine
	cells  = closes * leans * kinds

	closeDeg, closeSD = 46.0, 5.0 // dinghies and keelboats beat at 38 to 55 degrees
	leanSD            = 4.0
	helmSD            = 4.0
	footPart          = 0.3 // of beats are sailed low, by an exponential of footDeg
	footDeg           = 8.0
	helmTauS          = 75.0
	helmNew           = 0.05 // in a quarter of a minute: she finds herself again
)

func closeLevels() [closes]float64 { return [closes]float64{39, 43, 47, 51, 56} }

func leanLevels() [leans]float64 { return [leans]float64{-8, -4, 0, 4, 8} }

func runLevels() [runs]float64 { return [runs]float64{140, 156, 172} }

func helmLevels() [helms]float64 { return [helms]float64{-6, -3, 0, 3, 7, 12, 18} }

// helmWidths is how much of the line each level of the helm stands for.
func helmWidths() [helms]float64 { return [helms]float64{3.5, 3, 3, 3.5, 4.5, 5.5, 7} }

// levels holds what follows from the tables above.
type levels struct {
	close [closes]float64
	lean  [leans]float64
	helm  [helms]float64
	run   [runs]float64

	closePrior [closes]float64
	leanPrior  [leans]float64
	helmPrior  [helms]float64
}

func newLevels() levels {
	l := levels{close: closeLevels(), lean: leanLevels(), helm: helmLevels(), run: runLevels()}
	for i, v := range l.close {
		l.closePrior[i] = bell(v, closeDeg, closeSD)
	}
	for i, v := range l.lean {
		l.leanPrior[i] = bell(v, 0, leanSD)
	}
	widths := helmWidths()
	for i, v := range l.helm {
		l.helmPrior[i] = widths[i] * helmDensity(v)
	}
	whole(l.closePrior[:])
	whole(l.leanPrior[:])
	whole(l.helmPrior[:])
	return l
}

// helmDensity is how often the helm stands so far off her best angle, lower positive.
func helmDensity(v float64) float64 {
	d := (1 - footPart) * bell(v, 0, helmSD) / (helmSD * math.Sqrt(2*math.Pi))
	if v > 0 {
		d += float64(footPart * math.Exp(-v/footDeg) / footDeg)
	}
	return d
}

// wander is how the helm goes from one level to another in some seconds: back to
// her usual angle over a minute, with as much new error as keeps helmPrior's width.
func (l *levels) wander(seconds float64) (from [helms][helms]float64) {
	keep := math.Exp(-seconds / helmTauS)
	sd := math.Max(1.5, helmSD*math.Sqrt(1-float64(keep*keep)))
	fresh := 1 - math.Pow(1-helmNew, seconds/blockS)
	widths := helmWidths()
	for i, was := range l.helm {
		for j, is := range l.helm {
			from[i][j] = widths[j] * bell(is, keep*was, sd)
		}
		whole(from[i][:])
		for j := range from[i] {
			from[i][j] = float64(from[i][j]*(1-fresh)) + float64(fresh*l.helmPrior[j])
		}
	}
	return from
}

// whole scales weights to a sum of 1.
func whole(p []float64) {
	sum := 0.0
	for _, v := range p {
		sum += v
	}
	for i := range p {
		p[i] /= sum
	}
}

// bell is a normal density with its peak at 1.
func bell(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	return math.Exp(-float64(z*z) / 2)
}
