package network

import (
	"errors"
	"fmt"
	"reflect"
	"slices"

	"headroom/specs"
)

// makers makes the element of a part, by the part's type; each kind's own file
// registers it.
var makers = map[reflect.Type]func(*builder, specs.Part) element{}

func register[P specs.Part](make func(*builder, P) element) bool {
	makers[reflect.TypeFor[P]()] = func(b *builder, p specs.Part) element { return make(b, p.(P)) }
	return true
}

// A builder lays out a model.
type builder struct {
	m      *model
	parts  []specs.Part // as they are in the case
	places []place
	late   []func() // once every part is known
	fault  error
}

// place is an entry of the Jacobian and where its slot is wanted.
type place struct {
	row, column int
	slot        *int32
}

// newModel lays out a circuit in one case.
func newModel(c *specs.Circuit, k *specs.Case, o *oil) (*model, error) {
	m := &model{
		circuit: c, spec: k, oil: o,
		air: c.Environment.AirPressure.SI, ambient: k.Begins.Ambient.SI,
		aired:  o.aired(),
		byNode: make(map[string]int, len(c.Nodes)), byPart: make(map[string]element, len(c.Parts)),
	}
	b := &builder{m: m, parts: partsIn(c, k)}
	m.parts = b.parts
	for _, p := range b.parts {
		if key := missingIn(p); key != "" {
			return nil, fmt.Errorf("%s has no %s", p.Base().Name, key)
		}
	}
	if !k.Lasts.Given() || !k.Begins.Fluid.Given() || !k.Begins.Ambient.Given() {
		return nil, errors.New("how long it lasts, or how warm it begins, is not known")
	}
	b.layNodes()
	b.layParts()
	if b.fault != nil {
		return nil, b.fault
	}
	b.layEntries()
	return m, nil
}

// partsIn are the parts as a case has them.
func partsIn(c *specs.Circuit, k *specs.Case) []specs.Part {
	parts := slices.Clone(c.Parts)
	for i, p := range parts {
		for _, o := range k.With {
			if o.Part == p.Base().Name && o.As != nil {
				parts[i] = o.As
			}
		}
	}
	return parts
}

func (b *builder) layNodes() {
	m := b.m
	for _, n := range b.m.circuit.Nodes {
		m.byNode[n.Name] = len(m.nodes)
		m.nodes = append(m.nodes, node{name: n.Name, volume: n.Volume.SI})
	}
	for _, p := range b.parts {
		if r, is := p.(*specs.Reservoir); is {
			n := &m.nodes[b.node(r.AtPort)]
			if n.reservoir {
				b.fail("two reservoirs stand at node %s", n.name)
			}
			n.reservoir, n.p, n.perS = true, r.Pressure.SI, 1
		}
	}
	for i := range m.nodes {
		n := &m.nodes[i]
		if n.reservoir {
			n.row, n.column = b.state(contentState, n.name), -1
		} else {
			n.row = b.state(pressureState, n.name)
			n.column = n.row
		}
		n.heatRow = b.state(temperatureState, n.name)
	}
}

// fail notes the first thing that cannot be computed.
func (b *builder) fail(format string, args ...any) {
	if b.fault == nil {
		b.fault = fmt.Errorf(format, args...)
	}
}

// node is the index of the node at a port.
func (b *builder) node(p specs.Port) int {
	i, known := b.m.byNode[p.Node]
	if !known {
		b.fail("a port %s is connected to no node", p.Key)
	}
	return i
}

// state adds a state.
func (b *builder) state(kind stateKind, owner string) int {
	b.m.states = append(b.m.states, kind)
	b.m.owners = append(b.m.owners, owner)
	return len(b.m.states) - 1
}

func (b *builder) layParts() {
	m := b.m
	count := 0
	for range b.parts {
		count += mostPassages
	}
	m.passages = make([]passage, 0, count)
	for _, p := range b.parts {
		base := p.Base()
		make, known := makers[reflect.TypeOf(p)]
		if !known {
			b.fail("%s: there are no equations for a %s", base.Name, base.Kind)
			return
		}
		e := make(b, p)
		m.elements = append(m.elements, e)
		m.byPart[base.Name] = e
		if n := b.homeOf(p); n != "" {
			home := &m.nodes[m.byNode[n]]
			home.capacity += base.HeatCapacity.SI
			home.ambient += base.ToAmbient.SI
		}
	}
	for _, f := range b.late {
		f()
	}
}

// mostPassages is the most that one part has: a directional valve's four edges
// and its leak.
const mostPassages = 5

// homeOf is the node whose temperature a part's metal shares; that of a friction
// pack's housing, which has no port, shares that of the cylinder that releases it.
func (b *builder) homeOf(p specs.Part) string {
	if pack, is := p.(*specs.FrictionPack); is {
		for _, q := range b.parts {
			if q.Base().Name == pack.ReleasedBy.Value {
				p = q
			}
		}
	}
	ports := specs.Ports(p)
	for _, key := range [...]string{"at", "to", "head", "a"} {
		for _, port := range ports {
			if port.Key == key {
				return port.Node
			}
		}
	}
	return ""
}

// drive is the speed a case gives a pump or the input side of a pack.
func (b *builder) drive(name string) *specs.Drive {
	for i := range b.m.spec.Drives {
		if d := &b.m.spec.Drives[i]; d.Name == name {
			return &d.Value
		}
	}
	return nil
}

// follow adds an input that follows the profile a case names for a part, or
// else a constant.
func (b *builder) follow(profiles []specs.Named[specs.Profile], name string, otherwise float64) *input {
	in := constant(otherwise)
	for _, p := range profiles {
		if p.Name == name && len(p.Value.Points) > 0 {
			in = profile(p.Value)
		}
	}
	return b.input(in)
}

func (b *builder) input(in *input) *input {
	b.m.inputs = append(b.m.inputs, in)
	return in
}

// passage adds a way between two nodes, on whose states its flow depends, and
// on up to two more.
func (b *builder) passage(from, to int, heats float64, more ...int) *passage {
	m := b.m
	if len(m.passages) == cap(m.passages) {
		b.fail("a part has more passages than any kind may")
		return &passage{}
	}
	m.passages = append(m.passages, passage{a: from, b: to, heats: heats})
	p := &m.passages[len(m.passages)-1]
	a, z := &m.nodes[from], &m.nodes[to]
	columns := [6]int{a.column, a.heatRow, z.column, z.heatRow, -1, -1}
	copy(columns[4:], more)
	b.row(&p.slots.rowA, a.row, columns)
	b.row(&p.slots.rowB, z.row, columns)
	b.row(&p.slots.heatA, a.heatRow, columns)
	b.row(&p.slots.heatB, z.heatRow, columns)
	return p
}

func (b *builder) row(s *columnSlots, row int, columns [6]int) {
	for i, slot := range []*int32{&s.pa, &s.ta, &s.pb, &s.tb, &s.first, &s.other} {
		b.slot(slot, row, columns[i])
	}
}

// slot asks for the slot of an entry; a negative column is never read.
func (b *builder) slot(slot *int32, row, column int) {
	b.places = append(b.places, place{row, column, slot})
}

// vary notes that a node's volume changes with a state.
func (b *builder) vary(node, column int, per float64, shared bool) {
	n := &b.m.nodes[node]
	n.varying = append(n.varying, varying{per: per, shared: shared, column: column})
}
