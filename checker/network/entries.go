package network

import (
	"cmp"
	"slices"

	"headroom/checker/integrate"
)

// layEntries settles the pattern of the Jacobian.
func (b *builder) layEntries() {
	m := b.m
	for i := range m.nodes {
		n := &m.nodes[i]
		b.slot(&n.slots.rowP, n.row, n.column)
		b.slot(&n.slots.rowT, n.row, n.heatRow)
		b.slot(&n.slots.heatP, n.heatRow, n.column)
		b.slot(&n.slots.heatT, n.heatRow, n.heatRow)
		for k := range n.varying {
			v := &n.varying[k]
			b.slot(&v.slot, n.row, v.column)
			b.slot(&v.inHeat, n.heatRow, v.column)
		}
	}
	// A node's pressure depends on all that its temperature's rate depends on.
	rowOf := make(map[int]int, len(m.nodes))
	for i := range m.nodes {
		rowOf[m.nodes[i].heatRow] = m.nodes[i].row
	}
	var all []integrate.Place
	for _, p := range b.places {
		if p.column < 0 {
			continue
		}
		all = append(all, integrate.Place{Row: p.row, Column: p.column})
		if row, heat := rowOf[p.row]; heat {
			all = append(all, integrate.Place{Row: row, Column: p.column})
		}
	}
	m.pattern = integrate.NewPattern(len(m.states), all)
	count := len(m.pattern.Row)
	m.entries, m.readied = make([]float64, count+2), make([]float64, count)
	m.moved = make([]float64, len(m.states))
	for _, p := range b.places {
		*p.slot = int32(count)
		if p.column >= 0 {
			*p.slot = int32(m.pattern.Slot(p.row, p.column))
		}
	}
	b.layPairs(rowOf)
}

// layPairs lists the entries of each node's two rows.
func (b *builder) layPairs(rowOf map[int]int) {
	m := b.m
	nodeOf := make(map[int]int, len(m.nodes))
	for i := range m.nodes {
		nodeOf[m.nodes[i].row] = i
	}
	zero := int32(len(m.entries) - 1)
	for column := range m.states {
		for s := m.pattern.Start[column]; s < m.pattern.Start[column+1]; s++ {
			i, is := nodeOf[m.pattern.Row[s]]
			if !is {
				continue
			}
			p := pair{row: int32(s), heat: zero}
			if heat := m.pattern.Slot(m.nodes[i].heatRow, column); heat >= 0 {
				p.heat = int32(heat)
			}
			m.nodes[i].pairs = append(m.nodes[i].pairs, p)
		}
	}
	for i := range m.nodes {
		slices.SortFunc(m.nodes[i].pairs, func(a, b pair) int { return cmp.Compare(a.row, b.row) })
	}
}
