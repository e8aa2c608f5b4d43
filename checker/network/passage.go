package network

// A passage is a way for fluid between two nodes, or for what a pump moves.
// The part it belongs to sets its law; pass carries volume and heat by it.
type passage struct {
	a, b  int     // nodes
	heats float64 // share of Q Δp that becomes heat: 1 for a resistance
	rise  float64 // g h of a line, J/kg

	law
	slots passageSlots
}

// law is the flow from a to b (m³/s, as it leaves the upstream node) and its
// derivatives along pressures, temperatures and up to two more states.
type law struct {
	q                  float64
	perPA, perTA       float64
	perPB, perTB       float64
	perFirst, perOther float64
}

// passageSlots are the entries of the Jacobian by row and column.
type passageSlots struct {
	rowA, rowB, heatA, heatB columnSlots
}

type columnSlots struct{ pa, ta, pb, tb, first, other int32 }

// pass lets the outflow fade where the upstream node is empty, and carries
// volume, heat and dissipation:
//
//	out of the upstream node Q, into the other Q ρ_up/ρ, ρ counting cavities in,
//	with it ρ_up c Q (T_up − T), and the dissipation Q (Δp − ρ g h)
//
// Source: conservation of mass and energy; oil arrives as warm as it left.
func (m *model) pass(p *passage) {
	a, b := &m.nodes[p.a], &m.nodes[p.b]
	up, down := a, b
	if p.q < 0 {
		up, down = b, a
	}
	if up.fade < 1 {
		p.fadeOut(up.fade, up.fadeP, p.q >= 0)
	}
	q := p.q
	if q < 0 {
		q = -q
	}
	up.net -= q
	mass := q * up.dense
	in := mass / down.dense
	down.net += in
	down.inflow += in
	down.heat += mass*m.oil.heat*(up.T-down.T) + p.heats*p.q*m.driving(p)
}

// driving is the pressure difference of a passage less what lifts the oil.
func (m *model) driving(p *passage) float64 {
	a, b := &m.nodes[p.a], &m.nodes[p.b]
	return a.p - b.p - p.rise*(a.oil.rho+b.oil.rho)/2
}

func (l *law) fadeOut(fade, fadeP float64, forwards bool) {
	q := l.q
	l.q *= fade
	l.perPA *= fade
	l.perTA *= fade
	l.perPB *= fade
	l.perTB *= fade
	l.perFirst *= fade
	l.perOther *= fade
	if forwards {
		l.perPA += q * fadeP
	} else {
		l.perPB += q * fadeP
	}
}

// slopesOf adds a passage's entries to the Jacobian.
func (m *model) slopesOf(p *passage, j []float64) {
	if p.q >= 0 {
		m.stamp(p, j, &m.nodes[p.a], &m.nodes[p.b], &p.slots.rowA, &p.slots.rowB, &p.slots.heatB)
		return
	}
	m.stamp(p, j, &m.nodes[p.b], &m.nodes[p.a], &p.slots.rowB, &p.slots.rowA, &p.slots.heatA)
}

func (m *model) stamp(p *passage, j []float64, up, down *node, out, in, heat *columnSlots) {
	sign, q := 1.0, p.q
	if q < 0 {
		sign, q = -1, -q
	}
	ratio := up.dense / down.dense
	pa, ta, pb, tb, first, other := sign*p.perPA, sign*p.perTA, sign*p.perPB, sign*p.perTB, sign*p.perFirst, sign*p.perOther
	j[out.pa] -= pa
	j[out.ta] -= ta
	j[out.pb] -= pb
	j[out.tb] -= tb
	j[out.first] -= first
	j[out.other] -= other

	c := m.oil.heat
	excess := up.T - down.T
	driving := m.driving(p)
	// Heat per unit of flow: both terms are proportional to q.
	w := up.dense*c*excess + sign*p.heats*driving
	moved := sign * p.heats * q // per pascal of driving
	lift := moved * p.rise / 2
	j[in.pa] += pa * ratio
	j[in.ta] += ta * ratio
	j[in.pb] += pb * ratio
	j[in.tb] += tb * ratio
	j[in.first] += first * ratio
	j[in.other] += other * ratio
	j[heat.pa] += pa*w + moved - lift*m.nodes[p.a].oil.rhoP
	j[heat.ta] += ta*w - lift*m.nodes[p.a].oil.rhoT
	j[heat.pb] += pb*w - moved - lift*m.nodes[p.b].oil.rhoP
	j[heat.tb] += tb*w - lift*m.nodes[p.b].oil.rhoT
	j[heat.first] += first * w
	j[heat.other] += other * w

	perUp, perDown := q*ratio/up.oil.rho, -q*ratio/down.oil.rho
	carried := c * q * up.wet
	upP, upT, downP, downT := in.pa, in.ta, in.pb, in.tb
	heatUpP, heatUpT, heatDownT := heat.pa, heat.ta, heat.tb
	if sign < 0 {
		upP, upT, downP, downT = in.pb, in.tb, in.pa, in.ta
		heatUpP, heatUpT, heatDownT = heat.pb, heat.tb, heat.ta
	}
	j[upP] += perUp * up.oil.rhoP
	j[upT] += perUp * up.oil.rhoT
	j[downP] += perDown * down.oil.rhoP
	j[downT] += perDown * down.oil.rhoT
	j[heatUpP] += carried * excess * up.oil.rhoP
	j[heatUpT] += carried * (excess*up.oil.rhoT + up.oil.rho)
	j[heatDownT] -= carried * up.oil.rho
}
