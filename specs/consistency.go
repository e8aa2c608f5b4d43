package specs

import (
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

// keyed is a key of an entry and whether it is written.
type keyed struct {
	key string
	at  Span
}

// oneWay checks that an entry is written in exactly one of several ways, each a
// set of keys. It returns which, or -1.
func (r *reader) oneWay(where place, what string, keys []keyed, ways [][]string) int {
	var written []string
	last := where.at
	for _, k := range keys {
		if k.at.Line == 0 {
			continue
		}
		written = append(written, k.key)
		if later(k.at, last) {
			last = k.at
		}
	}
	holds := func(way []string) bool {
		return !slices.ContainsFunc(written, func(key string) bool { return !slices.Contains(way, key) })
	}
	for i, way := range ways {
		if holds(way) && len(way) == len(written) {
			return i
		}
	}
	switch {
	case len(written) == 0:
		r.wrong(ruleMissing, where.at, where.own, "%s; this one has neither", what)
	case slices.ContainsFunc(ways, holds):
		r.wrong(ruleMissing, where.at, where.own, "%s; this one has only %s", what, sentence(written, "and"))
	default:
		r.wrong(ruleShape, last, where.own, "%s; this one has %s", what, sentence(written, "and"))
	}
	return -1
}

func later(a, b Span) bool { return a.Line > b.Line || a.Line == b.Line && a.Column > b.Column }
