package conformance

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

// find reads all pages of a query.
func find(t *testing.T, a archive.Archive, limit int, words ...string) []record.ID {
	t.Helper()
	var ids []record.ID
	q := archive.Query{Words: words, Limit: limit}
	for range 1000 {
		page, err := a.Find(context.Background(), q)
		if err != nil {
			t.Fatal(err)
		}
		if limit > 0 && (len(page.Rows) > limit || page.Next != "" && len(page.Rows) < limit) {
			t.Fatalf("a page of %d holds %d rows, next %q", limit, len(page.Rows), page.Next)
		}
		for _, row := range page.Rows {
			ids = append(ids, row.Record)
		}
		if page.Next == "" {
			return ids
		}
		q.After = page.Next
	}
	t.Fatal("the pages have no end")
	return nil
}

func pages(t *testing.T, a archive.Archive) {
	if _, err := a.Find(context.Background(), archive.Query{After: "no cursor"}); err == nil {
		t.Error("a cursor that is none was taken")
	}
	if got := find(t, a, 0); len(got) != 0 {
		t.Errorf("an empty register gives %v", got)
	}
	var want []record.ID
	for i := range 23 {
		// Three at a time change in the same moment; the last kept comes first.
		u := Unit
		u.Serial = fmt.Sprint(1000 + i)
		want = append(want, Begin(t, a, u, Began.Add(time.Duration(i/3)*time.Hour)).ID())
	}
	// One that comes in last and was changed long before.
	old := Begin(t, a, Unit, Began.Add(-1000*time.Hour)).ID()
	slices.Reverse(want)
	want = append(want, old)
	for _, limit := range []int{0, 1, 5, 23, 24, 25} {
		if got := find(t, a, limit); !slices.Equal(got, want) {
			t.Errorf("in pages of %d:\n%v\nwant\n%v", limit, got, want)
		}
	}
	page, err := a.Find(context.Background(), archive.Query{Words: []string{"1003"}})
	if err != nil || len(page.Rows) != 1 {
		t.Fatalf("got %v, %v; want one row", page, err)
	}
	row := archive.Row{Record: page.Rows[0].Record, Unit: "Tarnwell TW4-B, serial 1003", Serial: "1003", Changed: "2026-05-12T09:10:00.000Z"}
	if page.Rows[0] != row {
		t.Errorf("the row comes back as\n%+v\nwant\n%+v", page.Rows[0], row)
	}
}

func words(t *testing.T, a archive.Archive) {
	keep := func(u record.Unit, owner, complaint string) record.ID {
		b := Begin(t, a, u, Began)
		b.at = b.at.Add(time.Minute)
		step, err := b.Last().Make(record.Set("told", func(r *record.Record) { r.Owner.Name, r.Complaint = owner, complaint }), b.Meta())
		if err != nil {
			t.Fatal(err)
		}
		b.MustKeep(step)
		return b.ID()
	}
	joss := keep(Unit, "Joss Ternway", "Jumps out of third; \"clonk\" at 40% load")
	marl := keep(record.Unit{Type: "four-speed", Model: "TW4-C", Serial: "40221/7"}, "Marl Farm Co-operative", "no drive, TW4 case, B-side leaks")
	crème := keep(record.Unit{Type: "four-speed"}, "Renée Çelik", "歯車が欠けている")
	for _, c := range []struct {
		words []string
		want  []record.ID
	}{
		{nil, []record.ID{crème, marl, joss}},
		{[]string{"tern"}, []record.ID{joss}},
		{[]string{"TERN", "jum"}, []record.ID{joss}},
		{[]string{"ernway"}, nil},
		{[]string{"tern", "marl"}, nil},
		{[]string{"tw4"}, []record.ID{marl, joss}},
		{[]string{"TW4-B"}, []record.ID{joss}},
		{[]string{"40221/"}, []record.ID{marl}},
		{[]string{"4"}, []record.ID{marl, joss}},
		{[]string{"", "-", "%"}, []record.ID{crème, marl, joss}},
		{[]string{"çelik"}, []record.ID{crème}},
		{[]string{"歯"}, []record.ID{crème}},
		{[]string{"欠け"}, []record.ID{crème}},
		{[]string{`"clonk"`}, []record.ID{joss}},
		{[]string{"OR"}, nil},
		{[]string{"NOT", "tern"}, nil},
		{[]string{"a' OR 1=1 --"}, nil},
		{[]string{"serial:"}, []record.ID{marl, joss}},
		{[]string{"te*"}, []record.ID{joss}},
	} {
		for _, limit := range []int{0, 1} {
			if got := find(t, a, limit, c.words...); !slices.Equal(got, c.want) {
				t.Errorf("%q finds %v, want %v", c.words, got, c.want)
			}
		}
	}
}

func moves(t *testing.T, a archive.Archive) {
	first, second := Begin(t, a, Unit, Began), Begin(t, a, Unit, Began.Add(time.Minute))
	first.at = Began.Add(time.Hour)
	first.MustKeep(first.Complain("howls"))
	if got, want := find(t, a, 0), []record.ID{first.ID(), second.ID()}; !slices.Equal(got, want) {
		t.Errorf("the register is %v, want %v", got, want)
	}
	first.MustKeep(first.Complain("rattles"))
	if got := find(t, a, 0, "howls"); len(got) != 0 {
		t.Errorf("the old words find %v, want nothing", got)
	}
	if got := find(t, a, 0, "rattles"); !slices.Equal(got, []record.ID{first.ID()}) {
		t.Errorf("the new words find %v, want %v", got, first.ID())
	}
}
