package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"headroom/reports/drawing"
	"headroom/rules"
)

// drawFlags are how `draw` is asked to draw.
type drawFlags struct {
	selection
	output string
	plain  bool
}

func newDraw() *cobra.Command {
	var f drawFlags
	c := &cobra.Command{
		Use:   "draw SPEC",
		Short: "Draw a circuit's diagram, each part marked by its worst headroom",
		Long: `Lay out a circuit's diagram, with symbols after ISO 1219-1, and write it as SVG.
Each part is marked by its gravest finding and its least headroom, in words and
shapes as well as in colour. With --plain nothing is judged, and the diagram
alone is drawn.`,
		Args: needs(1, "SPEC"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return f.draw(cmd, args)
		},
	}
	f.add(c)
	c.Flags().StringVarP(&f.output, "output", "o", "-", "file to write; - for standard output")
	c.Flags().BoolVar(&f.plain, "plain", false, "judge nothing: the diagram without marks")
	return c
}

func (f drawFlags) draw(cmd *cobra.Command, args []string) error {
	if f.plain {
		if len(f.only) > 0 || f.inCase != "" {
			return errors.New("--plain judges nothing: leave out --only and --case")
		}
		shelf, err := newShelf(nil)
		if err != nil {
			return err
		}
		circuit, _, err := shelf.one(args[0])
		if err != nil {
			return err
		}
		if !circuit.Readable() {
			return unreadable(args[0])
		}
		return f.write(cmd.OutOrStdout(), &rules.Result{Circuit: circuit, Readable: true})
	}
	if info, err := os.Stat(args[0]); err == nil && info.IsDir() {
		return fmt.Errorf("draw takes one spec, and %s is a folder", args[0])
	}
	return f.each(cmd, args, func(r *rules.Result) error {
		switch {
		case r.Other:
			return nil
		case !r.Readable:
			return unreadable(args[0])
		}
		return f.write(cmd.OutOrStdout(), r)
	})
}

func unreadable(path string) error {
	return fmt.Errorf("%s cannot be read as a spec; headroom check tells why", path)
}

// write writes a diagram to standard output, or to a file as a whole.
func (f drawFlags) write(stdout io.Writer, r *rules.Result) error {
	options := drawing.Options{Plain: f.plain}
	if f.output == "-" {
		return drawing.Draw(stdout, r, options)
	}
	file, err := createWhole(f.output)
	if err != nil {
		return err
	}
	defer file.discard()
	if err := drawing.Draw(file, r, options); err != nil {
		return fmt.Errorf("cannot write %s: %w", f.output, err)
	}
	return file.keep()
}
