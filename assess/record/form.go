package record

import (
	"bytes"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"github.com/go-json-experiment/json/jsontext"
)

// members are the canonical JSON of a collection's members by their ids, nil
// for a collection that the record's JSON does not name.
type members map[ID]jsontext.Value

// form is a record's canonical JSON in pieces. A gesture touches one or two of
// a thousand members, and the screen waits for it: what is unchanged is neither
// written nor compared again.
type form struct {
	// head is the record without its collections.
	head jsontext.Value
	// members are by the collection's name.
	members map[string]members
}

// formOf writes a record in pieces, taking the pieces that are unchanged from
// an older record and its form; both may be nil.
func formOf(r, older *Record, was *form) (*form, error) {
	if older == nil {
		older, was = &Record{}, &form{}
	}
	f := form{members: make(map[string]members, len(collections))}
	head := *r
	for _, c := range collections {
		c.clear(&head)
		written, err := c.write(r, older, was.members[c.name])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c.name, err)
		}
		f.members[c.name] = written
	}
	var err error
	f.head, err = canonical(head)
	return &f, err
}

func write[V any](now, older map[ID]V, was members) (members, error) {
	if len(now) == 0 {
		return nil, nil
	}
	written := make(members, len(now))
	for id, v := range now {
		raw, ok := was[id]
		// DeepEqual and not a comparison by hand: a field that such a one forgot
		// would be lost without a word.
		if !ok || !reflect.DeepEqual(older[id], v) {
			var err error
			if raw, err = canonical(v); err != nil {
				return nil, fmt.Errorf("%s: %w", id, err)
			}
		}
		written[id] = raw
	}
	return written, nil
}

// bytes joins the pieces to the record's canonical JSON. The order of RFC 8785
// (section 3.2.3) is that of the bytes here, as all the names are ASCII.
func (f *form) bytes(size int) ([]byte, error) {
	pieces := map[string]jsontext.Value{}
	d := jsontext.NewDecoder(bytes.NewReader(f.head))
	if _, err := d.ReadToken(); err != nil {
		return nil, fmt.Errorf("join the record's pieces: %w", err)
	}
	for d.PeekKind() == '"' {
		name, err := d.ReadToken()
		if err != nil {
			return nil, fmt.Errorf("join the record's pieces: %w", err)
		}
		key := name.String()
		value, err := d.ReadValue()
		if err != nil {
			return nil, fmt.Errorf("join the record's pieces: %w", err)
		}
		pieces[key] = value.Clone()
	}
	names := slices.Collect(maps.Keys(pieces))
	for name, all := range f.members {
		if all != nil {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	out := make([]byte, 0, size)
	for i, name := range names {
		out = append(out, "{,"[min(i, 1)], '"')
		out = append(append(out, name...), '"', ':')
		if piece, ok := pieces[name]; ok {
			out = append(out, piece...)
		} else {
			out = f.members[name].appendTo(out)
		}
	}
	return append(out, '}'), nil
}

// appendTo writes the members as one JSON object.
func (m members) appendTo(out []byte) []byte {
	out = append(out, '{')
	for i, id := range slices.Sorted(maps.Keys(m)) {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(append(append(out, '"'), id...), '"', ':')
		out = append(out, m[id]...)
	}
	return append(out, '}')
}
