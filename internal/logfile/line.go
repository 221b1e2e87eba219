package logfile

import (
	"bufio"
	"errors"
	"io"
	"strings"
)

// maxLine is far above the largest message a page may send.
const maxLine = 1 << 20

var errLong = errors.New("line too long")

// readLine returns the next line without its end. A line beyond maxLine is read
// past, and its beginning returned with errLong. The last line may lack its
// end; io.EOF comes alone.
func readLine(r *bufio.Reader) (string, error) {
	var b strings.Builder
	for {
		part, err := r.ReadSlice('\n')
		if b.Len()+len(part) > maxLine {
			return b.String(), errors.Join(errLong, skip(r, err))
		}
		b.Write(part)
		switch {
		case err == nil, errors.Is(err, io.EOF) && b.Len() > 0:
			return strings.TrimRight(b.String(), "\r\n"), nil
		case !errors.Is(err, bufio.ErrBufferFull):
			return "", err
		}
	}
}

// skip reads to the end of the line. The end of the file is found again by the
// next call.
func skip(r *bufio.Reader, err error) error {
	for errors.Is(err, bufio.ErrBufferFull) {
		_, err = r.ReadSlice('\n')
	}
	if err == nil || errors.Is(err, io.EOF) {
		return nil
	}
	return err
}
