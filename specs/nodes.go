package specs

import (
	"maps"
	"slices"

	"gopkg.in/yaml.v3"
)

// noteNodes takes the nodes of a part of no known kind for known, so that one
// mistake is not told many times.
func (r *reader) noteNodes(n *yaml.Node) {
	for _, k := range kinds {
		for _, f := range k.plan().ports {
			if node := valueOf(n, f.name); node != nil && node.Kind == yaml.ScalarNode {
				r.nodes.add(node.Value, "")
			}
		}
	}
}

// nodesOf collects the nodes of all parts, in the order of first mention.
func (r *reader) nodesOf(parts []Part) []Node {
	var nodes []Node
	for _, p := range parts {
		for _, port := range Ports(p) {
			if _, known := r.nodes.kind[port.Node]; !known || r.nodes.kind[port.Node] == "" {
				nodes = append(nodes, Node{Name: port.Node, At: port.At})
			}
			r.nodes.add(port.Node, "node")
		}
	}
	return nodes
}

// declare puts what `nodes` says of each node into its place, and tells of
// nodes that no port uses.
func (r *reader) declare(nodes, declared []Node) []Node {
	index := make(map[string]int, len(nodes))
	for i, n := range nodes {
		index[n.Name] = i
	}
	for _, d := range declared {
		i, used := index[d.Name]
		if used {
			nodes[i] = d
			continue
		}
		if _, mentioned := r.nodes.kind[d.Name]; mentioned {
			continue // by a part that cannot be read, which has been told
		}
		known := slices.Collect(maps.Keys(index))
		slices.Sort(known)
		r.wrong(ruleReference, d.At, joinKey("nodes", d.Name), "no part is connected to node %s%s", d.Name, meant(d.Name, known))
		r.nodes.add(d.Name, "")
	}
	return nodes
}
