package drawing

// A nodeName is a node's name where it stands beside its line.
type nodeName struct {
	net  int
	text string
	at   point // left end of its base line
	w    float64
	mark *mark // of a finding on the node
}

// A box is a part of the sheet that is taken.
type box struct{ x1, y1, x2, y2 float64 }

func (b box) meets(o box) bool { return b.x1 < o.x2 && o.x1 < b.x2 && b.y1 < o.y2 && o.y1 < b.y2 }

func (n nodeName) box() box {
	return box{n.at.x - 1, n.at.y - nodeFace.size, n.at.x + n.w + 1, n.at.y + 2}
}

// names finds a free place beside its line for each node's name. One that has none
// goes without: its line still tells its name to whoever points at it.
func (r *route) names(p *plan, taken []box, m *marks) []nodeName {
	var placed []nodeName
	for _, s := range r.segments {
		taken = append(taken, box{s.a.x - 1, s.a.y - 1, s.b.x + 1, s.b.y + 1})
	}
	for _, s := range r.segments {
		if s.level() {
			for _, x := range r.jumps(s) {
				taken = append(taken, box{x - jumpSize, s.a.y - jumpSize - 1, x + jumpSize, s.a.y})
			}
		}
	}
	for _, d := range r.plugs {
		taken = append(taken, box{d.at.x - 3, d.at.y - 3, d.at.x + 3, d.at.y + 3})
	}
	for _, d := range r.dots {
		taken = append(taken, box{d.at.x - dotSize, d.at.y - dotSize, d.at.x + dotSize, d.at.y + dotSize})
	}
	index := shelve(taken)
	of := make([][]segment, len(p.nets))
	for _, s := range r.segments {
		of[s.net] = append(of[s.net], s)
	}
	for net, name := range p.nets {
		n := nodeName{net: net, text: name, w: widthOf(name, nodeFace)}
		if m != nil {
			if k := withDefault(m.nodes[name]); k.findings > 0 {
				n.mark = &k
				n.w += markGap
			}
		}
		if n.find(of[net], index) {
			index.add(n.box())
			placed = append(placed, n)
		}
	}
	return placed
}

// find looks along a net's lines, the level ones first and the longest of these first.
func (n *nodeName) find(segments []segment, taken *shelf) bool {
	var longest *segment
	for i := range segments {
		if s := &segments[i]; s.level() && (longest == nil || s.b.x-s.a.x > longest.b.x-longest.a.x) {
			longest = s
		}
	}
	try := func(x, y float64) bool {
		n.at = point{x, y}
		return !taken.meets(n.box())
	}
	along := func(s *segment) bool {
		for x := s.a.x + 6; x+n.w+4 <= s.b.x; x += 6 {
			if try(x, s.a.y-4) || try(x, s.a.y+nodeFace.size+2) {
				return true
			}
		}
		return false
	}
	if longest != nil && along(longest) {
		return true
	}
	for i := range segments {
		if s := &segments[i]; s.level() && along(s) {
			return true
		}
	}
	for _, s := range segments {
		if s.level() {
			continue
		}
		for y := s.b.y - 3; y-nodeFace.size >= s.a.y; y -= 5 {
			if try(s.a.x+4, y) || try(s.a.x-n.w-4, y) {
				return true
			}
		}
	}
	if len(segments) > 0 && longest == nil { // beside a line that leads nowhere
		s := segments[0]
		return try(s.a.x+6, s.b.y+5) || try(s.a.x-n.w-6, s.b.y+5) || try(s.a.x+6, s.a.y+3) || try(s.a.x-n.w-6, s.a.y+3)
	}
	if longest != nil { // beyond its ends
		return try(longest.b.x+4, longest.a.y+3) || try(longest.a.x-n.w-4, longest.a.y+3)
	}
	return false
}

// A shelf finds which of many boxes one meets: boxes by the bands of the sheet that
// they lie in.
type shelf struct {
	bands map[int][]box
}

const band = 40.0

func shelve(boxes []box) *shelf {
	s := &shelf{bands: map[int][]box{}}
	for _, b := range boxes {
		s.add(b)
	}
	return s
}

func (s *shelf) add(b box) {
	for i := bandOf(b.y1); i <= bandOf(b.y2); i++ {
		s.bands[i] = append(s.bands[i], b)
	}
}

func (s *shelf) meets(b box) bool {
	for i := bandOf(b.y1); i <= bandOf(b.y2); i++ {
		for _, o := range s.bands[i] {
			if b.meets(o) {
				return true
			}
		}
	}
	return false
}

func bandOf(y float64) int { return int((y + 1e6) / band) }
