package reports

import (
	"encoding/json"
	"math"
	"testing"

	"headroom/rules"
)

// Exact output, and valid JSON whatever the number of circuits.
func TestJSONExactly(t *testing.T) {
	for name, results := range map[string][]*rules.Result{
		"empty.json": nil,
		"none.json":  {clean()},
		"some.json":  {broken(), unreadable()},
		"part.json":  {partial(), pack()},
	} {
		out := told(t, "json", Options{}, Run{Skipped: 1}, results...)
		expect(t, name, out)
		var parsed struct {
			Headroom int
			Circuits []json.RawMessage
		}
		if err := json.Unmarshal(out, &parsed); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if parsed.Headroom != 1 || len(parsed.Circuits) != len(results) {
			t.Errorf("%s: version %d, %d circuits of %d", name, parsed.Headroom, len(parsed.Circuits), len(results))
		}
	}
}

// Numbers do not change with the last bit, and what is no number is null.
func TestNumber(t *testing.T) {
	for in, want := range map[number]string{
		2.8971962616822431: "2.8972", 214: "214", 1.0 / 3: "0.333333", 123456789: "123457000",
		number(math.Copysign(0, -1)): "0", number(math.NaN()): "null", number(math.Inf(1)): "null",
	} {
		got, err := in.MarshalJSON()
		if err != nil || string(got) != want {
			t.Errorf("%v is written %s (%v), want %s", float64(in), got, err, want)
		}
	}
}
