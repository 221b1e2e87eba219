package recording

import (
	"reflect"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// fill draws a value for every field, so that a field added to the vocabulary
// is covered without a change here. Pointers are the caller's.
func fill(t *rapid.T, v reflect.Value) {
	switch x := v.Addr().Interface().(type) {
	case *boat.Reading:
		if rapid.Bool().Draw(t, "has") {
			*x = boat.Some(number(t))
		}
		return
	case *boat.Level:
		*x = rapid.SampledFrom(boat.Levels()).Draw(t, "level")
		return
	case *boat.Mode:
		*x = rapid.SampledFrom(boat.Modes()).Draw(t, "mode")
		return
	case *boat.Urgency:
		*x = rapid.SampledFrom([]boat.Urgency{boat.Praise, boat.Danger}).Draw(t, "urgency")
		return
	case *boat.Ref:
		*x = rapid.SampledFrom([]boat.Ref{"", boat.True, boat.Magnetic}).Draw(t, "ref")
		return
	case *boat.Mount:
		*x = rapid.SampledFrom([]boat.Mount{"", boat.Fixed, boat.Worn}).Draw(t, "mount")
		return
	case *boat.Size:
		*x = rapid.SampledFrom([]boat.Size{"", boat.Hair, boat.More}).Draw(t, "size")
		return
	case **boat.Time:
		if rapid.Bool().Draw(t, "has time") {
			at := boat.Time(rapid.Int64().Draw(t, "time"))
			*x = &at
		}
		return
	case **boat.Cue:
		if rapid.Bool().Draw(t, "has cue") {
			own := drawn[boat.Cue](t)
			*x = own
		}
		return
	case **boat.Plan:
		if rapid.Bool().Draw(t, "has plan") {
			*x = &boat.Plan{Name: text(t), CallTurns: rapid.Bool().Draw(t, "calls"), Steps: []boat.PlanStep{{Exercise: text(t), Lengths: number(t)}}}
		}
		return
	case **boat.Water:
		if rapid.Bool().Draw(t, "has water") {
			at := boat.LonLat{number(t), number(t)}
			*x = &boat.Water{Name: text(t), Marks: []boat.Mark{{Kind: boat.Ramp, At: at}},
				Areas: []boat.Area{{Kind: boat.Land, HeightM: boat.Some(number(t)), Porosity: number(t), Rings: [][]boat.LonLat{{at, at}}}}}
		}
		return
	case **boat.PolarTable:
		if rapid.Bool().Draw(t, "has polar") {
			*x = &boat.PolarTable{Name: text(t), TWSKn: []float64{number(t)}, TWADeg: []float64{number(t)},
				SpeedKn: [][]float64{{number(t)}}}
		}
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(t, v.Field(i))
		}
	case reflect.Int, reflect.Int64:
		v.SetInt(rapid.Int64().Draw(t, "int"))
	case reflect.Uint64:
		v.SetUint(rapid.Uint64().Draw(t, "uint"))
	case reflect.Float64:
		v.SetFloat(number(t))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, "bool"))
	case reflect.String:
		v.SetString(text(t))
	case reflect.Map:
		v.Set(reflect.ValueOf(map[string]float64{"share": number(t)}))
	default:
		t.Fatalf("the test cannot draw a %v", v.Type())
	}
}

func number(t *rapid.T) float64 {
	f := rapid.Float64().Draw(t, "number")
	if f == 0 {
		return 0 // minus zero means nothing and is written as zero
	}
	return f
}

func text(t *rapid.T) string { return rapid.String().Draw(t, "text") }

func drawn[T any](t *rapid.T) *T {
	v := new(T)
	fill(t, reflect.ValueOf(v).Elem())
	return v
}

func drawInput(t *rapid.T) boat.Input {
	in := boat.Input{
		T:      boat.Time(rapid.Int64().Draw(t, "t")),
		Kind:   rapid.SampledFrom(boat.Kinds()).Draw(t, "kind"),
		Source: text(t),
	}
	switch in.Kind {
	case boat.SampleIn:
		in.Sample = drawn[boat.Sample](t)
	case boat.WindFixIn:
		in.WindFix = drawn[boat.WindFix](t)
	case boat.SettingsIn:
		in.Settings = drawn[boat.Settings](t)
	case boat.AnswerIn:
		in.Answer = drawn[boat.Answer](t)
	case boat.ActIn:
		in.Act = drawn[boat.Act](t)
	case boat.SpokenIn:
		in.Spoken = drawn[boat.Spoken](t)
	}
	return in
}

func drawOutput(t *rapid.T) boat.Output {
	switch rapid.IntRange(0, 4).Draw(t, "which") {
	case 0:
		return boat.Output{Status: drawn[boat.Status](t)}
	case 1:
		return boat.Output{Cue: drawn[boat.Cue](t)}
	case 2:
		return boat.Output{Manoeuvre: drawn[boat.Manoeuvre](t)}
	case 3:
		return boat.Output{Exercise: drawn[boat.Exercise](t)}
	}
	return boat.Output{Note: drawn[boat.Note](t)}
}

func drawRecords(t *rapid.T) []Record {
	recs := make([]Record, rapid.IntRange(0, 20).Draw(t, "how many"))
	for i := range recs {
		if rapid.Bool().Draw(t, "input") {
			in := drawInput(t)
			recs[i].Input = &in
		} else {
			out := drawOutput(t)
			recs[i].Output = &out
		}
	}
	return recs
}
