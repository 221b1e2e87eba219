package recording

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/foxglove/mcap/go/mcap"
	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// memory is a file that can be full.
type memory struct {
	bytes.Buffer
	room   int // bytes it takes; 0: all
	closed bool
}

var errFull = errors.New("no space left")

func (m *memory) Write(b []byte) (int, error) {
	if m.room > 0 && m.Len()+len(b) > m.room {
		n, _ := m.Buffer.Write(b[:m.room-m.Len()])
		return n, errFull
	}
	return m.Buffer.Write(b)
}
func (m *memory) Sync() error  { return nil }
func (m *memory) Close() error { m.closed = true; return nil }

func add(w *Writer, r Record) error {
	if r.Input != nil {
		return w.Input(*r.Input)
	}
	return w.Output(*r.Output)
}

func write(t testing.TB, h Header, recs []Record) []byte {
	t.Helper()
	f := &memory{}
	w, err := Create(f, h)
	must(t, err)
	for _, r := range recs {
		must(t, add(w, r))
	}
	must(t, w.Close())
	if !f.closed {
		t.Fatal("Close left the file open")
	}
	return f.Bytes()
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// read returns all records and whether the end was torn; any other error fails.
func read(t testing.TB, r io.Reader) ([]Record, *Reader) {
	t.Helper()
	d, err := Open(r)
	must(t, err)
	var recs []Record
	for {
		rec, err := d.Next()
		if errors.Is(err, io.EOF) {
			return recs, d
		}
		must(t, err)
		recs = append(recs, rec)
	}
}

func same(a, b []Record) bool {
	return len(a) == len(b) && (len(a) == 0 || reflect.DeepEqual(a, b))
}

func sample(i int) Record {
	return Record{Input: &boat.Input{T: boat.Time(1_700_000_000_000 + 100*i), Kind: boat.SampleIn, Source: "phone",
		Sample: &boat.Sample{Seq: int64(i), LatDeg: boat.Some(54.1234567), LonDeg: boat.Some(-3.7654321),
			SOGKn: boat.Some(4.2 + float64(i%10)/10), COGDeg: boat.Some(211.5), HeadingDeg: boat.Some(214),
			HeadingRef: boat.Magnetic, HeelDeg: boat.Some(-12.5), PitchDeg: boat.Some(1.5), YawDps: boat.Some(0.25),
			Mount: boat.Fixed, AccM: boat.Some(3), Batt: boat.Some(0.8)}}}
}

func small() []Record {
	return []Record{
		sample(0),
		{Output: &boat.Output{Note: &boat.Note{T: 1_700_000_000_000, Code: "start", Text: "a <b> & é"}}},
		sample(1),
		{Input: &boat.Input{T: 1_700_000_000_200, Kind: boat.SpokenIn, Spoken: &boat.Spoken{ID: 1, What: "finished"}}},
	}
}

func TestRoundTripIsExact(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		h := Header{Session: text(rt), Boat: text(rt), Version: text(rt), Started: boat.Time(rapid.Int64().Draw(rt, "started"))}
		if rapid.Bool().Draw(rt, "has settings") {
			h.Settings = drawn[boat.Settings](rt)
		}
		recs := drawRecords(rt)
		plain := write(t, h, recs)
		var packed bytes.Buffer
		must(t, Compress(&packed, bytes.NewReader(plain)))
		for name, file := range map[string][]byte{"plain": plain, "compressed": packed.Bytes()} {
			got, d := read(t, bytes.NewReader(file))
			if !same(got, recs) {
				rt.Fatalf("%s: wrote %+v, read %+v", name, recs, got)
			}
			if d.Torn() {
				rt.Fatalf("%s: a closed recording reads as torn", name)
			}
			if !reflect.DeepEqual(d.Header(), h) {
				rt.Fatalf("%s: wrote header %+v, read %+v", name, h, d.Header())
			}
		}
	})
}

