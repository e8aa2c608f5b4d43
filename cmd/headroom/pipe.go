package main

import (
	"errors"
	"syscall"
)

// isClosedPipe tells whether output ended because nobody reads it any more.
func isClosedPipe(err error) bool { return errors.Is(err, syscall.EPIPE) }
