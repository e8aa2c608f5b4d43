package specs

import (
	"bytes"
	_ "embed"
	"fmt"
)

//go:embed starter.yaml
var starter []byte

// Starter is a small commented spec, complete and free of problems, to begin a
// circuit of that name with.
func Starter(name string) ([]byte, error) {
	if message := identifier(name); message != "" {
		return nil, fmt.Errorf("cannot begin a circuit: %s", message)
	}
	return bytes.Replace(starter, []byte("NAME"), []byte(name), 1), nil
}
