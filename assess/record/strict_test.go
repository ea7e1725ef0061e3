package record_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/go-json-experiment/json/jsontext"
	"pgregory.net/rapid"

	"fettlebook/assess/record"
)

// A fault makes one node of a sound record wrong. It returns the place that
// must be named, or false where the node can't have this fault.
type fault struct {
	name string
	// inSchema is whether a schema can see it as well.
	inSchema bool
	make     func(d *drawer, n *node) (string, bool)
}

var faults = []fault{
	{"unknown name", true, func(_ *drawer, n *node) (string, bool) {
		if n.kind != '{' || n.keyed() {
			return "", false
		}
		n.names, n.inside = append(n.names, "colour"), append(n.inside, &node{kind: '0', raw: jsontext.Value("1")})
		return string(n.pointer) + "/colour", true
	}},
	{"doubled name", false, func(d *drawer, n *node) (string, bool) {
		if n.kind != '{' || len(n.names) == 0 {
			return "", false
		}
		i := d.whole("which", 0, len(n.names)-1)
		n.names, n.inside = append(n.names, n.names[i]), append(n.inside, n.inside[i])
		return string(n.pointer.AppendToken(n.names[i])), true
	}},
	{"wrong case", true, func(d *drawer, n *node) (string, bool) {
		if n.kind != '{' || n.keyed() || len(n.names) == 0 {
			return "", false
		}
		i := d.whole("which", 0, len(n.names)-1)
		n.names[i] = string(unicode.ToUpper(rune(n.names[i][0]))) + n.names[i][1:]
		return string(n.pointer) + "/" + n.names[i], true
	}},
	{"wrong type", true, func(_ *drawer, n *node) (string, bool) {
		n.raw = map[jsontext.Kind]jsontext.Value{
			'"': jsontext.Value("7"), '0': jsontext.Value(`"7"`), 't': jsontext.Value(`"true"`), 'f': jsontext.Value("0"),
			'{': jsontext.Value("[]"), '[': jsontext.Value("{}"),
		}[n.kind]
		return string(n.pointer), true
	}},
	{"null", true, func(_ *drawer, n *node) (string, bool) {
		n.raw = jsontext.Value("null")
		return string(n.pointer), true
	}},
	{"word in no vocabulary", true, func(_ *drawer, n *node) (string, bool) {
		words := []string{"duty", "state", "damage", "severity", "zone", "method", "flank", "stage", "verdict", "shape", "standing", "unworn"}
		if n.kind != '"' || !slices.Contains(words, n.name()) || strings.HasSuffix(string(n.pointer), "/taken/zone") || strings.HasSuffix(string(n.pointer), "/at/zone") {
			return "", false
		}
		n.raw = jsontext.Value(`"splendid"`)
		return string(n.pointer), true
	}},
	{"out of range", true, func(d *drawer, n *node) (string, bool) {
		beyond := map[string][]string{
			"format": {"0", "2"}, "number": {"0", "-3"}, "size": {"0", "9007199254740992"}, "width": {"0", "1000001", "12.5"}, "height": {"0", "-1"},
			"orientation": {"0", "9"}, "turned": {"45", "360", "-90"}, "count": {"-1", "9007199254740992"}, "finding": {"-1"}, "photo": {"-1"}, "outline": {"-1"},
		}[n.name()]
		if n.kind != '0' || beyond == nil {
			return "", false
		}
		n.raw = jsontext.Value(pick(d, "number", beyond...))
		return string(n.pointer), true
	}},
	{"corner outside the photo", true, func(_ *drawer, n *node) (string, bool) {
		if n.kind != '0' || n.pointer.Parent().Parent().LastToken() != "points" {
			return "", false
		}
		n.raw = jsontext.Value("-1")
		return string(n.pointer.Parent()), true
	}},
	{"no id", true, func(_ *drawer, n *node) (string, bool) {
		if !n.keyed() || len(n.names) == 0 || n.name() == "surfaces" || n.name() == "entries" {
			return "", false
		}
		n.names[0] = strings.ToUpper(n.names[0])
		return string(n.pointer) + "/" + n.names[0], true
	}},
	{"reference to no id", true, func(_ *drawer, n *node) (string, bool) {
		if n.kind != '"' || !slices.Contains([]string{"part", "photo", "record", "id"}, n.name()) {
			return "", false
		}
		n.raw = jsontext.Value(`"0197f3a0-1c2b-4def-8123-456789abcdef"`) // a UUID of version 4
		return string(n.pointer), true
	}},
	{"no hash", true, func(_ *drawer, n *node) (string, bool) {
		if n.name() != "file" {
			return "", false
		}
		n.raw = jsontext.Value(`"` + strings.Repeat("AB", 32) + `"`)
		return string(n.pointer), true
	}},
	{"no day, moment or offset", true, func(d *drawer, n *node) (string, bool) {
		bad := map[string][]string{
			"received": {"2026-13-01", "12.5.2026"}, "issued": {"2026-05-12T00:00:00Z", "2026-5-1"},
			"local": {"2026-05-12 09:10:00", "2026-05-12T9:10:00", "2026-05-12T09:10:00.5", "2026-05-12T09:10:00Z"},
			"zone":  {"Z", "+1:00", "+15:00", "+01:60", "CEST"}, "utc": {"2026-05-12T07:10:00+00:00", "2026-05-12T07:10:00.1234Z", "2026-05-12T07:10Z"},
		}[n.name()]
		if n.kind != '"' || bad == nil || strings.HasPrefix(string(n.pointer), "/findings/") {
			return "", false
		}
		n.raw = jsontext.Value(fmt.Sprintf("%q", pick(d, "text", bad...)))
		if place := n.pointer.Parent(); place.LastToken() == "at" {
			return string(place), true
		}
		return string(n.pointer), true
	}},
}

