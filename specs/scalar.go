package specs

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"headroom/specs/quantity"
)

// quantity reads a physical value: absent where it cannot be read.
func (r *reader) quantity(n *yaml.Node, f *field, key string) Quantity {
	q := Quantity{Dimension: f.dim, Key: key, At: r.src.span(n)}
	if n.Kind != yaml.ScalarNode {
		r.wrong(ruleShape, q.At, key, "%s must be a single quantity, such as %s", lastOf(key), f.sample())
		return q
	}
	si, fine := r.si(n, q.At, f.dim, f.limits, key)
	if fine {
		q.SI, q.Source = si, r.from
	}
	return q
}

// si reads a scalar as a quantity that meets limits, gauge pressures resolved.
func (r *reader) si(n *yaml.Node, at Span, d quantity.Dimension, limits []limit, key string) (float64, bool) {
	v, err := quantity.Parse(n.Value, d)
	if err != nil {
		r.badQuantity(n, at, err, key)
		return 0, false
	}
	si := v.SI
	if v.Gauge {
		si += r.air
	}
	if message := r.outside(si, limits); message != "" {
		r.wrong(ruleRange, at, key, "%s must be %s, not %s", lastOf(key), message, n.Value)
		return 0, false
	}
	if d == quantity.Pressure && si < 0 {
		r.wrong(ruleRange, at, key, "%s is below vacuum: the surrounding air has %s", n.Value, quantity.AbsolutePressure.Format(r.air))
		return 0, false
	}
	return si, true
}

// badQuantity tells what quantity.Parse complains about, at the piece it means.
func (r *reader) badQuantity(n *yaml.Node, at Span, err error, key string) {
	rule := ruleUnit
	var detail *quantity.Error
	if errors.As(err, &detail) {
		at = r.src.within(n, detail.Offset, detail.Length)
		if detail.Kind == quantity.OutOfRange {
			rule = ruleRange
		}
	}
	r.wrong(rule, at, key, "%s", err.Error())
}

// text reads a string: absent where it is not one that is allowed.
func (r *reader) text(n *yaml.Node, f *field, key string) Text {
	t := Text{Key: key, At: r.src.span(n)}
	switch {
	case n.Kind != yaml.ScalarNode:
		r.wrong(ruleShape, t.At, key, "%s must be a single text, such as %s", lastOf(key), f.sample())
	case strings.TrimSpace(n.Value) == "" || isNull(n):
		r.wrong(ruleEmpty, t.At, key, "%s is empty; write something or leave it out", lastOf(key))
	case r.allowed(n.Value, f, t.At, key):
		t.Value, t.Source = n.Value, r.from
	}
	return t
}

// allowed tells whether a text is one of its words, of its form, and names what is there.
func (r *reader) allowed(value string, f *field, at Span, key string) bool {
	switch {
	case f.oneof != nil && !slices.Contains(f.oneof, value):
		r.wrong(ruleRange, at, key, "%s must be %s, not %s", lastOf(key), sentence(f.oneof, "or"), value)
		return false
	case f.form != "":
		form := forms[f.form]
		if message := form.judge(value); message != "" {
			r.wrong(form.rule, at, key, "%s", message)
			return false
		}
	case f.ref != nil:
		return r.refers(f.ref, value, at, key)
	}
	return true
}

// flag reads true or false.
func (r *reader) flag(n *yaml.Node, key string) Flag {
	flag := Flag{Key: key, At: r.src.span(n)}
	switch {
	case n.Kind != yaml.ScalarNode:
		r.wrong(ruleShape, flag.At, key, "%s must be true or false", lastOf(key))
	case n.Value == "true" || n.Value == "false":
		flag.Value, flag.Source = n.Value == "true", r.from
	default:
		r.wrong(ruleShape, flag.At, key, "%s must be true or false, not %s", lastOf(key), n.Value)
	}
	return flag
}

// count reads a whole number.
func (r *reader) count(n *yaml.Node, f *field, key string) Count {
	c := Count{Key: key, At: r.src.span(n)}
	value, err := strconv.Atoi(n.Value)
	switch message := r.outside(float64(value), f.limits); {
	case n.Kind != yaml.ScalarNode || err != nil:
		r.wrong(ruleShape, c.At, key, "%s must be a whole number, such as %s", lastOf(key), f.sample())
	case message != "":
		r.wrong(ruleRange, c.At, key, "%s must be %s, not %s", lastOf(key), message, n.Value)
	default:
		c.Value, c.Source = value, r.from
	}
	return c
}

// port reads the name of the node that a port connects to.
func (r *reader) port(n *yaml.Node, f *field, key string) Port {
	p := Port{Key: f.name, At: r.src.span(n)}
	switch message := identifier(n.Value); {
	case n.Kind != yaml.ScalarNode:
		r.wrong(ruleShape, p.At, key, "%s must be the name of a node, such as %s", lastOf(key), f.sample())
	case message != "":
		r.wrong(ruleRange, p.At, key, "%s", message)
	case r.inCase && !r.muted && !r.refers([]string{"node"}, n.Value, p.At, key):
	default:
		p.Node, p.Source = n.Value, r.from
	}
	return p
}

// textList reads a list of strings.
func (r *reader) textList(n *yaml.Node, f *field, key string) []Text {
	if n.Kind != yaml.SequenceNode {
		r.wrong(ruleShape, r.src.span(n), key, "%s must be a list of texts", lastOf(key))
		return nil
	}
	var all []Text
	for i, item := range n.Content {
		if t := r.text(item, f, indexed(key, i)); t.Given() {
			all = append(all, t)
		}
	}
	return all
}

// lastOf is the last word of a dotted key, by which messages call a value.
func lastOf(key string) string { return key[strings.LastIndexByte(key, '.')+1:] }
