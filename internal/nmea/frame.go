package nmea

import (
	"strings"

	lib "github.com/adrianmo/go-nmea"
)

// maxSentence is generous: the standard says 82 characters, transducer lists
// of real devices are longer. Noise that grows past it is no sentence.
const maxSentence = 200

// framed is one candidate sentence of a line: from its $ to its checksum.
type framed struct {
	raw  string // "$GPRMC,…*hh"
	sum  bool   // has a checksum
	good bool   // and it is right
}

// frames finds the sentences in a line. Each begins at a $ or ! and ends before
// the next one or after its checksum. What stands before, between and after is
// passed over: two sentences that ran together are both found.
func frames(line string) []framed {
	var out []framed
	for {
		i := strings.IndexAny(line, "$!")
		if i < 0 {
			return out
		}
		line = line[i:]
		end := len(line)
		if j := strings.IndexAny(line[1:], "$!"); j >= 0 {
			end = 1 + j
		}
		out = append(out, frame(line[:end]))
		line = line[end:]
	}
}

func frame(s string) framed {
	body, rest, found := strings.Cut(s, "*")
	if !found || len(rest) < 2 {
		return framed{raw: strings.TrimRight(s, " \t\r\n")}
	}
	right := lib.Checksum(body[1:]) == strings.ToUpper(rest[:2])
	return framed{raw: body + "*" + rest[:2], sum: true, good: right && plain(body)}
}

// plain says whether s can be a sentence at all: printable, not too long, and
// beginning with a five-character address or a proprietary one. The checksum
// alone passes one broken line in 256.
func plain(s string) bool {
	if len(s) > maxSentence {
		return false
	}
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	address, _, _ := strings.Cut(s[1:], ",")
	for _, c := range address {
		if (c < 'A' || c > 'Z') && (c < '0' || c > '9') {
			return false
		}
	}
	return len(address) == 5 || strings.HasPrefix(address, "P") && len(address) > 1
}
