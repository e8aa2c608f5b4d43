//go:build outside

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// These tests run what others make of the program: hooks and pipelines. They need git,
// go and pre-commit, and are run by .ci/run.

// A scratch is a folder with an environment, in which commands are run.
type scratch struct {
	t      *testing.T
	folder string
	env    []string
}

func newScratch(t *testing.T, env ...string) *scratch {
	t.Helper()
	s := &scratch{t: t, folder: t.TempDir()}
	for _, pair := range os.Environ() {
		if !strings.HasPrefix(pair, "GIT_") {
			s.env = append(s.env, pair)
		}
	}
	for _, name := range []string{"GOMODCACHE", "GOCACHE"} { // hooks have a GOPATH of their own
		value, err := exec.Command("go", "env", name).Output()
		if err != nil {
			t.Fatal(err)
		}
		s.env = append(s.env, name+"="+strings.TrimSpace(string(value)))
	}
	s.env = append(s.env, "GIT_AUTHOR_NAME=nobody", "GIT_AUTHOR_EMAIL=nobody@example.org", "GIT_COMMITTER_NAME=nobody", "GIT_COMMITTER_EMAIL=nobody@example.org", "GIT_CONFIG_GLOBAL=/dev/null")
	s.env = append(s.env, env...)
	return s
}

// try runs a command and gives what it writes.
func (s *scratch) try(command ...string) (string, error) {
	c := exec.Command(command[0], command[1:]...)
	c.Dir, c.Env = s.folder, s.env
	out, err := c.CombinedOutput()
	return string(out), err
}

func (s *scratch) run(command ...string) string {
	s.t.Helper()
	out, err := s.try(command...)
	if err != nil {
		s.t.Fatalf("%v: %v\n%s", command, err, out)
	}
	return out
}

// refused runs a command that must fail and say something.
func (s *scratch) refused(says string, command ...string) {
	s.t.Helper()
	if out, err := s.try(command...); err == nil || !strings.Contains(out, says) {
		s.t.Errorf("%v: %v, and it does not say %s:\n%s", command, err, says, out)
	}
}

func (s *scratch) copy(from, to string, replace ...string) {
	s.t.Helper()
	data, err := os.ReadFile(from)
	if err != nil {
		s.t.Fatal(err)
	}
	info, err := os.Stat(from)
	if err != nil {
		s.t.Fatal(err)
	}
	path := filepath.Join(s.folder, to)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		s.t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.NewReplacer(replace...).Replace(string(data))), info.Mode()); err != nil {
		s.t.Fatal(err)
	}
}

// here is a path of this repository.
func here(t *testing.T, path string) string {
	t.Helper()
	full, err := filepath.Abs(filepath.Join("../..", path))
	if err != nil {
		t.Fatal(err)
	}
	return full
}

// The circuits that hold and do not, with what is said of the second.
const (
	holding = "specs/demo/ptarmigan.yaml"
	failing = "specs/demo/dipper.yaml"
	found   = "strength.burst-factor"
)

// source is a repository of the program as it stands in the working folder, with what
// is not committed yet.
func source(t *testing.T) string {
	t.Helper()
	s := newScratch(t)
	list := exec.Command("git", "ls-files", "-z", "--cached", "--others", "--exclude-standard")
	list.Dir = here(t, ".")
	files, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	for file := range strings.SplitSeq(strings.TrimSuffix(string(files), "\x00"), "\x00") {
		if _, err := os.Stat(here(t, file)); err == nil { // else it is deleted, and not committed
			s.copy(here(t, file), file)
		}
	}
	s.run("git", "init", "-q", "-b", "main")
	s.run("git", "add", "--all")
	s.run("git", "commit", "-q", "-m", "as it stands")
	return s.folder
}

// circuits is a scratch repository with a circuit that holds.
func circuits(t *testing.T, env ...string) *scratch {
	t.Helper()
	s := newScratch(t, env...)
	s.run("git", "init", "-q", "-b", "main")
	s.copy(here(t, holding), "circuits/main.yaml")
	s.run("git", "add", "circuits")
	s.run("git", "commit", "-q", "-m", "a circuit")
	return s
}

