package archive_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode"

	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/archive"
	"fettlebook/assess/archive/conformance"
	"fettlebook/assess/record"
)

// memory is an engine without a database or a folder: it shows that nothing in
// the interface asks for either.
type memory struct {
	mu        sync.Mutex
	steps     map[record.ID][]archive.Stored
	entries   map[record.ID][][]byte
	rows      []archive.Row // oldest first
	originals map[record.Hash][]byte
	views     map[string][]byte
	settings  map[string][][]byte
	told      []*listener
	over      chan struct{}
}

type listener struct {
	ids  chan record.ID
	news []record.ID
	wake chan struct{}
}

func newMemory() *memory {
	return &memory{
		steps: map[record.ID][]archive.Stored{}, entries: map[record.ID][][]byte{}, originals: map[record.Hash][]byte{},
		views: map[string][]byte{}, settings: map[string][][]byte{}, over: make(chan struct{}),
	}
}

func TestAnEngineInMemoryConforms(t *testing.T) {
	conformance.Run(t, func(*testing.T) archive.Archive { return newMemory() })
}

// enter locks the engine if it may be used.
func (m *memory) enter(ctx context.Context) error {
	select {
	case <-m.over:
		return archive.ErrClosed
	default:
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	m.mu.Lock()
	return nil
}

func (m *memory) Append(ctx context.Context, id record.ID, base archive.Revision, c archive.Commit) (archive.Revision, error) {
	if err := m.enter(ctx); err != nil {
		return 0, err
	}
	defer m.mu.Unlock()
	var before record.State
	if all := m.steps[id]; len(all) > 0 {
		last := all[len(all)-1]
		before = record.State{Bytes: last.Record, Number: int(last.Revision), Entry: last.Entry}
	}
	if archive.Revision(before.Number) != base {
		return 0, &archive.StaleError{Record: id, Base: base, Newest: archive.Revision(before.Number)}
	}
	next, err := before.Follow(c.Entry)
	if err != nil {
		return 0, err
	}
	e, _ := record.ReadEntry(c.Entry)
	if e.Record != id || c.Row.Record != id || !bytes.Equal(next.Bytes, c.Record) || !strings.HasSuffix(c.Row.Changed, "Z") {
		return 0, errors.New("the change does not belong to the record")
	}
	m.steps[id] = append(m.steps[id], archive.Stored{Revision: base + 1, Record: next.Bytes, Entry: next.Entry})
	m.entries[id] = append(m.entries[id], c.Entry)
	m.rows = slices.DeleteFunc(m.rows, func(r archive.Row) bool { return r.Record == id })
	at, _ := slices.BinarySearchFunc(m.rows, c.Row.Changed, func(r archive.Row, changed string) int {
		if r.Changed <= changed {
			return -1
		}
		return 1
	})
	m.rows = slices.Insert(m.rows, at, c.Row)
	for _, l := range m.told {
		l.news = append(l.news, id)
		select {
		case l.wake <- struct{}{}:
		default:
		}
	}
	return base + 1, nil
}

func (m *memory) Load(ctx context.Context, id record.ID, at archive.Revision) (archive.Stored, error) {
	if err := m.enter(ctx); err != nil {
		return archive.Stored{}, err
	}
	defer m.mu.Unlock()
	all := m.steps[id]
	if at == 0 {
		at = archive.Revision(len(all))
	}
	if at < 1 || int(at) > len(all) {
		return archive.Stored{}, archive.ErrNotFound
	}
	return all[at-1], nil
}

func (m *memory) History(ctx context.Context, id record.ID, after archive.Revision) ([][]byte, error) {
	if err := m.enter(ctx); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	all := m.entries[id]
	if all == nil {
		return nil, archive.ErrNotFound
	}
	return all[min(int(after), len(all)):], nil
}

func (m *memory) Find(ctx context.Context, q archive.Query) (archive.Page, error) {
	if err := m.enter(ctx); err != nil {
		return archive.Page{}, err
	}
	defer m.mu.Unlock()
	skip, limit := 0, q.Limit
	if limit == 0 {
		limit = 100
	}
	if q.After != "" {
		if _, err := fmt.Sscanf(q.After, "%d", &skip); err != nil {
			return archive.Page{}, err
		}
	}
	var page archive.Page
	for _, row := range slices.Backward(m.rows) {
		if !matches(row, q.Words) {
			continue
		}
		if skip > 0 {
			skip--
			continue
		}
		if len(page.Rows) == limit {
			var from int
			_, _ = fmt.Sscanf(q.After, "%d", &from)
			page.Next = fmt.Sprint(from + limit)
			break
		}
		page.Rows = append(page.Rows, row)
	}
	return page, nil
}

// matches reports whether every word occurs in a row as the beginning of one,
// or, if it is several by its signs, as several in sequence.
func matches(row archive.Row, words []string) bool {
	text := tokens(strings.Join([]string{row.Unit, row.Serial, row.Owner, row.Outcome, row.Words}, " "))
	for _, w := range words {
		want, found := tokens(w), false
		for i := 0; i+len(want) <= len(text) && !found; i++ {
			found = true
			for j := range want {
				last := j == len(want)-1
				found = found && (text[i+j] == want[j] || last && strings.HasPrefix(text[i+j], want[j]))
			}
		}
		if !found {
			return false
		}
	}
	return true
}

func tokens(text string) []string {
	var apart strings.Builder
	for _, r := range strings.ToLower(text) {
		switch {
		case unicode.In(r, unicode.Han, unicode.Hiragana):
			apart.WriteString(" " + string(r) + " ")
		case unicode.IsLetter(r), unicode.IsNumber(r):
			apart.WriteRune(r)
		default:
			apart.WriteByte(' ')
		}
	}
	return strings.Fields(apart.String())
}

func (m *memory) Watch(ctx context.Context) (<-chan record.ID, error) {
	if err := m.enter(ctx); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	l := &listener{ids: make(chan record.ID), wake: make(chan struct{}, 1)}
	m.told = append(m.told, l)
	go func() {
		defer close(l.ids)
		for {
			select {
			case <-l.wake:
			case <-ctx.Done():
				return
			case <-m.over:
				return
			}
			m.mu.Lock()
			news := l.news
			l.news = nil
			m.mu.Unlock()
			for _, id := range news {
				select {
				case l.ids <- id:
				case <-ctx.Done():
					return
				case <-m.over:
					return
				}
			}
		}
	}()
	return l.ids, nil
}

func (m *memory) Put(ctx context.Context, original io.Reader) (archive.Blob, error) {
	b, err := io.ReadAll(original)
	if err != nil {
		return archive.Blob{}, err
	}
	if err := m.enter(ctx); err != nil {
		return archive.Blob{}, err
	}
	defer m.mu.Unlock()
	m.originals[record.HashOf(b)] = b
	return archive.Blob{Hash: record.HashOf(b), Size: int64(len(b))}, nil
}

type open0 struct{ *bytes.Reader }

func (open0) Close() error { return nil }

func (m *memory) Get(ctx context.Context, hash record.Hash) (io.ReadSeekCloser, error) {
	if err := m.enter(ctx); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	b, ok := m.originals[hash]
	if !ok {
		return nil, archive.ErrNotFound
	}
	return open0{bytes.NewReader(b)}, nil
}

func (m *memory) PutView(ctx context.Context, hash record.Hash, view archive.View, jpeg []byte) error {
	if err := m.enter(ctx); err != nil {
		return err
	}
	defer m.mu.Unlock()
	if len(hash) != 64 || !view.Known() || !bytes.HasPrefix(jpeg, []byte("\xff\xd8")) {
		return errors.New("that is no view")
	}
	m.views[string(hash)+string(view)] = jpeg
	return nil
}

func (m *memory) GetView(ctx context.Context, hash record.Hash, view archive.View) ([]byte, error) {
	if err := m.enter(ctx); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	if b, ok := m.views[string(hash)+string(view)]; ok {
		return b, nil
	}
	return nil, archive.ErrNotFound
}

func (m *memory) Setting(ctx context.Context, name string) ([]byte, archive.Revision, error) {
	if err := m.enter(ctx); err != nil {
		return nil, 0, err
	}
	defer m.mu.Unlock()
	all := m.settings[name]
	if len(all) == 0 {
		return nil, 0, archive.ErrNotFound
	}
	return all[len(all)-1], archive.Revision(len(all)), nil
}

func (m *memory) SetSetting(ctx context.Context, name string, base archive.Revision, value []byte) (archive.Revision, error) {
	if err := m.enter(ctx); err != nil {
		return 0, err
	}
	defer m.mu.Unlock()
	if now := archive.Revision(len(m.settings[name])); now != base {
		return 0, &archive.StaleError{Setting: name, Base: base, Newest: now}
	}
	if strings.ContainsAny(name, "./") || !jsontext.Value(value).IsValid() {
		return 0, errors.New("that is no setting")
	}
	m.settings[name] = append(m.settings[name], value)
	return base + 1, nil
}

// Verify has nothing that could be damaged behind the engine's back.
func (m *memory) Verify(ctx context.Context, progress func(done, total int)) ([]archive.Damage, error) {
	if err := m.enter(ctx); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	if progress != nil {
		progress(len(m.steps), len(m.steps))
	}
	return nil, nil
}

func (m *memory) ReadOnly() bool { return false }

func (m *memory) Close() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	select {
	case <-m.over:
	default:
		close(m.over)
	}
	return nil
}
