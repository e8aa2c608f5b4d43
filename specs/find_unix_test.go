//go:build unix

package specs

import (
	"path/filepath"
	"syscall"
	"testing"
)

// A pipe with the name of a spec is not opened on a walk: nobody may ever write to it.
func TestFindSkipsPipes(t *testing.T) {
	root := files(t, map[string]string{"a.yaml": isSpec})
	if err := syscall.Mkfifo(filepath.Join(root, "pipe.yaml"), 0o644); err != nil {
		t.Fatal(err)
	}
	found := Find([]string{root}, nil)
	if len(found.Specs) != 1 || found.Others != 0 || len(found.Problems) != 0 {
		t.Errorf("%+v", found)
	}
}
