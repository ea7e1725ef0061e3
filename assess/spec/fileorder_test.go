package spec_test

import (
	"fmt"
	"io/fs"
	"os"
	"reflect"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"fettlebook/assess/spec"
)

// real returns the content of all spec files of the program and of the demo.
func real(tb testing.TB) []string {
	tb.Helper()
	var all []string
	for _, folder := range []string{ownFolder, demoFolder} {
		root := os.DirFS(folder)
		err := fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			b, err := fs.ReadFile(root, name)
			all = append(all, string(b))
			return err
		})
		if err != nil {
			tb.Fatal(err)
		}
	}
	return all
}

// Files that name no id twice may lean on each other, whatever they are called
// and in which order they are read.
func TestTheOrderOfFilesDoesNotMatter(t *testing.T) {
	texts := real(t)
	want, _, err := spec.Load(os.DirFS(ownFolder), os.DirFS(demoFolder))
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		own, users := fstest.MapFS{}, fstest.MapFS{}
		// Beside a bad file each of the others is tried by itself, which is slow.
		bad := rapid.IntRange(0, 9).Draw(t, "bad") == 0
		if bad {
			users["bad.toml"] = &fstest.MapFile{Data: []byte("[[rule]]\nid = \"x\"\n")}
		}
		mine := rapid.IntRange(0, len(texts)).Draw(t, "how many are the user's")
		for i, text := range rapid.Permutation(texts).Draw(t, "order") {
			file := &fstest.MapFile{Data: []byte(text)}
			// The program's own must be whole, so the user's come on top.
			own[fmt.Sprintf("%02d.toml", i)] = file
			if i < mine {
				users[fmt.Sprintf("%02d.toml", i)] = file
			}
		}
		set, problems, err := spec.Load(own, users)
		if err != nil || len(problems) > 0 != bad {
			t.Fatalf("%v %v", problems, err)
		}
		for _, p := range problems {
			if p.File != "bad.toml" {
				t.Fatalf("%v", p)
			}
		}
		if !reflect.DeepEqual(set.Rules(), want.Rules()) || !reflect.DeepEqual(set.Kinds(), want.Kinds()) || !reflect.DeepEqual(set.Units(), want.Units()) {
			t.Fatal("another order gives other specs")
		}
	})
}

// A user's unit may stand in a file that is read before the one with its kinds,
// and beside one that is bad.
func TestAUsersFileMayLeanOnALaterOne(t *testing.T) {
	set, problems := withUsers(t, map[string]string{
		"a-unit.toml": unit()[len(good):], "b-bad.toml": "[[rule]]\nid = \"x\"\n", "c-kind.toml": good,
	})
	for _, p := range problems {
		if p.File != "b-bad.toml" {
			t.Errorf("%v", p)
		}
	}
	if _, ok := set.Unit("users"); !ok || len(problems) == 0 {
		t.Errorf("the unit is in force: %v; %v", ok, problems)
	}
}

// Whatever stands in a file, it is either taken or refused with its name, and
// what is taken can be checked: nothing panics.
func FuzzParse(f *testing.F) {
	seeds := real(f)
	if len(seeds) < 30 {
		f.Fatalf("only %d seeds were found", len(seeds))
	}
	for _, text := range seeds {
		if text == "" {
			f.Fatal("a seed is empty")
		}
		f.Add([]byte(text))
	}
	f.Add([]byte(limit(`nominal = "2 mm"`, `discard = "1.8 mm"`)))
	f.Add([]byte("[[kind]]\nsurface = [{ id = \"x\", zones = [\"elsewhere\"] }]\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		_, problems := spec.Parse("fuzz.toml", b)
		for _, p := range problems {
			if p.File != "fuzz.toml" || p.Text == "" || p.Line < 0 {
				t.Errorf("%+v", p)
			}
		}
		if len(problems) > 0 {
			return
		}
		set, problems, err := spec.Load(fstest.MapFS{}, fstest.MapFS{"fuzz.toml": {Data: b}})
		if err != nil || set == nil {
			t.Fatal(err)
		}
		for _, p := range problems {
			if p.File != "fuzz.toml" || p.Error() == "" {
				t.Errorf("%+v", p)
			}
		}
	})
}
