package ui

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
)

func TestPathsIn(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the paths are those of other systems")
	}
	home, err := os.UserHomeDir()
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string][]string{
		"":                                nil,
		"/p/a.jpg":                        {"/p/a.jpg"},
		"/p/a b.jpg":                      {"/p/a b.jpg"},
		`"/p/a b.jpg"`:                    {"/p/a b.jpg"},
		"'/p/a b.jpg'":                    {"/p/a b.jpg"},
		"/p/a.jpg\n/p/b c.jpg\r\n":        {"/p/a.jpg", "/p/b c.jpg"},
		`'/p/a b.jpg' '/p/c.jpg'`:         {"/p/a b.jpg", "/p/c.jpg"},
		`"/p/a b.jpg" /p/c.jpg`:           {"/p/a b.jpg", "/p/c.jpg"},
		"/p/a.jpg /p/b.jpg":               {"/p/a.jpg", "/p/b.jpg"},
		`/p/a\ b.jpg /p/c.jpg`:            {"/p/a b.jpg", "/p/c.jpg"},
		`/p/a\ b.jpg`:                     {"/p/a b.jpg"},
		`/p/it's here.jpg`:                {"/p/it's here.jpg"},
		"file:///p/a%20b.jpg":             {"/p/a b.jpg"},
		"file:///p/a.jpg file:///p/b.jpg": {"/p/a.jpg", "/p/b.jpg"},
		"copy\nfile:///p/a.jpg\nfile:///p/%C3%A9.jpg": {"/p/a.jpg", "/p/é.jpg"},
		"# from a list\nfile:///p/a.jpg":              {"/p/a.jpg"},
		"file://localhost/p/a.jpg":                    {"/p/a.jpg"},
		"file:///p/100%.jpg":                          {"/p/100%.jpg"},
		"~/a.jpg":                                     {filepath.Join(home, "a.jpg")},
		"DCIM/a b.jpg":                                {"DCIM/a b.jpg"},
		"/p/../q/./a.jpg":                             {"/q/a.jpg"},
	} {
		if got := pathsIn(text); !slices.Equal(got, want) {
			t.Errorf("in %q are %q, want %q", text, got, want)
		}
	}
}

func FuzzPathsIn(f *testing.F) {
	for _, seed := range []string{"/p/a.jpg", `'a b' "c`, "file:///%zz", `\`, "~", "copy\n\x00file://"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, path := range pathsIn(text) {
			if path == "" {
				t.Error("there is an empty path")
			}
		}
	})
}
