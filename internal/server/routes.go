package server

import (
	"encoding/json"
	"errors"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"go.uber.org/zap"

	"helmcue/internal/phonemsg"
)

// maxPairBody is plenty for a code and a boat's name.
const maxPairBody = 4 << 10

// Handler returns everything the pages need. Serve it over TLS: without it
// phones give neither position nor motion.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /link", s.serveLink)
	mux.HandleFunc("POST /pair", s.servePair)
	mux.HandleFunc("GET /status.json", s.serveStatus)
	mux.HandleFunc("GET /plan.json", s.servePlan)
	mux.HandleFunc("POST /shore.json", s.serveShore)
	mux.HandleFunc("GET /root.crt", s.serveRootDER)
	mux.HandleFunc("GET /root.pem", s.serveRootPEM)
	if s.cfg.Clips != nil {
		mux.Handle("GET /voices/", http.StripPrefix("/voices", files{root: s.cfg.Clips, keep: true}))
	}
	mux.HandleFunc("GET /offline.js", s.serveOffline)
	mux.Handle("GET /", files{root: s.cfg.Pages, pages: true})
	return s.guarded(mux)
}

// Plain returns what is served without TLS: how to trust this machine, and the
// way to the real pages for everything else.
func (s *Server) Plain() http.Handler {
	mux := http.NewServeMux()
	pages := files{root: s.cfg.Pages, pages: true}
	mux.HandleFunc("GET /root.crt", s.serveRootDER)
	mux.HandleFunc("GET /root.pem", s.serveRootPEM)
	mux.Handle("GET /install", pages)
	mux.Handle("GET /install/", pages)
	mux.HandleFunc("GET /", func(w http.ResponseWriter, r *http.Request) {
		if pages.isAsset(r.URL.Path) {
			pages.ServeHTTP(w, r)
			return
		}
		s.redirect(w, r)
	})
	return s.guarded(mux)
}

func (s *Server) redirect(w http.ResponseWriter, r *http.Request) {
	host := r.Host
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	host = strings.Trim(host, "[]")
	if s.cfg.TLSPort != 443 {
		host = net.JoinHostPort(host, strconv.Itoa(s.cfg.TLSPort))
	} else if strings.Contains(host, ":") {
		host = "[" + host + "]"
	}
	u := url.URL{Scheme: "https", Host: host, Path: r.URL.Path}
	// Not permanent: browsers remember 301 and 308 for ever, and the port may change.
	http.Redirect(w, r, u.String(), http.StatusTemporaryRedirect)
}

func (s *Server) serveRootDER(w http.ResponseWriter, r *http.Request) {
	s.serveRoot(w, s.cfg.RootDER, "application/x-x509-ca-cert")
}

func (s *Server) serveRootPEM(w http.ResponseWriter, r *http.Request) {
	s.serveRoot(w, s.cfg.RootPEM, "application/x-pem-file")
}

func (s *Server) serveRoot(w http.ResponseWriter, b []byte, kind string) {
	if len(b) == 0 {
		http.Error(w, "this service runs with its owner's certificate: there is no root to install", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Write(b)
}

// servePair exchanges a pairing code for a token. Neither is ever logged.
func (s *Server) servePair(w http.ResponseWriter, r *http.Request) {
	var req phonemsg.PairRequest
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, maxPairBody)).Decode(&req); err != nil {
		var big *http.MaxBytesError
		if errors.As(err, &big) {
			refuse(w, http.StatusRequestEntityTooLarge, phonemsg.Errorf(phonemsg.TooBig, "expected a code, got more than %d bytes", maxPairBody))
			return
		}
		refuse(w, http.StatusBadRequest, phonemsg.Errorf(phonemsg.BadJSON, `expected {"code":"…"}, got something else`))
		return
	}
	from, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		from = r.RemoteAddr
	}
	reply, err := s.cfg.Keys.Redeem(req, from)
	if err != nil {
		s.pairFailed(w, from, err)
		return
	}
	s.cfg.Log.Info("a page was paired", zap.String("from", from), zap.String("role", string(reply.Role)), zap.String("boat", reply.Boat))
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	json.NewEncoder(w).Encode(reply)
}

func (s *Server) pairFailed(w http.ResponseWriter, from string, err error) {
	var e *phonemsg.Error
	if !errors.As(err, &e) {
		s.cfg.Log.Error("a token could not be kept", zap.Error(err))
		refuse(w, http.StatusInternalServerError, phonemsg.Errorf(phonemsg.NotRecorded, "the service could not keep a token: see its messages"))
		return
	}
	s.cfg.Log.Warn("pairing refused", zap.String("from", from), zap.String("code", string(e.Code)))
	status := map[phonemsg.Code]int{phonemsg.BadCode: http.StatusForbidden, phonemsg.TooFast: http.StatusTooManyRequests}[e.Code]
	if status == 0 {
		status = http.StatusBadRequest
	}
	refuse(w, status, e)
}

// serveStatus says that the service lives, to anyone: counts, no names, no places.
func (s *Server) serveStatus(w http.ResponseWriter, r *http.Request) {
	st := struct {
		Service string `json:"service"`
		UpS     int    `json:"upSeconds"`
		Links   int    `json:"links"`
		Boats   int    `json:"boats"`
		Lost    int    `json:"boatsLost"`
	}{Service: "helmcue", UpS: int(s.cfg.Now().Sub(s.born).Seconds()), Links: s.live.count()}
	ok := s.hub.ask(func(h *hub) {
		st.Boats = len(h.crafts)
		for _, c := range h.crafts {
			if c.lost {
				st.Lost++
			}
		}
	})
	w.Header().Set("Content-Type", "application/json")
	if !ok {
		w.WriteHeader(http.StatusServiceUnavailable)
	}
	json.NewEncoder(w).Encode(st)
}
