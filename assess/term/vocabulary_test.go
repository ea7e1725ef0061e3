package term_test

import (
	"encoding"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fettlebook/assess/term"
)

// vocabulary is one closed list of words, as text.
type vocabulary struct {
	words []string
	// read reads a word and gives it back as its text.
	read func(string) (string, error)
}

func of[T ~string, P interface {
	*T
	encoding.TextUnmarshaler
}](words ...T) vocabulary {
	v := vocabulary{read: func(text string) (string, error) {
		var w T
		err := P(&w).UnmarshalText([]byte(text))
		return string(w), err
	}}
	for _, w := range words {
		v.words = append(v.words, string(w))
	}
	return v
}

// vocabularies are all of the package's, by the type's name.
func vocabularies() map[string]vocabulary {
	verdicts := vocabulary{read: func(text string) (string, error) {
		var v term.Verdict
		if err := v.UnmarshalText([]byte(text)); err != nil {
			return "", err
		}
		written, err := v.MarshalText()
		return string(written), err
	}}
	for _, v := range term.Verdicts {
		verdicts.words = append(verdicts.words, v.String())
	}
	return map[string]vocabulary{
		"Damage": of(term.Damages...), "Severity": of(term.Severities...), "Zone": of(term.Zones...), "Role": of(term.Roles...),
		"FlankSide": of(term.FlankSides...), "Method": of(term.Methods...), "Stage": of(term.Stages...), "Standing": of(term.Standings...), "View": of(term.Views...), "PartState": of(term.PartStates...),
		"Remedy": of(term.Remedies...), "Demand": of(term.Demands...), "DemandOf": of(term.Load, term.Shifting),
		"GearGroup": of(term.LowGears, term.UpperGears, term.AllGears), "Duty": of(term.Duties...), "Verdict": verdicts,
	}
}

func TestEachWordIsReadAndEachOtherRefused(t *testing.T) {
	form := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	for name, v := range vocabularies() {
		if len(v.words) < 2 {
			t.Errorf("%s has the words %q", name, v.words)
		}
		for i, word := range v.words {
			if got, err := v.read(word); err != nil || got != word {
				t.Errorf("%s %q is read as %q: %v", name, word, got, err)
			}
			if !form.MatchString(word) {
				t.Errorf("%s %q is not of lower-case letters and hyphens", name, word)
			}
			if slices.Index(v.words, word) != i {
				t.Errorf("%s %q is listed twice", name, word)
			}
		}
		for _, text := range []string{"", " ", "splendid", strings.ToUpper(v.words[0]), v.words[0] + " ", v.words[0][:len(v.words[0])-1], "0", "verdict(7)"} {
			got, err := v.read(text)
			if err == nil {
				t.Errorf("%s: %q is read as %q", name, text, got)
				continue
			}
			if got != "" {
				t.Errorf("%s: %q is refused and leaves %q", name, text, got)
			}
			if !strings.Contains(err.Error(), strconv.Quote(text)) {
				t.Errorf("%s: the error %q does not name %q", name, err, text)
			}
			_, known, _ := strings.Cut(err.Error(), "known are: ")
			listed := strings.Split(known, ", ")
			slices.Sort(listed)
			if want := slices.Sorted(slices.Values(v.words)); !slices.Equal(listed, want) {
				t.Errorf("%s: the error lists %q, known are %q", name, listed, want)
			}
		}
	}
}

// A constant that stands in no list would be a word that no file may hold.
func TestEachConstantIsListed(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	known, constants := vocabularies(), 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok || len(spec.Values) != 1 {
				return true
			}
			word, ok := spec.Values[0].(*ast.BasicLit)
			if !ok || word.Kind != token.STRING || spec.Type == nil {
				return true
			}
			constants++
			text, _ := strconv.Unquote(word.Value)
			typ := fmt.Sprint(spec.Type)
			if v, ok := known[typ]; !ok {
				t.Errorf("this test does not know %s, the type of %s", typ, spec.Names[0])
			} else if !slices.Contains(v.words, text) {
				t.Errorf("%s %s (%s) is in no list", typ, spec.Names[0], text)
			}
			return true
		})
	}
	listed := 0
	for _, v := range known {
		listed += len(v.words)
	}
	if listed -= len(term.Verdicts); constants != listed {
		t.Errorf("there are %d constants and %d listed words", constants, listed)
	}
}

func TestAWordIsSaidWithoutItsHyphens(t *testing.T) {
	for got, want := range map[string]string{
		term.Plain(term.RustPits): "rust pits", term.Plain(term.ScrapAtFirstLook): "scrap at first look", term.Plain(term.Crack): "crack", term.Plain(term.Damage("")): "",
		term.ByEye.Says(): "by eye", term.Touch.Says(): "by touch", term.Gauge.Says(): "by gauge", term.Penetrant.Says(): "with penetrant",
		term.MagneticParticles.Says(): "with magnetic particles", term.Hardness.Says(): "by hardness test", term.Method("").Says(): "",
		term.Seen.Says(): "seen, not felt", term.Felt.Says(): "a fingernail catches", term.Deep.Says(): "a finger feels the step",
		term.NotFound.Says(): "looked for and not found", term.Suspected.Says(): "suspected", term.Present.Says(): "present",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
