package checker

import "headroom/specs"

// A shareWatch follows what is lost between what supplies a line and its far end.
type shareWatch struct {
	line     int
	name     string
	ends     [2]string
	supplies []string // nodes
	air      float64

	flowAt    int
	endsAt    [2]int
	suppliers []int
	top       float64 // highest supply pressure so far
	lost      level
}

const (
	shareLasts = 0.1  // s, that a share must last to count
	shareFrom  = 0.05 // s, from which shares count
	shareFlow  = 1e-7 // m³/s, below which nothing is lost
)

// watchShare watches a line that pumps or accumulators feed past nothing that
// can be shut.
func (w *watcher) watchShare(i int) {
	g := w.s.graph
	ports := g.Ports[i]
	if len(ports) != 2 {
		return
	}
	watch := shareWatch{
		line: i, name: g.Name(i), air: w.s.air, lost: level{window: shareLasts},
		ends: [2]string{g.Nodes[ports[0].Node].Name, g.Nodes[ports[1].Node].Name},
	}
	for k, pump := range w.s.pumps {
		if to, ok := g.At(pump, "to"); ok && w.v.turns(pump) && w.s.fed[k][ports[0].Node] {
			watch.supplies = append(watch.supplies, g.Nodes[to].Name)
		}
	}
	for _, part := range g.Sections[g.Nodes[ports[0].Node].Section].Parts {
		if at, ok := g.At(part, "at"); ok && isStore(w.v.parts[part]) {
			watch.supplies = append(watch.supplies, g.Nodes[at].Name)
		}
	}
	if len(watch.supplies) > 0 {
		w.shares = append(w.shares, watch)
	}
}

func isStore(p specs.Part) bool { _, is := p.(*specs.Accumulator); return is }

func (l *shareWatch) begin(index channels) {
	l.flowAt = index.find(l.name, "flow")
	for k, end := range l.ends {
		l.endsAt[k] = index.find(end, "pressure")
	}
	l.suppliers = l.suppliers[:0]
	for _, n := range l.supplies {
		l.suppliers = append(l.suppliers, index.find(n, "pressure"))
	}
	l.top = 0
	l.lost.reset()
}

// sample takes the share lost up to the end that the flow goes to, while the
// supply is at half its highest at least: a share of next to nothing says nothing.
func (l *shareWatch) sample(t float64, values []float64) {
	if l.flowAt < 0 || t < shareFrom {
		return
	}
	supply := 0.0
	for _, n := range l.suppliers {
		supply = max(supply, values[n]-l.air)
	}
	l.top = max(l.top, supply)
	flow, share := values[l.flowAt], 0.0
	end := l.endsAt[1]
	if flow < 0 {
		flow, end = -flow, l.endsAt[0]
	}
	if flow > shareFlow && supply > 0 && supply >= l.top/2 {
		share = max(0, 1-(values[end]-l.air)/supply)
	}
	l.lost.add(t, share)
}