// The hook lets a circuit pass that holds, and refuses one that does not; of all in the
// module it builds one program.
func TestOutsidePreCommit(t *testing.T) {
	tool := source(t)
	cache := t.TempDir()
	s := circuits(t, "PRE_COMMIT_HOME="+cache)
	s.copy("recipes/pre-commit-config.yaml", ".pre-commit-config.yaml",
		"HEADROOM_REPOSITORY", tool, "HEADROOM_REVISION", strings.TrimSpace(newScratch(t).run("git", "-C", tool, "rev-parse", "HEAD")))
	s.run("pre-commit", "install")
	s.run("git", "add", ".pre-commit-config.yaml")
	if out := s.run("git", "commit", "-m", "the hook"); !strings.Contains(out, "Passed") {
		t.Errorf("the hook does not run:\n%s", out)
	}
	built, err := filepath.Glob(filepath.Join(cache, "repo*", "golangenv-*", "bin", "*"))
	if err != nil || len(built) != 1 || filepath.Base(built[0]) != "headroom" {
		t.Errorf("built are %v (%v)", built, err)
	}
	s.copy(here(t, failing), "circuits/second.yaml")
	s.run("git", "add", "circuits")
	s.refused(found, "git", "commit", "-m", "a circuit that does not hold")
	s.run("git", "rm", "-q", "--cached", "circuits/second.yaml")
	s.copy("recipes/README.md", "notes.md")
	s.run("git", "add", "notes.md")
	s.run("git", "commit", "-m", "no circuit: nothing to judge")
}

// program builds the program into a folder of its own and puts that on the path.
func program(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	build := exec.Command("go", "build", "-o", filepath.Join(folder, "headroom"), ".")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return "PATH=" + folder + string(filepath.ListSeparator) + os.Getenv("PATH")
}

// The plain hook judges what is staged, whatever lies in the working folder.
func TestOutsideGitHook(t *testing.T) {
	s := circuits(t, program(t))
	s.copy("recipes/git-pre-commit", ".git/hooks/pre-commit")
	s.copy(here(t, failing), "circuits/second.yaml")
	s.run("git", "add", "circuits")
	s.copy(here(t, holding), "circuits/second.yaml")
	s.refused(found, "git", "commit", "-m", "what is staged does not hold")
	s.run("git", "add", "circuits")
	s.copy(here(t, failing), "circuits/second.yaml")
	s.run("git", "commit", "-m", "what is staged holds")
	s.run("git", "commit", "--allow-empty", "-m", "nothing is staged")
}

// standIn puts a program on the path that notes how it was called.
func (s *scratch) standIn(name string) (log string) {
	s.t.Helper()
	folder := s.t.TempDir()
	log = filepath.Join(folder, name+".log")
	script := "#!/bin/sh\nfor word; do printf '%s\\n' \"$word\"; done > '" + log + "'\n"
	if err := os.WriteFile(filepath.Join(folder, name), []byte(script), 0o755); err != nil {
		s.t.Fatal(err)
	}
	for i, pair := range s.env {
		if path, is := strings.CutPrefix(pair, "PATH="); is {
			s.env[i] = "PATH=" + folder + string(filepath.ListSeparator) + path
		}
	}
	return log
}

// called is how a stand-in was called.
func called(t *testing.T, log string) []string {
	t.Helper()
	text, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
}

// change puts a circuit that does not hold on a branch of its own, beside the base.
func (s *scratch) change() (base string) {
	s.t.Helper()
	base = strings.TrimSpace(s.run("git", "rev-parse", "HEAD"))
	s.run("git", "update-ref", "refs/remotes/origin/main", base)
	s.run("git", "checkout", "-q", "-b", "change")
	s.copy(here(s.t, failing), "circuits/second.yaml")
	s.run("git", "add", "circuits")
	s.run("git", "commit", "-q", "-m", "a circuit that does not hold")
	return base
}

func (s *scratch) holds(file string, texts ...string) {
	s.t.Helper()
	data, err := os.ReadFile(filepath.Join(s.folder, file))
	if err != nil {
		s.t.Fatal(err)
	}
	for _, text := range texts {
		if !strings.Contains(string(data), text) {
			s.t.Errorf("%s does not hold %s", file, text)
		}
	}
}

