package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"headroom/specs"
)

func newBegin() *cobra.Command {
	return &cobra.Command{
		Use:   "begin NAME",
		Short: "Write a commented spec to start a circuit with, as NAME.yaml",
		Args:  needs(1, "NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			text, err := specs.Starter(args[0])
			if err != nil {
				return err
			}
			path := args[0] + ".yaml"
			file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			if errors.Is(err, fs.ErrExist) {
				return fmt.Errorf("%s is there already; nothing was written", path)
			}
			if err != nil {
				return fmt.Errorf("cannot write %s: %w", path, err)
			}
			_, err = file.Write(text)
			if err = errors.Join(err, file.Close()); err != nil {
				os.Remove(path)
				return fmt.Errorf("cannot write %s: %w", path, err)
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "wrote %s; judge it with: headroom check %s\n", path, path)
			return err
		},
	}
}
