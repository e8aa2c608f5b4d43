package main

import (
	"os"
	"os/signal"
	"sync"
	"syscall"
)

// unfinished are the files and folders under way, which a signal that ends the program
// takes with it: what is half written is not left behind.
var unfinished = remains{paths: map[string]bool{}}

type remains struct {
	mutex sync.Mutex
	paths map[string]bool
}

// make makes a file or folder, and keeps in mind that it is not finished.
func (r *remains) make(create func() (path string, err error)) error {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	path, err := create()
	if err == nil {
		r.paths[path] = true
	}
	return err
}

// forget is told of what is in its place.
func (r *remains) forget(path string) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	delete(r.paths, path)
}

// remove removes what is no longer wanted.
func (r *remains) remove(path string) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	os.RemoveAll(path)
	delete(r.paths, path)
}

// removeAll removes all there is; nothing is made after it.
func (r *remains) removeAll() {
	r.mutex.Lock()
	for path := range r.paths {
		os.RemoveAll(path)
	}
}

// exitSignal is what is added to a signal's number for the exit code, as shells do.
const exitSignal = 128

// endTidily makes the signals that end a program remove what is unfinished first; one
// that the program was started to ignore, as by nohup, stays ignored.
func endTidily() {
	ended := make(chan os.Signal, 1)
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if !signal.Ignored(s) {
			signal.Notify(ended, s)
		}
	}
	go func() {
		s := <-ended
		unfinished.removeAll()
		code := exitSignal
		if number, is := s.(syscall.Signal); is {
			code += int(number)
		}
		os.Exit(code)
	}()
}