// Each fault, at each place of a sound record that can have it, is refused by
// Read with the place, and by the schema where a schema can see it.
func TestAFaultyRecordIsRefusedWithThePlace(t *testing.T) {
	schema := recordSchema(t)
	for _, f := range faults {
		t.Run(f.name, func(t *testing.T) {
			rapid.Check(t, func(rt *rapid.T) {
				d := &drawer{T: rt}
				source := full(t)
				if d.whole("source", 0, 3) > 0 {
					source = d.record()
				}
				sound, err := source.Marshal()
				if err != nil {
					rt.Fatal(err)
				}
				root, all := tree(t, sound)
				// From a node drawn, the first one that can have the fault.
				start := d.whole("node", 0, len(all)-1)
				var place string
				made := false
				for i := 0; i < len(all) && !made; i++ {
					place, made = f.make(d, all[(start+i)%len(all)])
				}
				if !made {
					rt.Skip("no node of this record can have the fault")
				}
				faulty := root.json()
				if _, err := record.Read(faulty); err == nil {
					rt.Fatalf("taken in spite of a fault at %s", place)
				} else if places := placesOf(t, err); !slices.Contains(places, place) {
					rt.Fatalf("refused at %q (%v), want %q", places, err, place)
				}
				if f.inSchema && schema.Validate(value(t, faulty)) == nil {
					rt.Fatalf("the schema takes it in spite of a fault at %s", place)
				}
			})
		})
	}
}

// What is left out must not be taken for a value, and what JSON allows besides
// is refused all the same.
func TestWhatIsNotSaidIsNotTaken(t *testing.T) {
	const id = "0197f3a0-1c2b-7def-8123-456789abcde1"
	const head = `{"format":1,"id":"0197f3a0-1c2b-7def-8123-456789abcdef","unit":{"type":"x"},"duty":"road"`
	if _, err := record.Read([]byte(head + "}")); err != nil {
		t.Fatal(err)
	}
	for rest, place := range map[string]string{
		`,"overrides":{"` + id + `":{"part":"` + id + `","by":"a","reason":"b"}}}`: "/overrides/" + id,
		`,"installed":{"` + id + `":{"place":"a","from":{}}}}`:                     "/installed/" + id + "/from",
		`,"readings":{"` + id + `":{"at":{}}}}`:                                    "/readings/" + id + "/at",
		`,"numbers":{"photo":1e0}}`:                                                "/numbers/photo",
		`,"numbers":{"photo":1.0}}`:                                                "/numbers/photo",
		`,"numbers":{"photo":99999999999999999999}}`:                               "/numbers/photo",
		`,"outlines":{"` + id + `":{"points":[[1,2,3]]}}}`:                         "/outlines/" + id + "/points/0",
		`,"outlines":{"` + id + `":{"points":[[1]]}}}`:                             "/outlines/" + id + "/points/0",
		`,"parts":{"` + id + `":{},"` + id + `":{}}}`:                              "/parts/" + id,
		`,"complaint":"\ud800"}`:                                                   "/complaint",
		",\"complaint\":\"\xff\"}":                                                 "/complaint",
		`,"complaint":"`:                                                           "/complaint",
		`,}`:                                                                       "",
		`} {}`:                                                                     "",
	} {
		_, err := record.Read([]byte(head + rest))
		if err == nil {
			t.Errorf("%s was taken", rest)
			continue
		}
		if places := placesOf(t, err); !slices.Equal(places, []string{place}) {
			t.Errorf("%s is refused at %q (%v), want %q", rest, places, err, place)
		}
		if text := err.Error(); strings.Contains(text, "Go ") || strings.Contains(text, "unmarshal") || strings.Contains(text, "strconv") {
			t.Errorf("%s is refused with words about the program: %s", rest, text)
		}
	}
}
