//go:build cvode

package network

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"testing"

	"headroom/checker/integrate"
	"headroom/checker/integrate/cvode"
	"headroom/specs"
)

// A bout is one case, begun once, that both solvers integrate with nothing read off.
type bout struct {
	name      string
	m         *model
	y         []float64
	times     []float64   // that are compared, each a millisecond before and after it, too
	at        []int       // those compared
	reference [][]float64 // at all times
	unit      []float64   // least accuracy asked of each state
	callback  float64     // s, what a call from C costs more
}

// A passing is one solution of a case at a share of the tolerances.
type passing struct {
	share       float64
	order       int
	mean, worst float64 // error over states and times, in units of the accuracy asked
	seconds     float64 // of the processor, the least of several
	callbacks   float64 // s of them that calls from C cost
	counts      cvode.Counts
}

// samples are the states at the times of a bout.
type samples [][]float64

func newBout(t *testing.T, c *specs.Circuit, k *specs.Case) *bout {
	m, y := startOf(t, c, k)
	b := &bout{name: c.Name.Value + ", " + k.Name, m: m, y: slices.Clone(y)}
	var at []float64
	const instants = 200
	end := k.Lasts.SI
	for i := range instants {
		at = append(at, settlingTime+(end-settlingTime)*(float64(i)+0.5)/instants)
	}
	b.times = aroundEach(at, end)
	for _, v := range at {
		i, _ := slices.BinarySearch(b.times, v)
		b.at = append(b.at, i)
	}
	return b
}

// drive goes from event to event to the end of the case, as a runner does.
func (b *bout) drive(y []float64, solve func(from float64, breaks []float64) (float64, error)) error {
	m, now, end := b.m, 0.0, b.m.spec.Lasts.SI
	for _, in := range m.inputs {
		in.reset()
		in.enter(0)
	}
	m.start(y, nil)
	for _, tr := range m.triggers {
		tr.done = false
		if tr.start(m, y) {
			m.fire(tr, 0)
		}
	}
	var breaks []float64
	for now < end {
		for _, tr := range m.triggers {
			if !tr.done && tr.value(m, y) > 0 {
				m.fire(tr, now)
			}
		}
		b.enter(now, y)
		breaks = breaks[:0]
		for _, in := range m.inputs {
			breaks = in.breaks(breaks)
		}
		slices.Sort(breaks)
		breaks = slices.Compact(breaks)
		reached, err := solve(now, breaks)
		if err != nil {
			return err
		}
		now = reached
	}
	return nil
}

func (b *bout) enter(t float64, _ []float64) {
	for _, in := range b.m.inputs {
		in.enter(t)
	}
}

// ours integrates the case by the engine as it is shipped, at a share of its tolerances.
func (b *bout) ours(t *testing.T, share float64, tries int) (passing, samples) {
	r, err := newRunner(b.m, share, 50_000_000)
	if err != nil {
		t.Fatal(err)
	}
	var found samples
	observe := func(p *integrate.Step) {
		for ; len(found) < len(b.times) && b.times[len(found)] <= p.To; found = append(found, slices.Clone(b.y)) {
			p.Values(b.times[len(found)], b.y)
		}
	}
	p := passing{share: share}
	y := make([]float64, len(b.y))
	once := func(observe func(*integrate.Step)) error {
		p.counts = cvode.Counts{}
		return b.drive(y, func(from float64, breaks []float64) (float64, error) {
			result, err := r.solver.Solve(y, integrate.Run{
				From: from, To: b.m.spec.Lasts.SI, Breaks: breaks, AtBreak: b.enter, Observe: observe,
			})
			p.counts.Steps += result.Statistics.Steps
			p.counts.Evaluations += result.Statistics.Evaluations
			p.counts.Inaccurate += result.Statistics.Rejections()
			p.counts.Starts += result.Statistics.Restarts
			return result.Time, err
		})
	}
	if err := once(observe); err != nil {
		t.Fatalf("%s, ours at %g: %v", b.name, share, err)
	}
	p.seconds = least(tries, func() { once(nil) })
	return p, found
}

// theirs integrates the case by CVODE.
func (b *bout) theirs(t *testing.T, share float64, o cvode.Options, tries int) (passing, samples, error) {
	n := len(b.y)
	o.Relative, o.Absolute = make([]float64, n), make([]float64, n)
	for i, kind := range b.m.states {
		o.Relative[i], o.Absolute[i] = tolerances[kind].relative*share, tolerances[kind].absolute*share
	}
	s, err := cvode.New(integrate.System{
		States: n, Evaluate: b.m.evaluate, Pattern: b.m.pattern, Jacobian: b.m.jacobian, Events: b.m.events(),
	}, o)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var found samples
	p := passing{share: share, order: o.Order}
	y := make([]float64, n)
	once := func(sampling bool) error {
		p.counts = cvode.Counts{}
		return b.drive(y, func(from float64, breaks []float64) (float64, error) {
			run := cvode.Run{From: from, To: b.m.spec.Lasts.SI, Breaks: breaks, AtBreak: b.enter}
			if sampling {
				run.Times = b.times[len(found):]
				run.Sample = func(_ float64, y []float64) { found = append(found, slices.Clone(y)) }
			}
			result, err := s.Solve(y, run)
			c := &result.Counts
			p.counts.Steps += c.Steps
			p.counts.Evaluations += c.Evaluations
			p.counts.Jacobians += c.Jacobians
			p.counts.Roots += c.Roots
			p.counts.Inaccurate += c.Inaccurate
			p.counts.Unconverged += c.Unconverged
			p.counts.Factorisations += c.Factorisations
			p.counts.Starts += c.Starts
			return result.Time, err
		})
	}
	if err := once(true); err != nil {
		return p, nil, err
	}
	if b.callback == 0 {
		b.callback = s.CallbackCost(0, b.y)
	}
	p.seconds = least(tries, func() { once(false) })
	p.callbacks = b.callback * float64(p.counts.Evaluations+p.counts.Jacobians+p.counts.Roots)
	return p, found, nil
}