// A file cut at any byte opens and gives the records that were whole.
func TestTornAtEveryByte(t *testing.T) {
	recs := small()
	plain := write(t, Header{Session: "s", Boat: "Testling", Started: 7}, recs)
	var packed bytes.Buffer
	must(t, Compress(&packed, bytes.NewReader(plain)))
	for name, file := range map[string][]byte{"plain": plain, "compressed": packed.Bytes()} {
		most, footer := 0, bytes.LastIndexByte(file[:len(file)-len(mcap.Magic)-20], byte(mcap.OpFooter))
		for n := 0; n < len(file); n += cutStep {
			got, d := read(t, bytes.NewReader(file[:n]))
			if !same(got, recs[:len(got)]) {
				t.Fatalf("%s cut at %d: not a beginning of what was written: %+v", name, n, got)
			}
			if len(got) < most {
				t.Fatalf("%s cut at %d: %d records, a shorter file gave %d", name, n, len(got), most)
			}
			most = len(got)
			if n < footer && !d.Torn() {
				t.Fatalf("%s cut at %d of %d: not called torn", name, n, len(file))
			}
		}
		if cutStep == 1 && most != len(recs) {
			t.Fatalf("%s: the longest cut gave %d of %d records", name, most, len(recs))
		}
	}
}

// Each message is in the file when the call returns, before any Close.
func TestWholeMessagesBeforeClose(t *testing.T) {
	f := &memory{}
	w, err := Create(f, Header{})
	must(t, err)
	for i, r := range small() {
		must(t, add(w, r))
		got, d := read(t, bytes.NewReader(f.Bytes()))
		if len(got) != i+1 || !d.Torn() {
			t.Fatalf("after message %d the file gives %d, torn %v", i+1, len(got), d.Torn())
		}
	}
}

// After a loss of power the end may be zeros; that is a cut, other bytes are damage.
func TestEndOfZerosIsTorn(t *testing.T) {
	f := &memory{}
	w, err := Create(f, Header{})
	must(t, err)
	must(t, add(w, sample(0)))
	for _, n := range []int{1, 8, 9, 10, 4096} {
		got, d := read(t, io.MultiReader(bytes.NewReader(f.Bytes()), bytes.NewReader(make([]byte, n))))
		if len(got) != 1 || !d.Torn() {
			t.Errorf("%d zeros: %d records, torn %v", n, len(got), d.Torn())
		}
	}
	tail := append(make([]byte, 20), "not zeros"...)
	d, err := Open(io.MultiReader(bytes.NewReader(f.Bytes()), bytes.NewReader(tail)))
	must(t, err)
	_, err = d.Next()
	must(t, err)
	if _, err = d.Next(); !errors.Is(err, ErrDamaged) {
		t.Errorf("zeros and then other bytes: want ErrDamaged, got %v", err)
	}
}

func TestDamageIsNotACut(t *testing.T) {
	plain := write(t, Header{Boat: "Testling"}, small())
	var packed bytes.Buffer
	must(t, Compress(&packed, bytes.NewReader(plain)))
	chunk := bytes.Index(packed.Bytes(), []byte("zstd"))
	bad := bytes.Clone(packed.Bytes())
	bad[chunk+40] ^= 0x55
	d, err := Open(bytes.NewReader(bad))
	must(t, err)
	if _, err = d.Next(); !errors.Is(err, ErrDamaged) {
		t.Fatalf("a flipped bit in a chunk: want ErrDamaged, got %v", err)
	}
	if _, again := d.Next(); again != err {
		t.Fatalf("the second call said %v", again)
	}
	if d.Torn() {
		t.Fatal("damage is called torn")
	}
}

// An entry this program cannot read costs that entry alone.
func TestUnreadableEntryIsPassed(t *testing.T) {
	plain := write(t, Header{}, small())
	plain = bytes.Replace(plain, []byte(`"kind":"sample"`), []byte(`"kind":"trifle"`), 1)
	d, err := Open(bytes.NewReader(plain))
	must(t, err)
	var entry *EntryError
	if _, err = d.Next(); !errors.As(err, &entry) || entry.N != 1 {
		t.Fatalf("want an EntryError about entry 1, got %v", err)
	}
	for i := range 3 {
		if _, err := d.Next(); err != nil {
			t.Fatalf("entry %d after the bad one: %v", i+2, err)
		}
	}
	if _, err := d.Next(); err != io.EOF || d.Torn() {
		t.Fatalf("want a clean end, got %v, torn %v", err, d.Torn())
	}
}

