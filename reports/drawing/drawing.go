// Package drawing lays out a circuit's diagram from its spec and draws it as SVG, each
// part marked by its worst headroom. It computes and judges nothing.
//
// The layout is layered: what must lie above what (sides.go, layers.go), in which
// order and where along a row (rows.go, order.go, place.go), then the lines between the
// rows (route.go), at last the names of nodes (nodes.go). Symbols are in symbols.go, one
// function a kind.
package drawing

import (
	"io"

	"headroom/rules"
)

// Options are how a diagram is drawn.
type Options struct {
	Plain  bool   // without marks, as nothing was judged
	Prefix string // of all ids; the circuit's name where empty. Two on a page need two
}

// Draw writes a circuit's diagram as one SVG element. A part is marked by its gravest
// finding and its least headroom, in words as well as in colour.
func Draw(w io.Writer, r *rules.Result, o Options) error {
	var m *marks
	if !o.Plain {
		m = marksOf(r.Judgement)
	}
	_, err := io.WriteString(w, layOut(r, m).svg(o.Prefix))
	return err
}

// layOut makes the sheet of a circuit.
func layOut(r *rules.Result, m *marks) *sheet {
	items := itemsOf(r.Circuit, m)
	plan := planOf(items, layer(items))
	plan.arrange()
	s := &sheet{result: r, marks: m, items: items, plan: plan, route: plan.run()}
	s.fit()
	return s
}
