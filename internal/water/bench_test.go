package water

import (
	"sync"
	"testing"
)

// bigLake is a lake with a shore of about five thousand points.
func bigLake(b *testing.B) *Chart {
	c := made(b, roundLake(rng(9), 2500, 4600)...)
	if n := len(c.edges); n < 4900 || n > 5200 {
		b.Fatalf("%d edges", n)
	}
	return c
}

func BenchmarkLee(b *testing.B) {
	c := bigLake(b)
	ps := make([]point, 256)
	r := rng(1)
	for i := range ps {
		ps[i] = point{4000 * (r.Float64() - 0.5), 4000 * (r.Float64() - 0.5)}
	}
	b.Run("floor", func(b *testing.B) { // every edge, each of the nine directions
		for i := range b.N {
			(slow{c}).lee(ps[i%256], Wind{40, 8})
		}
	})
	b.Run("index", func(b *testing.B) {
		for i := range b.N {
			c.lee(ps[i%256], Wind{40, 8})
		}
	})
	b.Run("ahead", func(b *testing.B) {
		for i := range b.N {
			p := ps[i%256]
			c.Ahead(Course{From: c.frame.From(p.x, p.y), Deg: 85, Kn: 3.5, AccM: 5, Wind: Wind{40, 8}, S: 120})
		}
	})
}

// BenchmarkMap makes a map of 500 by 500 cells on two cores.
func BenchmarkMap(b *testing.B) {
	c := bigLake(b)
	b.Run("floor", func(b *testing.B) { // every edge, for one cell in 2500
		for range b.N {
			for i := range 100 {
				p := point{float64(i%10)*450 - 2000, float64(i/10)*450 - 2000}
				if (slow{c}).afloat(p) {
					(slow{c}).lee(p, Wind{40, 8})
				}
			}
		}
	})
	b.Run("map", func(b *testing.B) {
		for range b.N {
			m, err := c.NewMap(Wind{40, 8}, MapSize{500, 500})
			if err != nil {
				b.Fatal(err)
			}
			var wait sync.WaitGroup
			for half := range 2 {
				wait.Go(func() { m.Fill(half*m.Rows/2, (half+1)*m.Rows/2) })
			}
			wait.Wait()
		}
	})
}
