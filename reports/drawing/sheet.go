package drawing

import (
	"cmp"
	_ "embed"
	"fmt"
	"math"
	"strings"

	"headroom/rules"
	"headroom/specs"
)

// A sheet is a picture whose parts, lines and names have their places.
type sheet struct {
	result *rules.Result
	marks  *marks
	items  []*item
	plan   *plan
	route  *route
	names  []nodeName
	frame  box // of the diagram itself
}

// Distances on the sheet.
const (
	margin     = 28.0 // left free around the diagram
	headHeight = 44.0 // for the title
	keyHeight  = 18.0 // for a row of the legend
	leastWidth = 560.0
)

//go:embed drawing.css
var styles string

// fit finds the sheet's extent, and places for the names of nodes.
func (s *sheet) fit() {
	f := box{math.Inf(1), s.route.top, math.Inf(-1), 0}
	var taken []box
	for _, it := range s.items {
		b := box{it.x - it.shift, it.y - it.up, it.x - it.shift + it.width, it.y + it.glyph.h + it.down}
		taken = append(taken, b)
		f.x1, f.x2 = min(f.x1, b.x1), max(f.x2, b.x2)
	}
	s.names = s.route.names(s.plan, taken, s.marks)
	for _, n := range s.names {
		b := n.box()
		f.x1, f.x2, f.y1 = min(f.x1, b.x1), max(f.x2, b.x2), min(f.y1, b.y1)
	}
	for _, one := range s.route.segments {
		f.x1, f.x2 = min(f.x1, one.a.x), max(f.x2, one.b.x)
	}
	if f.x1 > f.x2 {
		f.x1, f.x2 = 0, 0
	}
	s.frame = f
}

// A picture is an SVG being written.
type picture struct {
	strings.Builder
	prefix string
}

func (p *picture) line(format string, args ...any) {
	fmt.Fprintf(p, format, args...)
	p.WriteByte('\n')
}

// svg writes the sheet.
func (s *sheet) svg(prefix string) string {
	c := s.result.Circuit
	p := &picture{prefix: idOf(cmp.Or(prefix, c.Name.Value, "circuit"))}
	title := cmp.Or(c.Title.Value, c.Name.Value, c.File)
	width := math.Ceil(max(s.frame.x2-s.frame.x1, widthOf(title, titleFace), widthOf(s.subtitle(), subFace), leastWidth))
	keys := fold(s.legend(), width)
	page := box{
		x1: math.Round((s.frame.x1+s.frame.x2-width)/2 - margin),
		y1: math.Round(s.frame.y1 - margin - headHeight),
		y2: math.Round(s.frame.y2 + margin + 12 + keyHeight*float64(len(keys))),
	}
	page.x2 = page.x1 + width + 2*margin
	s.head(p, page, title)
	s.lines(p)
	for i, it := range s.items {
		s.item(p, i, it)
	}
	for _, n := range s.names {
		n.svg(p)
	}
	for i, row := range keys {
		x, y := page.x1+margin, s.frame.y2+margin+14+keyHeight*float64(i)
		for _, k := range row {
			p.line(`%s<text class="key" x="%s" y="%s">%s</text>`, k.shape(x+6, y-3.5), number(x+k.before), number(y), escape(k.says))
			x += k.w
		}
	}
	p.line("</svg>")
	return p.String()
}

// head writes what comes before the diagram: what it is, its styles and its title.
func (s *sheet) head(p *picture, page box, title string) {
	width, height := number(page.x2-page.x1), number(page.y2-page.y1)
	p.line(`<svg xmlns="http://www.w3.org/2000/svg" class="circuit-drawing" role="img" aria-labelledby="%s-title %s-about" viewBox="%s %s %s %s" width="%s" height="%s">`,
		p.prefix, p.prefix, number(page.x1), number(page.y1), width, height, width, height)
	p.line(`<title id="%s-title">%s</title>`, p.prefix, escape(title))
	p.line(`<desc id="%s-about">%s</desc>`, p.prefix, escape(s.about()))
	p.line("<style>\n%s</style>", styles)
	p.line(`<rect class="paper" x="%s" y="%s" width="%s" height="%s"/>`, number(page.x1), number(page.y1), width, height)
	p.line(`<text class="title" x="%s" y="%s">%s</text>`, number(page.x1+margin), number(page.y1+margin+6), escape(title))
	p.line(`<text class="sub" x="%s" y="%s">%s</text>`, number(page.x1+margin), number(page.y1+margin+24), escape(s.subtitle()))
}

