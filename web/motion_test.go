package web_test

import (
	"math"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// sensor has Chromium feed one motion sensor; devicemotion is made from all three.
func (b *tab) sensor(kind emulation.SensorType, x, y, z float64) {
	b.t.Helper()
	b.do(emulation.SetSensorOverrideReadings(kind, &emulation.SensorReading{Xyz: &emulation.SensorReadingXYZ{X: x, Y: y, Z: z}}))
}

func moving(b *tab) {
	b.t.Helper()
	for _, k := range []emulation.SensorType{emulation.SensorTypeAccelerometer, emulation.SensorTypeLinearAcceleration, emulation.SensorTypeGyroscope} {
		b.do(emulation.SetSensorOverrideEnabled(true, k))
	}
	b.sensor(emulation.SensorTypeAccelerometer, 0, 0, 9.81)
	b.sensor(emulation.SensorTypeLinearAcceleration, 0, 0, 0)
	b.sensor(emulation.SensorTypeGyroscope, 0, 0, 0)
}

func motionOnly(t *testing.T) (*double, *tab) {
	t.Helper()
	d := newDouble(t)
	b := open(t, d, "/sailor#AB23CD")
	moving(b)
	b.tap("#fixed")
	b.tap("#ready")
	d.await(t, "sample", "a heel from gravity", func(m []message) bool {
		if len(m) == 0 {
			return false
		}
		_, ok := m[len(m)-1].num("heel")
		return ok
	})
	return d, b
}

// The gyroscope's z turns anticlockwise seen from above (W3C Gyroscope, right-hand
// rule), so turning right is negative there and positive in our yaw.
func TestYawFromTheGyroscope(t *testing.T) {
	t.Parallel()
	d, b := motionOnly(t)
	b.sensor(emulation.SensorTypeGyroscope, 0, 0, -10*math.Pi/180)
	m := last(t, d, "a yaw rate", func(m message) bool { y, ok := m.num("yaw"); return ok && y != 0 })
	if yaw, _ := m.num("yaw"); math.Abs(yaw-10) > 0.2 {
		t.Errorf("yaw %v, want 10 degrees a second to the right", yaw)
	}
}

// Gravity pulls along -z of a phone lying flat, so the accelerometer at rest
// reads +9.81 there (W3C Accelerometer); right side down it reads negative x.
func TestHeelFromGravityAlone(t *testing.T) {
	t.Parallel()
	d, b := motionOnly(t)
	b.sensor(emulation.SensorTypeAccelerometer, -9.81*math.Sin(math.Pi/9), 0, 9.81*math.Cos(math.Pi/9))
	m := last(t, d, "a settled heel", func(m message) bool { h, ok := m.num("heel"); return ok && math.Abs(h-20) < 0.3 })
	if _, has := m.num("hdg"); has {
		t.Errorf("a heading without a compass: %v", m)
	}
}

// knocks has the page hear three seconds of motion at 60 Hz with knocks at these
// times, ms, all at once: the events carry their own clock.
func (b *tab) knocks(at string) {
	b.t.Helper()
	b.js(`for (let t = 0, from = (window.shaken = (window.shaken ?? 1e6) + 5000); t < 3000; t += 1000 / 60) {
		const a = ` + at + `.some((k) => t >= k && t < k + 30) ? 20 : 0.5;
		const e = new DeviceMotionEvent('devicemotion', {acceleration: {x: 0, y: 0, z: a}, accelerationIncludingGravity: {x: 0, y: 0, z: 9.81 + a}, rotationRate: {alpha: 0, beta: 0, gamma: 0}, interval: 16});
		Object.defineProperty(e, 'timeStamp', {value: from + t});
		dispatchEvent(e);
	} 0`)
}

func TestKnocksOnTheCase(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.knocks("[1000]")
	b.awaitText("#items", "Did you hear")
	b.knocks("[1000, 1300]")
	b.awaitText("#items", "Sound was heard")
	if got := d.heard("answer"); len(got) != 0 {
		t.Errorf("the answer to the page's own check went to the service: %v", got)
	}
	b.tap("#go")
	b.knocks("[1000, 1300]")
	b.knocks("[1000, 1150, 1300, 1450]")
	b.knocks("[1000, 1300, 1600]")
	got := d.await(t, "answer", "two answers", func(m []message) bool { return len(m) >= 2 })
	if len(got) != 2 || got[0]["knocks"] != 2.0 || got[1]["knocks"] != 3.0 {
		t.Errorf("got %v, want two knocks and three", got)
	}
	b.awaitText("#missing", "quiet for two minutes")
}

// A hand that knocks a fifth of a second after each beat hears it so late; that
// reaches the service and stands in the checklist.
func TestHowLateTheSoundIs(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.orient("deviceorientationabsolute", 0, 2, 1, "")
	b.tap("#yes")
	b.js(`window.beats = []; const start = OscillatorNode.prototype.start;
		OscillatorNode.prototype.start = function (at) {
			if (this.frequency.value === 880) {
				const zero = performance.now() - this.context.currentTime * 1000;
				window.beats = Array.from({ length: 7 }, (_, i) => zero + at * 1000 + i * 900);
			}
			return start.call(this, at);
		};
		let last = performance.now();
		setInterval(() => { // sixty readings a second by their own clock, however busy the page is
			for (; last < performance.now(); last += 1000 / 60) {
				const hit = window.beats.some((t) => last >= t + 200 && last < t + 230);
				const e = new DeviceMotionEvent('devicemotion', { acceleration: { x: 0, y: 0, z: hit ? 25 : 0.2 }, accelerationIncludingGravity: { x: 0, y: 0, z: 9.8 } });
				Object.defineProperty(e, 'timeStamp', { value: last });
				dispatchEvent(e);
			}
		}, 8); 0`)
	b.tap("#beat")
	b.awaitText("#items", "knock along with the beats")
	waitUntil(t, "the beats to be over", func() bool { return !strings.Contains(b.text("#items"), "knock along") })
	got := d.await(t, "sound_delay", "how late the sound is", func(m []message) bool { return len(m) == 1 })
	if s, ok := got[0].num("s"); !ok || s < 0.19 || s > 0.3 { // 200 ms, 30 for the hand, and what a busy page adds
		t.Errorf("told as %v s late, want about 0.23", got[0]["s"])
	}
	b.awaitText("#items", "s late: that is counted in")
	b.shot("beat")
}

// A context that says it runs while its clock stands still is given up: the page
// asks for the tap that builds a new one, and is heard again.
func TestADeadSoundIsBuiltAnew(t *testing.T) {
	t.Parallel()
	_, b := sailing(t, "fixed")
	b.awaitText("#items", "that is good")
	b.tap("#go")
	b.js(`const own = Object.getOwnPropertyDescriptor(BaseAudioContext.prototype, 'currentTime');
		Object.defineProperty(BaseAudioContext.prototype, 'currentTime', { configurable: true, get: () => 12.5 });
		window.mend = () => Object.defineProperty(BaseAudioContext.prototype, 'currentTime', own); 0`)
	b.awaitText("#missing", "Sound is off")
	b.js("window.mend(); 0")
	b.tap(`#missing button[data-act="sound"]`)
	waitUntil(t, "the sound to be back", func() bool { return !strings.Contains(b.text("#missing"), "Sound is off") })
}