// least is the least processor time (s) of several tries.
func least(tries int, run func()) float64 {
	best := math.Inf(1)
	for range tries {
		begin := cvode.Clock()
		run()
		best = min(best, cvode.Clock()-begin)
	}
	return best
}

// leastOf are, by kind of state, differences that are nothing.
var leastOf = [...]float64{
	pressureState: 1e4, temperatureState: 0.5, contentState: 1e-8, gasVolumeState: 1e-8, gasTemperatureState: 0.5,
	spoolState: 0.005, wantedState: 1e4, strokeState: 0.005, positionState: 1e-6, velocityState: 1e-5, shaftState: 0.01, platesState: 0.5,
}

// judge compares samples with the reference: the mean difference as it is, and the
// worst to what the reference is within a millisecond, both in units of the accuracy
// asked: of a pressure 0.5 % or 0.1 bar, of a temperature 0.5 K, of all else 0.5 %
// of its largest.
func (b *bout) judge(p *passing, found samples) {
	sum, n := 0.0, 0
	for i, kind := range b.m.states {
		largest := 0.0
		for _, v := range b.reference {
			largest = max(largest, math.Abs(v[i]))
		}
		for _, k := range b.at {
			v, w := found[k][i], b.reference[k][i]
			unit := max(leastOf[kind], 0.005*largest)
			switch kind {
			case pressureState, wantedState:
				unit = max(leastOf[kind], 0.005*math.Abs(w-b.m.air))
			case temperatureState, gasTemperatureState, platesState:
				unit = leastOf[kind]
			}
			sum += math.Abs(v-w) / unit
			n++
			before, after := b.reference[max(k-1, 0)][i], b.reference[min(k+1, len(found)-1)][i]
			nearest := max(min(v, max(w, before, after)), min(w, before, after))
			p.worst = max(p.worst, math.Abs(v-nearest)/unit)
		}
	}
	p.mean = sum / float64(n)
}

// TestSideBySide prints, case by case, what the engine takes as shipped and what
// CVODE takes for the same measured error, processor time without the cost of
// calling back from C. It fails where CVODE takes less than twice as long over all
// cases together.
func TestSideBySide(t *testing.T) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	circuits := []*specs.Circuit{load(t, "../../specs/demo/stonechat.yaml"), load(t, "../../specs/demo/ptarmigan.yaml")}
	circuits = append(circuits, independentCircuits(t)...)
	circuits = append(circuits, read(t, "generated.yaml", generated(50)), read(t, "generated.yaml", generated(200)))
	fmt.Printf("%-38s %6s %10s %9s %9s %7s\n", "case", "states", "mean error", "ours ms", "CVODE ms", "ratio")
	ours, theirs := 0.0, 0.0
	for _, c := range circuits {
		for i := range c.Cases {
			b := newBout(t, c, &c.Cases[i])
			_, b.reference = b.ours(t, 1e-5, 1)
			mine, found := b.ours(t, 1, 3)
			b.judge(&mine, found)
			best := b.best(t, mine.mean)
			if math.IsInf(best, 1) {
				fmt.Printf("%-38s %6d %10.1e %9.2f %9s\n", b.name, len(b.y), mine.mean, mine.seconds*1e3, "none")
				continue
			}
			ours, theirs = ours+mine.seconds, theirs+best
			fmt.Printf("%-38s %6d %10.1e %9.2f %9.2f %7.2f\n", b.name, len(b.y), mine.mean, mine.seconds*1e3, best*1e3, best/mine.seconds)
		}
	}
	fmt.Printf("all: CVODE takes %.2f times as long\n", theirs/ours)
	if theirs < 2*ours {
		t.Errorf("CVODE takes %.2f times as long, not twice", theirs/ours)
	}
}

// best is the least time that CVODE takes for a mean error, over the ways of
// running it that suit it best: between two of its solutions as a power of the
// error. It is infinite where no solution of it is as accurate.
func (b *bout) best(t *testing.T, wanted float64) float64 {
	least := math.Inf(1)
	for _, o := range []cvode.Options{{}, {RestartAtBreaks: true}} {
		var last *passing
		for _, share := range []float64{1, 0.3, 0.1, 0.03, 0.01, 1e-3, 1e-4} {
			p, found, err := b.theirs(t, share, o, 2)
			if err != nil {
				continue
			}
			b.judge(&p, found)
			p.seconds -= p.callbacks
			if p.mean <= wanted {
				time := p.seconds
				if last != nil && last.mean > p.mean {
					u := math.Log(wanted/p.mean) / math.Log(last.mean/p.mean)
					time = p.seconds * math.Pow(last.seconds/p.seconds, u)
				}
				least = min(least, time)
				break
			}
			last = &p
		}
	}
	return least
}
