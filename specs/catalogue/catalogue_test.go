package catalogue

import (
	"slices"
	"strings"
	"sync"
	"testing"
)

func TestFind(t *testing.T) {
	e, ok := Fluid("hm-46")
	if !ok || e.Name != "hm-46" || e.Kind != KindFluid || e.File != "fluids/hm-46.yaml" || e.About == "" {
		t.Errorf("hm-46: %+v, %v", e, ok)
	}
	if e, ok := Fluid("HM-46"); !ok || e.Name != "hm-46" {
		t.Errorf("HM-46: %+v, %v", e, ok)
	}
	p, ok := Part("hose-2sn-10")
	if !ok || p.Kind != "hose" || p.MassPerMetre != 0.54 || p.File != "parts/hose-2sn.yaml" || take(p.Values, "kind") != nil {
		t.Errorf("hose-2sn-10: %+v, %v", p, ok)
	}
	if s, ok := Seal("nbr"); !ok || s.Symbol != "NBR" {
		t.Errorf("nbr: %+v", s)
	}
	if fit, ok := (SealMaterial{}).In("HM"); ok {
		t.Errorf("no material: %+v", fit)
	}
}

// Names from a spec are anything: unknown, empty, or a path.
func TestNotFound(t *testing.T) {
	for _, name := range []string{"", "-", "hm-", "hm-47", "../seals", "fluids/hm-46", "hm-46.yaml", "hose-2sn", "hose-2sn-11", "hose-2sn-", "/x-1", "../fluids/hm-46-1", "\x00-1"} {
		if e, ok := Fluid(name); ok {
			t.Errorf("fluid %q: %+v", name, e)
		}
		if e, ok := Part(name); ok {
			t.Errorf("part %q: %+v", name, e)
		}
		if _, ok := Seal(name); ok {
			t.Errorf("seal %q", name)
		}
		if _, ok := Tube(name); ok {
			t.Errorf("tube %q", name)
		}
		if _, ok := Family(name); ok {
			t.Errorf("family %q", name)
		}
	}
}

func TestNames(t *testing.T) {
	for kind, some := range map[string][]string{
		KindFluid:        {"hfc-46", "hm-32", "mineral-aerospace"},
		KindPart:         {"hose-2sn-10", "steel-tube-8x1"},
		"hose":           {"hose-2sn-10"},
		"tube":           {"steel-tube-8x1"},
		KindSealMaterial: {"NBR", "PTFE"},
		KindTubeMaterial: {"E235", "1.4571"},
		KindFluidFamily:  {"HM", "HFC", "silicone"},
	} {
		names := Names(kind)
		for _, name := range some {
			if !slices.Contains(names, name) {
				t.Errorf("%s: %s is not among %v", kind, name, names)
			}
		}
		if kind == "hose" && slices.ContainsFunc(names, func(n string) bool { return strings.Contains(n, "tube") }) {
			t.Error("tubes among the hoses")
		}
	}
	if names := Names("pump"); names != nil {
		t.Errorf("pump: %v", names)
	}
	for _, kind := range []string{KindFluid, KindPart} {
		names := Names(kind)
		slices.Sort(names)
		if len(slices.Compact(names)) != len(Names(kind)) {
			t.Errorf("%s: a name twice", kind)
		}
		for _, name := range names {
			if name != strings.ToLower(name) {
				t.Errorf("%s is not in lower case", name)
			}
		}
	}
}

// What a caller does to an entry stays with the caller.
func TestEntriesAreCopies(t *testing.T) {
	first, _ := Fluid("hv-32")
	first.Values.Content[1].Value = "spoilt"
	first.Values.Content = first.Values.Content[:2]
	if second, _ := Fluid("hv-32"); second.Values.Content[1].Value != "HV" || len(second.Values.Content) < 10 {
		t.Error("a change of one entry shows in the next")
	}
	if line := first.Values.Content[0].Line; line < 2 {
		t.Errorf("line %d: values must say where they stand in the catalogue", line)
	}
}

// Many may read at once.
func TestReadAtOnce(t *testing.T) {
	files.Clear()
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for _, name := range []string{"hm-32", "hm-46", "hfc-46"} {
				if _, ok := Fluid(name); !ok {
					t.Error(name)
				}
			}
			Part("hose-4sp-12")
			Seal("FKM")
			Tube("E355")
		})
	}
	all.Wait()
}

// Only what is asked for is read.
func TestReadsOnlyWhatIsAskedFor(t *testing.T) {
	files.Clear()
	Fluid("hm-32")
	Part("hose-2sn-10")
	Fluid("hm-32")
	var read []string
	files.Range(func(name, _ any) bool { read = append(read, name.(string)); return true })
	slices.Sort(read)
	if want := []string{"fluids/hm-32.yaml", "parts/hose-2sn.yaml"}; !slices.Equal(read, want) {
		t.Errorf("read %v, want %v", read, want)
	}
}

// A cold process has some 60 ms for everything: what one fluid, one hose and the
// seal table cost when first asked for.
func BenchmarkFirstFluid(b *testing.B) {
	for b.Loop() {
		files.Clear()
		Fluid("hm-32")
	}
}

func BenchmarkFirstHose(b *testing.B) {
	for b.Loop() {
		files.Clear()
		Part("hose-2sn-10")
	}
}

func BenchmarkFirstSeal(b *testing.B) {
	for b.Loop() {
		load("seals.yaml", "seals", resolveSeal)().find("NBR")
	}
}

func BenchmarkFluidAgain(b *testing.B) {
	for b.Loop() {
		Fluid("hm-32")
	}
}
