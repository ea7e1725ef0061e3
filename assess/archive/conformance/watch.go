package conformance

import (
	"context"
	"fmt"
	"testing"
	"time"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

// patience is how long a watcher may take at most; a healthy one takes a second
// at most.
const patience = 30 * time.Second

// Heard waits until all ids were told.
func Heard(t *testing.T, told <-chan record.ID, ids ...record.ID) {
	t.Helper()
	missing := map[record.ID]bool{}
	for _, id := range ids {
		missing[id] = true
	}
	end := time.After(patience)
	for len(missing) > 0 {
		select {
		case id, ok := <-told:
			if !ok {
				t.Fatal("the watch ended early")
			}
			delete(missing, id)
		case <-end:
			t.Fatalf("%d changed records were never told", len(missing))
		}
	}
}

// ends waits until the channel is closed.
func ends(t *testing.T, told <-chan record.ID) {
	t.Helper()
	end := time.After(patience)
	for {
		select {
		case _, ok := <-told:
			if !ok {
				return
			}
		case <-end:
			t.Fatal("the watch does not end")
		}
	}
}

func watch(t *testing.T, a archive.Archive) {
	b := Begin(t, a, Unit, Began)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	one, err := a.Watch(ctx)
	if err != nil {
		t.Fatal(err)
	}
	two, err := a.Watch(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	b.MustKeep(b.Complain("howls"))
	other := Begin(t, a, Unit, Began)
	Heard(t, one, b.ID(), other.ID())
	Heard(t, two, b.ID(), other.ID())
	stop()
	ends(t, one)
	b.MustKeep(b.Complain("rattles"))
	Heard(t, two, b.ID())
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	ends(t, two)
}

func slowReader(t *testing.T, a archive.Archive) {
	told, err := a.Watch(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var ids []record.ID
	b := Begin(t, a, Unit, Began)
	for i := range 40 {
		b.MustKeep(b.Complain(fmt.Sprint("complaint ", i)))
		ids = append(ids, Begin(t, a, Unit, Began).ID())
	}
	Heard(t, told, append(ids, b.ID())...)
}
