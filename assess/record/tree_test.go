package record_test

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/record"
)

// node is a JSON value that can be made wrong, also with a name that stands
// twice.
type node struct {
	pointer jsontext.Pointer
	raw     jsontext.Value // of what has no children
	kind    jsontext.Kind
	names   []string // of an object's members
	inside  []*node
}

// tree reads JSON, and returns the root and all nodes.
func tree(tb testing.TB, b []byte) (root *node, all []*node) {
	tb.Helper()
	var read func(jsontext.Pointer, jsontext.Value) *node
	read = func(at jsontext.Pointer, raw jsontext.Value) *node {
		n := &node{pointer: at, kind: raw.Kind()}
		all = append(all, n)
		if n.kind != '{' && n.kind != '[' {
			n.raw = raw
			return n
		}
		d := jsontext.NewDecoder(bytes.NewReader(raw))
		if _, err := d.ReadToken(); err != nil {
			tb.Fatal(err)
		}
		for d.PeekKind() != '}' && d.PeekKind() != ']' {
			if n.kind == '{' {
				name, err := d.ReadToken()
				if err != nil {
					tb.Fatal(err)
				}
				n.names = append(n.names, name.String())
			}
			value, err := d.ReadValue()
			if err != nil {
				tb.Fatal(err)
			}
			value = value.Clone()
			n.inside = append(n.inside, read(at+d.StackPointer(), value))
		}
		return n
	}
	return read("", b), all
}

func (n *node) json() []byte {
	if n.raw != nil {
		return n.raw
	}
	var out []byte
	out = append(out, byte(n.kind))
	for i, child := range n.inside {
		if i > 0 {
			out = append(out, ',')
		}
		if n.kind == '{' {
			out, _ = jsontext.AppendQuote(out, n.names[i])
			out = append(out, ':')
		}
		out = append(out, child.json()...)
	}
	return append(out, byte(n.kind)+2) // '}' and ']' stand two behind '{' and '['
}

// name is the last token of the node's pointer.
func (n *node) name() string { return n.pointer.LastToken() }

// keyed reports whether the object's names are ids or a surface's names rather
// than the form's own.
func (n *node) keyed() bool {
	_, isID := record.ParseID(n.name())
	parent := n.pointer.Parent()
	return n.kind == '{' && n.pointer != "" && isID != nil &&
		(parent == "" && !slices.Contains([]string{"unit", "owner", "dates", "numbers"}, n.name()) ||
			n.name() == "surfaces" && strings.HasPrefix(string(parent), "/parts/") ||
			n.name() == "entries" && strings.HasPrefix(string(parent), "/workings/"))
}

// placesOf returns the JSON pointers that an error of Read names.
func placesOf(tb testing.TB, err error) []string {
	tb.Helper()
	var syntax *record.SyntaxError
	var problems record.Problems
	switch {
	case errors.As(err, &syntax):
		return []string{syntax.Pointer}
	case errors.As(err, &problems):
		var places []string
		for _, p := range problems {
			places = append(places, p.Pointer)
		}
		return places
	}
	tb.Fatalf("%v (%T) names no place", err, err)
	return nil
}
