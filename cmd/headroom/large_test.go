package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"headroom/checker"
	"headroom/rules"
)

// chain is a spec of so many parts: a pump, its relief valve, and check valves and
// orifices in a row and beside each other.
func chain(parts int) string {
	var b strings.Builder
	b.WriteString(`headroom: 1
circuit: chain
title: Very many parts
fluid: {like: hm-46}
parts:
  tank: {kind: reservoir, at: s, volume: 60 L, fill: 45 L}
  pump: {kind: pump, from: s, to: n0, displacement: 8 cm3/rev, delivers: {flow: 11 L/min, at: {pressure: 150 bar, speed: 1500 rpm, viscosity: 46 mm2/s}}, mechanical_efficiency: 90 %}
  relief: {kind: relief-valve, from: n0, to: s, cracking: 160 bar, flow: 20 L/min, override: 10 bar}
`)
	for i := range parts - 3 {
		fmt.Fprintf(&b, "  o%d: {kind: orifice, from: n%d, to: n%d, diameter: 2 mm}\n", i, i/3, i/3+1)
	}
	return b.String() + "cases:\n  run: {lasts: 0.1 s, drives: {pump: 1500 rpm}}\n"
}

// terse is a spec of so many parts, written as briefly as can be: orifices in a row and
// beside each other, all of them from the pump on.
func terse(parts int) string {
	var b strings.Builder
	b.WriteString(chain(3))
	text, cases, _ := strings.Cut(strings.NewReplacer("n0", "0", "\n  ", "\n ").Replace(b.String()), "cases:")
	b.Reset()
	b.WriteString(text)
	for i := range parts - 3 {
		fmt.Fprintf(&b, " %x: {kind: orifice,from: %x,to: %x,diameter: 2 mm}\n", i, i/5, i/5+1)
	}
	return b.String() + "cases:" + cases
}

// manyCases is a spec of so many cases.
func manyCases(cases int) string {
	var b strings.Builder
	b.WriteString(chain(6))
	for i := range cases - 1 {
		fmt.Fprintf(&b, "  c%d: {lasts: 0.1 s, begins: {fluid: %d degC}, drives: {pump: 1500 rpm}}\n", i, 10+i%80)
	}
	return b.String()
}

// TestLargeSpecs holds specs far larger than any circuit to bounds of memory, and what is
// beyond a bound to being told; none is still judged after minutes.
func TestLargeSpecs(t *testing.T) {
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, text string
		most       uint64 // bytes of memory in use at once
		tells      string // of a finding; "" where cases are to be simulated
	}{
		{"1,000 cases", manyCases(1000), 512 << 20, ""},
		{"1,500 parts", chain(1500), 512 << 20, ""},
		{"9,400 parts, as many as fit", terse(9_400), 512 << 20, ""},
		{"10,000 parts", chain(10_000), 512 << 20, "the file has more than 512 KiB, the most that is read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "large.yaml")
			if err := os.WriteFile(path, []byte(c.text), 0o600); err != nil {
				t.Fatal(err)
			}
			runtime.GC()
			var peak atomic.Uint64
			watch := time.NewTicker(20 * time.Millisecond)
			defer watch.Stop()
			done := make(chan *rules.Result, 1)
			began := time.Now()
			go func() { done <- checker.Judge(checker.Task{Path: path, Name: "large.yaml", Book: book}) }()
			deadline := time.After(5 * time.Minute) // tens of times what it takes
			for {
				select {
				case r := <-done:
					t.Logf("%d KiB: %v, %d MiB at most, %d findings, %d cases", len(c.text)>>10, time.Since(began).Round(time.Millisecond), peak.Load()>>20, len(r.Judgement.Findings), len(r.Cases))
					if peak.Load() > c.most {
						t.Errorf("took %d MiB", peak.Load()>>20)
					}
					if c.tells == "" && (len(r.Cases) != len(r.Circuit.Cases) || len(r.Cases) == 0) {
						t.Errorf("%d of %d cases are told", len(r.Cases), len(r.Circuit.Cases))
					}
					if c.tells != "" && !strings.Contains(fmt.Sprint(r.Circuit.Problems), c.tells) {
						t.Errorf("problems: %v", r.Circuit.Problems)
					}
					return
				case <-watch.C:
					var m runtime.MemStats
					runtime.ReadMemStats(&m)
					peak.Store(max(peak.Load(), m.HeapInuse))
				case <-deadline:
					t.Fatal("is still being judged")
				}
			}
		})
	}
}
