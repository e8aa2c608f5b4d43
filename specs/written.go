package specs

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// An Edit is one value that two revisions of a file say differently.
type Edit struct {
	Path     string // key path in the newer file, or in the older where the value is gone
	Old, New string // as written, comments left out; "" where a revision does not say it
	Line     int    // in the newer file, or in the older where the value is gone
}

// Written is a spec file as it is written: keys and values, read for comparing two
// revisions and not for what they mean.
type Written struct{ root *yaml.Node }

// Written reads the circuit's file once more, within the bounds of the reader. A file
// that cannot be read as a spec has nothing written in it.
func (c *Circuit) Written() Written {
	if !c.Readable() {
		return Written{}
	}
	return Written{newReader(c.File, c.Source).parse()}
}

// Entries is what stands under each name of a section, such as parts: the values of an
// entry by their key paths within it.
func (w Written) Entries(section string) map[string]map[string]string {
	entries := map[string]map[string]string{}
	if w.root == nil {
		return entries
	}
	n := valueOf(w.root, section)
	if n == nil || n.Kind != yaml.MappingNode {
		return entries
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		values := map[string]string{}
		flatten(values, "", n.Content[i+1])
		entries[n.Content[i].Value] = values
	}
	return entries
}

// flatten collects the values below a node by their key paths.
func flatten(into map[string]string, path string, n *yaml.Node) {
	if n.Kind != yaml.MappingNode {
		into[path] = flow(n)
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		flatten(into, joinKey(path, n.Content[i].Value), n.Content[i+1])
	}
}

// flow is a node in one line.
func flow(n *yaml.Node) string { return flowAs(n, func(name string) string { return name }) }

// flow is an older node in one line, in the newer names.
func (d *differ) flow(n *yaml.Node) string { return flowAs(n, d.renamed) }

func flowAs(n *yaml.Node, renamed func(string) string) string {
	if n == nil {
		return ""
	}
	var items []string
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			items = append(items, renamed(n.Content[i].Value)+": "+flowAs(n.Content[i+1], renamed))
		}
		return "{" + strings.Join(items, ", ") + "}"
	case yaml.SequenceNode:
		for _, item := range n.Content {
			items = append(items, flowAs(item, renamed))
		}
		return "[" + strings.Join(items, ", ") + "]"
	}
	return renamed(n.Value)
}

// Edits lists what a newer revision says differently, in the order of the newer
// file. renamed gives the newer name of what the older calls something else; the
// order of keys makes no difference. Of a file in which nothing is written no edit can
// be told.
func (w Written) Edits(newer Written, renamed func(string) string) []Edit {
	if w.root == nil || newer.root == nil {
		return nil
	}
	d := differ{renamed: renamed}
	d.compare("", w.root, newer.root)
	return d.edits
}

type differ struct {
	renamed func(string) string
	edits   []Edit
}

func (d *differ) add(path string, older, newer *yaml.Node) {
	at := newer
	if at == nil {
		at = older
	}
	d.edits = append(d.edits, Edit{Path: path, Old: flow(older), New: flow(newer), Line: at.Line})
}

func (d *differ) compare(path string, older, newer *yaml.Node) {
	switch {
	case older == nil && newer == nil:
	case older == nil || newer == nil || older.Kind != newer.Kind:
		d.add(path, older, newer)
	case newer.Kind == yaml.MappingNode:
		d.mappings(path, older, newer)
	case newer.Kind == yaml.SequenceNode:
		d.sequences(path, older, newer)
	case older.Value != newer.Value && d.renamed(older.Value) != newer.Value:
		d.add(path, older, newer)
	}
}

func (d *differ) mappings(path string, older, newer *yaml.Node) {
	before := map[string]*yaml.Node{}
	for i := 0; i+1 < len(older.Content); i += 2 {
		before[d.renamed(older.Content[i].Value)] = older.Content[i+1]
	}
	for i := 0; i+1 < len(newer.Content); i += 2 {
		key := newer.Content[i].Value
		d.compare(joinKey(path, key), before[key], newer.Content[i+1])
		delete(before, key)
	}
	for i := 0; i+1 < len(older.Content); i += 2 {
		if key := d.renamed(older.Content[i].Value); before[key] != nil {
			d.compare(joinKey(path, key), before[key], nil)
		}
	}
}

// sequences compares lists: an item that both hold is the same wherever it
// stands, and the rest is compared in order.
func (d *differ) sequences(path string, older, newer *yaml.Node) {
	held := map[string]int{} // how often the older list holds an item
	for _, item := range older.Content {
		held[d.flow(item)]++
	}
	var left []int // items of newer without their like
	for i, item := range newer.Content {
		if text := flow(item); held[text] > 0 {
			held[text]--
			continue
		}
		left = append(left, i)
	}
	for i, item := range older.Content {
		text := d.flow(item)
		if held[text] == 0 {
			continue
		}
		held[text]--
		if len(left) == 0 {
			d.add(fmt.Sprintf("%s[%d]", path, i), item, nil)
			continue
		}
		d.compare(fmt.Sprintf("%s[%d]", path, left[0]), item, newer.Content[left[0]])
		left = left[1:]
	}
	for _, i := range left {
		d.add(fmt.Sprintf("%s[%d]", path, i), nil, newer.Content[i])
	}
}
