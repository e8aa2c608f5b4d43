package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"headroom/checker"
	"headroom/reports"
	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// traceFlags are what `trace` may be asked for.
type traceFlags struct {
	inCase, output, every string
}

func newTrace() *cobra.Command {
	var f traceFlags
	c := &cobra.Command{
		Use:   "trace SPEC --case CASE",
		Short: "Write what a case goes through over time, as comma-separated values",
		Long: `Simulate one case and write the time histories of its nodes and parts as
comma-separated values: a column a quantity, named and with its unit, pressures
above the surrounding air unless they are absolute. Times are the integrator's
own steps, or every so often with --every. Of a repeated case the last repeat is
told. A case that does not come to its end, or to rest where it is to settle, is
written all the same, with a word and exit code 2.`,
		Args: needs(1, "SPEC"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return trace(cmd.OutOrStdout(), args[0], f)
		},
	}
	c.Flags().StringVar(&f.inCase, "case", "", "the case to be simulated")
	c.Flags().StringVarP(&f.output, "output", "o", "-", "file to write; - for standard output")
	c.Flags().StringVar(&f.every, "every", "", "time between rows, such as '10 ms' (default the integrator's own steps)")
	return c
}

func trace(stdout io.Writer, path string, f traceFlags) error {
	if f.inCase == "" {
		return errors.New("trace needs --case, the case to be simulated")
	}
	every, err := interval(f.every)
	if err != nil {
		return err
	}
	shelf, err := newShelf(nil)
	if err != nil {
		return err
	}
	circuit, _, err := shelf.one(path)
	if err != nil {
		return err
	}
	history, unfinished := checker.Trace(circuit, f.inCase, every)
	if history == nil {
		return unfinished
	}
	if err := write(stdout, f.output, history); err != nil {
		return err
	}
	return unfinished
}

// interval reads --every; nothing asks for the integrator's own steps.
func interval(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	v, err := quantity.Parse(text, quantity.Time)
	if err != nil {
		return 0, fmt.Errorf("--every: %w", err)
	}
	if v.SI <= 0 {
		return 0, fmt.Errorf("--every takes a time above 0 s, not %s", text)
	}
	return v.SI, nil
}

// write writes a history to standard output, or to a file as a whole.
func write(stdout io.Writer, path string, h *facts.History) error {
	if path == "-" {
		return reports.History(stdout, h)
	}
	file, err := createWhole(path)
	if err != nil {
		return err
	}
	defer file.discard()
	if err := reports.History(file, h); err != nil {
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	return file.keep()
}
