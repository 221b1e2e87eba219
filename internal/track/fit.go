package track

import (
	"fmt"
	"io"
	"math"

	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/untyped/mesgnum"
	"github.com/muktihari/fit/proto"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// FIT reads the record messages of a FIT file: time, position, speed and the
// stated accuracy of the position. FIT records carry no course; it is derived.
func FIT(r io.Reader) (*Log, error) {
	var a adder
	d := decoder.New(r, decoder.WithMesgListener(&a), decoder.WithBroadcastOnly())
	var err error
	for more := true; more && err == nil; {
		if more = d.Next(); more {
			_, err = d.Decode()
		}
	}
	if a.log.Points == 0 {
		if err != nil {
			return nil, fmt.Errorf("expected a FIT file: %w", err)
		}
		return nil, fmt.Errorf("expected record messages in the FIT file, found none; it may be a course or a workout")
	}
	a.log.Cut = err
	return &a.log, nil
}

// OnMesg is called by the decoder for each message.
func (a *adder) OnMesg(m proto.Message) {
	if m.Num != mesgnum.Record {
		return
	}
	rec := mesgdef.NewRecord(&m)
	var s boat.Sample
	position(&s, rec.PositionLatDegrees(), rec.PositionLongDegrees())
	speed := rec.EnhancedSpeedScaled()
	if math.IsNaN(speed) {
		speed = rec.SpeedScaled()
	}
	s.SOGKn = within(speed/geo.KnotMS, 0, maxKn)
	if acc := rec.GpsAccuracy; acc != math.MaxUint8 {
		s.AccM = boat.Some(float64(acc))
	}
	t := boat.Time(0)
	if ms := rec.Timestamp.UnixMilli(); !rec.Timestamp.IsZero() && ms > 0 {
		t = boat.Time(ms)
	}
	a.add(t, s)
}