type step struct {
	Name, Run, Uses, If string
	Env, With           map[string]string
}

// The workflow's own commands build the program, judge a change against its base, fail,
// and leave what the later steps upload.
func TestOutsideGitHubWorkflow(t *testing.T) {
	var workflow struct {
		Jobs map[string]struct{ Steps []step }
	}
	if err := yaml.Unmarshal([]byte(recipes(t)["github-workflow.yaml"]), &workflow); err != nil {
		t.Fatal(err)
	}
	temp := t.TempDir()
	s := circuits(t, "RUNNER_TEMP="+temp, "GITHUB_PATH="+filepath.Join(temp, "path"), "HEADROOM_REPOSITORY="+source(t), "HEADROOM_REVISION=main")
	s.change()
	s.env = append(s.env, "PATH="+filepath.Join(temp, "bin")+string(filepath.ListSeparator)+os.Getenv("PATH"), "BASE=main", "PULL_REQUEST=7", "GH_TOKEN=none")
	gh := s.standIn("gh")
	var ran []string
	for _, step := range workflow.Jobs["check"].Steps {
		if step.Run == "" {
			continue
		}
		ran = append(ran, step.Name)
		out, err := s.try("bash", "-e", "-c", step.Run)
		if judges := step.Name == "Judge the circuits"; judges != (err != nil) {
			t.Fatalf("%s: %v\n%s", step.Name, err, out)
		} else if judges && !strings.Contains(out, "::error file=circuits/second.yaml,line=") {
			t.Errorf("no command for the lines of the change:\n%s", out)
		}
	}
	if want := []string{"Build headroom", "Judge the circuits", "Comment on the change"}; !slices.Equal(ran, want) {
		t.Errorf("ran %v, not %v", ran, want)
	}
	if path, err := os.ReadFile(filepath.Join(temp, "path")); err != nil || strings.TrimSpace(string(path)) != filepath.Join(temp, "bin") {
		t.Errorf("the path of later steps is %s (%v)", path, err)
	}
	if got, want := called(t, gh), strings.Fields("pr comment 7 --body-file headroom.md --edit-last --create-if-none"); !slices.Equal(got, want) {
		t.Errorf("gh %v, not %v", got, want)
	}
	s.holds("headroom.md", "<!-- headroom -->", "## Since `origin/main`", "a new circuit", "1 circuit unchanged")
	s.holds("headroom.sarif", `"uri": "circuits/second.yaml"`, `"exitCode": 1`)
	s.holds("headroom-junit.xml", "<testsuites name=\"headroom\">", "<failure ")
}

// The job's own commands do the same, and its comment goes to the change.
func TestOutsideGitLabJob(t *testing.T) {
	var jobs map[string]struct {
		Script      []string
		AfterScript []string `yaml:"after_script"`
		Artifacts   struct{ Reports map[string]string }
	}
	if err := yaml.Unmarshal([]byte(recipes(t)["gitlab-ci.yaml"]), &jobs); err != nil {
		t.Fatal(err)
	}
	job := jobs["headroom"]
	s := circuits(t, "TMPDIR="+t.TempDir(), "HEADROOM_REPOSITORY="+source(t), "HEADROOM_REVISION=main", "HEADROOM_TOKEN=none",
		"CI_MERGE_REQUEST_IID=7", "CI_PROJECT_ID=12", "CI_API_V4_URL=https://forge.example/api/v4")
	s.env = append(s.env, "CI_MERGE_REQUEST_DIFF_BASE_SHA="+s.change())
	curl := s.standIn("curl")
	s.refused(found, "bash", "-eo", "pipefail", "-c", strings.Join(job.Script, "\n"))
	s.run("bash", "-eo", "pipefail", "-c", strings.Join(job.AfterScript, "\n"))
	if got := called(t, curl); got[len(got)-1] != "https://forge.example/api/v4/projects/12/merge_requests/7/notes" || !slices.Contains(got, "body@headroom.md") {
		t.Errorf("curl %v", got)
	}
	s.holds("headroom.md", "## Since `", "a new circuit")
	s.holds(job.Artifacts.Reports["junit"], "<failure ")
	s.holds(job.Artifacts.Reports["codequality"], `"path":"circuits/second.yaml"`)
}
