package web_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
)

// patience is how long a test waits for what must come: it costs time only where it fails,
// and a machine with other work makes a page wait for seconds.
const patience = 20 * time.Second

// chromium is the one browser all tests share, each in a context of its own.
var chromium context.Context

func TestMain(m *testing.M) { os.Exit(run(m)) }

func run(m *testing.M) int {
	name := ""
	for _, try := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if at, err := exec.LookPath(try); err == nil {
			name = at
			break
		}
	}
	if name == "" {
		fmt.Fprintln(os.Stderr, "the pages are tested in a real browser and chromium is not installed\ninstall it: apt-get install chromium")
		return 1
	}
	opts := []chromedp.ExecAllocatorOption{chromedp.ExecPath(name), chromedp.NoFirstRun}
	for _, f := range []string{"headless", "no-sandbox", "disable-gpu", "disable-quic", "disable-background-networking", "disable-component-update",
		"disable-sync", "disable-background-timer-throttling", "disable-renderer-backgrounding", "disable-backgrounding-occluded-windows", "ignore-certificate-errors", "hide-scrollbars", "mute-audio", "disable-dev-shm-usage"} {
		opts = append(opts, chromedp.Flag(f, true))
	}
	alloc, end := chromedp.NewExecAllocator(context.Background(), opts...)
	defer end()
	ctx, stop := chromedp.NewContext(alloc, chromedp.WithErrorf(complain))
	defer stop()
	if err := chromedp.Run(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "chromium did not start:", err)
		return 1
	}
	chromium = ctx
	flag.Set("test.parallel", "4") // the tests mostly wait: for clips, clocks and the page
	return m.Run()
}

// complain passes on what chromedp has to say, but for events of newer browsers it does not know.
func complain(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !strings.Contains(s, "unhandled node event") {
		fmt.Fprintln(os.Stderr, s)
	}
}

// tab is one page in a context of its own: its own storage and permissions.
type tab struct {
	t   *testing.T
	d   *double
	own cdp.BrowserContextID // its storage and permissions
	ctx context.Context
	mu  sync.Mutex
	bad []string // what the page complained of
}

func open(t *testing.T, d *double, path string) *tab {
	t.Helper()
	own, id := window(t)
	ctx, shut := chromedp.NewContext(chromium, chromedp.WithTargetID(id))
	ctx, stop := context.WithTimeout(ctx, 170*time.Second)
	b := &tab{t: t, d: d, own: own, ctx: ctx}
	t.Cleanup(func() {
		stop()
		shut()
		b.mu.Lock()
		defer b.mu.Unlock()
		for _, s := range b.bad {
			t.Errorf("the page complained: %s", s)
		}
	})
	chromedp.ListenTarget(ctx, b.listen)
	b.do(chromedp.ActionFunc(func(ctx context.Context) error {
		return browser.GrantPermissions([]browser.PermissionType{"geolocation", "sensors", "wakeLockScreen"}).
			WithOrigin(d.URL).WithBrowserContextID(own).Do(cdp.WithExecutor(ctx, chromedp.FromContext(ctx).Browser))
	}))
	b.size(390, 844)
	b.place(47.1, 8.2, 4, 0, 0)
	b.do(chromedp.Navigate(d.URL + path))
	return b
}

// window opens an empty window with a storage of its own. Chromium 156 opens no
// tab in a new browser context that has no window yet.
func window(t *testing.T) (own cdp.BrowserContextID, id target.ID) {
	t.Helper()
	ctx := cdp.WithExecutor(chromium, chromedp.FromContext(chromium).Browser)
	own, err := target.CreateBrowserContext().WithDisposeOnDetach(true).Do(ctx)
	if err != nil {
		t.Fatal(err)
	}
	id, err = target.CreateTarget("about:blank").WithBrowserContextID(own).WithNewWindow(true).Do(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return own, id
}

func (b *tab) listen(ev any) {
	switch ev := ev.(type) {
	case *runtime.EventExceptionThrown:
		b.complain(ev.ExceptionDetails.Error())
	case *runtime.EventConsoleAPICalled:
		if ev.Type == runtime.APITypeError {
			var words []string
			for _, a := range ev.Args {
				words = append(words, string(a.Value))
			}
			b.complain(strings.Join(words, " "))
		}
	}
}

func (b *tab) complain(s string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.bad = append(b.bad, s)
}

func (b *tab) do(actions ...chromedp.Action) {
	b.t.Helper()
	if err := chromedp.Run(b.ctx, actions...); err != nil {
		b.t.Fatal(err)
	}
}

// visit opens another page of the same service.
func (b *tab) visit(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.d.URL + path))
}

