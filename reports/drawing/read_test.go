package drawing

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A drawn picture, read back from its SVG as a reader would see it: strokes and
// letters, and which part they belong to.
type drawn struct {
	view   box
	parts  map[string]*drawnPart
	nets   []stretch
	dots   []point
	plugs  []string
	words  []word
	linked [][2]string
}

type drawnPart struct {
	kind    string
	pins    []drawnPin
	strokes []box
}

type drawnPin struct {
	part, port, node, ends string
	at                     point
}

// A stretch is a straight piece of a line, and where it bows over others.
type stretch struct {
	node string
	a, b point
	bows []float64
}

type word struct {
	part, class, text string
	box               box
}

var faces = map[string]face{"name": nameFace, "mark": markFace, "node": nodeFace, "t": portFace, "title": titleFace, "sub": subFace, "key": markFace}

func read(t *testing.T, svg string) *drawn {
	t.Helper()
	d := &drawn{parts: map[string]*drawnPart{}}
	decoder := xml.NewDecoder(strings.NewReader(svg))
	type group struct{ part, node string }
	groups := []group{{}}
	ids := map[string]bool{}
	var text *word
	var at point
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			a := map[string]string{}
			for _, one := range token.Attr {
				a[one.Name.Local] = one.Value
			}
			if id := a["id"]; id != "" {
				if ids[id] {
					t.Errorf("id %s is given twice", id)
				}
				ids[id] = true
			}
			now := groups[len(groups)-1]
			switch token.Name.Local {
			case "svg":
				v := numbers(a["viewBox"])
				d.view = box{v[0], v[1], v[0] + v[2], v[1] + v[3]}
			case "g":
				now = group{}
				switch {
				case a["data-part"] != "":
					now.part = a["data-part"]
					if d.parts[now.part] != nil {
						t.Errorf("part %s is drawn twice", now.part)
					}
					d.parts[now.part] = &drawnPart{kind: a["data-kind"]}
				case a["data-node"] != "":
					now.node = a["data-node"]
				case a["data-from"] != "":
					d.linked = append(d.linked, [2]string{a["data-from"], a["data-to"]})
				}
			case "circle":
				c := point{value(t, a["cx"]), value(t, a["cy"])}
				switch {
				case a["class"] == "pin":
					d.parts[now.part].pins = append(d.parts[now.part].pins, drawnPin{now.part, a["data-port"], a["data-node"], a["data-ends"], c})
				case a["class"] == "dot":
					d.dots = append(d.dots, c)
				case now.part != "" && !strings.Contains(a["class"], " "):
					r := value(t, a["r"])
					d.parts[now.part].strokes = append(d.parts[now.part].strokes, box{c.x - r, c.y - r, c.x + r, c.y + r})
				}
			case "path":
				switch {
				case a["class"] == "plug":
					d.plugs = append(d.plugs, now.node)
				case now.node != "":
					d.nets = append(d.nets, stretchOf(now.node, a["d"]))
				case now.part != "" && !strings.Contains(a["class"], " ") && a["class"] != "x":
					d.parts[now.part].strokes = append(d.parts[now.part].strokes, extent(a["d"]))
				}
			case "text":
				at = point{value(t, a["x"]), value(t, a["y"])}
				text = &word{part: now.part, class: a["class"]}
			}
			groups = append(groups, now)
		case xml.CharData:
			if text != nil {
				text.text += string(token)
			}
		case xml.EndElement:
			groups = groups[:len(groups)-1]
			if token.Name.Local == "text" {
				f, known := faces[text.class]
				size := f.size
				if !known {
					t.Fatalf("letters of unknown class %q", text.class)
				}
				w := widthOf(text.text, f)
				if text.class == "t" {
					at.x -= w / 2
				}
				text.box = box{at.x, at.y - 0.75*size, at.x + w, at.y + 0.2*size}
				d.words = append(d.words, *text)
				text = nil
			}
		}
	}
	return d
}

var numeral = regexp.MustCompile(`-?[0-9.]+`)

