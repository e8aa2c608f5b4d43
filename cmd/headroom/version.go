package main

import (
	"fmt"
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// addVersion gives the root --version, and --modules with it: what the program was
// made from, for those who keep lists of such things.
func addVersion(root *cobra.Command) {
	var tell, modules bool
	root.Flags().BoolVar(&tell, "version", false, "print the version")
	root.Flags().BoolVar(&modules, "modules", false, "with --version: print the modules that the program is made from, with their checksums")
	root.RunE = func(cmd *cobra.Command, _ []string) error {
		switch {
		case tell:
			return tellVersion(cmd.OutOrStdout(), modules)
		case modules:
			return fmt.Errorf("--modules goes with --version")
		}
		return cmd.Help()
	}
}

// tellVersion writes the version; then with modules the Go release and a line a
// module: path, version, checksum.
func tellVersion(w io.Writer, modules bool) error {
	if _, err := fmt.Fprintf(w, "headroom version %s\n", version()); err != nil || !modules {
		return err
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return fmt.Errorf("this program does not know what it was made from")
	}
	if _, err := fmt.Fprintf(w, "%s\n", info.GoVersion); err != nil {
		return err
	}
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		if _, err := fmt.Fprintf(w, "%s %s %s\n", m.Path, m.Version, m.Sum); err != nil {
			return err
		}
	}
	return nil
}

// version is the module's version, or the commit it was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		return v
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			return s.Value[:12]
		}
	}
	return "built from source"
}
