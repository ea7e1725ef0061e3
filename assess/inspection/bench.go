// Package inspection is the work at the bench without a window: an open
// archive, the specs in force, records being worked on with their changes, undo
// and saving, photos taken in, reports written, and long jobs with progress and
// cancel. The window and the command line both stand on it and make the same
// changes.
//
// A [Bench] is an open archive. An [Inspection] is one record being worked on:
// [Inspection.Do] applies a gesture at once and saves it behind the caller's
// back; [Inspection.Status] says whether all is saved.
package inspection

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"fettlebook/assess"
	"fettlebook/assess/archive"
	"fettlebook/assess/photo"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assets"
)

// Words of the rooms below that the window shows without knowing those rooms.
type (
	Row        = archive.Row
	Query      = archive.Query
	Page       = archive.Page
	Assessment = assess.Assessment
	Part       = assess.Part
	Surface    = assess.Surface
	Reason     = assess.Reason
	Step       = assess.Step
	Cause      = assess.Cause

	Measurement = assess.Measurement
	Extent      = assess.Extent
	Worked      = assess.Worked
)

// Options say how a bench is opened.
type Options struct {
	// Dir is the archive's folder. It is made where it is not there, unless
	// ReadOnly.
	Dir      string
	ReadOnly bool
	// Who is at work; empty for the name of the system's user.
	Who string
	// Now gives the time; nil for the clock.
	Now func() time.Time
}

// Bench is an open archive with the specs in force and a person at work. It is
// safe for use by many at once.
type Bench struct {
	store    archive.Archive
	dir      string
	specs    *spec.Set
	problems []spec.Problem
	who      string
	name     string
	now      func() time.Time
	limits   photo.Limits

	mu     sync.Mutex
	open   map[record.ID]*Inspection
	wear   Wear
	gauges Gauges
	// taking lets one job take photos in at a time: two at once would take twice the
	// memory, neither could tell how long it will go on, and a file that both take in
	// would have two entries.
	taking chan struct{}
	// gauging lets one change of them through at a time.
	gauging sync.Mutex
	// likenesses are what photos look like, for telling those that are alike.
	likenesses map[record.Hash]photo.Likeness

	cut cutCache
}

// specsFolder is where a user's own specs lie in the archive's folder.
const specsFolder = "specs"

// Open opens an archive and loads the specs. A user's spec that is refused is
// told by [Bench.SpecProblems]; it is not an error.
func Open(ctx context.Context, o Options) (*Bench, error) {
	mode := archive.Write
	if o.ReadOnly {
		mode = archive.Read
	}
	store, err := archive.Open(ctx, o.Dir, mode)
	if err != nil {
		return nil, err
	}
	b := &Bench{store: store, dir: o.Dir, who: o.Who, now: o.Now, open: map[record.ID]*Inspection{}, taking: make(chan struct{}, 1)}
	if b.now == nil {
		b.now = time.Now
	}
	if b.who == "" {
		b.who = systemUser()
	}
	if b.name, err = os.Hostname(); err != nil {
		b.name = "unnamed bench"
	}
	b.specs, b.problems, err = LoadSpecs(filepath.Join(o.Dir, specsFolder))
	if err == nil {
		err = b.setting(ctx, wearSetting, &b.wear)
	}
	if err == nil {
		err = b.setting(ctx, gaugesSetting, &b.gauges)
	}
	if err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return b, nil
}

// LoadSpecs loads the program's own specs and the user's from a folder, which
// need not be there.
func LoadSpecs(folder string) (*spec.Set, []spec.Problem, error) {
	var users fs.FS
	if info, err := os.Stat(folder); err == nil && info.IsDir() {
		users = os.DirFS(folder)
	}
	return spec.Load(assets.Specs(), users)
}

func systemUser() string {
	if u, err := user.Current(); err == nil {
		if name := strings.TrimSpace(u.Name); name != "" {
			return name
		}
		return u.Username
	}
	return "unnamed"
}

// Close saves what is open and closes the archive.
func (b *Bench) Close() error {
	var errs []error
	for _, n := range b.atWork() {
		errs = append(errs, n.Close())
	}
	return errors.Join(append(errs, b.store.Close())...)
}

// Dir is the archive's folder.
func (b *Bench) Dir() string { return b.dir }

// ReadOnly reports whether the archive was opened for reading only. A record's
// file, which is in no archive, is for reading too.
func (b *Bench) ReadOnly() bool { return b.store == nil || b.store.ReadOnly() }

// Who is at work.
func (b *Bench) Who() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.who
}