func numbers(text string) []float64 {
	var list []float64
	for _, one := range numeral.FindAllString(text, -1) {
		v, err := strconv.ParseFloat(one, 64)
		if err != nil {
			panic(err)
		}
		list = append(list, v)
	}
	return list
}

func value(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("not a number: %q", text)
	}
	return v
}

var command = regexp.MustCompile(`[MHVC][^MHVC]*`)

// stretchOf reads M x y V y, or M x y H x C ... H x.
func stretchOf(node, path string) stretch {
	s := stretch{node: node}
	for _, c := range command.FindAllString(path, -1) {
		v := numbers(c)
		switch c[0] {
		case 'M':
			s.a = point{v[0], v[1]}
			s.b = s.a
		case 'H':
			s.b.x = v[0]
		case 'V':
			s.b.y = v[0]
		case 'C':
			s.bows = append(s.bows, (s.b.x+v[4])/2)
			s.b = point{v[4], v[5]}
		}
	}
	return s
}

// extent is what a part's path covers at most: its points and those that bend it.
func extent(path string) box {
	v := numbers(path)
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := 0; i+1 < len(v); i += 2 {
		b.x1, b.x2 = min(b.x1, v[i]), max(b.x2, v[i])
		b.y1, b.y2 = min(b.y1, v[i+1]), max(b.y2, v[i+1])
	}
	return b
}

func (b box) grown(by float64) box { return box{b.x1 - by, b.y1 - by, b.x2 + by, b.y2 + by} }

// joins is what lines connect, read from the picture alone: pieces whose ends meet, and
// pieces that a dot ties together.
type joins []int

func (j joins) of(i int) int {
	for j[i] != i {
		j[i] = j[j[i]]
		i = j[i]
	}
	return i
}

func (j joins) join(a, b int) { j[j.of(a)] = j.of(b) }

// holds tells whether a point lies on a piece.
func (s stretch) holds(p point) bool {
	return p.x >= min(s.a.x, s.b.x) && p.x <= max(s.a.x, s.b.x) && p.y >= min(s.a.y, s.b.y) && p.y <= max(s.a.y, s.b.y)
}

func (s stretch) ends(p point) bool { return s.a == p || s.b == p }

// connected gives the pins in groups that lines join.
func (d *drawn) connected(t *testing.T) [][]drawnPin {
	t.Helper()
	var pins []drawnPin
	for _, p := range d.parts {
		for _, pin := range p.pins {
			if pin.ends == "line" {
				pins = append(pins, pin)
			}
		}
	}
	dots := map[point]bool{}
	for _, p := range d.dots {
		dots[p] = true
	}
	j := make(joins, len(pins)+len(d.nets))
	for i := range j {
		j[i] = i
	}
	for i, a := range d.nets {
		for k := i + 1; k < len(d.nets); k++ {
			b := d.nets[k]
			for _, p := range [...]point{a.a, a.b, b.a, b.b} {
				if !a.holds(p) || !b.holds(p) {
					continue
				}
				if a.ends(p) && b.ends(p) || dots[p] {
					j.join(i, k)
				} else {
					t.Errorf("lines of %s and %s meet at %v without a dot", a.node, b.node, p)
				}
			}
			if p := (point{a.a.x, b.a.y}); a.a.x == a.b.x && b.a.y == b.b.y && dots[p] && a.holds(p) && b.holds(p) {
				j.join(i, k)
			}
			if p := (point{b.a.x, a.a.y}); b.a.x == b.b.x && a.a.y == a.b.y && dots[p] && a.holds(p) && b.holds(p) {
				j.join(i, k)
			}
		}
		for k, pin := range pins {
			if a.ends(pin.at) {
				j.join(i, len(d.nets)+k)
			} else if a.holds(pin.at) {
				t.Errorf("the line of %s passes over %s.%s", a.node, pin.part, pin.port)
			}
		}
	}
	groups := map[int][]drawnPin{}
	for k, pin := range pins {
		root := j.of(len(d.nets) + k)
		groups[root] = append(groups[root], pin)
	}
	var all [][]drawnPin
	for _, g := range groups {
		all = append(all, g)
	}
	return all
}
