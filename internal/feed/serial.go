package feed

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"go.bug.st/serial"
	"go.uber.org/zap"

	"helmcue/internal/boat"
)

// NMEA 0183 is spoken at 4800 bits a second, 8 data bits, no parity, one stop bit;
// its high-speed form at 38400.
const (
	usualRate = 4800
	mostRate  = 921600
)

// serialPort takes DEVICE or DEVICE@RATE apart.
func serialPort(text string) (device string, rate int, err error) {
	device, after, given := strings.Cut(text, "@")
	if device == "" {
		return "", 0, errors.New("the device is empty")
	}
	if !given {
		return device, usualRate, nil
	}
	rate, err = strconv.Atoi(after)
	if err != nil || rate < 300 || rate > mostRate {
		return "", 0, fmt.Errorf("the rate must be 300 to %d bits a second, got %q", mostRate, after)
	}
	return device, rate, nil
}

// plug reads the serial line until it is pulled; heard says that a line came.
func (f *Feed) plug(ctx context.Context, emit func(boat.Input)) (heard bool, err error) {
	device, rate, err := serialPort(f.src.Addr)
	if err != nil {
		return false, err
	}
	port, err := serial.Open(device, &serial.Mode{BaudRate: rate, DataBits: 8})
	if err != nil {
		return false, fmt.Errorf("serial line %s: %w; is it plugged in, and may you read it (group dialout)?", device, err)
	}
	defer port.Close()
	defer closeAtEnd(ctx, port)()
	f.connected(true, "")
	f.cfg.Log.Info("reading the serial line", zap.Stringer("source", f.src))
	return f.read(port, "", emit)
}
