package record

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"

	jsonpatch "github.com/evanphx/json-patch/v5"
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/wI2L/jsondiff"
)

// maxCopied is how many bytes the copy operations of one patch may add. This
// program writes none; a patch from elsewhere could double a record on and on.
const maxCopied = 64 << 20

// operation is one step of a JSON Patch, of the three that this program writes.
type operation struct {
	Op    string         `json:"op"`
	Path  string         `json:"path"`
	Value jsontext.Value `json:"value,omitzero"`
}

// patches returns the JSON Patches that lead from one record to the other and
// back; the record before may be nil, which is JSON null. Nil patches mean that
// the two are the same.
func patches(before, after *form, afterBytes []byte) (forward, inverse jsontext.Value, err error) {
	var there, back []operation
	if before == nil {
		there = []operation{{Op: "replace", Value: afterBytes}}
		back = []operation{{Op: "replace", Value: jsontext.Value("null")}}
	} else {
		if there, err = difference(before, after); err != nil || there == nil {
			return nil, nil, err
		}
		if back, err = difference(after, before); err != nil {
			return nil, nil, err
		}
	}
	if forward, err = canonical(there); err != nil {
		return nil, nil, err
	}
	inverse, err = canonical(back)
	return forward, inverse, err
}

// difference finds the steps from one form to another, in the order of names
// and ids.
func difference(from, to *form) ([]operation, error) {
	steps, err := within("", from.head, to.head)
	if err != nil {
		return nil, err
	}
	for _, c := range collections {
		at, old, now := "/"+c.name, from.members[c.name], to.members[c.name]
		switch {
		case len(old) == 0 && len(now) > 0:
			steps = append(steps, operation{Op: "add", Path: at, Value: now.appendTo(nil)})
		case len(old) > 0 && len(now) == 0:
			steps = append(steps, operation{Op: "remove", Path: at})
		default:
			more, err := between(at, old, now)
			if err != nil {
				return nil, err
			}
			steps = append(steps, more...)
		}
	}
	return steps, nil
}

// between finds the steps from one collection's members to another's.
func between(at string, old, now members) ([]operation, error) {
	var ids []ID
	for id, raw := range now {
		if !bytes.Equal(raw, old[id]) {
			ids = append(ids, id)
		}
	}
	for id := range old {
		if _, ok := now[id]; !ok {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	var steps []operation
	for _, id := range ids {
		path := at + "/" + string(id)
		was, had := old[id]
		is, has := now[id]
		switch {
		case !had:
			steps = append(steps, operation{Op: "add", Path: path, Value: is})
		case !has:
			steps = append(steps, operation{Op: "remove", Path: path})
		default:
			more, err := within(path, was, is)
			if err != nil {
				return nil, err
			}
			steps = append(steps, more...)
		}
	}
	return steps, nil
}

// within finds the steps from one value to another that both stand at a path.
func within(path string, from, to jsontext.Value) ([]operation, error) {
	if bytes.Equal(from, to) {
		return nil, nil
	}
	found, err := jsondiff.CompareJSON(from, to)
	if err != nil {
		return nil, fmt.Errorf("find what changed: %w", err)
	}
	text, err := json.Marshal(found)
	if err != nil {
		return nil, fmt.Errorf("write what changed: %w", err)
	}
	var steps []operation
	if err := json.Unmarshal(text, &steps); err != nil {
		return nil, fmt.Errorf("write what changed: %w", err)
	}
	for i := range steps {
		steps[i].Path = path + steps[i].Path
	}
	return steps, nil
}

// apply applies a JSON Patch to a document.
func apply(patch jsontext.Value, doc []byte) ([]byte, error) {
	p, err := jsonpatch.DecodePatch(patch)
	if err != nil {
		return nil, fmt.Errorf("the patch is not a JSON Patch: %w", err)
	}
	options := jsonpatch.NewApplyOptions()
	options.SupportNegativeIndices = false
	options.AccumulatedCopySizeLimit = maxCopied
	out, err := p.ApplyWithOptions(doc, options)
	if err != nil {
		return nil, fmt.Errorf("the patch does not fit the record: %w", err)
	}
	return out, nil
}

// takenBack returns a record with a patch applied to it. Only the members that
// the patch names are written, patched and read again.
func takenBack(r *Record, f *form, patch jsontext.Value) (*Record, error) {
	named, err := namedBy(patch)
	if err != nil {
		return nil, err
	}
	some := form{head: f.head, members: map[string]members{}}
	for name, ids := range named {
		some.members[name] = maps.Clone(f.members[name])
		maps.DeleteFunc(some.members[name], func(id ID, _ jsontext.Value) bool { return ids != nil && !ids[id] })
	}
	doc, err := some.bytes(0)
	if err != nil {
		return nil, err
	}
	if doc, err = apply(patch, doc); err != nil {
		return nil, err
	}
	var patched Record
	if err := readStrictly(doc, &patched, recordDepth); err != nil {
		return nil, err
	}
	next := r.clone()
	for _, c := range collections {
		ids, ok := named[c.name]
		switch {
		case !ok:
			c.own(next, &patched)
		case ids != nil:
			c.carry(&patched, next, ids)
			c.own(next, &patched)
		}
	}
	return &patched, nil
}

// namedBy returns what a patch touches: by collection the ids, or nil where it
// touches the collection as a whole.
func namedBy(patch jsontext.Value) (map[string]map[ID]bool, error) {
	var steps []struct {
		Path string `json:"path"`
		From string `json:"from"`
	}
	if err := json.Unmarshal(patch, &steps); err != nil {
		return nil, fmt.Errorf("the patch is not a JSON Patch: %w", err)
	}
	named := map[string]map[ID]bool{}
	for _, step := range steps {
		if step.Path == "" {
			for _, c := range collections {
				named[c.name] = nil
			}
			continue
		}
		name(named, step.Path)
		if step.From != "" {
			name(named, step.From)
		}
	}
	return named, nil
}

// name notes what a pointer touches.
func name(named map[string]map[ID]bool, pointer string) {
	collection, rest, deeper := strings.Cut(strings.TrimPrefix(pointer, "/"), "/")
	id, _, _ := strings.Cut(rest, "/")
	ids, seen := named[collection]
	switch {
	case !deeper:
		named[collection] = nil
	case !seen:
		named[collection] = map[ID]bool{ID(id): true}
	case ids != nil:
		ids[ID(id)] = true
	}
}
