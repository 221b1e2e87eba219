// Package core does everything that the core must not do.
package core

import (
	"maps"
	"math/rand/v2"
	"slices"
	"time"
)

var count int

var _ = count

func init() { count = 1 }

func bad(m map[string]int, c chan int) (sum int) {
	go func() {}()
	select {}
	c <- 1
	sum = <-c
	for _, v := range m {
		sum += v
	}
	// order does not reach an output: a sum of whole numbers is the same in any order
	for _, v := range m {
		sum += v
	}
	for k := range maps.Keys(m) {
		sum += len(k)
	}
	for _, k := range slices.Sorted(maps.Keys(m)) {
		sum += len(k)
	}
	seeded := rand.New(rand.NewPCG(1, 2))
	return sum + rand.IntN(3) + seeded.IntN(3) + time.Now().Nanosecond() + time.UnixMilli(0).Nanosecond()
}

var _ = bad
