package inspection

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"time"

	"fettlebook/assess"
	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

// Inspection is one record being worked on. It is safe for use by many at once.
type Inspection struct {
	bench *Bench

	// gesture lets one change through at a time: photos that were taken in and
	// the person at the window may come at the same moment.
	gesture sync.Mutex

	mu     sync.Mutex
	state  record.State
	stacks record.Stacks
	// elsewhere are the trial fits of other records that touch this one's parts.
	elsewhere []record.TrialFit
	// names are what parts of other cores are called.
	names    map[record.PartOf]string
	assessed *assess.Assessment
	watchers map[int]func()
	watcher  int

	saver saver
}

// Status tells whether all is saved.
type Status struct {
	// Unsaved is how many changes wait to be saved; 0 means that all is saved.
	Unsaved int
	// At is when the last change was saved, zero if none was since it was opened.
	At time.Time
	// Err is why saving fails at the moment; what waits is kept and tried again.
	Err error
}

func (b *Bench) newInspection(s record.State) *Inspection {
	n := &Inspection{bench: b, state: s, watchers: map[int]func(){}}
	n.saver.begin(n, archive.Revision(s.Number))
	return n
}

// remember makes the bench give this inspection to all who ask for its record.
func (n *Inspection) remember() {
	n.bench.mu.Lock()
	defer n.bench.mu.Unlock()
	n.bench.open[n.state.Record.ID] = n
}

func (n *Inspection) forget() {
	n.bench.mu.Lock()
	defer n.bench.mu.Unlock()
	delete(n.bench.open, n.state.Record.ID)
}

// judge makes the first assessment of a record that was opened.
func (n *Inspection) judge() {
	n.remember()
	n.mu.Lock()
	defer n.mu.Unlock()
	n.assess()
}

// judgeAnew makes the assessment again after something beside the record changed.
func (n *Inspection) judgeAnew() {
	n.mu.Lock()
	n.assess()
	n.mu.Unlock()
	n.tell()
}

// lookElsewhere takes the trial fits of other records anew: they may have been
// worked on since.
func (n *Inspection) lookElsewhere(ctx context.Context) {
	fits := n.bench.fitsElsewhere(ctx, n.ID())
	n.mu.Lock()
	same := slices.Equal(fits, n.elsewhere)
	n.elsewhere = fits
	n.mu.Unlock()
	n.learnNames(ctx)
	if !same {
		n.judgeAnew()
	}
}

func (n *Inspection) assess() {
	n.assessed = n.judged(n.state.Record, n.state.Record.Duty)
}

// ID is the record's.
func (n *Inspection) ID() record.ID { return n.Record().ID }

// Bench is where the record is worked on.
func (n *Inspection) Bench() *Bench { return n.bench }

// Record returns the record as it stands. It is never edited in place: hold it
// as long as you like, and do not change it.
func (n *Inspection) Record() *record.Record {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.state.Record
}

// Assessment returns what is said of the record as it stands.
func (n *Inspection) Assessment() *Assessment {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.assessed
}

// Do applies a gesture at once and has it saved. A gesture that changes nothing
// is no error and leaves no trace.
func (n *Inspection) Do(g record.Gesture) error {
	return n.advance(func(s record.State) (record.Step, error) { return s.Make(g, n.bench.meta()) })
}

// Undo takes back the last gesture that is not taken back yet.
func (n *Inspection) Undo() error {
	return n.takeBack(record.Undo, n.stacks.Undoable, "there is nothing to undo")
}

// Redo does the last gesture again that was taken back.
func (n *Inspection) Redo() error {
	return n.takeBack(record.Redo, n.stacks.Redoable, "there is nothing to do again")
}

func (n *Inspection) takeBack(kind record.Kind, last func() (record.Entry, bool), none string) error {
	return n.advance(func(s record.State) (record.Step, error) {
		e, ok := last()
		if !ok {
			return record.Step{}, errors.New(none)
		}
		return s.TakeBack(kind, e, n.bench.meta())
	})
}

// Undoable says in a sentence what Undo would take back; ok is false for nothing.
func (n *Inspection) Undoable() (says string, ok bool) {
	n.mu.Lock()
	defer n.mu.Unlock()
	e, ok := n.stacks.Undoable()
	return e.Says, ok
}

// Redoable says in a sentence what Redo would do again.
func (n *Inspection) Redoable() (says string, ok bool) {
	n.mu.Lock()
	defer n.mu.Unlock()
	e, ok := n.stacks.Redoable()
	return e.Says, ok
}

func (n *Inspection) advance(make func(record.State) (record.Step, error)) error {
	if n.bench.ReadOnly() {
		return archive.ErrReadOnly
	}
	n.gesture.Lock()
	defer n.gesture.Unlock()
	n.mu.Lock()
	step, err := make(n.state)
	n.mu.Unlock()
	switch {
	case errors.Is(err, record.ErrNothingChanged):
		return nil
	case err != nil:
		return err
	}
	n.accept(step)
	return nil
}

// accept takes a step over and hands it to the saver.
func (n *Inspection) accept(step record.Step) {
	n.mu.Lock()
	n.state = step.State
	n.stacks.Add(step.Entry)
	n.assess()
	n.saver.queue(archive.Commit{Entry: step.EntryBytes, Record: step.Bytes, Row: row(n.state.Record, n.assessed, step.Entry.At.UTC)})
	n.mu.Unlock()
	n.remember()
	n.tell()
}

// Watch calls back after every change of the record and of its saving, on any
// goroutine, until the returned function is called.
func (n *Inspection) Watch(call func()) (stop func()) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.watcher++
	key := n.watcher
	n.watchers[key] = call
	return func() {
		n.mu.Lock()
		defer n.mu.Unlock()
		delete(n.watchers, key)
	}
}

func (n *Inspection) tell() {
	n.mu.Lock()
	calls := make([]func(), 0, len(n.watchers))
	for _, call := range n.watchers {
		calls = append(calls, call)
	}
	n.mu.Unlock()
	for _, call := range calls {
		call()
	}
}

// Status tells whether all is saved.
func (n *Inspection) Status() Status { return n.saver.status() }

// Flush waits until all is saved, or returns why it is not.
func (n *Inspection) Flush(ctx context.Context) error { return n.saver.flush(ctx) }

// closeWithin bounds how long closing waits for the disk.
const closeWithin = 20 * time.Second

// Close saves what waits and ends the work on the record.
func (n *Inspection) Close() error {
	ctx, cancel := context.WithTimeout(context.Background(), closeWithin)
	defer cancel()
	err := n.Flush(ctx)
	n.saver.end()
	n.forget()
	if err != nil {
		return fmt.Errorf("not everything of %s could be saved: %w", n.Record().Unit.Says(), err)
	}
	return nil
}
