package pairing

import (
	"fmt"
	"net"
	"net/url"
	"strconv"

	"github.com/skip2/go-qrcode"

	"helmcue/internal/phonemsg"
)

// PageURL returns the address of the role's page with the code in its fragment,
// which browsers never send, so that no log can hold it.
func PageURL(host string, port int, code Code) string {
	u := url.URL{Scheme: "https", Host: net.JoinHostPort(host, strconv.Itoa(port)), Path: "/sailor", Fragment: code.Text}
	if code.Role != phonemsg.Sailor {
		u.Path = "/instructor"
	}
	return u.String()
}

// QRText draws the text as a QR code of half-block letters, light on dark, as a
// terminal shows it.
func QRText(text string) (string, error) {
	q, err := qrcode.New(text, qrcode.Medium)
	if err != nil {
		return "", fmt.Errorf("drawing a QR code of %d letters: %w", len(text), err)
	}
	return q.ToSmallString(false), nil
}

// QRPNG draws the text as a QR code, size pixels wide.
func QRPNG(text string, size int) ([]byte, error) {
	b, err := qrcode.Encode(text, qrcode.Medium, size)
	if err != nil {
		return nil, fmt.Errorf("drawing a QR code of %d letters: %w", len(text), err)
	}
	return b, nil
}
