package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// licences tells a licence by words of its text.
var licences = []struct{ name, words string }{
	{"MIT and Apache-2.0", "two different licenses: MIT and Apache"},
	{"Apache-2.0", "Apache License"},
	{"MIT", "Permission is hereby granted, free of charge"},
	{"BSD-3-Clause", "Neither the name of"},
	{"BSD-3-Clause", "Neither name of"},
}

// The licences of the modules that are linked in, as DEVELOPERS.md lists them; one
// that is not known fails.
func TestLicencesOfModules(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}} {{.Dir}}{{end}}", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	slices.Sort(lines)
	table := "| module | licence |\n|---|---|\n"
	for _, line := range slices.Compact(lines) {
		module, folder, _ := strings.Cut(line, " ")
		if module == "headroom" || module == "" {
			continue
		}
		table += fmt.Sprintf("| %s | %s |\n", module, licenceOf(t, folder))
	}
	const file = "../../DEVELOPERS.md"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, _ := strings.Cut(string(data), "<!-- licences -->\n")
	old, after, found := strings.Cut(rest, "<!-- /licences -->")
	if !found {
		t.Fatal("DEVELOPERS.md has no list of licences")
	}
	if *update {
		if err := os.WriteFile(file, []byte(before+"<!-- licences -->\n"+table+"<!-- /licences -->"+after), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if old != table {
		t.Errorf("the list of licences is out of date: go test ./cmd/headroom -run Licences -update\n%s", table)
	}
}

func licenceOf(t *testing.T, folder string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "LICEN*"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%s has no licence", filepath.Base(folder))
	}
	text, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	plain := strings.Join(strings.Fields(string(text)), " ")
	for _, l := range licences {
		if strings.Contains(plain, l.words) {
			return l.name
		}
	}
	t.Errorf("the licence of %s is not known", filepath.Base(folder))
	return "unknown"
}
