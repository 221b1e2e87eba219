package speaker

import "fmt"

// playing is an utterance laid out as pieces, and how far it got.
type playing struct {
	Utterance
	pieces []piece
	k, at  int // the piece it is in, and the sample in that
	said   int // times it was said before
}

// piece is samples, or n samples of silence. The samples are the voice's own:
// copying a second of speech would cost more than all the rest of a cue.
type piece struct {
	samples []float32
	n       int
}

func lay(clips Clips, u Utterance) ([]piece, error) {
	if len(u.Clips) == 0 {
		return nil, fmt.Errorf("expected at least one clip, got none")
	}
	var out []piece
	for i, c := range u.Clips {
		x, err := clips.Samples(c)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			out = append(out, pause(u.GapMS))
		}
		out = append(out, piece{x, len(x)})
	}
	return out, nil
}

func pause(ms int) piece { return piece{n: max(ms, 0) * Rate / 1000} }

// again is the second saying, after a pause.
func (p *playing) again() *playing {
	return &playing{Utterance: p.Utterance, pieces: append([]piece{pause(againMS)}, p.pieces...), said: p.said + 1}
}

// copy writes its next samples over out, which is silent, and returns how many.
func (p *playing) copy(out []float32) int {
	done := 0
	for done < len(out) && !p.done() {
		now := p.pieces[p.k]
		n := min(now.n-p.at, len(out)-done)
		if now.samples != nil {
			copy(out[done:], now.samples[p.at:p.at+n])
		}
		done += n
		if p.at += n; p.at == now.n {
			p.k, p.at = p.k+1, 0
		}
	}
	return done
}

func (p *playing) done() bool { return p.k == len(p.pieces) }

// silent says whether the next of it is a pause.
func (p *playing) silent() bool { return !p.done() && p.pieces[p.k].samples == nil }

func (p *playing) expired(at int64) bool { return p.Expires != 0 && at > p.Expires }
