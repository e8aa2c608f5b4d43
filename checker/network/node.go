package network

import "math"

// leastVolume is the least fluid a node holds (m³): a fitting's worth.
const leastVolume = 1e-6

// fadeBelow is the absolute pressure (Pa) below which the outflow of a node
// fades to nothing: what is empty gives nothing.
const fadeBelow = 1e4

// A node is where ports meet: one pressure, one temperature. At a reservoir the
// pressure is fixed and the content is the state instead.
type node struct {
	name      string
	reservoir bool
	row       int // of the pressure, or of the content of a reservoir
	column    int // of the pressure, -1 at a reservoir
	heatRow   int // of the temperature

	volume     float64 // that does not change: declared, half of each line, dead volumes
	compliance float64 // of hose walls, m³/Pa
	capacity   float64 // of metal, J/K
	ambient    float64 // W/K
	varying    []varying

	nodeNow
	pairs []pair // entries of both rows of the Jacobian
	slots nodeSlots
}

// nodeNow is what is computed of a node at each evaluation.
type nodeNow struct {
	s, p, T     float64 // state of the pressure, pressure, temperature
	perS        float64 // of the pressure along its state
	wet, wetS   float64 // share of oil in its volume, and the slope of its logarithm
	dense       float64 // kg of oil per m³ of it
	oil         state
	fade, fadeP float64 // of the outflow
	chambers    float64 // volume of chambers and of a reservoir's content
	shared      float64 // oil elsewhere that shares the temperature
	net, heat   float64 // m³/s and W that flow in
	inflow      float64 // m³/s, what flows in alone
	swept       float64 // m³/s that chambers take up
	content     float64 // volume
	perContent  float64 // 1, 0 where the content is held at the least
	thermal     float64 // J/K
	give        float64 // m³/Pa
	dT, dp      float64
}

// varying is a state that changes a node's volume.
type varying struct {
	per          float64 // m³ per unit of the state
	shared       bool    // shares the temperature alone
	column       int
	slot, inHeat int32
}

// pair are the slots of one column in both rows of a node.
type pair struct{ row, heat int32 }

type nodeSlots struct {
	rowP, rowT, heatP, heatT int32
}

// hottestFluid is the temperature (K) past which no law of a fluid means anything; a
// case that comes to it ends there.
const hottestFluid = 1000.0

// load reads a node's states and computes its oil.
func (n *node) load(m *model, y []float64) {
	if n.T = y[n.heatRow]; n.T > hottestFluid {
		n.T = math.NaN()
	}
	n.chambers, n.shared, n.net, n.heat, n.inflow, n.swept = 0, 0, 0, 0, 0, 0
	if n.reservoir {
		n.chambers = y[n.row]
		n.s = n.p
	} else {
		n.s = y[n.row]
		n.p, n.perS = pressureOf(n.s)
	}
	n.fade, n.fadeP = 1, 0
	if n.p < fadeBelow {
		n.fade, n.fadeP = max(0, n.p/fadeBelow), 1/fadeBelow
		if n.p <= 0 {
			n.fadeP = 0
		}
	}
	m.oil.at(n.T, n.p, &n.oil)
	n.wet, n.wetS = 1, 0
	if n.s < tornBelow {
		n.cavity(m)
	}
	n.dense = n.oil.rho * n.wet
}

// finish makes rates of what flowed in:
//
//	dp/dt = (Σ Q_in ρ_up/ρ − Σ Q_out − dV_chamber/dt + V α_T dT/dt)/(V/K_eff + hose compliance)
//
// with ρ the oil in a volume, air and cavities counted in (see cavity), and
//
//	C dT/dt = Σ_in ρ c Q (T_up − T) + dissipation − to_ambient (T − T_amb)
//
// Source: conservation of mass and of energy of a mixed volume.
func (n *node) finish(m *model, dy []float64) {
	n.heat -= n.ambient * (n.T - m.ambient)
	n.fill()
	n.thermal = m.oil.heat*(n.dense*n.content+n.oil.rho*n.shared) + n.capacity
	n.dT = n.heat / n.thermal
	flow := n.net + (n.content+n.shared)*n.oil.alpha*n.dT
	n.give = 1
	if !n.reservoir {
		n.give = n.content*n.oil.soft + n.compliance*n.perS
	}
	n.dp = flow / n.give
	dy[n.row], dy[n.heatRow] = n.dp, n.dT
}

// sweep takes up what a chamber does.
func (n *node) sweep(rate float64) {
	n.net -= rate
	n.swept += rate
}

// fill sets the volume of what the node holds.
func (n *node) fill() {
	n.content, n.perContent = n.volume+n.chambers, 1
	if n.reservoir {
		n.content = n.chambers
	} else if n.content < leastVolume {
		n.content, n.perContent = leastVolume, 0
	}
}

// slopes makes entries of the rates of those of what flowed in.
func (n *node) slopes(m *model, j []float64) {
	c := m.oil.heat
	volume := n.content + n.shared
	o := &n.oil
	mass := n.wet*n.content + n.shared
	j[n.slots.heatT] -= n.ambient + n.dT*c*mass*o.rhoT
	j[n.slots.heatP] -= n.dT * c * (mass*o.rhoP*n.perS + n.dense*n.content*n.wetS)
	give := n.content
	if n.reservoir {
		give = 0
	}
	j[n.slots.rowT] += volume*o.alphaT*n.dT - n.dp*give*o.softT
	j[n.slots.rowP] -= n.dp * give * o.softP * n.perS
	if n.perS < 1 && !n.reservoir {
		j[n.slots.rowP] -= n.dp * n.compliance * n.perS / leastAirPressure
	}
	for i := range n.varying {
		v := &n.varying[i]
		per := v.per * n.perContent
		soft := o.soft
		if v.shared {
			per, soft = v.per, 0
		} else if n.reservoir {
			soft = 0
		}
		rho := n.dense
		if v.shared {
			rho = o.rho
		}
		j[v.inHeat] -= n.dT * rho * c * per
		j[v.slot] += per * (o.alpha*n.dT - n.dp*soft)
	}
	perThermal, perGive, grow := 1/n.thermal, 1/n.give, volume*o.alpha
	for _, p := range n.pairs {
		rate := j[p.heat] * perThermal
		j[p.heat] = rate
		j[p.row] = (j[p.row] + grow*rate) * perGive
	}
}
