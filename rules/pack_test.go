package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"headroom/specs"
)

// house is a small sound pack; tests change it.
const house = `pack: house
about: what our own designs keep to
limits:
  return_velocity: 2.5 m/s
  margin: 0.2 bar diff
  factors: {hose: 4, others: 2.5}
  at_rest: {no_default: text, per: part, one_of: [clamped, released]}
rules:
- id: house.return-velocity
  title: Velocity in return lines
  for: line
  where: line.role == 'return'
  measure: line.velocity
  at_most: limits.return_velocity
  reserve: 10 %
  grade: minor
  basis: common practice
  why: Fast oil heats itself.
  remedy: A wider line.
  examples:
  - {facts: {line: {role: return, velocity: 2 m/s}}, verdict: passes, headroom: 2}
  - {facts: {line: {role: return, velocity: 2.6 m/s}}, verdict: finding, grade: minor}
`

// wrongs are the problems of a pack: the line, the text that each points to, and
// what it says.
func wrongs(text string) []string {
	_, problems := addPack(nil, nil, "house.yaml", []byte(text))
	lines := strings.Split(text, "\n")
	var all []string
	for _, p := range specs.SortProblems(problems) {
		line := []rune(lines[p.At.Line-1])
		end := p.At.EndColumn - 1
		if p.At.EndLine > p.At.Line {
			end = len(line)
		}
		all = append(all, fmt.Sprintf("%d %q: %s", p.At.Line, string(line[p.At.Column-1:end]), p.Message))
	}
	return all
}

// changed is house with a piece of its text replaced.
func changed(t *testing.T, old, new string) string {
	t.Helper()
	if strings.Count(house, old) != 1 {
		t.Fatalf("%q stands %d times in the pack", old, strings.Count(house, old))
	}
	return strings.Replace(house, old, new, 1)
}

func TestSoundPack(t *testing.T) {
	if got := wrongs(house); got != nil {
		t.Error(got)
	}
}

