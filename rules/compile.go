package rules

import (
	"strings"
	"sync"

	"headroom/rules/expression"
	"headroom/specs"
	"headroom/specs/quantity"
)

// A compiledRule is a rule's expressions, ready to run.
type compiledRule struct {
	once     sync.Once
	problems []specs.Problem

	where, measure, limit, require *expression.Program
	own                            []*fact // those of the subject itself that it judges by, in order of reading
	says                           []phrase
	margin                         quantity.Dimension // of a rule with a measure
}

// A phrase is a piece of a sentence: plain text, and the fact to be filled in behind it.
type phrase struct {
	text string
	fact *expression.Program // nil for plain text
}

// compile checks and plans a rule's expressions, once.
func (b *Rulebook) compile(r *Rule) *compiledRule {
	r.compiled.once.Do(func() {
		c := &compiler{book: b, rule: r, out: r.compiled}
		c.run()
	})
	return r.compiled
}

// A compiler makes the expressions of one rule ready.
type compiler struct {
	book *Rulebook
	rule *Rule
	out  *compiledRule
}

func (c *compiler) run() {
	r := c.rule
	if r.kind == nil {
		return
	}
	c.out.where = c.program(r.Where, expression.Flag)
	c.out.require = c.program(r.Require, expression.Flag)
	c.out.measure = c.program(r.Measure, expression.Number)
	c.out.limit = c.program(r.Limit, expression.Number)
	if c.out.measure != nil && c.out.limit != nil {
		c.dimensions(c.out.measure.Type.Dimension, c.out.limit.Type.Dimension)
	}
	c.ownFacts()
	c.says()
}

// ownFacts lists the facts that say where a finding of the rule points.
func (c *compiler) ownFacts() {
	for _, p := range []*expression.Program{c.out.measure, c.out.require, c.out.limit} {
		if p == nil {
			continue
		}
		for _, name := range p.Reads {
			if f := factNamed[name]; f != nil && c.rule.kind.owns(f.variable) {
				c.out.own = append(c.out.own, f)
			}
		}
	}
}

// program makes one expression ready, which must have a form; nil where it is
// empty or wrong.
func (c *compiler) program(e Expression, form expression.Form) *expression.Program {
	if e.Text == "" {
		return nil
	}
	p, problems := c.book.vocabulary.Compile(e.Text, c.scope())
	for _, one := range problems {
		message := one.Message
		if e.cutShort() {
			message += "; YAML takes what stands behind # for a comment, so write the expression behind >-"
		}
		c.wrong(e.piece(one.Offset, one.Length), message)
	}
	if p == nil || !p.Type.Known() {
		return nil
	}
	if p.Type.Form != form || p.Type.Map {
		needed := expression.Type{Form: form}.String()
		if form == expression.Number {
			needed = "a number or quantity"
		}
		c.wrong(e.At, needed+" is needed here, not "+p.Type.String())
		return nil
	}
	return p
}

func (c *compiler) scope() expression.Scope {
	return expression.Scope{Name: "a rule for " + c.rule.For, Roots: c.rule.kind.roots()}
}

func (c *compiler) wrong(at specs.Span, message string) {
	c.out.problems = append(c.out.problems, problem("spec.unit", at, c.rule.ID, "%s", message))
}

// dimensions holds the limit and the reserve against the measure.
func (c *compiler) dimensions(measure, limit quantity.Dimension) {
	r := c.rule
	margin, fine := quantity.Subtract(measure, limit)
	if !fine || !quantity.Comparable(measure, limit) {
		c.wrong(r.Limit.At, "the measure is "+measure.WithArticle()+", its limit "+limit.WithArticle()+"; they must be of one kind")
		return
	}
	c.out.margin = margin
	level := limit == quantity.Temperature || limit == quantity.AbsolutePressure
	switch {
	case r.Reserve.Share != 0 && level:
		c.wrong(r.Reserve.At, "the reserve "+r.Reserve.Text+" is a share of "+limit.WithArticle()+
			", which has none; write an amount, such as "+amountOf(margin))
	case r.Reserve.Amount != 0 && !sameKind(r.Reserve.Dimension, margin):
		c.wrong(r.Reserve.At, "the reserve "+r.Reserve.Text+" is "+r.Reserve.Dimension.WithArticle()+", the margin "+
			margin.WithArticle()+"; write an amount, such as "+amountOf(margin))
	}
}

// sameKind tells whether a reserve's dimension is that of the margin. A reserve
// in bar is a difference, whether it says so or not.
func sameKind(reserve, margin quantity.Dimension) bool {
	if reserve == quantity.Pressure {
		reserve = quantity.PressureDifference
	}
	return quantity.Comparable(reserve, margin)
}

// amountOf is an amount of a dimension, for a message.
func amountOf(d quantity.Dimension) string {
	units := d.Units()
	if len(units) == 0 || d == quantity.Number {
		return "0.1"
	}
	return "10 " + units[0]
}

// says takes apart the sentence that a finding says.
func (c *compiler) says() {
	text := c.rule.Says.Text
	for offset := 0; ; {
		open := strings.IndexByte(text[offset:], '{')
		if open < 0 {
			c.out.says = append(c.out.says, phrase{text: text[offset:]})
			return
		}
		open += offset
		shut := strings.IndexByte(text[open:], '}')
		if shut < 0 {
			c.wrong(c.rule.Says.piece(open, 1), "the brace that opens here is not closed")
			return
		}
		shut += open
		c.out.says = append(c.out.says, phrase{text: text[offset:open], fact: c.blank(open+1, shut)})
		offset = shut + 1
	}
}

// named tells whether a text is a name alone, or a limit looked up by a name.
func named(text string, reads []string) bool {
	switch len(reads) {
	case 1:
		return text == reads[0]
	case 2:
		return text == reads[0]+"["+reads[1]+"]"
	}
	return false
}

// blank reads the name between the braces of a sentence.
func (c *compiler) blank(start, end int) *expression.Program {
	name := c.rule.Says.Text[start:end]
	p, problems := c.book.vocabulary.Compile(name, c.scope())
	for _, one := range problems {
		c.wrong(c.rule.Says.piece(start+one.Offset, one.Length), one.Message)
	}
	if p != nil && (!named(name, p.Reads) || p.Type.Map) {
		c.wrong(c.rule.Says.piece(start, end-start), "the name of a fact is needed in braces, such as {part.name}, or a limit such as {limits.at_rest[part.name]}")
	}
	return p
}
