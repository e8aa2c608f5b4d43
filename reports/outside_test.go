//go:build outside

package reports

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"headroom/rules"
)

// These tests hold forms against validators of others. They need xmllint, and in
// SARIF_MULTITOOL the program of the npm package @microsoft/sarif-multitool; .ci/run
// installs both.

// files writes what a form says of circuits of every kind, one file each, and gives
// their paths.
func files(t *testing.T, form, ending string) (paths []string) {
	t.Helper()
	folder := t.TempDir()
	core, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	whole := one()
	whole.Book = core
	outputs := [][]byte{
		told(t, form, Options{Version: "v1.2.3"}, Run{}),
		told(t, form, Options{Version: "v1.2.3"}, Run{Exit: 1}, described(whole)...),
		told(t, form, Options{Version: "3f9aad4cd0aa"}, someRun, some()...),
	}
	for _, text := range hostileTexts {
		outputs = append(outputs, told(t, form, Options{Version: "v1.2.3"}, Run{Notices: []string{text}}, hostile(text)))
	}
	for i, out := range outputs {
		path := filepath.Join(folder, fmt.Sprintf("%d.%s", i, ending))
		if err := os.WriteFile(path, out, 0o644); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

// Every JUnit file is valid by our schema, for libxml2 too.
func TestOutsideJUnit(t *testing.T) {
	out, err := exec.Command("xmllint", append([]string{"--noout", "--nonet", "--schema", "testdata/junit.xsd"}, files(t, "junit", "xml")...)...).CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

// accepted is the one thing that the validator would have and we have not, an address
// of the program; it is said of every file that the validator looks at.
const accepted = "SARIF2005 Warning_ProvideToolnformationUri"

// Every SARIF log passes the rules of the second validator for the standard, and those
// for the ingestion by forges, as errors and warnings. Its exit code says nothing.
func TestOutsideSARIF(t *testing.T) {
	multitool := os.Getenv("SARIF_MULTITOOL")
	if multitool == "" {
		t.Fatal("SARIF_MULTITOOL names no program")
	}
	paths := files(t, "sarif", "sarif")
	log := filepath.Join(t.TempDir(), "validated.sarif")
	validate := exec.Command(multitool, slices.Concat([]string{"validate"}, paths, []string{"--rule-kind", "Sarif;Ghas", "--level", "Error;Warning", "--output", log, "--log", "ForceOverwrite"})...)
	validate.Env = append(os.Environ(), "DOTNET_SYSTEM_GLOBALIZATION_INVARIANT=1")
	said, err := validate.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	text, err := os.ReadFile(log)
	if err != nil {
		t.Fatalf("it has written nothing: %v\n%s", err, said)
	}
	all := remarks(t, text)
	if want := slices.Repeat([]string{accepted}, len(paths)); !slices.Equal(all, want) {
		t.Errorf("of %d files it says\n%s\n%s", len(paths), strings.Join(all, "\n"), said)
	}
}

// remarks are all that a validation found: rule and message.
func remarks(t *testing.T, text []byte) (all []string) {
	t.Helper()
	var log struct {
		Runs []struct {
			Results []struct {
				RuleID  string
				Message struct{ ID string }
			}
			Invocations []struct{ ExecutionSuccessful bool }
		}
	}
	if err := json.Unmarshal([]byte(strings.TrimPrefix(string(text), "\ufeff")), &log); err != nil {
		t.Fatal(err)
	}
	for _, run := range log.Runs {
		for _, r := range run.Results {
			all = append(all, r.RuleID+" "+r.Message.ID)
		}
		for _, i := range run.Invocations {
			if !i.ExecutionSuccessful {
				t.Error("the validation failed")
			}
		}
	}
	return all
}