// js runs a script in the page, awaiting a promise, and returns its value.
func (b *tab) js(script string, into ...any) {
	b.t.Helper()
	await := func(p *runtime.EvaluateParams) *runtime.EvaluateParams {
		return p.WithAwaitPromise(true).WithUserGesture(false)
	}
	var out any
	if len(into) > 0 {
		out = into[0]
	}
	b.do(chromedp.Evaluate(script, out, await))
}

// tap taps as a finger does, once the page allows it: a real input, which counts as a person's.
func (b *tab) tap(sel string) {
	b.t.Helper()
	b.do(chromedp.WaitVisible(sel, chromedp.ByQuery), chromedp.WaitEnabled(sel, chromedp.ByQuery))
	b.js(fmt.Sprintf("document.querySelector(%q).scrollIntoView({block: 'center'}); 0", sel))
	b.do(chromedp.Click(sel, chromedp.ByQuery))
}

// text returns what stands in an element.
func (b *tab) text(sel string) string {
	b.t.Helper()
	var s string
	b.js(fmt.Sprintf("document.querySelector(%q)?.textContent ?? ''", sel), &s)
	return s
}

// awaitText waits until the element holds the words.
func (b *tab) awaitText(sel, words string) {
	b.t.Helper()
	var last string
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(40 * time.Millisecond) {
		if last = b.text(sel); strings.Contains(last, words) {
			return
		}
	}
	b.t.Fatalf("waited in vain for %q in %s: it says %q", words, sel, last)
}

func (b *tab) size(w, h int64) {
	b.t.Helper()
	b.do(emulation.SetDeviceMetricsOverride(w, h, 1, w < 1000))
}

// place sets the position: degrees, metres, metres a second, degrees true.
func (b *tab) place(lat, lon, acc, speed, course float64) {
	b.t.Helper()
	b.do(emulation.SetGeolocationOverride().WithLatitude(lat).WithLongitude(lon).WithAccuracy(acc).WithSpeed(speed).WithHeading(course))
}

// orient has the page hear one orientation twenty times a second from now on.
func (b *tab) orient(kind string, alpha, beta, gamma float64, extra string) {
	b.t.Helper()
	b.js(fmt.Sprintf(`clearInterval(window.orienting); window.orienting = setInterval(() => {
		const e = new DeviceOrientationEvent(%q, {absolute: %t, alpha: %g, beta: %g, gamma: %g});
		for (const [k, v] of Object.entries({%s})) Object.defineProperty(e, k, {value: v});
		dispatchEvent(e);
	}, 50); 0`, kind, kind == "deviceorientationabsolute", alpha, beta, gamma, extra))
}

// hide makes the page believe it was left, or is back.
func (b *tab) hide(hidden bool) {
	b.t.Helper()
	word := map[bool]string{true: "hidden", false: "visible"}[hidden]
	b.js(fmt.Sprintf(`Object.defineProperty(document, 'visibilityState', {value: %q, configurable: true}); document.dispatchEvent(new Event('visibilitychange')); 0`, word))
}

// shot takes a picture where the environment asks for pictures.
func (b *tab) shot(name string) {
	b.t.Helper()
	dir := os.Getenv("HELMCUE_PICTURES")
	if dir == "" {
		return
	}
	var png []byte
	b.do(chromedp.ActionFunc(func(ctx context.Context) (err error) {
		png, err = page.CaptureScreenshot().Do(ctx)
		return err
	}))
	if err := os.MkdirAll(dir, 0o755); err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(dir+"/"+name+".png", png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}