// SetWho says who is at work from now on.
func (b *Bench) SetWho(name string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if name = strings.TrimSpace(name); name != "" {
		b.who = name
	}
}

// Specs returns the specs in force.
func (b *Bench) Specs() *spec.Set { return b.specs }

// SpecProblems returns why files of the user's specs were refused.
func (b *Bench) SpecProblems() []spec.Problem { return b.problems }

// Find returns a page of the register, newest first.
func (b *Bench) Find(ctx context.Context, q Query) (Page, error) { return b.store.Find(ctx, q) }

// Watch tells the ids of records that change, until ctx ends.
func (b *Bench) Watch(ctx context.Context) (<-chan record.ID, error) { return b.store.Watch(ctx) }

// Archive gives the archive itself, for looking after it.
func (b *Bench) Archive() archive.Archive { return b.store }

func (b *Bench) meta() record.Meta {
	return record.Meta{At: record.StampOf(b.now()), Who: b.Who(), Bench: b.name}
}

// Begin starts a record of a core and lays out its parts from the unit's spec:
// one for each place, present and not yet looked at.
func (b *Bench) Begin(ctx context.Context, r *record.Record) (*Inspection, error) {
	if unit, ok := b.specs.Unit(r.Unit.Type); ok && len(r.Parts) == 0 {
		r.Parts = layOut(unit, r.Unit.Variant)
	}
	return b.keep(ctx, r)
}

// keep starts the history of a record as it is.
func (b *Bench) keep(ctx context.Context, r *record.Record) (*Inspection, error) {
	step, err := record.Create(r, b.meta())
	if err != nil {
		return nil, err
	}
	n := b.newInspection(record.State{})
	n.accept(step)
	if err := n.Flush(ctx); err != nil {
		n.forget()
		return nil, fmt.Errorf("begin the record: %w", err)
	}
	return n, nil
}

func layOut(unit *spec.Unit, variant string) map[record.ID]record.Part {
	parts := map[record.ID]record.Part{}
	for i := range unit.Places {
		p := &unit.Places[i]
		part := record.Part{Kind: p.Kind, Place: p.ID, State: "present"}
		if p.Differs {
			part.Variant = variant
		}
		parts[record.NewID()] = part
	}
	return parts
}

// Inspect opens a record to work on it. The same record gives the same
// inspection until it is closed.
func (b *Bench) Inspect(ctx context.Context, id record.ID) (*Inspection, error) {
	b.mu.Lock()
	n, ok := b.open[id]
	b.mu.Unlock()
	if ok {
		n.lookElsewhere(ctx)
		return n, nil
	}
	state, stacks, err := b.load(ctx, id)
	if err != nil {
		return nil, err
	}
	n = b.newInspection(state)
	n.stacks = stacks
	n.elsewhere = b.fitsElsewhere(ctx, id)
	n.judge()
	n.learnNames(ctx)
	return n, nil
}

// load reads a record and its history, and checks that the two agree.
func (b *Bench) load(ctx context.Context, id record.ID) (record.State, record.Stacks, error) {
	var stacks record.Stacks
	stored, err := b.store.Load(ctx, id, 0)
	if err != nil {
		return record.State{}, stacks, fmt.Errorf("record %s: %w", id, err)
	}
	r, err := record.Read(stored.Record)
	if err != nil {
		return record.State{}, stacks, fmt.Errorf("record %s can't be read: %w", id, err)
	}
	entries, err := b.store.History(ctx, id, 0)
	if err != nil {
		return record.State{}, stacks, fmt.Errorf("history of record %s: %w", id, err)
	}
	for _, raw := range entries {
		e, err := record.ReadEntry(raw)
		if err != nil {
			return record.State{}, stacks, fmt.Errorf("history of record %s: %w", id, err)
		}
		stacks.Add(e)
	}
	return record.State{Record: r, Bytes: stored.Record, Number: int(stored.Revision), Entry: stored.Entry}, stacks, nil
}

// History returns the entries of a record's history, oldest first.
func (b *Bench) History(ctx context.Context, id record.ID) ([]record.Entry, error) {
	raw, err := b.store.History(ctx, id, 0)
	if err != nil {
		return nil, fmt.Errorf("history of record %s: %w", id, err)
	}
	entries := make([]record.Entry, len(raw))
	for i := range raw {
		if entries[i], err = record.ReadEntry(raw[i]); err != nil {
			return nil, fmt.Errorf("history of record %s: %w", id, err)
		}
	}
	return entries, nil
}
