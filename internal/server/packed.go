package server

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"net/http"
	"strings"
)

// packed is what a file ends in that is kept compressed and asked for without.
const packed = ".gz"

// unpackedFor returns the bytes to send of a packed file: as they are to whoever
// reads gzip, as every browser does, and unpacked to the rest.
func unpackedFor(h http.Header, r *http.Request, b []byte) ([]byte, error) {
	h.Set("Vary", "Accept-Encoding")
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		h.Set("Content-Encoding", "gzip")
		return b, nil
	}
	z, err := gzip.NewReader(bytes.NewReader(b))
	if err != nil {
		return nil, fmt.Errorf("unpacking %s: %w", r.URL.Path, err)
	}
	return io.ReadAll(z)
}
