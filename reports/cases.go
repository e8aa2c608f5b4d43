package reports

import (
	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// This file tells, in JSON, what each simulated case came to.

type jsonCase struct {
	Nodes        map[string]jsonNode            `json:"nodes"`
	Parts        map[string]map[string]jsonFact `json:"parts"`
	Expectations []jsonExpectation              `json:"expectations"`
	Balance      jsonBalance                    `json:"balance"`
	Steps        int                            `json:"steps"`
	Unfinished   string                         `json:"unfinished,omitempty"`
}

type jsonNode struct {
	Pressure    jsonRange `json:"pressure"`
	Temperature jsonRange `json:"temperature"`
}

type jsonRange struct {
	Lowest  jsonMoment `json:"lowest"`
	Highest jsonMoment `json:"highest"`
}

type jsonMoment struct {
	jsonValue
	Time number `json:"time"`
}

// jsonFact is a quantity of a part: the value that tells, and what it ranged
// over where it did.
type jsonFact struct {
	jsonMoment
	Lowest  *jsonMoment `json:"lowest,omitempty"`
	Highest *jsonMoment `json:"highest,omitempty"`
}

type jsonExpectation struct {
	Name    string     `json:"name"`
	Measure *jsonValue `json:"measure"`
	Limit   jsonLimit  `json:"limit"`
	Time    *number    `json:"time"`
}

type jsonBalance struct {
	Node   number `json:"node"`
	Mass   number `json:"mass"`
	Energy number `json:"energy"`
}

func casesJSON(records []facts.CaseRecord) map[string]jsonCase {
	all := map[string]jsonCase{}
	for i := range records {
		all[records[i].Case] = caseJSON(&records[i])
	}
	return all
}

func caseJSON(r *facts.CaseRecord) jsonCase {
	c := jsonCase{
		Nodes: map[string]jsonNode{}, Parts: map[string]map[string]jsonFact{}, Expectations: []jsonExpectation{},
		Balance: jsonBalance{number(r.NodeError), number(r.MassError), number(r.EnergyError)},
		Steps:   r.Steps, Unfinished: r.Unfinished,
	}
	for i := range r.Nodes {
		n := &r.Nodes[i]
		c.Nodes[n.Name] = jsonNode{rangeJSON(&n.Pressure), rangeJSON(&n.Temperature)}
	}
	for i := range r.Parts {
		readings := map[string]jsonFact{}
		for k := range r.Parts[i].Readings {
			v := &r.Parts[i].Readings[k]
			readings[v.Name] = factJSON(v)
		}
		c.Parts[r.Parts[i].Name] = readings
	}
	for i := range r.Expectations {
		c.Expectations = append(c.Expectations, expectationJSON(&r.Expectations[i]))
	}
	return c
}

func rangeJSON(r *facts.Reading) jsonRange {
	return jsonRange{momentJSON(r.Dimension, r.Lowest), momentJSON(r.Dimension, r.Highest)}
}

func momentJSON(d quantity.Dimension, e facts.Extreme) jsonMoment {
	value, unit := d.Display(e.Value)
	return jsonMoment{jsonValue{number(value), unit}, number(e.Time)}
}

func factJSON(r *facts.Reading) jsonFact {
	f := jsonFact{jsonMoment: momentJSON(r.Dimension, r.Value)}
	if r.Ranged {
		both := rangeJSON(r)
		f.Lowest, f.Highest = &both.Lowest, &both.Highest
	}
	return f
}

func expectationJSON(e *facts.ExpectationRecord) jsonExpectation {
	value := func(si float64) jsonValue {
		v, unit := e.Dimension.Display(si)
		return jsonValue{number(v), unit}
	}
	out := jsonExpectation{Name: e.Name, Limit: jsonLimit{"at least", value(e.Limit)}}
	if e.AtMost {
		out.Limit.Sense = "at most"
	}
	if e.Came {
		measure, time := value(e.Measure), number(e.Time)
		out.Measure, out.Time = &measure, &time
	}
	return out
}
