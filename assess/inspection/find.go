package inspection

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

// Named opens the record that a person means: by its id, by the beginning of
// its id, or by words that fit one record of the register alone.
func (b *Bench) Named(ctx context.Context, name string) (*Inspection, error) {
	if id, err := record.ParseID(name); err == nil {
		return b.Inspect(ctx, id)
	}
	words := strings.Fields(name)
	if len(words) == 0 {
		return nil, errors.New("say which record: its id, or words that fit it alone, such as the serial")
	}
	page, err := b.Find(ctx, Query{Words: words, Limit: 3})
	if err != nil {
		return nil, err
	}
	switch len(page.Rows) {
	case 1:
		return b.Inspect(ctx, page.Rows[0].Record)
	case 0:
		return nil, fmt.Errorf("no record in %s fits %q; `fettlebook list` shows them all", b.dir, name)
	}
	return nil, fmt.Errorf("%q fits several records (serials %s, %s, …); say more of it, or its id",
		name, page.Rows[0].Serial, page.Rows[1].Serial)
}

// PartNamed finds the part of a record that a person means: its id, its place,
// its tag, or its name.
func (n *Inspection) PartNamed(name string) (record.ID, error) {
	var found []record.ID
	for _, p := range n.Assessment().Parts {
		entry := n.Record().Parts[p.ID]
		if string(p.ID) == name {
			return p.ID, nil
		}
		if p.Place == name || (entry.Tag != "" && entry.Tag == name) || strings.EqualFold(p.Name, name) {
			found = append(found, p.ID)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		var places []string
		for _, p := range n.Assessment().Parts {
			places = append(places, p.Place)
		}
		return "", fmt.Errorf("there is no part %q in this record; there are %s", name, strings.Join(places, ", "))
	}
	return "", fmt.Errorf("%q fits %d parts of this record; name one by its tag or its id", name, len(found))
}

// Import brings a record's JSON into the archive. Its history there begins with
// a line that says so. A record that is there already is left alone.
func (b *Bench) Import(ctx context.Context, path string) (*Inspection, error) {
	whole, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("the record can't be read: %w", err)
	}
	r, err := record.Read(whole)
	if err != nil {
		return nil, fmt.Errorf("%s is not a record that this program can read:\n%w", path, err)
	}
	if _, err := b.store.Load(ctx, r.ID, 0); err == nil {
		return nil, fmt.Errorf("%s: the record %s is in the archive already; nothing was changed", path, r.ID)
	} else if !errors.Is(err, archive.ErrNotFound) {
		return nil, err
	}
	return b.keep(ctx, r)
}
