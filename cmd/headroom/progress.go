package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"github.com/mattn/go-isatty"
)

// A progress tells on a terminal how far long work has come: a line that is written
// over and goes away. Elsewhere, and for work that is soon done, it tells nothing; a nil
// progress tells nothing at all.
type progress struct {
	w        io.Writer
	after    time.Duration // of work of which nothing is told
	every    time.Duration // between two lines
	mutex    sync.Mutex
	what     string
	done, of int
	begun    time.Time
	shown    bool
	once     sync.Once
	stop     chan struct{}
	stopped  sync.WaitGroup
}

// newProgress tells on a terminal, unless it is dumb or quiet was asked for.
func newProgress(w io.Writer, quiet bool) *progress {
	file, ok := w.(*os.File)
	if quiet || !ok || os.Getenv("TERM") == "dumb" || !isatty.IsTerminal(file.Fd()) {
		return nil
	}
	return startProgress(w, time.Second, 200*time.Millisecond)
}

func startProgress(w io.Writer, after, every time.Duration) *progress {
	p := &progress{w: w, after: after, every: every, begun: time.Now(), stop: make(chan struct{})}
	p.stopped.Go(p.tell)
	return p
}

// begin starts to count something.
func (p *progress) begin(what string, of int) {
	if p == nil {
		return
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	p.what, p.done, p.of = what, 0, of
}

// step counts one that is done.
func (p *progress) step() {
	if p == nil {
		return
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	p.done++
}

// aside writes something else, with the line out of its way.
func (p *progress) aside(write func() error) error {
	if p == nil {
		return write()
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	p.erase()
	return write()
}

// end takes the line away for good; it may be called again.
func (p *progress) end() {
	if p == nil {
		return
	}
	p.once.Do(func() { close(p.stop) })
	p.stopped.Wait()
	p.erase()
}

func (p *progress) erase() {
	if p.shown {
		io.WriteString(p.w, "\r\x1b[K")
		p.shown = false
	}
}

// tell writes the line again and again until the end.
func (p *progress) tell() {
	wait := time.NewTimer(p.after)
	defer wait.Stop()
	for {
		select {
		case <-p.stop:
			return
		case <-wait.C:
		}
		p.mutex.Lock()
		if p.of > 0 {
			fmt.Fprintf(p.w, "\r\x1b[K%s", p.line(time.Since(p.begun)))
			p.shown = true
		}
		p.mutex.Unlock()
		wait.Reset(p.every)
	}
}

// line fits a terminal of 80 columns.
func (p *progress) line(spent time.Duration) string {
	what := []rune(p.what)
	if len(what) > 40 {
		what = append(what[:39], '…')
	}
	return fmt.Sprintf("judged %d of %d %s, %.0f s", min(p.done, p.of), p.of, string(what), spent.Seconds())
}
