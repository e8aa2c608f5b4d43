package specs

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"
)

// compiled is the schema as an independent validator reads it.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	compiler.DefaultDraft(jsonschema.Draft7)
	if err := compiler.AddResource("spec.json", document); err != nil {
		t.Fatal(err)
	}
	schema, err := compiler.Compile("spec.json")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// plainValue is a YAML node as an editor hands it to a schema.
func plainValue(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		o := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			o[n.Content[i].Value] = plainValue(n.Content[i+1])
		}
		return o
	case yaml.SequenceNode:
		list := make([]any, len(n.Content))
		for i, item := range n.Content {
			list[i] = plainValue(item)
		}
		return list
	}
	switch n.Tag {
	case "!!int", "!!float":
		if number := json.Number(n.Value); isJSON(n.Value) {
			return number
		}
	case "!!bool":
		return n.Value == "true"
	case "!!null":
		return nil
	}
	return n.Value
}

func isJSON(number string) bool { return json.Valid([]byte(number)) }

func validate(t *testing.T, schema *jsonschema.Schema, text string) error {
	t.Helper()
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(text), &root); err != nil {
		return err
	}
	return schema.Validate(plainValue(root.Content[0]))
}

// What can be read without a problem, the schema accepts.
func TestSchemaAccepts(t *testing.T) {
	schema := compiled(t)
	specs := map[string]string{"base": base, "full": fullSpec()}
	start, err := Starter("first")
	if err != nil {
		t.Fatal(err)
	}
	specs["starter"] = string(start)
	for _, change := range [][2]string{
		{"fluid: {like: hm-32}", "fluid: {like: hm-46, bulk_modulus: {per_pressure: 9}}"},
		{"  pipe: {kind: tube,", "  hose: {kind: hose, like: hose-2sn-10, from: feed, to: sump, length: 2 m, rated: {cycles: {count: 1e5}}}\n  pipe: {kind: tube,"},
		{"title: Rig for tests", "title: 2027-01-01\nrevision: 3"},
		{"volume: 10 L, fill: 8 L", "volume: 0.01 m3, fill: 488 in3, pressure: −0.1 bar"},
		{"rest: 0}", "rest: 50 %}"},
		{"speed: 1500 rpm", "speed: 25 rev/s"},
		{"lasts: 5 s", "lasts: 5s\n    repeats: 7"},
	} {
		text := with(t, change[0], change[1])
		read(t, text)
		specs[change[1]] = text
	}
	demos, err := filepath.Glob("demo/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, demo := range demos {
		text, err := os.ReadFile(demo)
		if err != nil {
			t.Fatal(err)
		}
		if len(Read(demo, text).Problems) == 0 {
			specs[demo] = string(text)
		}
	}
	for name, text := range specs {
		if err := validate(t, schema, text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What the schema is there to catch while typing: unknown, missing and misplaced
// keys, wrong words, wrong shapes, and units of something else.
func TestSchemaRefuses(t *testing.T) {
	schema := compiled(t)
	for _, change := range [][2]string{
		{"circuit: test-rig", "circut: test-rig"}, {"headroom: 1", "headroom: 2"}, {"circuit: test-rig\n", ""}, {"circuit: test-rig", "circuit: test rig"},
		{"fluid: {like: hm-32}", "fluid: hm-32"}, {"fluid: {like: hm-32}", "fluid: {family: HM}"}, {"fluid: {like: hm-32}", "fluid: {like: hm-32, vicosity: [[0 degC, 1 cSt], [9 degC, 0.5 cSt]]}"},
		{"volume: 10 L, fill", "volume: 10 bar, fill"}, {"volume: 10 L, fill", "volume: 10, fill"}, {"volume: 10 L, fill", "volume: {a: 1}, fill"}, {"volume: 10 L, ", ""},
		{"pressure: 100 bar, speed", "pressure: 100 bar abs, speed"}, {"displacement: 4 cm3/rev", "displacement: 4 cm3"}, {"speed: 1500 rpm", "speed: 1500 /min"},
		{"kind: pump, from: sump", "kind: pump, form: sump"}, {"kind: pump, from", "kind: pmp, from"}, {"kind: pump, ", ""}, {"gas: nitrogen", "gas: air"},
		{"rest: 0}", "rest: 0, stuck: 1}"}, {"wall: 1 mm", "wall: 1 mm, bend: {radius: 3 mm}"}, {"faces: 8", "faces: 8.5"}, {"faces: 8", "faces: 0"},
		{"friction: 0.1,", "friction: 3 bar,"}, {"role: pressure", "role: presure"}, {"lasts: 5 s\n", "about: x\n"}, {"lasts: 5 s", "lasts: 5 m"},
		{"drives: {main-pump: 1500 rpm", "drives: {main-pump: [0 s, 1 rpm]"}, {"drives: {main-pump: 1500 rpm", "drives: {main-pump: {on_below: 3 bar}"},
		{"{at: 1 s, valve: valve, to: 1}", "{at: 1 s, when: {node: rail, above: 1 bar}, valve: valve, to: 1}"}, {"{at: 1 s, valve: valve, to: 1}", "{valve: valve, to: 1}"},
		{"{at: 1 s, valve: valve, to: 1}", "{at: 1 s, valve: valve, to: 1 s}"}, {"within: 1 s}", "within: 1 s, at_least: 3 bar, node: rail, at_most: 4 bar}"}, {", within: 1 s}", "}"},
		{"with: {filter: {drop: 2 bar}}", "with: {filter: {drip: 2 bar}}"}, {"with: {filter: {drop: 2 bar}}", "with: {filter: {kind: filter}}"},
		{"cases:\n", "concessions: [{rule: x}]\ncases:\n"}, {"cases:\n", "limits: 3\ncases:\n"}, {"cases:\n", "places: {}\ncases:\n"},
	} {
		text := with(t, change[0], change[1])
		if len(Read("spec.yaml", []byte(text)).Problems) == 0 {
			t.Errorf("%s: can be read", change[1])
		}
		if validate(t, schema, text) == nil {
			t.Errorf("%s: accepted", change[1])
		}
	}
}

// Most mistakes of shape, key and unit the schema refuses as well, and it refuses
// nothing that can be read: it knows the usual units of other dimensions alone.
func TestSchemaAgrees(t *testing.T) {
	schema := compiled(t)
	rules := map[string][2]int{}
	for _, m := range mistakes(t) {
		text := m.text(t)
		problems := Read("spec.yaml", []byte(text)).Problems
		err := validate(t, schema, text)
		if len(problems) == 0 && err != nil {
			t.Errorf("problems.txt:%d: no problem, but refused: %v", m.line, err)
		}
		if len(problems) == 1 {
			counts := rules[problems[0].Rule]
			counts[b2i(err != nil)]++
			rules[problems[0].Rule] = counts
		}
	}
	for _, rule := range []string{ruleShape, ruleUnknownKey, ruleUnit} {
		if c := rules[rule]; c[1] <= c[0] {
			t.Errorf("%s: %d refused, %d accepted", rule, c[1], c[0])
		}
	}
}

func b2i(b bool) int {
	n, _ := strconv.Atoi(map[bool]string{true: "1", false: "0"}[b])
	return n
}

func TestSchemaIsTheSameEachTime(t *testing.T) {
	first := Schema()
	for range 3 {
		if !bytes.Equal(first, Schema()) {
			t.Fatal("two schemas differ")
		}
	}
	if !strings.Contains(string(first), `"description": "bladder`) && !strings.Contains(string(first), `"enum": [`) {
		t.Error("no words to choose from")
	}
}
