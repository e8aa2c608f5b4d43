package specs

import (
	"gopkg.in/yaml.v3"

	"headroom/specs/quantity"
)

// table reads points over temperature or time, or a single value where one may stand.
func (r *reader) table(n *yaml.Node, f *field, key string) Table {
	t := Table{Key: key, At: r.src.span(n)}
	switch {
	case n.Kind == yaml.ScalarNode && f.single:
		if y, fine := r.si(n, t.At, f.dim, f.limits, key); fine {
			t.Points, t.RowsAt, t.Source = []Point{{0, y}}, []Span{t.At}, r.from
		}
	case n.Kind != yaml.SequenceNode:
		r.wrong(ruleShape, t.At, key, "%s must be a list of [%s, %s] points, such as %s", lastOf(key), f.xdim, f.dim, f.sample())
	default:
		r.points(n, f, &t, key)
	}
	return t
}

// points reads the rows of a table, which stays absent when one of them cannot be read.
func (r *reader) points(n *yaml.Node, f *field, t *Table, key string) {
	if len(n.Content) == 0 || len(n.Content) == 1 && !f.single {
		r.wrong(ruleEmpty, t.At, key, "%s needs %s points", lastOf(key), map[bool]string{true: "one or more", false: "two or more"}[f.single])
		return
	}
	if !r.room(pointType, len(n.Content), t.At, key) {
		return
	}
	points := make([]Point, len(n.Content))
	rows := make([]Span, len(n.Content))
	all := true
	for i, row := range n.Content {
		rows[i] = r.src.span(row)
		p, fine := r.point(row, rows[i], f, indexed(key, i))
		points[i] = p
		if fine && all && i > 0 && p.X <= points[i-1].X {
			r.wrong(ruleRange, rows[i], indexed(key, i), "each point must have a higher %s than the one before", f.xdim)
			fine = false
		}
		all = all && fine
	}
	if all {
		t.Points, t.RowsAt, t.Source = points, rows, r.from
	}
}

// point reads one row.
func (r *reader) point(n *yaml.Node, at Span, f *field, key string) (Point, bool) {
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 || n.Content[0].Kind != yaml.ScalarNode || n.Content[1].Kind != yaml.ScalarNode {
		r.wrong(ruleShape, at, key, "a point is [%s, %s], a list of them such as %s", f.xdim, f.dim, f.sample())
		return Point{}, false
	}
	x, fineX := r.si(n.Content[0], r.src.span(n.Content[0]), f.xdim, xLimits[f.xdim], key)
	y, fineY := r.si(n.Content[1], r.src.span(n.Content[1]), f.dim, f.limits, key)
	return Point{x, y}, fineX && fineY
}

// xLimits bound what values are given over.
var xLimits = map[quantity.Dimension][]limit{
	quantity.Time: {{op: ">=", si: 0, text: "0 s"}},
}
