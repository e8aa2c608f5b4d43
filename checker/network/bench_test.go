package network

import (
	"syscall"
	"testing"
	"time"
)

// The demo's five cases, one after the other on one core, models and solvers
// built anew each time.
func BenchmarkDemo(b *testing.B) {
	c := load(b, "../../specs/demo/stonechat.yaml")
	steps, evaluations := 0, 0
	used := cpu()
	for b.Loop() {
		steps, evaluations = 0, 0
		for i := range c.Cases {
			out, err := Simulate(c, &c.Cases[i], Options{})
			if err != nil || out.Failure != nil {
				b.Fatal(err, out.Failure)
			}
			steps += out.Steps + out.Rejections
			evaluations += out.Evaluations
		}
	}
	b.ReportMetric((cpu()-used).Seconds()*1e3/float64(b.N), "cpu-ms/op")
	b.ReportMetric(float64(steps), "steps")
	b.ReportMetric(float64(evaluations), "evaluations")
}

// cpu is the processor time used so far, which the load of the machine changes less.
func cpu() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
