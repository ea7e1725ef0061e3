package conformance

import (
	"bytes"
	"context"
	"errors"
	"io"
	"sync"
	"testing"
	"testing/iotest"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

func originals(t *testing.T, a archive.Archive) {
	ctx := context.Background()
	all := [][]byte{{}, []byte("one"), bytes.Repeat([]byte("photo"), 300_000)}
	for range 2 { // the second time they are there already
		var putting sync.WaitGroup
		for _, want := range all {
			putting.Go(func() {
				blob, err := a.Put(ctx, iotest.HalfReader(bytes.NewReader(want)))
				if err != nil {
					t.Errorf("put: %v", err)
				}
				if blob.Hash != record.HashOf(want) || blob.Size != int64(len(want)) {
					t.Errorf("put gives %+v, want %s and %d bytes", blob, record.HashOf(want), len(want))
				}
			})
		}
		putting.Wait()
		for _, want := range all {
			got := get(t, a, record.HashOf(want))
			if !bytes.Equal(got, want) {
				t.Errorf("%d bytes come back as %d others", len(want), len(got))
			}
		}
	}
	r, err := a.Get(ctx, record.HashOf(all[2]))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if _, err := r.Seek(-5, io.SeekEnd); err != nil {
		t.Fatal(err)
	}
	if end, _ := io.ReadAll(r); string(end) != "photo" {
		t.Errorf("the end of the original reads %q", end)
	}
	for _, hash := range []record.Hash{record.HashOf([]byte("two")), "", "../../archive.db", "zz"} {
		if _, err := a.Get(ctx, hash); !errors.Is(err, archive.ErrNotFound) {
			t.Errorf("get of %q gives %v, want ErrNotFound", hash, err)
		}
	}
}

func get(t *testing.T, a archive.Archive, hash record.Hash) []byte {
	t.Helper()
	r, err := a.Get(context.Background(), hash)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func failingReader(t *testing.T, a archive.Archive) {
	ctx, gone := context.Background(), errors.New("the card was pulled out")
	half := bytes.Repeat([]byte("x"), 100_000)
	if _, err := a.Put(ctx, io.MultiReader(bytes.NewReader(half), iotest.ErrReader(gone))); !errors.Is(err, gone) {
		t.Errorf("put gives %v, want %v", err, gone)
	}
	if _, err := a.Get(ctx, record.HashOf(half)); !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("the half that was read gives %v, want ErrNotFound", err)
	}
}

func views(t *testing.T, a archive.Archive) {
	ctx := context.Background()
	hash := record.HashOf([]byte("photo"))
	jpeg := func(text string) []byte { return []byte("\xff\xd8" + text + "\xff\xd9") }
	for _, view := range []archive.View{archive.Preview, archive.Thumbnail, archive.Tile(0, 15, 11), archive.Tile(5, 0, 0)} {
		if _, err := a.GetView(ctx, hash, view); !errors.Is(err, archive.ErrNotFound) {
			t.Errorf("a %s that is not there gives %v, want ErrNotFound", view, err)
		}
		for _, text := range []string{"first", "again"} {
			want := jpeg(text + string(view))
			if err := a.PutView(ctx, hash, view, want); err != nil {
				t.Fatal(err)
			}
			if got, err := a.GetView(ctx, hash, view); err != nil || !bytes.Equal(got, want) {
				t.Errorf("the %s comes back as %q, %v; want %q", view, got, err, want)
			}
		}
	}
	for _, name := range []archive.View{"poster", "", "tile-0", "tile-0-1-", "tile-0-1-../x", archive.Tile(-1, 0, 0), archive.Tile(0, 123456, 0)} {
		if err := a.PutView(ctx, hash, name, jpeg("x")); err == nil {
			t.Errorf("a view of the unknown name %q was kept", name)
		}
	}
	if err := a.PutView(ctx, "../../x", archive.Preview, jpeg("x")); err == nil {
		t.Error("a view of no hash was kept")
	}
	if err := a.PutView(ctx, hash, archive.Preview, []byte("no picture")); err == nil {
		t.Error("a view that is no JPEG was kept")
	}
}

func settings(t *testing.T, a archive.Archive) {
	ctx := context.Background()
	if _, _, err := a.Setting(ctx, "shop"); !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("a setting that was never set gives %v, want ErrNotFound", err)
	}
	for i, value := range []string{`{"name":"Quillan Gear Shop"}`, `{"name":"Quillan & Aldous"}`} {
		at, err := a.SetSetting(ctx, "shop", archive.Revision(i), []byte(value))
		if err != nil || at != archive.Revision(i+1) {
			t.Fatalf("set gives %d, %v", at, err)
		}
		got, at, err := a.Setting(ctx, "shop")
		if err != nil || string(got) != value || at != archive.Revision(i+1) {
			t.Errorf("the setting is %s at %d, %v; want %s at %d", got, at, err, value, i+1)
		}
	}
	var stale *archive.StaleError
	if _, err := a.SetSetting(ctx, "shop", 1, []byte(`{}`)); !errors.As(err, &stale) || stale.Newest != 2 || stale.Setting != "shop" {
		t.Errorf("a stale setting gives %v (%+v)", err, stale)
	}
	if _, err := a.SetSetting(ctx, "../shop", 0, []byte(`{}`)); err == nil {
		t.Error("a setting with a path for a name was kept")
	}
	if _, err := a.SetSetting(ctx, "prices", 0, []byte(`{"a":`)); err == nil {
		t.Error("a setting that is no JSON was kept")
	}
}
