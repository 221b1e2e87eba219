package app

import (
	"context"
	"crypto/sha256"
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/config"
	"helmcue/internal/feed"
	"helmcue/internal/pairing"
	"helmcue/internal/phonemsg"
	"helmcue/internal/phrase"
	"helmcue/internal/server"
	"helmcue/voices"
	"helmcue/web"
)

// Config is what the service needs to know.
type Config struct {
	config.Config
	Settings boat.Settings // of the boat this machine sails in, the polar read
	Sim      string        // scene of a simulated boat; empty: none
	SimSeed  uint64        // 0: 1
	Version  string
	Log      *zap.Logger
	Say      func(string) // a line for the person who started the service; nil: none
}

// App is the running service. Make it with New; call Run once.
type App struct {
	cfg    Config
	log    *zap.Logger
	shelf  *shelf
	server *server.Server
	keys   *pairing.Keys
	tls    *tls.Config
	names  []string
	root   string // how its fingerprint begins; empty with a certificate of one's own
	https  net.Listener
	plain  net.Listener
	voice  *voice
	sim    *simulated
	lulls  lulls

	instruments []*feed.Feed

	mu    sync.Mutex // guards seats only; never held while calling out
	seats map[string]*seat
	ctx   context.Context // of Run; seats live in it
	wg    sync.WaitGroup
}

// New opens what must be open before the service may promise anything. Errors
// say what was tried and what to do.
func New(cfg Config) (*App, error) {
	if cfg.Say == nil {
		cfg.Say = func(string) {}
	}
	a := &App{cfg: cfg, log: cfg.Log, seats: map[string]*seat{}, lulls: newLulls()}
	var err error
	if a.shelf, err = newShelf(cfg.Data, cfg.Version, cfg.Log); err != nil {
		return nil, err
	}
	root, err := a.openKeys()
	if err != nil {
		return nil, err
	}
	if cfg.Sim != "" {
		if a.sim, err = newSimulated(cfg); err != nil {
			return nil, err
		}
	}
	if err := a.listen(); err != nil {
		return nil, err
	}
	if err := a.openInstruments(); err != nil {
		a.closeAll()
		return nil, err
	}
	if a.voice, err = openVoice(cfg, a.ownBoat()); err != nil {
		a.closeAll()
		return nil, err
	}
	if a.server, err = a.newServer(root); err != nil {
		a.closeAll()
		return nil, err
	}
	return a, nil
}

// openKeys opens tokens and the certificate: the local authority's, or people's
// own. The root is nil in the second case.
func (a *App) openKeys() (*pairing.Authority, error) {
	dir := filepath.Join(a.cfg.Data, "keys")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("cannot make the folder for keys: %w; name a folder you may write to with --data", err)
	}
	var err error
	if a.keys, err = pairing.OpenKeys(pairing.KeysConfig{Dir: dir, DefaultBoat: a.cfg.Boat}); err != nil {
		return nil, err
	}
	if a.cfg.TLSCert != "" {
		cert, err := pairing.LoadOwn(a.cfg.TLSCert, a.cfg.TLSKey, time.Now())
		if err != nil {
			return nil, err
		}
		a.tls = &tls.Config{Certificates: []tls.Certificate{*cert}, MinVersion: tls.VersionTLS12}
		a.names = pairing.NamesOf(cert)
		return nil, nil
	}
	root, err := pairing.OpenAuthority(pairing.AuthorityConfig{Dir: dir, Names: a.ownNames})
	if err != nil {
		return nil, err
	}
	a.tls = root.TLSConfig()
	sum := sha256.Sum256(root.RootDER())
	a.root = strings.ReplaceAll(fmt.Sprintf("% X", sum[:8]), " ", ":")
	return root, nil
}

