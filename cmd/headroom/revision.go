package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strconv"
	"strings"

	"headroom/specs"
)

// A side is one of two revisions that are compared: files of the working folder,
// or those of a git revision, put into a folder of their own for as long as they
// are looked at.
type side struct {
	path   string // as given, or within folder
	folder string // where a git revision's files were put; "" for the working folder
	made   string // the same, as it was made
	cwd    string // what stands for the working folder within it
}

// openSide finds what an argument names: a file or folder, or else REV:PATH of
// the git repository around the working folder.
func openSide(argument string) (*side, error) {
	_, missing := os.Stat(argument)
	if missing == nil {
		return &side{path: argument}, nil
	}
	rev, inside, isRevision := cutRevision(argument)
	if !isRevision {
		return nil, fmt.Errorf("%s is no file or folder, nor REV:PATH of a git repository", argument)
	}
	s := &side{}
	if err := s.checkOut(rev, inside); err != nil {
		s.close()
		return nil, fmt.Errorf("%s: %w", argument, err)
	}
	return s, nil
}

// cutRevision parts REV:PATH.
func cutRevision(argument string) (rev, inside string, ok bool) {
	rev, inside, ok = strings.Cut(argument, ":")
	return rev, inside, ok && rev != ""
}

// pathOf is a path of a revision from the top of the repository; here is the working
// folder from there. One with ./ or ../ begins at the working folder, as git reads it.
func pathOf(inside, here string) (string, error) {
	if strings.HasPrefix(inside, "./") || strings.HasPrefix(inside, "../") || inside == "." || inside == ".." {
		inside = path.Join(here, inside)
	}
	inside = path.Clean(inside)
	if !filepath.IsLocal(filepath.FromSlash(inside)) {
		return "", errors.New("the path leads out of the repository")
	}
	return inside, nil
}

// checkOut puts the YAML files of a revision into a folder: specs, project files
// and packs are all such.
func (s *side) checkOut(rev, inside string) (err error) {
	if strings.HasPrefix(rev, "-") {
		return fmt.Errorf("%s is no revision", rev)
	}
	prefix, err := git("rev-parse", "--show-prefix")
	if err != nil {
		return err
	}
	here := strings.TrimRight(string(prefix), "\r\n")
	err = unfinished.make(func() (string, error) {
		s.folder, err = os.MkdirTemp("", "headroom-")
		return s.folder, err
	})
	if err != nil {
		return fmt.Errorf("cannot make a folder for the revision: %w", err)
	}
	s.made = s.folder
	s.folder, err = filepath.EvalSymlinks(s.made)
	if err != nil {
		return fmt.Errorf("cannot make a folder for the revision: %w", err)
	}
	s.cwd = filepath.Join(s.folder, filepath.FromSlash(here))
	if err := os.MkdirAll(s.cwd, 0o700); err != nil {
		return fmt.Errorf("cannot make a folder for the revision: %w", err)
	}
	if inside, err = pathOf(inside, here); err != nil {
		return err
	}
	list, err := git("ls-tree", "-r", "-l", "-z", "--full-tree", rev)
	if err != nil {
		return err
	}
	files, err := yamlIn(list)
	if err != nil {
		return err
	}
	if err := extract(files, s.folder); err != nil {
		return err
	}
	s.path = filepath.Join(s.folder, filepath.FromSlash(inside))
	if _, err := os.Stat(s.path); err != nil {
		return fmt.Errorf("revision %s has no spec or folder %s with any; paths of a revision begin at the top of the repository, or with ./ at the working folder", rev, inside)
	}
	s.path, err = filepath.Rel(s.cwd, s.path)
	return err
}

// close removes what was put into a folder.
func (s *side) close() {
	if s.made != "" {
		unfinished.remove(s.made)
	}
}

// A blob is one file of a revision.
type blob struct {
	name, path string
	size       int64 // bytes
}

// Bounds on what is taken out of a revision, far above what specs need: a few hundred
// bytes of a repository can stand for as much as a disk holds.
const (
	mostFiles = 100_000
	mostBytes = 256 << 20
)

