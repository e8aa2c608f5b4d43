package checker

import (
	"cmp"
	"slices"
	"strings"

	"headroom/specs"
	"headroom/specs/quantity"
)

// A heldWatch notes what took and what gave oil when the pressure that an
// expectation is about was at its worst.
type heldWatch struct {
	expectation int
	node        string
	from, until float64
	sign        float64 // 1: the lowest pressure is worst
	takers      []tap
	givers      []tap

	nodeAt int
	seen   bool
	worst  float64
}

// A tap is where a part takes oil from the supply, or gives it.
type tap struct {
	part string
	of   []string // its readings, added up
	sign float64  // that makes what counts positive
	at   []int
	flow float64 // at the worst
}

// worthNaming is the flow (m³/s) from which a tap is named: 0.1 L/min.
const worthNaming = 0.1e-3 / 60

// watchHeld watches the pressures that the case expects to be held.
func (w *watcher) watchHeld() {
	for e := range w.v.spec.Expects {
		spec := &w.v.spec.Expects[e]
		if !spec.Node.Given() {
			continue
		}
		watch := heldWatch{expectation: e, node: spec.Node.Value, from: spec.From.SI, until: w.v.spec.Lasts.SI, sign: 1}
		if spec.Until.Given() {
			watch.until = spec.Until.SI
		}
		if spec.AtMost.Given() {
			watch.sign = -1
		}
		for _, p := range w.v.parts {
			name := p.Base().Name
			switch p.(type) {
			case *specs.Consumer, *specs.Motor, *specs.ReliefValve:
				watch.takers = append(watch.takers, tap{part: name, of: []string{"flow"}, sign: 1})
			case *specs.DirectionalValve:
				watch.takers = append(watch.takers, tap{part: name, of: []string{"flow_pa", "flow_pb", "flow_pt"}, sign: 1})
			case *specs.ReducingValve:
				watch.takers = append(watch.takers, tap{part: name, of: []string{"flow_pa"}, sign: 1})
			case *specs.Pump:
				watch.givers = append(watch.givers, tap{part: name, of: []string{"flow"}, sign: 1})
			case *specs.Accumulator: // its flow counts into it
				watch.givers = append(watch.givers, tap{part: name, of: []string{"flow"}, sign: -1})
			}
		}
		w.held = append(w.held, watch)
	}
}

func (h *heldWatch) begin(index channels) {
	h.seen, h.nodeAt = false, index.find(h.node, "pressure")
	for _, taps := range [][]tap{h.takers, h.givers} {
		for i := range taps {
			t := &taps[i]
			t.at, t.flow = t.at[:0], 0
			for _, name := range t.of {
				if at := index.find(t.part, name); at >= 0 {
					t.at = append(t.at, at)
				}
			}
		}
	}
}

func (h *heldWatch) sample(t float64, values []float64) {
	if h.nodeAt < 0 || t < h.from || t > h.until {
		return
	}
	p := h.sign * values[h.nodeAt]
	if h.seen && p >= h.worst {
		return
	}
	h.seen, h.worst = true, p
	for _, taps := range [][]tap{h.takers, h.givers} {
		for i := range taps {
			taps[i].flow = 0
			for _, at := range taps[i].at {
				taps[i].flow += taps[i].sign * values[at]
			}
		}
	}
}

// story tells who took and who gave, the most first; "" where nobody did.
func (h *heldWatch) story() string {
	var pieces []string
	for _, side := range []struct {
		taps []tap
		verb string
	}{{h.takers, "took "}, {h.givers, "gave "}} {
		if named := name(side.taps, side.verb); named != "" {
			pieces = append(pieces, named)
		}
	}
	if pieces == nil {
		return ""
	}
	return "while " + strings.Join(pieces, " and ")
}

// name lists the taps that are worth it.
func name(taps []tap, verb string) string {
	sorted := slices.DeleteFunc(slices.Clone(taps), func(t tap) bool { return t.flow < worthNaming })
	slices.SortStableFunc(sorted, func(a, b tap) int { return cmp.Compare(b.flow, a.flow) })
	var all []string
	for i, t := range sorted {
		does := ""
		if i == 0 {
			does = verb
		}
		all = append(all, t.part+" "+does+print(t.flow, quantity.Flow))
	}
	return strings.Join(all, ", ")
}