// TestPackProblems changes one thing of a sound pack and holds what is said of it.
func TestPackProblems(t *testing.T) {
	tests := []struct {
		name, old, new string
		want           []string
	}{
		// keys
		{"unknown key", "  title: Velocity", "  titel: Velocity", []string{
			`9 "house.return-velocity": rule house.return-velocity lacks title`,
			`10 "titel": rule house.return-velocity has no key titel; did you mean title?`}},
		{"unknown key of the pack", "about:", "abuot:", []string{
			`1 "pack": the pack lacks about`,
			`2 "abuot": the pack has no key abuot; did you mean about?`}},
		{"key twice", "  grade: minor", "  grade: minor\n  grade: major", []string{
			`17 "grade": grade is written twice; first on line 16`}},
		{"no value", "  why: Fast oil heats itself.", "  why:", []string{
			`18 "why": why has no value; write one or leave the key out`}},
		{"empty text", "  why: Fast oil heats itself.", "  why: ''", []string{
			`18 "''": why is empty`}},
		{"list for a text", "  why: Fast oil heats itself.", "  why: [a, b]", []string{
			`18 "[a, b]": why must be a single text`}},
		{"text for a list", "  examples:\n", "  examples: none\n  x:\n", []string{
			`20 "none": examples must be a list; begin each entry with a -`,
			`21 "x": rule house.return-velocity has no key x`}},
		{"pack name", "pack: house", "pack: Our House", []string{
			`1 "Our House": a pack's name is made of small letters, digits and hyphens`}},
		{"id", "id: house.return-velocity", "id: velocity", []string{
			`9 "velocity": a rule's id is made of small letters, digits and hyphens, with one dot: group.name`}},
		{"kind", "for: line", "for: pipe", []string{
			`11 "pipe": there is no kind of subject pipe; there is circuit, fluid, part, seal, line, node, section, trapped-volume, case, part-in-case, node-in-case, expectation, concession and problem`}},
		{"grade", "grade: minor\n  basis", "grade: serious\n  basis", []string{
			`16 "serious": there is no grade serious; there is observation, minor, major and critical`}},
		// what it judges by
		{"nothing judged", "  measure: line.velocity\n  at_most: limits.return_velocity\n", "", []string{
			`9 "house.return-velocity": rule house.return-velocity lacks a measure with at_least or at_most, or require`}},
		{"no limit", "  at_most: limits.return_velocity\n", "", []string{
			`13 "line.velocity": rule house.return-velocity needs one of at_least and at_most beside its measure`}},
		{"two limits", "  at_most: limits", "  at_least: q('1 m/s')\n  at_most: limits", []string{
			`13 "line.velocity": rule house.return-velocity needs one of at_least and at_most beside its measure`}},
		{"two ways", "  measure: line", "  require: line.role == 'return'\n  measure: line", []string{
			`9 "house.return-velocity": rule house.return-velocity has several of measure, require and gathers; one of them judges`}},
		{"gathers", "  measure: line.velocity\n  at_most: limits.return_velocity\n", "  gathers: everything\n", []string{
			`13 "everything": gathers can be not-assessed alone`}},
		// reserve
		{"no reserve", "  reserve: 10 %\n", "", []string{
			`9 "house.return-velocity": rule house.return-velocity lacks reserve`}},
		{"bad reserve", "reserve: 10 %", "reserve: some", []string{
			`15 "some": some is not a number; a quantity starts with one, as in 210 bar; a reserve is a share of the limit (10 %), an amount (10 K) or none`}},
		{"negative reserve", "reserve: 10 %", "reserve: -10 %", []string{
			`15 "-10 %": a reserve is more than nothing; a reserve is a share of the limit (10 %), an amount (10 K) or none`}},
		{"reserve of another dimension", "reserve: 10 %", "reserve: 10 K", []string{
			`15 "10 K": the reserve 10 K is a temperature difference, the margin a velocity; write an amount, such as 10 m/s`}},
		{"share of a temperature", "line.velocity\n  at_most: limits.return_velocity", "fluid.hottest_used\n  at_most: fluid.max_temperature", []string{
			`15 "10 %": the reserve 10 % is a share of a temperature, which has none; write an amount, such as 10 K`}},
		{"share of an absolute pressure", "line.velocity\n  at_most: limits.return_velocity", "environment.air_pressure\n  at_most: q('1 bar abs')", []string{
			`15 "10 %": the reserve 10 % is a share of an absolute pressure, which has none; write an amount, such as 10 bar`}},
		// expressions
		{"sum of two dimensions", "measure: line.velocity", "measure: line.velocity + fluid.max_temperature", []string{
			`13 "+": cannot add a velocity and a temperature`}},
		{"misspelt fact", "measure: line.velocity", "measure: line.velocitty", []string{
			`13 "velocitty": line has no velocitty; did you mean velocity?`}},
		{"fact of another subject", "measure: line.velocity", "measure: seal.speed", []string{
			`13 "seal": a rule for line cannot read seal; it reads line, part, circuit, fluid, environment and limits`}},
		{"limit of another dimension", "at_most: limits.return_velocity", "at_most: limits.margin", []string{
			`14 "limits.margin": the measure is a velocity, its limit a pressure difference; they must be of one kind`}},
		{"unknown limit", "at_most: limits.return_velocity", "at_most: limits.return_velocitty", []string{
			`14 "return_velocitty": limits has no return_velocitty; did you mean return_velocity?`}},
		{"measure that is no number", "measure: line.velocity", "measure: line.role", []string{
			`13 "line.role": a number or quantity is needed here, not a text`}},
		{"where that is no condition", "where: line.role == 'return'", "where: line.role", []string{
			`12 "line.role": a yes or no is needed here, not a text`}},
		{"group for a number", "at_most: limits.return_velocity", "at_most: limits.factors", []string{
			`14 "limits.factors": a number or quantity is needed here, not a group`}},
		{"unit in a limit", "at_most: limits.return_velocity", "at_most: 3 m/s", []string{
			`14 "m": m is not expected behind a number; a quantity is written q('210 bar')`}},
		{"in double quotes", "where: line.role == 'return'", `where: "line.role == \"return\" && line.rol == 'x'"`, []string{
			`12 "rol": line has no rol; did you mean role?`}},
		{"in single quotes", "where: line.role == 'return'", `where: 'line.role == ''return'' && line.rol == 1'`, []string{
			`12 "rol": line has no rol; did you mean role?`}},
		{"literal", "where: line.role == 'return'", "where: |\n    line.role == 'return' &&\n      line.rol == 'x'", []string{
			`14 "rol": line has no rol; did you mean role?`}},
		{"folded", "where: line.role == 'return'", "where: >-\n    line.role == 'return' &&\n\n    line.rol == 'x'", []string{
			`15 "rol": line has no rol; did you mean role?`}},
		{"cut by a comment", "where: line.role == 'return'", "where: line.role == 'return #1'", []string{
			`12 "'": the quotes that open here are not closed; YAML takes what stands behind # for a comment, so write the expression behind >-`}},
		{"taken for a tag", "where: line.role == 'return'", "where: !line.moving && true", []string{
			`12 "&": this is not YAML: line 12: did not find expected alphabetic or numeric character; an expression stands safest behind >-`}},
		{"taken for a list", "where: line.role == 'return'", "where: ['a']", []string{
			`12 "['a']": where must be a single text; YAML reads this as a list, so write it in double quotes or behind >-`}},
		{"choice", "at_most: limits.return_velocity", "at_most: line.role == 'x' ? q('1 m/s') : q('2 m/s')", []string{
			`14 ":": a second colon on this line, or wrong indentation; put a text that holds a colon in quotes; an expression with a colon stands behind >-`}},
		// what a finding says
		{"says a fact that is none", "  why:", "  says: the velocity is {line.velocitty}\n  why:", []string{
			`18 "velocitty": line has no velocitty; did you mean velocity?`}},
		{"says a calculation", "  why:", "  says: the velocity is {2 * line.velocity}\n  why:", []string{
			`18 "2 * line.velocity": the name of a fact is needed in braces, such as {part.name}, or a limit such as {limits.at_rest[part.name]}`}},
		{"open brace", "  why:", "  says: the velocity is {line.velocity\n  why:", []string{
			`18 "{": the brace that opens here is not closed`}},
		// limits
		{"limit's unit", "return_velocity: 2.5 m/s", "return_velocity: 2.5 m/z", []string{
			`4 "z": unknown unit z`}},
		{"empty group", "factors: {hose: 4, others: 2.5}", "factors: {}", []string{
			`6 "factors": limits.factors has no limits in it`}},
		{"list of limits", "factors: {hose: 4, others: 2.5}", "factors: [4, 2.5]", []string{
			`6 "[4, 2.5]": limits.factors must be a single value or a group of limits`}},
		{"limit's name", "factors: {hose: 4", "factors: {Hose: 4", []string{
			`6 "Hose": a limit's name is made of small letters, digits and underscores, or is a part kind`}},
		{"no default of what", "{no_default: text, per: part, one_of: [clamped, released]}", "{no_default: bars}", []string{
			`7 "bars": no_default takes a unit, or number, text or flag; bars is none`}},
		{"per what", "per: part, one_of", "per: node, one_of", []string{
			`7 "node": per can be part alone`}},
		{"kinds of what", "per: part, one_of", "kinds: [pump], one_of", []string{
			`7 "[pump]": kinds stands beside per: part`}},
		{"kinds that are none", "per: part, one_of", "per: part, kinds: [pmp], one_of", []string{
			`7 "pmp": there is no kind of part pmp; did you mean pump?`}},
		{"sets", "factors: {hose: 4, others: 2.5}", "factors: {choose: land, sea: {hose: 4}}", []string{
			`6 "land": limits.factors has no set land; there is sea`}},
		// examples
		{"example's fact", "velocity: 2 m/s}}", "velocty: 2 m/s}}", []string{
			`21 "velocty": line has no key velocty; did you mean velocity?`}},
		{"example's unit", "velocity: 2 m/s}}", "velocity: 2 bar}}", []string{
			`21 "bar": bar is a pressure; a velocity is needed here, such as m/s, mm/s or ft/s`}},
		{"example's number", "velocity: 2 m/s}}", "velocity: 2}}", []string{
			`21 "2": 2 has no unit; a velocity is needed here, such as m/s, mm/s or ft/s`}},
		{"example's subject", "{facts: {line: {role: return, velocity: 2 m/s}}", "{facts: {pipe: {role: return, velocity: 2 m/s}}", []string{
			`21 "pipe": facts has no key pipe; there is line, part, circuit, fluid, environment and limits`}},
		{"example's verdict", "verdict: passes", "verdict: pass", []string{
			`21 "pass": there is no verdict pass; there is passes, finding, not-assessed and skipped`}},
		{"no verdict", ", verdict: passes", "", []string{
			`21 "facts": an example of rule house.return-velocity lacks verdict`}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, wrongs(changed(t, test.old, test.new))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestPackChanges holds what is said of changes to rules that there are not.
func TestPackChanges(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string
	}{
		{"switch off what is not there", "switch_off: [{rule: house.return-velocty, because: why not}]", []string{
			`23 "house.return-velocty": there is no rule house.return-velocty; did you mean house.return-velocity?`}},
		{"regrade what is not there", "regrade: [{rule: lines.velocity, to: minor, because: why not}]", []string{
			`23 "lines.velocity": there is no rule lines.velocity; there is house.return-velocity`}},
		{"no reason", "switch_off: [{rule: house.return-velocity}]", []string{
			`23 "rule": an entry of switch_off lacks because`}},
		{"no grade", "regrade: [{rule: house.return-velocity, to: grave, because: x}]", []string{
			`23 "grave": there is no grade grave; there is observation, minor, major and critical`}},
		{"twice", "switch_off: [{rule: house.return-velocity, because: x}, {rule: house.return-velocity, because: y}]", []string{
			`23 "house.return-velocity": house.return-velocity is switched off already, by pack house`}},
		{"no document", "---\na: b", []string{
			`23 "-": a second document begins here; a file holds one`}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, wrongs(house+test.text+"\n")); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestCovers holds that a rule can ask for no more than what the cases cover, and
// which of the core do.
func TestCovers(t *testing.T) {
	got := wrongs(strings.Replace(house, "  for: line\n", "  for: line\n  covers: parts\n", 1))
	if len(got) != 1 || !strings.HasSuffix(got[0], `"parts": covers can be cases alone`) {
		t.Errorf("%q", got)
	}
	var covers []string
	for _, r := range mustCore(t).Rules {
		if r.Covers != "" {
			covers = append(covers, r.ID)
		}
	}
	slices.Sort(covers)
	if want := []string{"spec.idle-part", "spec.no-cold-case", "spec.no-fault-case", "spec.stuck-untried", "spec.unexercised"}; !slices.Equal(covers, want) {
		t.Errorf("%q ask what the cases cover, not %q", covers, want)
	}
}
