package record

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// child returns the value of a mapping's field, or nil.
func child(n *yaml.Node, name string) *yaml.Node {
	if n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == name {
			return n.Content[i+1]
		}
	}
	return nil
}

// keys lists a mapping's field names.
func keys(n *yaml.Node) []string {
	var names []string
	for i := 0; i+1 < len(n.Content); i += 2 {
		names = append(names, n.Content[i].Value)
	}
	return names
}

// locate finds the node at a path, or the deepest one on the way to it.
func locate(top *yaml.Node, path string) *yaml.Node {
	steps, err := parsePath(path)
	if err != nil {
		return top
	}
	n := top
	for _, s := range steps {
		var next *yaml.Node
		if s.name != "" {
			next = child(n, s.name)
		} else if n.Kind == yaml.SequenceNode && s.index < len(n.Content) {
			next = n.Content[s.index]
		}
		if next == nil {
			return n
		}
		n = next
	}
	return n
}

// describe says in plain words what a node is.
func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "fields and values"
	case yaml.SequenceNode:
		return "a list"
	}
	text := shorten(n.Value)
	switch n.Tag {
	case "!!int", "!!float":
		return "the number " + text
	case "!!bool":
		return "the word " + text
	case "!!null":
		return "no value"
	}
	return fmt.Sprintf("the text %q", text)
}

// shorten cuts a long or many-lined text for use in a message.
func shorten(s string) string {
	s = strings.ToValidUTF8(s, "?")
	s, _, more := strings.Cut(s, "\n")
	if r := []rune(s); len(r) > 40 {
		s, more = string(r[:40]), true
	}
	if more {
		s += "..."
	}
	return s
}
