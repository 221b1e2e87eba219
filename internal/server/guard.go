package server

import (
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"helmcue/internal/phonemsg"
)

// guarded refuses requests for other hosts and from other sites' pages, and
// sets the headers every answer has.
func (s *Server) guarded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.ourHost(r.Host) {
			refuse(w, http.StatusMisdirectedRequest, phonemsg.Errorf(phonemsg.BadRequest,
				"this service answers at %s, not at %.80q", strings.Join(s.cfg.Hosts(), ", "), r.Host))
			return
		}
		if !sameOrigin(r) {
			refuse(w, http.StatusForbidden, phonemsg.Errorf(phonemsg.BadRequest,
				"expected a page of this service, got one of %.80q: open the page at https://%s", r.Header.Get("Origin"), r.Host))
			return
		}
		secure(w.Header(), r.Host)
		next.ServeHTTP(w, r)
	})
}

// ourHost keeps a stranger's name that was pointed at this machine from
// reaching it with a sailor's browser (DNS rebinding).
func (s *Server) ourHost(host string) bool {
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	host = strings.ToLower(strings.Trim(host, "[]"))
	return slices.Contains(s.cfg.Hosts(), host)
}

// sameOrigin passes requests without Origin: browsers send it on every web
// socket and every post, and what is no browser has no one to be tricked.
func sameOrigin(r *http.Request) bool {
	o := r.Header.Get("Origin")
	if o == "" {
		return true
	}
	u, err := url.Parse(o)
	return err == nil && strings.EqualFold(u.Host, r.Host) && (u.Scheme == "https" || r.TLS == nil)
}

// secure sets what OWASP's secure headers project asks of a site without
// outside sources. No Strict-Transport-Security: it would outlive a change of
// certificate on an address others may get.
func secure(h http.Header, host string) {
	h.Set("Content-Security-Policy", "default-src 'self'; connect-src 'self' wss://"+host+
		"; img-src 'self' data: blob:; media-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-cache")
}
