package server

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"

	"helmcue/internal/phonemsg"
)

// maxShoreBody is plenty for a chart drawn by hand.
const maxShoreBody = 1 << 20

// ShoreReply is what was made of a chart: counts in words, and notes on what was
// mended or left out.
type ShoreReply struct {
	Says  string   `json:"says"`
	Notes []string `json:"notes"`
}

// serveShore checks a chart that was drawn on a page. It keeps nothing of it. A
// token of an instructor is asked for, since reading a chart costs more than a
// stranger should be able to ask for.
func (s *Server) serveShore(w http.ResponseWriter, r *http.Request) {
	token, _ := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	switch role, _, ok := s.cfg.Keys.Check(token); {
	case !ok:
		refuse(w, http.StatusUnauthorized, phonemsg.Errorf(phonemsg.BadToken, "this page is not paired: pair it as instructor, then check the chart"))
		return
	case role != phonemsg.Instructor:
		refuse(w, http.StatusForbidden, phonemsg.Errorf(phonemsg.Forbidden, "only an instructor's page may have a chart checked, this one is a %s's", role))
		return
	case s.cfg.Shore == nil:
		refuse(w, http.StatusNotFound, phonemsg.Errorf(phonemsg.BadRequest, "this service checks no charts"))
		return
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxShoreBody))
	if err != nil {
		var big *http.MaxBytesError
		if errors.As(err, &big) {
			refuse(w, http.StatusRequestEntityTooLarge, phonemsg.Errorf(phonemsg.TooBig, "expected a chart of at most %d kB, got more: draw only the water you sail", maxShoreBody>>10))
			return
		}
		refuse(w, http.StatusBadRequest, phonemsg.Errorf(phonemsg.BadRequest, "the chart did not arrive whole: send it again"))
		return
	}
	reply, err := s.cfg.Shore(bytes.NewReader(body))
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, phonemsg.Errorf(phonemsg.BadRequest, "%v", err))
		return
	}
	if reply.Notes == nil {
		reply.Notes = []string{}
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	json.NewEncoder(w).Encode(reply) //nolint:errcheck // a page that left needs no answer
}
