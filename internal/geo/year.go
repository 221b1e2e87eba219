package geo

import "time"

// Year returns a moment, milliseconds since the Unix epoch in UTC, as a decimal
// year by the real length of that year: noon of 2 July 2025 is 2025.5, and in a
// leap year the middle is a day earlier.
func Year(ms int64) float64 {
	t := time.UnixMilli(ms).UTC()
	start := time.Date(t.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	end := time.Date(t.Year()+1, 1, 1, 0, 0, 0, 0, time.UTC)
	length := end.UnixMilli() - start.UnixMilli()
	return float64(t.Year()) + float64(ms-start.UnixMilli())/float64(length)
}
