package recording

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/foxglove/mcap/go/mcap"
	"github.com/klauspost/compress/zstd"

	"helmcue/internal/boat"
)

// Limits on what one record may claim, far above what the writer makes, so
// that a damaged length cannot ask for all memory.
const (
	maxRecord = 16 << 20
	maxChunk  = 64 << 20
)

// Record is one entry; exactly one pointer is set.
type Record struct {
	Input  *boat.Input
	Output *boat.Output
}

// Reader returns the entries of one recording in the order they were written.
type Reader struct {
	src    *bufio.Reader
	file   *mcap.Lexer // the file's records; chunks come out whole
	chunk  *mcap.Lexer // the records of the present chunk, nil outside one
	unzip  *zstd.Decoder
	buf    []byte
	topics map[uint16]string
	header Header
	named  bool // the metadata was read
	read   int
	ended  bool // the footer was read
	torn   bool
	held   *mcap.Message // the first message, where no metadata came before it
	err    error         // returned for ever once set
}

// Open reads the beginning of a recording. A file cut off before its header is
// whole opens too: it is torn, and empty. Errors wrap ErrForeign or ErrDamaged.
func Open(r io.Reader) (*Reader, error) {
	d := &Reader{src: bufio.NewReaderSize(r, 16<<10), topics: map[uint16]string{}}
	start, err := d.src.Peek(len(mcap.Magic))
	if err != nil && bytes.HasPrefix(mcap.Magic, start) && errors.Is(err, io.EOF) {
		d.torn, d.err = true, io.EOF
		return d, nil
	}
	if d.file, err = mcap.NewLexer(d.src, &mcap.LexerOptions{EmitChunks: true, MaxRecordSize: maxRecord}); err != nil {
		return nil, fmt.Errorf("%w: expected an MCAP file, got one that begins with %q", ErrForeign, start)
	}
	for d.held == nil && d.err == nil && !d.named {
		d.held, err = d.message()
		if err != nil && !errors.Is(err, io.EOF) {
			return nil, err
		}
	}
	if d.held != nil {
		return nil, fmt.Errorf("%w: its first message comes before its header", ErrForeign)
	}
	return d, nil
}

// Header returns what was known when the session started; it is empty where the
// recording is cut off before it.
func (d *Reader) Header() Header { return d.header }

// Torn reports, once Next returned io.EOF, that the recording was cut off: the
// machine or the program stopped before it was closed.
func (d *Reader) Torn() bool { return d.torn }

// Next returns the next entry. It returns io.EOF at the end, torn or not, and
// an error wrapping ErrDamaged for ever where the container is damaged. An entry
// that is whole and cannot be understood gives an *EntryError, after which the
// caller may go on.
func (d *Reader) Next() (Record, error) {
	m, err := d.message()
	for err == nil && m == nil {
		m, err = d.message()
	}
	if err != nil {
		return Record{}, err
	}
	d.read++
	var rec Record
	if d.topics[m.ChannelID] == inputTopic {
		rec.Input = new(boat.Input)
		err = json.Unmarshal(m.Data, rec.Input)
	} else {
		rec.Output = new(boat.Output)
		err = json.Unmarshal(m.Data, rec.Output)
	}
	if err != nil {
		return Record{}, &EntryError{N: d.read, Err: err}
	}
	return rec, nil
}

// EntryError is about one entry that could not be understood.
type EntryError struct {
	N   int // which entry, counted from 1
	Err error
}

func (e *EntryError) Error() string {
	return fmt.Sprintf("entry %d of the recording was left out: %v", e.N, e.Err)
}

func (e *EntryError) Unwrap() error { return e.Err }

// message takes one record from the container and returns the message in it,
// or nil where it was something else. Its error is kept.
func (d *Reader) message() (*mcap.Message, error) {
	if d.err != nil {
		return nil, d.err
	}
	m, err := d.token()
	if err != nil {
		d.err = err
	}
	return m, err
}

func (d *Reader) token() (*mcap.Message, error) {
	lex := d.file
	if d.chunk != nil {
		lex = d.chunk
	}
	kind, data, err := lex.Next(d.buf)
	if err != nil {
		if d.chunk != nil && errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
			d.chunk = nil
			return nil, nil
		}
		return nil, d.end(err)
	}
	if cap(data) > cap(d.buf) {
		d.buf = data
	}
	m, err := d.take(kind, data)
	if err != nil && !errors.Is(err, ErrForeign) && !errors.Is(err, ErrDamaged) {
		err = d.damaged(err)
	}
	return m, err
}

func (d *Reader) take(kind mcap.TokenType, data []byte) (*mcap.Message, error) {
	switch kind {
	case mcap.TokenHeader:
		h, err := mcap.ParseHeader(data)
		if err == nil && h.Profile != profile {
			err = fmt.Errorf("%w: expected an MCAP file of profile %q, got %q", ErrForeign, profile, h.Profile)
		}
		return nil, err
	case mcap.TokenMetadata:
		m, err := mcap.ParseMetadata(data)
		if err != nil || m.Name != metadataName || d.named {
			return nil, err
		}
		d.named = true
		return nil, d.header.fromMetadata(m.Metadata)
	case mcap.TokenChannel:
		c, err := mcap.ParseChannel(data)
		if err == nil {
			d.topics[c.ID] = c.Topic
		}
		return nil, err
	case mcap.TokenMessage:
		m, err := mcap.ParseMessage(data)
		if err != nil {
			return nil, err
		}
		if t := d.topics[m.ChannelID]; t != inputTopic && t != outputTopic {
			return nil, nil
		}
		return m, nil
	case mcap.TokenChunk:
		return nil, d.openChunk(data)
	case mcap.TokenFooter:
		d.ended = true
	}
	return nil, nil
}

// end tells the ways apart in which the bytes can run out.
func (d *Reader) end(err error) error {
	inside := d.chunk != nil
	switch {
	case inside:
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		d.torn = !d.ended
		return io.EOF
	case errors.Is(err, mcap.ErrInvalidZeroOpcode) && d.onlyZeros():
		// After a loss of power a file system may show the length but not the bytes.
		d.torn = true
		return io.EOF
	}
	return d.damaged(err)
}

func (d *Reader) onlyZeros() bool {
	for {
		b, err := d.src.ReadByte()
		if err != nil {
			return errors.Is(err, io.EOF)
		}
		if b != 0 {
			return false
		}
	}
}

func (d *Reader) damaged(err error) error {
	return fmt.Errorf("%w after entry %d, which is the last that can be used: %v", ErrDamaged, d.read, err)
}
