package drawing

import (
	"math"
	"strconv"

	"headroom/specs"
)

// An item is a part in the picture: its glyph with its name, and the friction packs
// that a cylinder releases.
type item struct {
	part   specs.Part
	glyph  *glyph
	text   lettering
	packs  []*pack
	stance stance
	aside  bool // mirrored left to right
	row    int

	x, y   float64 // of the glyph's frame, on the sheet
	nameAt point   // of the name, within that frame
	width  float64 // of all
	shift  float64 // of the frame within that width
	up     float64 // what stands above the frame
	down   float64 // and below
}

// A pack is a friction pack beside its cylinder.
type pack struct {
	part  specs.Part
	glyph *glyph
	text  lettering
	x     float64 // within the cylinder's frame
}

// A lettering is what is written at a part: its name in lines, and its mark.
type lettering struct {
	lines []string
	mark  *mark // nil where nothing was judged
	w, h  float64
}

// markGap is from the left of a mark's shape to its words.
const markGap = 15.0

func letteringOf(name string, m *mark) lettering {
	t := lettering{lines: broken(name), mark: m}
	for _, l := range t.lines {
		t.w = max(t.w, widthOf(l, nameFace))
	}
	t.h = float64(len(t.lines)) * lineHeight
	if m != nil {
		t.w = max(t.w, markGap+widthOf(m.text(), markFace))
		t.h += lineHeight
	}
	return t
}

// itemsOf makes the items of a circuit; m is nil where nothing was judged.
func itemsOf(c *specs.Circuit, m *marks) []*item {
	s := sidesOf(c)
	air := c.Environment.AirPressure.SI
	lettered := func(p specs.Part) lettering {
		if m == nil {
			return letteringOf(p.Base().Name, nil)
		}
		one := m.part(p.Base().Name)
		return letteringOf(p.Base().Name, &one)
	}
	var items []*item
	byName := map[string]*item{}
	for _, p := range c.Parts {
		if f, ok := p.(*specs.FrictionPack); ok && isCylinder(c.Part(f.ReleasedBy.Value)) {
			continue
		}
		it := &item{part: p, text: lettered(p), stance: s.stanceOf(p)}
		it.glyph = symbolOf(p, air, it.stance == seated, it.text.w, it.text.h)
		it.connect()
		if it.stance == turned && it.turns() {
			it.glyph.turnOver()
		}
		items = append(items, it)
		byName[p.Base().Name] = it
	}
	for _, p := range c.Parts {
		if f, ok := p.(*specs.FrictionPack); ok {
			if it := byName[f.ReleasedBy.Value]; it != nil && isCylinder(it.part) {
				it.packs = append(it.packs, &pack{part: p, glyph: frictionPack(), text: lettered(p)})
			}
		}
	}
	closeLines(items)
	for _, it := range items {
		it.frame()
	}
	return items
}

func isCylinder(p specs.Part) bool {
	_, ok := p.(*specs.Cylinder)
	return ok
}

// connect gives the glyph's pins their nodes, and takes away those that have none.
func (it *item) connect() {
	nodes := map[string]string{}
	for _, port := range specs.Ports(it.part) {
		nodes[port.Key] = port.Node
	}
	kept := it.glyph.pins[:0]
	for _, pin := range it.glyph.pins {
		if pin.node = nodes[pin.key]; pin.node != "" {
			kept = append(kept, pin)
		}
	}
	it.glyph.pins = kept
}

// closeLines ends lines that return to a reservoir in a small reservoir of their own,
// as is usual, so that they need not cross the sheet. What draws from a reservoir is
// joined to its symbol proper; where nothing does, the first that returns is.
func closeLines(items []*item) {
	tanks := numbered(items)
	drawn := map[string]bool{} // nodes whose reservoir something is joined to
	for _, it := range items {
		for _, pin := range it.glyph.pins {
			if tanks[pin.node] > 0 && (draws(pin) || pin.top && pin.key != "at") {
				drawn[pin.node] = true
			}
		}
	}
	for _, it := range items {
		if r, ok := it.part.(*specs.Reservoir); ok {
			if len(tanks) > 1 {
				it.glyph.letters(strconv.Itoa(tanks[r.AtPort.Node]), 40, 32)
			}
			continue
		}
		closed := false
		for i := range it.glyph.pins {
			pin := &it.glyph.pins[i]
			switch {
			case tanks[pin.node] == 0 || pin.top || draws(*pin):
			case !drawn[pin.node] && !pin.dashed:
				drawn[pin.node] = true
			default:
				pin.tank, closed = true, true
			}
		}
		if closed {
			it.glyph.addTanks(tanks)
		}
	}
}

// numbered numbers the nodes at which reservoirs stand, from 1.
func numbered(items []*item) map[string]int {
	tanks := map[string]int{}
	for _, it := range items {
		if r, ok := it.part.(*specs.Reservoir); ok && r.AtPort.Node != "" && tanks[r.AtPort.Node] == 0 {
			tanks[r.AtPort.Node] = len(tanks) + 1
		}
	}
	return tanks
}

// draws tells whether a pin takes oil out of a reservoir.
func draws(p pin) bool { return p.key == "from" || p.key == "p" }

// addTanks draws a small reservoir under each pin that ends in one, with its number
// where there are several.
func (g *glyph) addTanks(tanks map[string]int) {
	low, more := g.h, tankHeight
	if len(tanks) > 1 {
		more += 10
	}
	g.h += more
	for _, p := range g.pins {
		s := detail
		if p.dashed {
			s = dashed
		}
		switch {
		case p.tank:
			smallTank(g, p.x, low, s)
			g.w = max(g.w, p.x+tankWidth/2)
			if len(tanks) > 1 {
				g.letters(strconv.Itoa(tanks[p.node]), p.x, g.h-2)
			}
		case !p.top:
			g.line(s, p.x, low, p.x, g.h)
		}
	}
}

// frame finds out what room an item takes with its name and packs.
func (it *item) frame() {
	g, t := it.glyph, it.text
	left, right := 0.0, g.w
	it.up, it.down = 0, 0
	switch g.spot {
	case above:
		it.nameAt = point{0, -t.h - 1}
		it.up = t.h + 1
		right = max(right, t.w)
	case inside:
		it.nameAt = point{10, 9}
	case beneath:
		first, last := g.w/2, g.w/2
		for i, p := range g.pins {
			if !p.top {
				if i == 0 || p.x < first {
					first = p.x
				}
				last = max(last, p.x)
			}
		}
		if g.w-last >= first {
			it.nameAt = point{last + 14, g.below + 3}
		} else {
			it.nameAt = point{math.Floor(first - 16 - t.w), g.below + 3}
		}
		it.down = max(0, g.below+3+t.h-g.h)
		left, right = min(left, it.nameAt.x), max(right, it.nameAt.x+t.w)
	default:
		it.nameAt = point{g.w + 6, (g.h - t.h) / 2}
		right = it.nameAt.x + t.w
		it.up = max(0, -it.nameAt.y)
		it.down = it.up
	}
	for _, p := range it.packs {
		p.x = right + 12
		right = p.x + max(p.glyph.w, p.text.w)
		it.up = max(it.up, p.text.h+1)
	}
	it.shift, it.width = -left, math.Ceil(right-left)
}
