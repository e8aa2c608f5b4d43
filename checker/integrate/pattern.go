package integrate

import (
	"cmp"
	"fmt"
	"slices"
)

// A Place is one position of a matrix.
type Place struct{ Row, Column int }

// A Pattern lists the places of a sparse matrix that may differ from zero, in
// compressed columns: the rows of column j are Row[Start[j]:Start[j+1]],
// ascending. The index into Row is the slot of the place; a slice of values has
// one element a slot.
type Pattern struct {
	Start []int
	Row   []int
}

// NewPattern sorts places into a pattern of the given number of columns.
// A place named more than once gets one slot. The caller vouches for
// 0 ≤ Column < columns and 0 ≤ Row; New checks both.
func NewPattern(columns int, places []Place) Pattern {
	sorted := slices.Clone(places)
	slices.SortFunc(sorted, func(a, b Place) int {
		return cmp.Or(cmp.Compare(a.Column, b.Column), cmp.Compare(a.Row, b.Row))
	})
	sorted = slices.Compact(sorted)
	p := Pattern{Start: make([]int, 1, columns+1), Row: make([]int, 0, len(sorted))}
	for _, at := range sorted {
		for len(p.Start) <= at.Column {
			p.Start = append(p.Start, len(p.Row))
		}
		p.Row = append(p.Row, at.Row)
	}
	for len(p.Start) <= columns {
		p.Start = append(p.Start, len(p.Row))
	}
	return p
}

// Slot returns the slot of a place, or -1 where the pattern has none.
func (p Pattern) Slot(row, column int) int {
	if column < 0 || column+1 >= len(p.Start) {
		return -1
	}
	first, last := p.Start[column], p.Start[column+1]
	if i, found := slices.BinarySearch(p.Row[first:last], row); found {
		return first + i
	}
	return -1
}

// check reports the first fault of a pattern of the given size.
func (p Pattern) check(rows, columns int) error {
	if len(p.Start) != columns+1 {
		return fmt.Errorf("the pattern has %d columns, the system %d", len(p.Start)-1, columns)
	}
	if p.Start[0] != 0 || p.Start[columns] != len(p.Row) {
		return fmt.Errorf("the pattern's columns do not span its %d rows", len(p.Row))
	}
	for j := range columns {
		if p.Start[j] > p.Start[j+1] || p.Start[j+1] > len(p.Row) {
			return fmt.Errorf("column %d of the pattern ends before it starts", j)
		}
		for s := p.Start[j]; s < p.Start[j+1]; s++ {
			if p.Row[s] < 0 || p.Row[s] >= rows {
				return fmt.Errorf("the pattern has row %d in column %d, the system %d rows", p.Row[s], j, rows)
			}
			if s > p.Start[j] && p.Row[s] <= p.Row[s-1] {
				return fmt.Errorf("the rows of column %d of the pattern do not ascend", j)
			}
		}
	}
	return nil
}