// listen takes the ports first, so that a busy one is an error at the start.
func (a *App) listen() error {
	var err error
	if a.https, err = net.Listen("tcp", a.cfg.Listen); err != nil {
		return fmt.Errorf("cannot listen on %s: %w; stop what uses it, or choose another with --listen :PORT", a.cfg.Listen, err)
	}
	if a.cfg.Plain == "" {
		return nil
	}
	if a.plain, err = net.Listen("tcp", a.cfg.Plain); err != nil {
		// Only the installing pages live there; phones that are set up need none.
		a.log.Warn("the address without TLS is taken: phones cannot fetch the root there; choose another with --plain :PORT", zap.Error(err))
	}
	return nil
}

// closeAll gives back what New took; what is closed already stays so.
func (a *App) closeAll() {
	for _, f := range a.instruments {
		f.Close() //nolint:errcheck // nothing is lost with a source that is not read
	}
	for _, l := range []net.Listener{a.https, a.plain} {
		if l != nil {
			l.Close()
		}
	}
}

func (a *App) newServer(root *pairing.Authority) (*server.Server, error) {
	conf := server.Config{
		OnInput: a.fromPage, Joined: a.joined, Enrich: a.enrich, Keys: a.keys, Hosts: a.hosts, Pages: web.Files(), Clips: voices.Files(),
		TLSPort: a.Port(), Session: time.Now().UTC().Format("2006-01-02T15-04-05Z"), Voice: a.voice.name(), Log: a.log,
	}
	if a.cfg.Settings.Water != nil {
		conf.Plan = a.outing
	}
	for _, p := range phrase.Instructor() {
		conf.Phrases = append(conf.Phrases, phonemsg.Phrase{Key: p.Key, Words: p.Words})
	}
	conf.Shore = drawn
	conf.Plans, conf.Exercises = toChoose()
	if root != nil {
		conf.RootDER, conf.RootPEM = root.RootDER(), root.RootPEM()
	}
	return server.New(conf)
}

// ownBoat is the boat whose cues this machine speaks: the simulated one where there
// is one, else the one it sails in.
func (a *App) ownBoat() string {
	if a.sim != nil {
		return a.sim.name()
	}
	return a.cfg.Boat
}

// Port returns the port of the HTTPS pages.
func (a *App) Port() int { return a.https.Addr().(*net.TCPAddr).Port }

// ownNames are the names the local authority vouches for.
func (a *App) ownNames() ([]string, error) {
	names, err := pairing.MachineNames()
	if err == nil && a.cfg.Local != "" {
		names = append(names, a.cfg.Local)
		slices.Sort(names)
		names = slices.Compact(names)
	}
	return names, err
}

func (a *App) hosts() []string {
	names, err := a.ownNames()
	if err != nil {
		a.log.Warn("this machine's addresses cannot be read", zap.Error(err))
	}
	return append(append(names, a.names...), a.cfg.Names...)
}

// Run serves until ctx ends, then closes every recording and returns. An error
// means that serving broke off by itself.
func (a *App) Run(ctx context.Context) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	a.mu.Lock()
	a.ctx = ctx
	a.mu.Unlock()
	failed := make(chan error, 2)
	pages := server.HTTPServer(a.server.Handler(), a.log)
	a.spawn(func() { failed <- pages.Serve(tls.NewListener(a.https, a.tls)) })
	install := server.HTTPServer(a.server.Plain(), a.log)
	if a.plain != nil {
		a.spawn(func() { failed <- install.Serve(a.plain) })
	}
	a.spawn(func() { a.server.Run(ctx) }) //nolint:errcheck // it returns nil
	a.spawn(func() { a.voice.run(ctx, a.spoke) })
	a.feed(ctx)
	a.greet()
	var err error
	select {
	case <-ctx.Done():
	case err = <-failed:
	}
	stop()
	pages.Close()
	install.Close()
	a.closeAll()
	a.wg.Wait()
	if errors.Is(err, context.Canceled) {
		err = nil
	}
	a.cfg.Say("Recordings are closed. Fair winds.")
	return err
}

func (a *App) spawn(f func()) {
	a.wg.Add(1)
	go func() {
		defer a.wg.Done()
		f()
	}()
}
