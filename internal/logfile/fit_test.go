package logfile

import (
	"bytes"
	"testing"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
)

func TestFITIsToldFromContent(t *testing.T) {
	act := filedef.NewActivity()
	at := time.Date(2026, 5, 3, 12, 0, 0, 0, time.UTC)
	act.FileId.SetType(typedef.FileActivity).SetTimeCreated(at)
	act.Records = append(act.Records, mesgdef.NewRecord(nil).SetTimestamp(at).SetPositionLatDegrees(54).SetPositionLongDegrees(10))
	file := act.ToFIT(nil)
	var b bytes.Buffer
	if err := encoder.New(&b).Encode(&file); err != nil {
		t.Fatal(err)
	}
	l, err := Open(&b, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := all(t, l); l.Form() != FIT || len(got) != 1 || int64(got[0].T) != at.UnixMilli() {
		t.Errorf("%v: %+v", l.Form(), got)
	}
	if l.Torn() {
		t.Error("a whole file is called torn")
	}
}
