package web_test

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// A person at the ramp, by the clock: how long one reads, taps and works with the
// hands (common practice, no source), beside what the program itself makes her wait.
const (
	aSentence = 1500 * time.Millisecond
	aTap      = 1500 * time.Millisecond // finding the button, and the tap
	aLetter   = 800 * time.Millisecond  // with a cold thumb
	strapping = 20 * time.Second        // the phone to its place in the boat
	flapping  = 8 * time.Second         // let go the sheets, bow into the wind, three seconds
	knocking  = 2 * time.Second
	atMost    = 2 * time.Minute
)

// stopwatch adds up a set-up.
type stopwatch struct {
	*tab
	person, program time.Duration
	read            map[string]bool
}

// reads takes in what is new on the page, sentence by sentence. A button is read while
// it is looked for: that is in the time of a tap.
func (s *stopwatch) reads() {
	s.t.Helper()
	var words string
	s.js(`[...document.querySelectorAll('main:not([hidden]) :is(p, .says)')].filter((e) => e.checkVisibility()).map((e) => e.textContent.trim()).join('\n')`, &words)
	for _, line := range strings.Split(words, "\n") {
		for _, sentence := range strings.SplitAfter(line, ". ") {
			if sentence = strings.TrimSpace(sentence); sentence != "" && !s.read[sentence] {
				s.read[sentence] = true
				s.person += aSentence
			}
		}
	}
}

// waits is the program's time: from what the person did to what she needs next.
func (s *stopwatch) waits(what string, for_ func()) {
	s.t.Helper()
	from := time.Now()
	for_()
	took := time.Since(from)
	s.program += took
	s.t.Logf("%-32s %5.1f s", what, took.Seconds())
	s.reads()
}

func (s *stopwatch) taps(sel string) {
	s.person += aTap
	s.tap(sel)
}

func (s *stopwatch) types(sel, text string) {
	s.person += time.Duration(len(text)) * aLetter
	s.do(typed(sel, text))
}

// From the address to sailing: every step is there, in the order in which hands can do
// it, and all of it takes less than two minutes.
func TestSettingUpAtTheRamp(t *testing.T) {
	a := newAboard(t, coach(t)) // not beside other tests: this one is about time
	from := time.Now()
	s := &stopwatch{tab: open(t, &double{Server: a.Server}, "/sailor"), read: map[string]bool{}}
	s.do(chromedp.WaitVisible("#pair", chromedp.ByQuery))
	s.program = time.Since(from)
	t.Logf("%-32s %5.1f s", "the page is there", s.program.Seconds())
	s.reads()

	s.types("#code", a.code)
	s.types("#name", "Wren")
	s.taps("#pair-form button")
	s.waits("paired", func() { s.awaitText("#check-who", "linked") })

	s.taps("#ready") // motion, position, sound in one tap
	s.orient("deviceorientationabsolute", 120, 4, 1, "")
	s.waits("position", func() { s.awaitText("#items", "Position is good to 4 m") })
	s.waits("the sound check is asked", func() { s.awaitText("#items", "Did you hear “") })
	s.person += knocking
	s.program += time.Second // so long nothing may follow a knock; here its events come at once
	s.knocks(`[1500, 1800]`)
	s.waits("the knock is heard", func() { s.awaitText("#items", "Sound was heard") })

	s.taps("#fixed")
	s.person += strapping
	s.taps("#level")
	s.waits("level", func() { s.awaitText("#items", "Levelled") })

	s.person += flapping
	s.taps("#flap")
	s.waits("the wind", func() { s.awaitText("#items", "Wind from 24") }) // 120° on the screen's axes is 240° by compass

	s.waits("its own coach", func() { s.awaitText("#items", "Without a link this phone speaks by itself") })
	s.taps("#go")
	from = time.Now()
	s.awaitText("#how", "listening")
	s.program += time.Since(from)
	t.Logf("the person %.0f s, the program %.1f s, together %.0f s of %.0f", s.person.Seconds(), s.program.Seconds(), (s.person + s.program).Seconds(), atMost.Seconds())
	if s.person+s.program > atMost {
		t.Errorf("setting up takes %.0f s, want less than %.0f", (s.person + s.program).Seconds(), atMost.Seconds())
	}
	s.inOrder("position", "sound", "mounting", "level", "compass", "wind")
}

// inOrder holds the checklist to an order.
func (b *tab) inOrder(want ...string) {
	b.t.Helper()
	var got []string
	b.js(`[...document.querySelectorAll('#items li')].map((e) => e.dataset.id)`, &got)
	at := 0
	for _, id := range got {
		if at < len(want) && id == want[at] {
			at++
		}
	}
	if at < len(want) {
		b.t.Errorf("the checklist has %v, want %v in this order", got, want)
	}
}

// What is missing is said in one sentence, with what to do.
func TestWhatIsMissingAtTheRamp(t *testing.T) {
	t.Parallel()
	d := newDouble(t)
	for _, c := range []struct{ name, before, item, want string }{
		{"motion denied", `DeviceMotionEvent.requestPermission = () => Promise.resolve('denied')`, "level",
			"Motion is refused, so there is no heel: close the page, open it again and allow motion."},
		{"position denied", `navigator.geolocation.watchPosition = (ok, no) => no({ code: 1, PERMISSION_DENIED: 1 })`, "position",
			"Position is refused: allow location for this page in the browser’s settings, then load it again."},
		{"no position yet", `navigator.geolocation.watchPosition = () => {}`, "position",
			"Waiting for a position. Go where you see the sky."},
		{"no compass", ``, "compass", "This phone tells no compass heading: nothing to do, the voice goes by the course once she moves."},
		{"no compass, no wind from here", ``, "wind", "Without a compass the wind cannot be told from here: it is learnt from her first tacks."},
		{"silent", ``, "sound", "Heard it now? Knock twice or tap yes; if not, turn the volume up and the silent switch off, and play it again."},
		{"sound does not start", `AudioContext.prototype.resume = () => Promise.reject(); Object.defineProperty(AudioContext.prototype, 'state', { value: 'suspended' })`, "sound",
			"Sound is not running. Tap “Play it again”."},
		{"screen may lock", `navigator.wakeLock.request = () => Promise.reject()`, "awake", "The screen may lock, and then the phone is deaf: set it never to lock."},
	} {
		b := open(t, d, "/sailor#AB23CD")
		b.awaitText("#check-who", "linked")
		b.js(c.before + `; 0`)
		b.tap("#fixed")
		b.tap("#ready")
		says := `#items li[data-id="` + c.item + `"] .says`
		if c.name == "silent" {
			b.awaitText(says, "Did you hear “that is good”?")
			b.tap("#again")
		}
		b.awaitText(says, c.want)
		if got := b.text(says); got != c.want {
			t.Errorf("%s: says %q, want %q", c.name, got, c.want)
		}
		b.do(chromedp.Navigate("about:blank"))
	}
}