// yamlIn lists the YAML files in what git's ls-tree -r -l -z writes, "MODE TYPE NAME SIZE",
// a tab and the path for each. Links are not followed. Of files that are larger than what
// is read of one, which are no specs, no more are taken than the bound leaves room for.
func yamlIn(list []byte) (files []blob, err error) {
	together, large := int64(0), int64(0)
	for entry := range bytes.SplitSeq(list, []byte{0}) {
		about, file, ok := strings.Cut(string(entry), "\t")
		fields := strings.Fields(about)
		if !ok || len(fields) != 4 || fields[1] != "blob" || fields[0] == "120000" {
			continue
		}
		ext := strings.ToLower(path.Ext(file))
		if ext != ".yaml" && ext != ".yml" || !filepath.IsLocal(filepath.FromSlash(file)) {
			continue
		}
		size, err := strconv.ParseInt(fields[3], 10, 64)
		switch {
		case err != nil:
			return nil, fmt.Errorf("git has no %s of the revision here; fetch it first", file)
		case size > specs.MaxFile && large+size > mostBytes:
			continue
		case size > specs.MaxFile:
			large += size
		default:
			together += size
		}
		files = append(files, blob{fields[2], file, size})
	}
	switch {
	case len(files) > mostFiles:
		return nil, fmt.Errorf("the revision has %d YAML files, more than the %d that are looked at", len(files), mostFiles)
	case together > mostBytes:
		return nil, fmt.Errorf("the YAML files of the revision have %d MiB together, more than the %d that are looked at", together>>20, mostBytes>>20)
	}
	return files, nil
}

// extract writes files of the repository below a folder.
func extract(files []blob, folder string) error {
	if len(files) == 0 {
		return nil
	}
	var names bytes.Buffer
	for _, f := range files {
		names.WriteString(f.name + "\n")
	}
	command := gitCommand("cat-file", "--batch")
	command.Stdin = &names
	out, err := command.StdoutPipe()
	if err != nil {
		return fmt.Errorf("cannot run git: %w", err)
	}
	if err := command.Start(); err != nil {
		return fmt.Errorf("cannot run git: %w", err)
	}
	err = unpack(bufio.NewReader(out), files, folder)
	if err != nil {
		command.Process.Kill()
	}
	return errors.Join(err, command.Wait())
}

// unpack reads what git's cat-file --batch writes: a line "NAME blob SIZE", the
// file, and a line break, for each. Of a larger file no more is kept than shows that it is
// too large.
func unpack(in *bufio.Reader, files []blob, folder string) error {
	for _, f := range files {
		line, err := in.ReadString('\n')
		if err != nil {
			return fmt.Errorf("git does not give %s: %w", f.path, err)
		}
		fields := strings.Fields(line)
		if len(fields) != 3 || fields[2] != strconv.FormatInt(f.size, 10) {
			return fmt.Errorf("git does not give %s: %s", f.path, strings.TrimSpace(line))
		}
		to := filepath.Join(folder, filepath.FromSlash(f.path))
		if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
			return fmt.Errorf("cannot write %s: %w", f.path, err)
		}
		kept := min(f.size, specs.MaxFile+1)
		if err := copyOut(to, io.LimitReader(in, kept)); err != nil {
			return fmt.Errorf("cannot write %s: %w", f.path, err)
		}
		if _, err := io.CopyN(io.Discard, in, f.size-kept); err != nil {
			return fmt.Errorf("git does not give all of %s: %w", f.path, err)
		}
		if _, err := in.Discard(1); err != nil {
			return fmt.Errorf("git does not give all of %s: %w", f.path, err)
		}
	}
	return nil
}

func copyOut(path string, from io.Reader) error {
	file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(file, from)
	return errors.Join(err, file.Close())
}

// git runs git in the working folder and gives what it writes; what it complains
// of is the error.
func git(arguments ...string) ([]byte, error) {
	out, err := gitCommand(arguments...).Output()
	var failed *exec.ExitError
	switch {
	case errors.As(err, &failed):
		return nil, errors.New("git says: " + strings.TrimSpace(string(failed.Stderr)))
	case err != nil:
		return nil, fmt.Errorf("cannot run git: %w", err)
	}
	return out, nil
}

// gitCommand is a run of git that changes nothing in the repository, and fetches nothing
// from another: there is no network in a run.
func gitCommand(arguments ...string) *exec.Cmd {
	command := exec.Command("git", arguments...)
	command.Env = append(os.Environ(), "GIT_OPTIONAL_LOCKS=0", "GIT_NO_LAZY_FETCH=1", "LC_ALL=C")
	return command
}
