package spec_test

import (
	"os"
	"testing"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// The window starts with this: the program's own specs, read and checked.
func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, _, err := spec.Load(os.DirFS(ownFolder), nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLoadWithAUsersUnit(b *testing.B) {
	for b.Loop() {
		if _, _, err := spec.Load(os.DirFS(ownFolder), os.DirFS(demoFolder)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecide(b *testing.B) {
	set := own(b)
	at := spec.Case{
		Kind: "main-shaft", Surface: "journal-3", Role: term.Journal, Share: -1,
		Damage: term.RustPits, Severity: term.Felt, Zone: term.StressedZone,
	}
	for b.Loop() {
		if set.Decide(at) == nil {
			b.Fatal("no row speaks")
		}
	}
}
