package recording

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/foxglove/mcap/go/mcap"
)

// Compress copies a recording, compressed and with an index, in the same order.
// Of a torn one it copies what is whole; a damaged one it refuses.
func Compress(dst io.Writer, src io.Reader) error {
	r, err := Open(src)
	if err != nil {
		return err
	}
	mc, err := mcap.NewWriter(dst, &mcap.WriterOptions{
		IncludeCRC: true, Chunked: true, ChunkSize: 1 << 20, Compression: mcap.CompressionZSTD,
	})
	if err != nil {
		return err
	}
	if err := preamble(mc, r.header); err != nil {
		return err
	}
	if err := copyMessages(mc, r); err != nil {
		return err
	}
	return mc.Close()
}

func copyMessages(mc *mcap.Writer, r *Reader) error {
	for {
		m, err := r.message()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if m == nil {
			continue
		}
		id := uint16(inputChannel)
		if r.topics[m.ChannelID] == outputTopic {
			id = outputChannel
		}
		m.ChannelID = id
		if err := mc.WriteMessage(m); err != nil {
			return err
		}
	}
}

// Finish replaces the recording at path, closed or torn, by its compressed
// form. The file is left as it was unless all of the new one is safely on disk.
// It must not be called while a Writer has the file.
func Finish(path string) error {
	tmp := path + ".part"
	err := rewrite(tmp, path)
	if err == nil {
		err = os.Rename(tmp, path)
	}
	if err != nil {
		os.Remove(tmp) // it may not exist
		return fmt.Errorf("compressing the recording: %w; it stays as it was", err)
	}
	syncDir(filepath.Dir(path))
	return nil
}

func rewrite(tmp, path string) error {
	src, err := os.Open(path)
	if err != nil {
		return err
	}
	defer src.Close()
	dst, err := os.OpenFile(tmp, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	if err := errors.Join(Compress(dst, src), dst.Sync()); err != nil {
		dst.Close()
		return err
	}
	return dst.Close()
}

// syncDir makes a rename survive a loss of power where the system can do that.
// Where it cannot, the old or the new file is there afterwards, whole either way.
func syncDir(dir string) {
	d, err := os.Open(dir)
	if err != nil {
		return
	}
	defer d.Close()
	_ = d.Sync()
}
