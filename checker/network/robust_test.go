package network

import (
	"context"
	"math"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"headroom/checker/integrate"
	"headroom/specs"
)

// Whatever key of a part is missing, a circuit gives outcomes or an error: no
// panic, no value that is not a number, no run without end.
func TestMissingKeys(t *testing.T) {
	key := regexp.MustCompile(`, [a-z_]+: (\{[^{}]*\}|\[\[.*?\]\]|[^,{}\[\]]+)`)
	for _, c := range append(independentCircuits(t), read(t, "generated.yaml", generated(25))) {
		lines := strings.Split(string(c.Source), "\n")
		for i, line := range lines {
			if !strings.Contains(line, "kind:") {
				continue
			}
			for _, at := range key.FindAllStringIndex(line, -1) {
				changed := append([]string(nil), lines...)
				changed[i] = line[:at[0]] + line[at[1]:]
				broken := specs.Read(c.File, []byte(strings.Join(changed, "\n")))
				outcomes, _ := SimulateAll(context.Background(), broken, Options{Steps: 40})
				for _, out := range outcomes {
					if out != nil {
						if where := notNumber(reflect.ValueOf(*out), "outcome"); where != "" {
							t.Fatalf("without %q: %s is no number", line[at[0]:at[1]], where)
						}
					}
				}
			}
		}
	}
}

// notNumber finds a value that is not a finite number.
func notNumber(v reflect.Value, name string) string {
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			return name
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				if where := notNumber(v.Field(i), name+"."+v.Type().Field(i).Name); where != "" {
					return where
				}
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if where := notNumber(v.Index(i), name+"[]"); where != "" {
				return where
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return notNumber(v.Elem(), name)
		}
	}
	return ""
}

// A case that runs out of its budget says where it was held up, and tells what
// happened until then.
func TestOutOfSteps(t *testing.T) {
	c := load(t, "../../specs/demo/stonechat.yaml")
	out, err := Simulate(c, c.Case("hill-start"), Options{Steps: 200})
	if err != nil {
		t.Fatal(err)
	}
	f := out.Failure
	if f == nil || f.Reason != integrate.OutOfSteps || f.Where == "" || f.State == "" || f.Why == "" {
		t.Fatalf("failure: %+v", f)
	}
	if out.Lasts != f.Time || !(out.Lasts > 0) || len(out.Nodes) != len(c.Nodes) || out.Nodes[0].Temperature.End == 0 {
		t.Errorf("told until %g s, given up at %g s", out.Lasts, f.Time)
	}
}

// A run that is called off says so for the cases that were not begun.
func TestCalledOff(t *testing.T) {
	c := load(t, "../../specs/demo/stonechat.yaml")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	outcomes, errs := SimulateAll(ctx, c, Options{})
	for i := range outcomes {
		if outcomes[i] == nil && errs[i] == nil {
			t.Errorf("case %s has neither an outcome nor an error", c.Cases[i].Name)
		}
	}
}

// A line with losses beyond all measure has no flow above laminar to tabulate: its case
// comes to an outcome all the same.
func TestLineOfHugeLosses(t *testing.T) {
	text := strings.Replace(generated(1), ", losses: 3", ", losses: 1e12", 1)
	c := specs.Read("generated.yaml", []byte(text))
	if text == generated(1) || len(c.Problems) > 0 {
		t.Fatalf("no hose with losses: %v", c.Problems)
	}
	out, err := Simulate(c, &c.Cases[0], Options{Steps: 2000})
	if err != nil || out == nil || notNumber(reflect.ValueOf(out.Nodes), "nodes") != "" {
		t.Errorf("%+v, %v", out, err)
	}
}

// Fluid that is heated without end ends the case where no law of it holds any more,
// and says so: not after all steps that may be taken.
func TestTooHotForAnyLawEnds(t *testing.T) {
	c := read(t, "kettle.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 1 L, fill: 0.1 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 20 cm3/rev, delivers: {flow: 50 L/min, at: {pressure: 100 bar, speed: 3000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 60 %}
  hole: {kind: orifice, from: rail, to: sump, diameter: 2 mm}
cases:
  boils: {lasts: 10 h, begins: {fluid: 40 degC}, drives: {pump: 3000 rpm}}
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f := out.Failure; f == nil || f.State != "temperature" || !strings.Contains(f.Why, "700 °C") || out.Steps > 20_000 {
		t.Errorf("failure %+v after %d steps", f, out.Steps)
	}
}

// A reservoir that holds less than the accumulators take ends the case, and it is said why.
func TestEmptyReservoirEnds(t *testing.T) {
	c := read(t, "thirst.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 2 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 20 cm3/rev, delivers: {flow: 28 L/min, at: {pressure: 200 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  store: {kind: accumulator, at: rail, size: 5 L, precharge: {pressure: 20 bar}, gas: nitrogen, time_constant: 20 s, inlet: 20 mm}
cases:
  fill: {lasts: 30 s, begins: {fluid: 40 degC}, drives: {pump: 1500 rpm}}
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f := out.Failure; f == nil || f.Where != "sump" || f.State != "level" || !strings.Contains(f.Why, "empty") {
		t.Errorf("failure %+v", f)
	}
}
