package specs

import (
	"reflect"
	"slices"

	"headroom/specs/quantity"
)

// all tells whether all values are given.
func (r *reader) all(values ...Quantity) bool {
	for _, v := range values {
		if !v.Given() {
			return false
		}
	}
	return true
}

// print is a value as people write it.
func print(q Quantity) string { return q.Dimension.Format(q.SI) }

// below checks that one value of a part or section is less than another.
func (r *reader) below(low, high Quantity) {
	if r.all(low, high) && low.SI >= high.SI {
		r.contradict(low, high, "less")
	}
}

// atMost checks that one value of a part or section is no more than another.
func (r *reader) atMost(low, high Quantity) {
	if r.all(low, high) && low.SI > high.SI {
		r.contradict(low, high, "no more")
	}
}

// contradict tells of two values that do not go together, at the one that is
// written last: the nearer one to who wrote the contradiction.
func (r *reader) contradict(low, high Quantity, how string) {
	texts := low.Dimension.FormatAlike(r.gauge(low), r.gauge(high))
	at := low
	if high.Source > low.Source {
		at = high
	}
	r.wrong(ruleRange, at.At, at.Key, "%s (%s) must be %s than %s (%s)", lastOf(low.Key), texts[0], how, lastOf(high.Key), texts[1])
}

// gauge is a value as its dimension prints it: a pressure against the air.
func (r *reader) gauge(q Quantity) float64 {
	if q.Dimension == quantity.Pressure {
		return q.SI - r.air
	}
	return q.SI
}

// exclusive is an entry that is written in exactly one of several ways, each a
// set of keys.
type exclusive interface {
	ways() (what string, sets [][]string)
}

// oneWay checks that an entry is written in one of its ways alone.
func (r *reader) oneWay(e exclusive, p *plan, v reflect.Value, where place) {
	what, ways := e.ways()
	var written []string
	last := where.at
	for _, f := range p.fields {
		at := placed(f.in(v))
		if at.Line == 0 || !slices.ContainsFunc(ways, func(way []string) bool { return slices.Contains(way, f.name) }) {
			continue
		}
		written = append(written, f.name)
		if later(at, last) {
			last = at
		}
	}
	holds := func(way []string) bool {
		return !slices.ContainsFunc(written, func(key string) bool { return !slices.Contains(way, key) })
	}
	switch {
	case slices.ContainsFunc(ways, func(way []string) bool { return holds(way) && len(way) == len(written) }):
	case len(written) == 0:
		r.wrong(ruleMissing, where.at, where.own, "%s; this one has none of these keys", what)
	case slices.ContainsFunc(ways, holds):
		r.wrong(ruleMissing, where.at, where.own, "%s; this one has only %s", what, sentence(written, "and"))
	default:
		r.wrong(ruleShape, last, where.own, "%s; this one has %s", what, sentence(written, "and"))
	}
}

func later(a, b Span) bool { return a.Line > b.Line || a.Line == b.Line && a.Column > b.Column }
