package force

import "testing"

func BenchmarkBook(b *testing.B) {
	for b.Loop() {
		Of(4.2, true).Book()
	}
}
func BenchmarkStep(b *testing.B) {
	bt := Of(4.2, true)
	s := State{Heading: -0.8, U: 1.5}
	for b.Loop() {
		bt.Step(&s, Controls{Sheet: .15}, Wind{MS: 4.5}, .05)
		s.Heading = -0.8
	}
}
