package spec

import (
	"encoding"
	"fmt"
	"reflect"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2/unstable"
)

// strict returns every key and word of a file that a [File] does not know, each
// with its line. The TOML reader alone would take keys in any case and, since
// the words of the trade are texts to it, any word at all; and it stops at the
// first mistake, where a person would rather be told all of them.
//
// Syntax is not its business: where the file can't be parsed it says nothing.
func strict(name string, b []byte) []Problem {
	w := walker{name: name}
	w.parser.Reset(b)
	table := fileShape()
	for w.parser.NextExpression() {
		switch e := w.parser.Expression(); e.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = w.header(e)
		case unstable.KeyValue:
			w.keyValue(table, e)
		}
	}
	if w.parser.Error() != nil {
		return nil
	}
	return w.problems
}

type walker struct {
	parser   unstable.Parser
	name     string
	problems []Problem
}

func (w *walker) wrong(at *unstable.Node, format string, args ...any) {
	line := w.parser.Shape(at.Raw).Start.Line
	w.problems = append(w.problems, Problem{File: w.name, Line: line, Text: fmt.Sprintf(format, args...)})
}

// header returns the shape of the table that a header opens, nil for one that is
// not known; what stands in such a table is then passed over.
func (w *walker) header(e *unstable.Node) *shape {
	table := fileShape()
	var path []string
	list := false
	for keys := e.Key(); keys.Next(); {
		key := keys.Node()
		path = append(path, string(key.Data))
		field := table.fields[string(key.Data)]
		if field == nil || field.plain().kind != reflect.Struct {
			w.wrong(key, "the table %q is not known here", strings.Join(path, "."))
			return nil
		}
		list = field.kind == reflect.Slice
		table = field.plain()
		if keys.IsLast() && list != (e.Kind == unstable.ArrayTable) {
			open, shut := "[", "]"
			if list {
				open, shut = "[[", "]]"
			}
			w.wrong(key, "%s%s%s is how this table is opened", open, strings.Join(path, "."), shut)
			return nil
		}
	}
	return table
}

func (w *walker) keyValue(table *shape, e *unstable.Node) {
	for keys := e.Key(); table != nil && keys.Next(); {
		key := keys.Node()
		field := table.fields[string(key.Data)]
		table = nil
		switch {
		case field == nil:
			w.wrong(key, "the key %q is not known here", key.Data)
		case keys.IsLast():
			w.value(field, key, e.Value())
		case field.kind == reflect.Struct:
			table = field
		default:
			w.wrong(key, "%q is no table", key.Data)
		}
	}
}

// value checks a value against the shape of its field. key is where it is told
// of, since not every value knows its place.
func (w *walker) value(field *shape, key, v *unstable.Node) {
	at := key
	if v.Raw.Length > 0 {
		at = v
	}
	switch {
	case field.word != nil && v.Kind != unstable.String:
		w.wrong(at, "%q wants a word in quotes", key.Data)
	case field.word != nil:
		if err := field.word(v.Data); err != nil {
			w.wrong(at, "%v", err)
		}
	case field.kind == reflect.String && v.Kind != unstable.String:
		w.wrong(at, "%q wants a text in quotes", key.Data)
	case field.kind == reflect.Int && v.Kind != unstable.Integer:
		w.wrong(at, "%q wants a whole number", key.Data)
	case field.kind == reflect.Float64 && v.Kind != unstable.Integer && v.Kind != unstable.Float:
		w.wrong(at, "%q wants a number", key.Data)
	case field.kind == reflect.Bool && v.Kind != unstable.Bool:
		w.wrong(at, "%q wants true or false", key.Data)
	case field.kind == reflect.Slice && v.Kind != unstable.Array:
		w.wrong(at, "%q wants a list: [ … ]", key.Data)
	case field.kind == reflect.Struct && v.Kind != unstable.InlineTable:
		w.wrong(at, "%q wants a table: { … }", key.Data)
	case field.kind == reflect.Slice:
		for items := v.Children(); items.Next(); {
			w.value(field.items, key, items.Node())
		}
	case field.kind == reflect.Struct:
		for items := v.Children(); items.Next(); {
			w.keyValue(field, items.Node())
		}
	}
}

// shape is what the walker knows of a Go type: for a struct its fields by their
// TOML names, for a list its items, for a word of the trade its reader.
type shape struct {
	kind   reflect.Kind
	fields map[string]*shape
	items  *shape
	word   func(text []byte) error
}

// plain returns the shape of one item of a list, and of anything else its own.
func (s *shape) plain() *shape {
	if s.kind == reflect.Slice {
		return s.items
	}
	return s
}

var fileShape = sync.OnceValue(func() *shape { return shapeOf(reflect.TypeFor[File]()) })

func shapeOf(t reflect.Type) *shape {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	s := &shape{kind: t.Kind()}
	if reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
		s.word = func(text []byte) error {
			return reflect.New(t).Interface().(encoding.TextUnmarshaler).UnmarshalText(text)
		}
	}
	switch s.kind {
	case reflect.Slice:
		s.items = shapeOf(t.Elem())
	case reflect.Struct:
		s.fields = make(map[string]*shape, t.NumField())
		for i := range t.NumField() {
			s.fields[t.Field(i).Tag.Get("toml")] = shapeOf(t.Field(i).Type)
		}
	}
	return s
}