// idOf makes a text fit for an id.
func idOf(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '-'
	}, "c-"+text)
}

// subtitle is what stands under the title.
func (s *sheet) subtitle() string {
	c := s.result.Circuit
	words := []string{c.Name.Value}
	if c.Revision.Given() {
		words = append(words, "revision "+c.Revision.Value)
	}
	if s.marks != nil && s.result.Judgement != nil {
		words = append(words, string(s.result.Judgement.Verdict))
		if len(s.result.Scope.Only) > 0 {
			words = append(words, "only rules "+strings.Join(s.result.Scope.Only, ", "))
		}
		if s.result.Scope.Case != "" {
			words = append(words, "only case "+s.result.Scope.Case)
		}
	} else {
		words = append(words, "not judged")
	}
	return strings.Join(words, " · ")
}

// about is what the picture shows, for those who do not see it.
func (s *sheet) about() string {
	c := s.result.Circuit
	text := fmt.Sprintf("Circuit diagram of %s: %d parts, %d nodes.", c.Name.Value, len(c.Parts), len(c.Nodes))
	if s.marks == nil {
		return text
	}
	count := map[standing]int{}
	for _, p := range c.Parts {
		count[s.marks.part(p.Base().Name).standing]++
	}
	var words []string
	for _, k := range standings {
		if n := count[k.standing]; n > 0 {
			words = append(words, fmt.Sprintf("%d %s", n, k.standing))
		}
	}
	return text + " By their worst finding: " + strings.Join(words, ", ") + "."
}

// lines draws the nets, each a group with its name.
func (s *sheet) lines(p *picture) {
	r := s.route
	k, d, e := 0, 0, 0
	for net, name := range s.plan.nets {
		p.line(`<g class="net" data-node="%s"><title>%s</title>`, escape(name), escape(s.nodeTitle(name)))
		for ; k < len(r.segments) && r.segments[k].net == net; k++ {
			p.line("%s", r.path(r.segments[k]))
		}
		for ; d < len(r.dots) && r.dots[d].net == net; d++ {
			p.line(`<circle class="dot" cx="%s" cy="%s" r="%s"/>`, number(r.dots[d].at.x), number(r.dots[d].at.y), number(dotSize))
		}
		for ; e < len(r.plugs) && r.plugs[e].net == net; e++ {
			x, y := r.plugs[e].at.x, r.plugs[e].at.y
			p.line(`<path class="plug" d="M%s %sl6 6m0-6l-6 6"/>`, number(x-3), number(y-3))
		}
		p.line("</g>")
	}
}

func (s *sheet) nodeTitle(name string) string {
	if s.marks != nil {
		if m := withDefault(s.marks.nodes[name]); m.findings > 0 {
			return "node " + name + ": " + m.says()
		}
	}
	return "node " + name
}

// path is a piece of a line with its bows over other lines.
func (r *route) path(s segment) string {
	class := "w"
	if s.dashed {
		class = "p"
	}
	var d strings.Builder
	fmt.Fprintf(&d, "M%s %s", number(s.a.x), number(s.a.y))
	if !s.level() {
		fmt.Fprintf(&d, "V%s", number(s.b.y))
	} else {
		for _, x := range r.jumps(s) {
			y := s.a.y
			fmt.Fprintf(&d, "H%sC%s %s %s %s %s %s", number(x-jumpSize), number(x-jumpSize), number(y-5.3), number(x+jumpSize), number(y-5.3), number(x+jumpSize), number(y))
		}
		fmt.Fprintf(&d, "H%s", number(s.b.x))
	}
	return fmt.Sprintf(`<path class="%s" d="%s"/>`, class, d.String())
}

// item draws a part, its name and mark, and the friction packs linked to it.
func (s *sheet) item(p *picture, i int, it *item) {
	s.part(p, fmt.Sprintf("%s-part-%d", p.prefix, i+1), it.part, it.glyph, it.text, it.x, it.y, point{it.x + it.nameAt.x, it.y + it.nameAt.y})
	end := it.glyph.w - 2
	for k, one := range it.packs {
		link := &glyph{}
		link.line(detail, end, rodAt-2, one.x+10, rodAt-2)
		link.line(detail, end, rodAt+2, one.x+10, rodAt+2)
		p.line(`<g class="link" data-from="%s" data-to="%s">`, escape(it.part.Base().Name), escape(one.part.Base().Name))
		for _, stroke := range link.strokes {
			p.line("%s", stroke.svg(it.x, it.y))
		}
		p.line("</g>")
		s.part(p, fmt.Sprintf("%s-part-%d-%d", p.prefix, i+1, k+1), one.part, one.glyph, one.text, it.x+one.x, it.y, point{it.x + one.x, it.y - one.text.h - 1})
		end = one.x + 66
	}
}