func TestOpenRefuses(t *testing.T) {
	var other bytes.Buffer
	mc, err := mcap.NewWriter(&other, &mcap.WriterOptions{})
	must(t, err)
	must(t, mc.WriteHeader(&mcap.Header{Profile: "another"}))
	must(t, mc.Close())
	plain := write(t, Header{}, small())
	newer := bytes.Replace(plain, []byte("\x04\x00\x00\x00form\x01\x00\x00\x001"), []byte("\x04\x00\x00\x00form\x01\x00\x00\x009"), 1)
	if bytes.Equal(newer, plain) {
		t.Fatal("the test did not find the form number")
	}
	cases := map[string]struct {
		file []byte
		want error
		says string
	}{
		"text":    {[]byte("$GPRMC,and so on"), ErrForeign, "expected an MCAP file"},
		"another": {other.Bytes(), ErrForeign, `got "another"`},
		"newer":   {newer, ErrForeign, "use a newer one"},
	}
	for name, c := range cases {
		_, err := Open(bytes.NewReader(c.file))
		if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: want %v with %q, got %v", name, c.want, c.says, err)
		}
	}
}

func TestUnknownChannelsArePassedOver(t *testing.T) {
	var f bytes.Buffer
	mc, err := mcap.NewWriter(&f, &mcap.WriterOptions{})
	must(t, err)
	must(t, preamble(mc, Header{}))
	must(t, mc.WriteChannel(&mcap.Channel{ID: 9, Topic: "later", MessageEncoding: "json"}))
	must(t, mc.WriteMessage(&mcap.Message{ChannelID: 9, Data: []byte("{}")}))
	b, _ := json.Marshal(small()[0].Input)
	must(t, mc.WriteMessage(&mcap.Message{ChannelID: inputChannel, Data: b}))
	must(t, mc.Close())
	got, _ := read(t, &f)
	if !same(got, small()[:1]) {
		t.Fatalf("got %+v", got)
	}
}

func TestFinishReplacesTheFileOrLeavesIt(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "session.mcap")
	var recs []Record
	for i := range 5000 {
		recs = append(recs, sample(i))
	}
	plain := write(t, Header{Boat: "Testling"}, recs)
	must(t, os.WriteFile(path, plain, 0o600))
	must(t, Finish(path))
	packed, err := os.ReadFile(path)
	must(t, err)
	if got, d := read(t, bytes.NewReader(packed)); !same(got, recs) || d.Torn() {
		t.Fatalf("%d of %d records, torn %v", len(got), len(recs), d.Torn())
	}
	if len(packed)*4 > len(plain) {
		t.Errorf("compressed %d bytes to %d, expected a quarter at most", len(plain), len(packed))
	}
	bad := bytes.Clone(packed)
	bad[bytes.Index(bad, []byte("zstd"))+40] ^= 0x10
	must(t, os.WriteFile(path, bad, 0o600))
	if err := Finish(path); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "stays as it was") {
		t.Fatalf("finishing a damaged file: %v", err)
	}
	if left, _ := os.ReadFile(path); !bytes.Equal(left, bad) {
		t.Fatal("the damaged file was changed")
	}
	names, _ := os.ReadDir(dir)
	if len(names) != 1 {
		t.Fatalf("files left behind: %v", names)
	}
}

func TestTimesTheContainerCannotExpress(t *testing.T) {
	for at, want := range map[boat.Time]uint64{-5: 0, 0: 0, 3: 3_000_000, 1 << 62: 1<<64 - 1} {
		if got := nanos(at); got != want {
			t.Errorf("nanos(%d) = %d, want %d", at, got, want)
		}
	}
}

func FuzzReader(f *testing.F) {
	plain := write(f, Header{Boat: "Testling", Settings: &boat.Settings{}}, small())
	var packed bytes.Buffer
	must(f, Compress(&packed, bytes.NewReader(plain)))
	f.Add(plain)
	f.Add(packed.Bytes())
	f.Add(plain[:len(plain)/2])
	f.Fuzz(func(t *testing.T, file []byte) {
		d, err := Open(bytes.NewReader(file))
		if err != nil {
			if !errors.Is(err, ErrForeign) && !errors.Is(err, ErrDamaged) {
				t.Fatalf("an error of no kind: %v", err)
			}
			return
		}
		for {
			rec, err := d.Next()
			var entry *EntryError
			if errors.As(err, &entry) {
				continue
			}
			if err != nil {
				if !errors.Is(err, io.EOF) && !errors.Is(err, ErrDamaged) {
					t.Fatalf("an error of no kind: %v", err)
				}
				return
			}
			if (rec.Input == nil) == (rec.Output == nil) {
				t.Fatalf("a record with both or neither: %+v", rec)
			}
		}
	})
}
