package recording

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"

	"github.com/foxglove/mcap/go/mcap"
	"github.com/klauspost/compress/zstd"
)

// openChunk unpacks one chunk. The library would do it unasked, but slices by
// lengths it has not checked, so that a damaged file ends the program.
func (d *Reader) openChunk(data []byte) error {
	if d.chunk != nil {
		return fmt.Errorf("a chunk inside a chunk")
	}
	if !wholeChunk(data) {
		return fmt.Errorf("a chunk's lengths do not fit its %d bytes", len(data))
	}
	c, err := mcap.ParseChunk(data)
	if err != nil {
		return err
	}
	if c.UncompressedSize > maxChunk {
		return fmt.Errorf("a chunk says it unpacks to %d bytes, at most %d are accepted", c.UncompressedSize, maxChunk)
	}
	records, err := d.unpack(c)
	if err != nil {
		return err
	}
	if uint64(len(records)) != c.UncompressedSize {
		return fmt.Errorf("a chunk unpacked to %d bytes, expected %d", len(records), c.UncompressedSize)
	}
	if sum := crc32.ChecksumIEEE(records); c.UncompressedCRC != 0 && sum != c.UncompressedCRC {
		return fmt.Errorf("a chunk's checksum is %08x, expected %08x", sum, c.UncompressedCRC)
	}
	d.chunk, err = mcap.NewLexer(bytes.NewReader(records), &mcap.LexerOptions{
		SkipMagic: true, EmitChunks: true, MaxRecordSize: maxRecord,
	})
	return err
}

// unpack returns bytes the reader's own buffer does not share.
func (d *Reader) unpack(c *mcap.Chunk) ([]byte, error) {
	switch mcap.CompressionFormat(c.Compression) {
	case mcap.CompressionNone:
		return bytes.Clone(c.Records), nil
	case mcap.CompressionZSTD:
		if d.unzip == nil {
			var err error
			d.unzip, err = zstd.NewReader(nil, zstd.WithDecoderConcurrency(1), zstd.WithDecoderMaxMemory(maxChunk))
			if err != nil {
				return nil, err
			}
		}
		return d.unzip.DecodeAll(c.Records, nil)
	}
	return nil, fmt.Errorf("expected a chunk packed by zstd or not at all, got %q", c.Compression)
}

// wholeChunk checks the two lengths inside a chunk record: times, size and
// checksum take 28 bytes, then come a counted name and a counted body.
func wholeChunk(b []byte) bool {
	const fixed = 8 + 8 + 8 + 4
	if len(b) < fixed+4 {
		return false
	}
	name := uint64(binary.LittleEndian.Uint32(b[fixed:]))
	if name > 16 || uint64(len(b)) < fixed+4+name+8 {
		return false
	}
	body := binary.LittleEndian.Uint64(b[fixed+4+name:])
	return body == uint64(len(b))-(fixed+4+name+8)
}
