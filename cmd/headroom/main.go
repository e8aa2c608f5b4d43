// Command headroom judges oil-hydraulic circuits kept as specs in version
// control: it computes what physics says of them and holds every margin
// against its rule.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"
)

// The exit codes of every verb.
const (
	exitHolds    = 0 // nothing at or above --fail-at
	exitFindings = 1 // findings at or above it
	exitUsage    = 2 // the command line was wrong, or a file could not be read
)

// An exit ends the program with a code once everything has been told.
type exit int

func (e exit) Error() string { return fmt.Sprintf("exit %d", int(e)) }

func main() { start() }

// roomForGarbage is how far (%) the heap may grow before it is swept. A run lives for
// tenths of a second on some 10 MiB: sweeping less often saves a tenth of its time.
const roomForGarbage = 400

// start runs the program as the process that it is.
func start() {
	endTidily()
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(roomForGarbage)
	}
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

// run is the whole program but for the process around it. Output that nobody reads
// any more is an error like others, not the end of the process, so that files under
// way are removed.
func run(args []string, stdout, stderr io.Writer) int {
	signal.Ignore(syscall.SIGPIPE)
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.Execute()
	var code exit
	switch {
	case err == nil:
		return exitHolds
	case errors.As(err, &code):
		return int(code)
	case errors.Is(err, syscall.EPIPE):
		return exitUsage // the reader has had enough, as head does; what is not told is no pass
	}
	fmt.Fprintf(stderr, "headroom: %s\n", err)
	return exitUsage
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "headroom",
		Short: "Judge oil-hydraulic circuits kept as text in version control",
		Long: `headroom reads circuit specs (YAML), computes what physics says of them, holds
every margin against its rule, and tells what it found, graded by severity.

It advises. Stored energy, injection of fluid through the skin, hot surfaces,
fire and bursting vessels injure and kill: release pressure before work, and
follow local codes and licensed practice.`,
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	addVersion(root)
	root.CompletionOptions.DisableDefaultCmd = true
	root.AddCommand(newCheck(), newMargins(), newReport(), newCompare(), newCoverage(), newDraw(), newExplain(), newTrace(), newRules(), newSchema(), newCatalogue(), newBegin())
	return root
}
