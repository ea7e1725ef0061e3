package record_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// written gives the bytes of a record with one part that has these surfaces and
// this note.
func written(t *testing.T, note string, surfaces map[string]record.Looked) string {
	t.Helper()
	r := record.New(record.Unit{Type: "four-speed"}, term.Road)
	r.Parts = map[record.ID]record.Part{record.NewID(): {Kind: "gear", State: term.InHand, Note: note, Surfaces: surfaces}}
	step, err := record.Create(r, meta)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "begun", step)
	return string(step.Bytes)
}

// RFC 8785, section 3.2.3: the sample's names, and the order of its output.
func TestNamesAreSortedAsInRFC8785(t *testing.T) {
	names := []string{"\u20ac", "\r", "\ufb33", "1", "\U0001f600", "\u0080", "\u00f6"}
	sorted := []string{"\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"}
	surfaces := map[string]record.Looked{}
	for _, name := range names {
		surfaces[name] = record.Looked{Eye: true}
	}
	var want []string
	for _, name := range sorted {
		want = append(want, fmt.Sprintf(`"%s":{"looked":true}`, strings.ReplaceAll(name, "\r", `\r`)))
	}
	if got := written(t, "", surfaces); !strings.Contains(got, `"surfaces":{`+strings.Join(want, ",")+`}`) {
		t.Errorf("got\n%s\nwant the names as\n%s", got, strings.Join(want, ","))
	}
}

// RFC 8785, section 3.2.2 (the sample's "string") and 3.2.2.2 (its output).
func TestTextsAreEscapedAsInRFC8785(t *testing.T) {
	const in = "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\u002f"
	const out = `"€$\u000f\nA'B\"\\\\\"/"`
	if got := written(t, in, nil); !strings.Contains(got, `"note":`+out) {
		t.Errorf("got\n%s\nwant %s in it", got, out)
	}
	// Section 3.2.2.2: the two-letter escapes, and all else as it is.
	if got := written(t, "\b\t\n\f\r\x00\x1f\x7f<&>\u2028", nil); !strings.Contains(got, `"note":"\b\t\n\f\r\u0000\u001f`+"\x7f<&>\u2028\"") {
		t.Errorf("got\n%s", got)
	}
}

// RFC 8785, section 3.2.2.3 and appendix B: whole numbers in plain digits, up to
// the largest that is exact; larger ones would be rounded, so none is taken.
func TestWholeNumbersAreWrittenExactly(t *testing.T) {
	r := full(t)
	id := first(t, r.Photos)
	p := r.Photos[id]
	for _, size := range []int64{1, 1_000_000, 4_294_967_296, 9007199254740991} {
		p.Size = size
		r.Photos[id] = p
		b, err := r.Marshal()
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(b, fmt.Appendf(nil, `"size":%d,`, size)) {
			t.Errorf("%d is not written so", size)
		}
		again, err := record.Read(b)
		if err != nil || again.Photos[id].Size != size {
			t.Errorf("%d is read as %d (%v)", size, again.Photos[id].Size, err)
		}
	}
	p.Size = 9007199254740993
	r.Photos[id] = p
	if r.Check() == nil {
		t.Errorf("%d would be written as another number, and is taken", p.Size)
	}
}

// RFC 8785, section 3.2.1: no white space between tokens.
func TestNoWhiteSpaceIsWritten(t *testing.T) {
	stored := frozenFile(t, frozen[0].record)
	var compact bytes.Buffer
	if err := json.Compact(&compact, stored); err != nil || !bytes.Equal(compact.Bytes(), stored) {
		t.Errorf("there is white space in\n%s", stored)
	}
}

// What is written by hand, in any order and spacing, is the same record.
func TestAHandwrittenRecordComesIntoItsCanonicalForm(t *testing.T) {
	stored := frozenFile(t, frozen[0].record)
	root, all := tree(t, stored)
	for _, n := range all {
		for i, j := 0, len(n.names)-1; i < j; i, j = i+1, j-1 {
			n.names[i], n.names[j] = n.names[j], n.names[i]
			n.inside[i], n.inside[j] = n.inside[j], n.inside[i]
		}
	}
	var loose bytes.Buffer
	if err := json.Indent(&loose, root.json(), " ", "\t"); err != nil {
		t.Fatal(err)
	}
	r, err := record.Read(loose.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	step, err := record.Create(r, meta)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(step.Bytes, stored) {
		t.Errorf("got\n%s", step.Bytes)
	}
}

// No number of a record or an entry is a binary floating point one, and nothing
// hides behind an interface.
func TestARecordHoldsNoBinaryFloatingPoint(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(at string, typ reflect.Type)
	walk = func(at string, typ reflect.Type) {
		if seen[typ] {
			return
		}
		seen[typ] = true
		switch typ.Kind() {
		case reflect.Float32, reflect.Float64, reflect.Complex64, reflect.Complex128, reflect.Interface:
			t.Errorf("%s is a %v", at, typ)
		case reflect.Struct:
			for i := range typ.NumField() {
				walk(at+"."+typ.Field(i).Name, typ.Field(i).Type)
			}
		case reflect.Map:
			walk(at+" key", typ.Key())
			walk(at, typ.Elem())
		case reflect.Slice, reflect.Array, reflect.Pointer:
			walk(at, typ.Elem())
		}
	}
	walk("record", reflect.TypeFor[record.Record]())
	walk("entry", reflect.TypeFor[record.Entry]())
	if len(seen) < 20 {
		t.Errorf("only %d types were looked at", len(seen))
	}
}
