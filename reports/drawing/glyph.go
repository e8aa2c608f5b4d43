package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A point is a place within a glyph or on the sheet; y grows downwards.
type point struct{ x, y float64 }

// A style is how a stroke is drawn; it is its class in the picture.
type style string

// The styles of strokes.
const (
	outline style = "o" // the symbol's outline, closed or not
	detail  style = "l" // lines inside a symbol, and its legs
	solid   style = "f" // a filled arrow head or triangle
	dashed  style = "d" // pilot and drain lines
	frame   style = "e" // what surrounds parts that make up one unit
	small   style = "t" // small letters in a symbol
	strike  style = "x" // across a filled mark
)

// A stroke is one drawn element of a glyph.
type stroke struct {
	style  style
	points []point // of a line; a curve's first point and its three further points, repeated
	closed bool
	curved bool
	radius float64 // a circle about the first point
	text   string  // letters centred on the first point
}

// A pin is where a line meets a glyph: on its upper or lower edge.
type pin struct {
	key    string // of the part's port
	node   string
	x      float64
	top    bool
	dashed bool // a pilot or drain line
	tank   bool // it ends in a small reservoir of its own, drawn with the glyph
}

// A glyph is a symbol within its own frame, (0, 0) to (w, h).
type glyph struct {
	w, h    float64
	strokes []stroke
	pins    []pin
	spot    spot    // where the name stands
	below   float64 // of a name beneath: where the symbol proper ends
}

// A spot is where a part's name stands.
type spot uint8

// The spots of a name.
const (
	beside  spot = iota // right of the glyph
	beneath             // under it, on the side of the pins with more room
	above               // over it
	inside              // in it
)

func (g *glyph) add(s stroke) { g.strokes = append(g.strokes, s) }

// line draws a line through points, given as x, y, x, y ...
func (g *glyph) line(s style, xy ...float64) {
	g.add(stroke{style: s, points: points(xy)})
}

// ring draws a closed line through points.
func (g *glyph) ring(s style, xy ...float64) {
	g.add(stroke{style: s, points: points(xy), closed: true})
}

// curve draws cubic Bézier curves: a first point, and three further ones a curve.
func (g *glyph) curve(s style, xy ...float64) {
	g.add(stroke{style: s, points: points(xy), curved: true})
}

func (g *glyph) circle(s style, x, y, r float64) {
	g.add(stroke{style: s, points: []point{{x, y}}, radius: r})
}

func (g *glyph) rect(s style, x, y, w, h float64) {
	g.ring(s, x, y, x+w, y, x+w, y+h, x, y+h)
}

func (g *glyph) letters(text string, x, y float64) {
	g.add(stroke{style: small, points: []point{{x, y}}, text: text})
}

// arrow draws a filled arrow head whose tip is at x, y and which points along dx, dy.
func (g *glyph) arrow(x, y, dx, dy, size float64) {
	n := math.Hypot(dx, dy)
	dx, dy = dx/n*size, dy/n*size
	g.ring(solid, x, y, x-dx-dy*0.42, y-dy+dx*0.42, x-dx+dy*0.42, y-dy-dx*0.42)
}

// spring draws a zigzag between two points.
func (g *glyph) spring(x1, y1, x2, y2, width float64, turns int) {
	nx, ny := y1-y2, x2-x1
	n := math.Hypot(nx, ny)
	nx, ny = nx/n*width/2, ny/n*width/2
	xy := []float64{x1, y1}
	for i := range 2 * turns {
		t := (float64(i) + 0.5) / float64(2*turns)
		side := 1.0
		if i%2 == 1 {
			side = -1
		}
		xy = append(xy, x1+(x2-x1)*t+nx*side, y1+(y2-y1)*t+ny*side)
	}
	g.line(detail, append(xy, x2, y2)...)
}

// pin adds a connection on the upper or lower edge.
func (g *glyph) pin(key string, x float64, top bool) {
	g.pins = append(g.pins, pin{key: key, x: x, top: top})
}

// turnOver mirrors a glyph top to bottom.
func (g *glyph) turnOver() {
	for _, s := range g.strokes {
		for i := range s.points {
			s.points[i].y = g.h - s.points[i].y
		}
	}
	for i := range g.pins {
		g.pins[i].top = !g.pins[i].top
	}
}

// turnAside mirrors a glyph left to right.
func (g *glyph) turnAside() {
	for _, s := range g.strokes {
		for i := range s.points {
			s.points[i].x = g.w - s.points[i].x
		}
	}
	for i := range g.pins {
		g.pins[i].x = g.w - g.pins[i].x
	}
}

func points(xy []float64) []point {
	list := make([]point, len(xy)/2)
	for i := range list {
		list[i] = point{xy[2*i], xy[2*i+1]}
	}
	return list
}

// number writes a coordinate with at most one decimal.
func number(v float64) string {
	v = math.Round(v*10) / 10
	if v == 0 {
		return "0" // and never "-0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// svg writes a stroke as an element, moved by x and y.
func (s stroke) svg(x, y float64) string {
	at := func(p point) string { return number(p.x+x) + " " + number(p.y+y) }
	if s.text != "" {
		p := s.points[0]
		return fmt.Sprintf(`<text class="%s" x="%s" y="%s">%s</text>`, s.style, number(p.x+x), number(p.y+y), escape(s.text))
	}
	if s.radius > 0 {
		p := s.points[0]
		return fmt.Sprintf(`<circle class="%s" cx="%s" cy="%s" r="%s"/>`, s.style, number(p.x+x), number(p.y+y), number(s.radius))
	}
	var d strings.Builder
	for i, p := range s.points {
		switch {
		case i == 0:
			d.WriteString("M")
		case s.curved && i%3 == 1:
			d.WriteString("C")
		case s.curved:
			d.WriteString(" ")
		default:
			d.WriteString("L")
		}
		d.WriteString(at(p))
	}
	if s.closed {
		d.WriteString("Z")
	}
	return fmt.Sprintf(`<path class="%s" d="%s"/>`, s.style, d.String())
}
