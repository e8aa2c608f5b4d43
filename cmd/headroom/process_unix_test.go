//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"headroom/checker"
	"headroom/rules"
	"headroom/specs"
)

// runIn is a command that runs this program, in a folder.
func runIn(t *testing.T, folder string, arguments ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	command := exec.Command(self)
	command.Args = append([]string{"headroom"}, arguments...)
	command.Dir = folder
	return command
}

// leftovers are the files of a folder, hidden ones too, that were not there before.
func leftovers(t *testing.T, folder string, known ...string) (left []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.Contains(strings.Join(known, " "), e.Name()) {
			left = append(left, e.Name())
		}
	}
	return left
}

// A signal ends a run with its own code, and leaves no half file: it comes while the
// file under way is open and text is being told that nobody reads.
func TestSignals(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		folder := t.TempDir()
		writeSpecs(t, folder, 400)
		command := runIn(t, folder, "check", "--fail-at", "never", "--as", "text", "--as", "json=out.json", ".")
		reader, writer, err := os.Pipe() // which fills, and holds the run up until the signal
		if err != nil {
			t.Fatal(err)
		}
		command.Stdout = writer
		if err := command.Start(); err != nil {
			t.Fatal(err)
		}
		writer.Close()
		one := make([]byte, 1)
		if _, err := reader.Read(one); err != nil { // by now the files are open
			t.Fatal(err)
		}
		if under, _ := filepath.Glob(filepath.Join(folder, ".out.json.*")); len(under) != 1 {
			t.Errorf("files under way: %v", under)
		}
		command.Process.Signal(s)
		command.Wait()
		reader.Close()
		if code := command.ProcessState.ExitCode(); code != exitSignal+int(s) {
			t.Errorf("%v ends with %d", s, code)
		}
		if left := leftovers(t, folder, "specs"); len(left) > 0 {
			t.Errorf("%v leaves %v", s, left)
		}
	}
}

// writeSpecs writes many small specs into the folder specs below a folder.
func writeSpecs(t *testing.T, folder string, count int) {
	t.Helper()
	below := filepath.Join(folder, "specs")
	if err := os.Mkdir(below, 0o700); err != nil {
		t.Fatal(err)
	}
	for i := range count {
		text := fmt.Sprintf("headroom: 1\ncircuit: c%d\ntitle: A reservoir alone\nfluid: {like: hm-46}\nparts:\n  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 8 L}\n", i)
		if err := os.WriteFile(filepath.Join(below, fmt.Sprintf("c%d.yaml", i)), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// Runs at once in one folder that write the same files leave whole ones, each as some
// run wrote it, and nothing else.
func TestRunsAtOnce(t *testing.T) {
	folder := t.TempDir()
	writeSpecs(t, folder, 3)
	var runs sync.WaitGroup
	for range 8 {
		command := runIn(t, folder, "check", "--fail-at", "never", "--as", "json=out.json", "--as", "sarif=out.sarif", ".")
		runs.Go(func() {
			if told, err := command.CombinedOutput(); err != nil {
				t.Errorf("%v: %s", err, told)
			}
		})
	}
	runs.Wait()
	for _, name := range []string{"out.json", "out.sarif"} {
		if text, err := os.ReadFile(filepath.Join(folder, name)); err != nil || !json.Valid(text) {
			t.Errorf("%s is not whole: %v", name, err)
		}
	}
	if left := leftovers(t, folder, "specs", "out.json", "out.sarif"); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A file that changes while it is read gives the result of what was read, whatever that
// was: all that is told of it is of one and the same text.
func TestFileThatChanges(t *testing.T) {
	path := filepath.Join(t.TempDir(), "c.yaml")
	short := []byte("headroom: 1\ncircuit: c\ntitle: A reservoir alone\nfluid: {like: hm-46}\nparts:\n  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 8 L}\n")
	long := append(bytes.Clone(short), []byte(strings.Repeat("  # a remark of no weight\n", 4000)+"  drain: {kind: orifice, from: sump, to: low, diameter: 2 mm}\n")...)
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, short, 0o600); err != nil {
		t.Fatal(err)
	}
	stop := make(chan struct{})
	var writer sync.WaitGroup
	writer.Go(func() {
		for i := 0; ; i++ {
			select {
			case <-stop:
				return
			default:
				os.WriteFile(path, [][]byte{short, long}[i%2], 0o600) // truncates, then writes
			}
		}
	})
	lengths := map[int]bool{}
	for until := time.Now().Add(500 * time.Millisecond); time.Now().Before(until); {
		r := checker.Judge(checker.Task{Path: path, Name: "c.yaml", Book: book})
		read := r.Circuit.Source
		lengths[len(read)] = true
		again := specs.Read("c.yaml", read)
		if len(again.Problems) != len(r.Circuit.Problems) || len(again.Parts) != len(r.Circuit.Parts) {
			t.Fatalf("%d bytes were read, and %d problems told that are %d", len(read), len(r.Circuit.Problems), len(again.Problems))
		}
	}
	close(stop)
	writer.Wait()
	if len(lengths) < 2 {
		t.Errorf("the file did not change: lengths %v", lengths)
	}
}
