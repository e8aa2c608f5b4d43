package topology

import (
	"container/heap"
	"math"
)

// A Direction is that of a path: with the flow or against it.
type Direction bool

// The directions.
const (
	Downstream Direction = true
	Upstream   Direction = false
)

// Cheapest gives, for every node, the least cost of a path from the start past
// nothing that can be shut, check valves in their own direction: +Inf where
// there is none. The path begins at the start and runs downstream, or it ends
// there and the nodes lie upstream. A reservoir ends a path. Costs are those of
// passages by index, and not negative (Dijkstra 1959).
func (g *Graph) Cheapest(start int, d Direction, cost func(passage int) float64) []float64 {
	costs := make([]float64, len(g.Nodes))
	for n := range costs {
		costs[n] = math.Inf(1)
	}
	costs[start] = 0
	queue := frontier{{start, 0}}
	for len(queue) > 0 {
		at := heap.Pop(&queue).(reached)
		if at.cost > costs[at.node] || g.Nodes[at.node].Reservoir {
			continue
		}
		for _, i := range g.Nodes[at.node].Passages {
			p := &g.Passages[i]
			next, forwards := p.To, true
			if at.node == p.To {
				next, forwards = p.From, false
			}
			if !nothingShuts(p, forwards == bool(d)) {
				continue
			}
			if c := at.cost + cost(i); c < costs[next] {
				costs[next] = c
				heap.Push(&queue, reached{next, c})
			}
		}
	}
	return costs
}

// reached is a node and the cost of the way to it.
type reached struct {
	node int
	cost float64
}

// A frontier is a heap of nodes, the cheapest first, then the first of the circuit.
type frontier []reached

func (f frontier) Len() int { return len(f) }
func (f frontier) Less(i, j int) bool {
	if f[i].cost != f[j].cost {
		return f[i].cost < f[j].cost
	}
	return f[i].node < f[j].node
}
func (f frontier) Swap(i, j int) { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)   { *f = append(*f, x.(reached)) }
func (f *frontier) Pop() any {
	last := len(*f) - 1
	x := (*f)[last]
	*f = (*f)[:last]
	return x
}
