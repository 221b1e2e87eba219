package pairing

import (
	"crypto/sha256"
	"encoding/binary"
	"strings"
)

// fingerprintWords returns the first 64 bits of the SHA-256 of b as four
// pronounceable words.
func fingerprintWords(b []byte) string {
	sum := sha256.Sum256(b)
	var words []string
	for i := 0; i < 8; i += 2 {
		words = append(words, proquint(binary.BigEndian.Uint16(sum[i:])))
	}
	return strings.Join(words, "-")
}

// proquint writes 16 bits as a word of five letters, consonants and vowels in
// turn, four and two bits each. Source: D. S. Wilkerson, "A Proposal for
// Proquints: Identifiers that are Readable, Spellable, and Pronounceable",
// arXiv:0901.4016.
func proquint(v uint16) string {
	const con, vow = "bdfghjklmnprstvz", "aiou"
	return string([]byte{con[v>>12], vow[v>>10&3], con[v>>6&15], vow[v>>4&3], con[v&15]})
}