func (s *sheet) part(p *picture, id string, part specs.Part, g *glyph, t lettering, x, y float64, at point) {
	base := part.Base()
	class := "part"
	if t.mark != nil {
		class += " " + t.mark.standing.class()
	}
	p.line(`<g id="%s" class="%s" data-part="%s" data-kind="%s"><title>%s</title>`, id, class, escape(base.Name), escape(base.Kind), escape(partTitle(part, t.mark)))
	for _, pin := range g.pins {
		py := y + g.h
		if pin.top {
			py = y
		}
		what := "line"
		if pin.tank {
			what = "reservoir"
		}
		p.line(`<circle class="pin" cx="%s" cy="%s" r="0.1" data-port="%s" data-node="%s" data-ends="%s"/>`, number(x+pin.x), number(py), escape(pin.key), escape(pin.node), what)
	}
	for _, one := range g.strokes {
		p.line("%s", one.svg(x, y))
	}
	ty := at.y + nameFace.size - 1
	for _, l := range t.lines {
		p.line(`<text class="name" x="%s" y="%s">%s</text>`, number(at.x), number(ty), escape(l))
		ty += lineHeight
	}
	if t.mark != nil {
		p.line(`%s<text class="mark" x="%s" y="%s">%s</text>`, t.mark.standing.shape(at.x+6, ty-3.8), number(at.x+markGap), number(ty), escape(t.mark.text()))
	}
	p.line("</g>")
}

// partTitle tells of a part who points at it.
func partTitle(part specs.Part, m *mark) string {
	b := part.Base()
	text := b.Name + " (" + b.Kind + ")"
	if m == nil {
		return text
	}
	return text + ": " + m.says()
}

// says is a mark in full.
func (m mark) says() string {
	text := m.text()
	if m.worst != nil {
		text += ", " + m.worst.Rule.ID
		if m.worst.Subject.Case != "" {
			text += " in " + m.worst.Subject.Case
		}
	}
	if m.findings > 1 {
		text += fmt.Sprintf("; %d findings", m.findings)
	}
	return text
}

// svg draws a node's name, with the mark of a finding on it.
func (n nodeName) svg(p *picture) {
	x, shape := n.at.x, ""
	if n.mark != nil {
		shape = n.mark.standing.shape(x+6, n.at.y-3)
		x += markGap
	}
	p.line(`%s<text class="node" x="%s" y="%s">%s</text>`, shape, number(x), number(n.at.y), escape(n.text))
}

// A key is an entry of the legend.
type key struct {
	shape  func(x, y float64) string
	says   string
	before float64 // of its words
	w      float64
}

// legend explains the marks and lines that the picture has.
func (s *sheet) legend() []key {
	var keys []key
	add := func(before float64, says string, shape func(x, y float64) string) {
		keys = append(keys, key{shape, says, before, before + widthOf(says, markFace) + 16})
	}
	used := map[standing]bool{}
	if s.marks != nil {
		for _, p := range s.result.Circuit.Parts {
			used[s.marks.part(p.Base().Name).standing] = true
		}
		for _, n := range s.names {
			if n.mark != nil {
				used[n.mark.standing] = true
			}
		}
	}
	for _, k := range standings {
		if used[k.standing] {
			add(markGap, k.says, k.standing.shape)
		}
	}
	if s.marks != nil {
		add(0, "number: headroom, the margin over the reserve a careful designer keeps", func(float64, float64) string { return "" })
	}
	add(26, "pilot or drain line", func(x, y float64) string {
		return fmt.Sprintf(`<path class="p" d="M%s %sh22"/>`, number(x-6), number(y))
	})
	return keys
}

// fold breaks the legend into rows.
func fold(keys []key, width float64) [][]key {
	var rows [][]key
	x := math.Inf(1)
	for _, k := range keys {
		if x+k.w > width {
			rows = append(rows, nil)
			x = 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], k)
		x += k.w
	}
	return rows
}
