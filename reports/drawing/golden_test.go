package drawing

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"headroom/rules"
	"headroom/specs"
)

var update = flag.Bool("update", false, "rewrite the expected output")

// kinds are small circuits that show each kind's symbol, and each form it has.
var kinds = map[string]string{
	"reservoir": `
  tank: {kind: reservoir, at: sump}
  closed: {kind: reservoir, at: sealed, pressure: 0.5 bar}
  link: {kind: hose, from: sump, to: up}
  other: {kind: hose, from: sealed, to: up}`,
	"pump": `
  tank: {kind: reservoir, at: sump}
  fixed: {kind: pump, from: sump, to: rail}
  variable: {kind: pump, from: sump, to: rail, drain: case, compensator: {set: 200 bar, band: 10 bar, lag: 20 ms}}
  case-line: {kind: tube, from: case, to: sump}`,
	"accumulator": `
  bladder: {kind: accumulator, at: rail, type: bladder}
  diaphragm: {kind: accumulator, at: rail, type: diaphragm}
  piston: {kind: accumulator, at: rail, type: piston}
  plain: {kind: accumulator, at: rail}`,
	"tube":    `{kind: tube, from: one, to: two}`,
	"hose":    `{kind: hose, from: one, to: two}`,
	"orifice": `{kind: orifice, from: one, to: two}`,
	"cooler":  `{kind: cooler, from: one, to: two}`,
	"check-valve": `
  loose: {kind: check-valve, from: one, to: two}
  sprung: {kind: check-valve, from: one, to: two, cracking: 0.5 bar}`,
	"pilot-check-valve": `
  loose: {kind: pilot-check-valve, from: one, to: two, pilot: other}
  sprung: {kind: pilot-check-valve, from: other, to: three, pilot: one, cracking: 0.5 bar}`,
	"shuttle-valve": `
  higher: {kind: shuttle-valve, a: one, b: two, to: three}
  first: {kind: tube, from: zero, to: one}
  second: {kind: tube, from: zero, to: two}`,
	"relief-valve": `
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  relief: {kind: relief-valve, from: rail, to: sump}`,
	"flow-regulator": `{kind: flow-regulator, from: one, to: two}`,
	"filter": `
  plain: {kind: filter, from: one, to: two}
  bypassed: {kind: filter, from: two, to: three, bypass: 2 bar}`,
	"directional-valve": `
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  centred: {kind: directional-valve, p: rail, t: sump, a: one-a, b: one-b, rest: 0}
  released: {kind: directional-valve, p: rail, t: sump, a: two-a, b: two-b, rest: -1}
  open: {kind: directional-valve, p: rail, t: sump, a: three-a, b: three-b, rest: 1}
  three-ports: {kind: directional-valve, p: rail, t: sump, a: four-a, rest: -1}`,
	"reducing-valve": `
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  emptying: {kind: reducing-valve, p: rail, t: sump, a: one, rest: 0 bar}
  filling: {kind: reducing-valve, p: rail, t: sump, a: two, rest: 20 bar}`,
	"cylinder": `
  single: {kind: cylinder, head: one}
  spring-return: {kind: cylinder, head: one, spring: {preload: 1 kN, rate: 10 N/mm}}
  double: {kind: cylinder, head: one, rod: two}`,
	"motor": `
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  winch: {kind: motor, from: rail, to: sump}
  first: {kind: motor, from: rail, to: between, drain: sump}
  second: {kind: motor, from: between, to: sump}`,
	"consumer": `
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  steering: {kind: consumer, from: rail, to: sump}
  a-function-with-a-long-name: {kind: consumer, from: rail, to: beyond}
  last: {kind: orifice, from: beyond, to: sump}`,
	"friction-pack": `
  release: {kind: cylinder, head: one, spring: {preload: 1 kN, rate: 10 N/mm}}
  clutch: {kind: friction-pack, released_by: release}
  brake: {kind: friction-pack, released_by: release}`,
}

func few(t *testing.T, parts string) *specs.Circuit {
	t.Helper()
	if strings.HasPrefix(parts, "{") {
		parts = "\n  part: " + parts
	}
	c := specs.Read("small.yaml", []byte("headroom: 1\ncircuit: small\ntitle: A kind and its forms\nfluid: {like: hm-32}\nparts:"+parts+"\n"))
	if !c.Readable() {
		t.Fatal(c.Problems)
	}
	return c
}

func compare(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name+".svg")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is drawn otherwise than expected; look at it, then run with -update", name)
	}
}

// Every kind is drawn, exactly so.
func TestKinds(t *testing.T) {
	for _, kind := range specs.Kinds() {
		t.Run(kind, func(t *testing.T) {
			c := few(t, kinds[kind])
			check(t, judged(c))
			var out strings.Builder
			if err := Draw(&out, &rules.Result{Circuit: c}, Options{Plain: true}); err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(out.String(), `data-kind="`+kind+`"`) {
				t.Fatalf("there is no %s in its picture", kind)
			}
			compare(t, kind, out.String())
		})
	}
}
