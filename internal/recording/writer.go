package recording

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/foxglove/mcap/go/mcap"

	"helmcue/internal/boat"
)

// File is what a Writer needs of the file it writes; *os.File is one.
type File interface {
	io.Writer
	Sync() error
	Close() error
}

// bufferSize holds the largest message met in use, so that a message leaves in
// one write; a larger one leaves in several and is no less readable.
const bufferSize = 64 << 10

// Writer appends to one recording and owns its file.
type Writer struct {
	f      File
	buf    *bufio.Writer
	mc     *mcap.Writer
	seq    uint32
	broken error
}

// Create writes the beginning of a recording to f, an empty file, which the
// Writer owns from then on, also when Create fails.
func Create(f File, h Header) (*Writer, error) {
	w := &Writer{f: f, buf: bufio.NewWriterSize(f, bufferSize)}
	if err := w.begin(h); err != nil {
		f.Close() // the error that matters is the first
		return nil, fmt.Errorf("starting the recording: %w", err)
	}
	return w, nil
}

func (w *Writer) begin(h Header) error {
	var err error
	if w.mc, err = mcap.NewWriter(w.buf, &mcap.WriterOptions{IncludeCRC: true}); err != nil {
		return err
	}
	if err := preamble(w.mc, h); err != nil {
		return err
	}
	return w.buf.Flush()
}

// preamble writes all that stands before the first message.
func preamble(mc *mcap.Writer, h Header) error {
	meta, err := h.metadata()
	if err != nil {
		return err
	}
	if err := mc.WriteHeader(&mcap.Header{Profile: profile, Library: h.Version}); err != nil {
		return err
	}
	if err := mc.WriteMetadata(meta); err != nil {
		return err
	}
	return channels(mc)
}

func channels(mc *mcap.Writer) error {
	for _, c := range []struct {
		id           uint16
		topic, shape string
	}{{inputChannel, inputTopic, inputSchema}, {outputChannel, outputTopic, outputSchema}} {
		schema := &mcap.Schema{ID: c.id, Name: profile + "." + c.topic, Encoding: "jsonschema", Data: []byte(c.shape)}
		if err := mc.WriteSchema(schema); err != nil {
			return err
		}
		channel := &mcap.Channel{ID: c.id, SchemaID: c.id, Topic: c.topic, MessageEncoding: "json"}
		if err := mc.WriteChannel(channel); err != nil {
			return err
		}
	}
	return nil
}

// Input appends what the engine is about to be given. After a failed write
// (a full disk) every further call returns that error, and the file stays
// readable up to its last whole message; an input that cannot be written as
// JSON (an infinite number) is refused and breaks nothing.
func (w *Writer) Input(in boat.Input) error { return w.append(inputChannel, in.T, in) }

// Output appends what the engine answered; errors are as with Input.
func (w *Writer) Output(out boat.Output) error { return w.append(outputChannel, out.Time(), out) }

func (w *Writer) append(channel uint16, t boat.Time, v any) error {
	if w.broken != nil {
		return w.broken
	}
	b, err := json.Marshal(v)
	if err != nil {
		return fmt.Errorf("not recorded, it cannot be written as JSON: %w", err)
	}
	ns := nanos(t)
	m := &mcap.Message{ChannelID: channel, Sequence: w.seq, LogTime: ns, PublishTime: ns, Data: b}
	w.seq++
	if err := errors.Join(w.mc.WriteMessage(m), w.buf.Flush()); err != nil {
		// What follows a half-written message could not be found again.
		w.broken = fmt.Errorf("recording stopped, its file takes no more: %w", err)
		return w.broken
	}
	return nil
}

// nanos is t in the container's unit. The exact time is in the message; this
// one serves other tools, so a time it cannot express is moved to the nearest.
func nanos(t boat.Time) uint64 {
	switch {
	case t < 0:
		return 0
	case uint64(t) > math.MaxUint64/1_000_000:
		return math.MaxUint64
	}
	return uint64(t) * 1_000_000
}

// Sync makes what was appended survive a loss of power.
func (w *Writer) Sync() error {
	if w.broken != nil {
		return w.broken
	}
	if err := w.f.Sync(); err != nil {
		return fmt.Errorf("saving the recording: %w", err)
	}
	return nil
}

// Close writes the end and closes the file, which it does also after an error.
func (w *Writer) Close() error {
	err := w.broken
	if err == nil {
		err = errors.Join(w.mc.Close(), w.buf.Flush())
	}
	if err == nil {
		err = w.f.Sync()
	}
	if err := errors.Join(err, w.f.Close()); err != nil {
		return fmt.Errorf("closing the recording: %w", err)
	}
	return nil
}
