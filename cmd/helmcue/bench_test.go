package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// BenchmarkMemory is what the service keeps in memory with one boat sailing, in
// megabytes, beside itself with none.
func BenchmarkMemory(b *testing.B) {
	for b.Loop() {
		bare := resident(b)
		sailing := resident(b, "--sim", "first-lesson")
		b.ReportMetric(sailing, "MB")
		b.ReportMetric(sailing/bare, "ratio")
	}
}

// resident starts the service, lets it run for half a minute and asks the kernel.
func resident(b *testing.B, more ...string) float64 {
	b.Helper()
	s := start(b, more...)
	time.Sleep(30 * time.Second)
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		b.Skip("only Linux tells: ", err)
	}
	for line := range strings.Lines(string(text)) {
		if f := strings.Fields(line); len(f) == 3 && f[0] == "VmRSS:" {
			kb, err := strconv.ParseFloat(f[1], 64)
			if err != nil {
				b.Fatal(err)
			}
			return kb / 1024
		}
	}
	b.Fatal("the kernel tells no resident memory")
	return 0
}
