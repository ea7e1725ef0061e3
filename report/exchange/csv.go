package exchange

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/record"
)

// table writes CSV as RFC 4180 has it, in UTF-8 with the mark by which spreadsheets
// tell it.
type table struct {
	csv *csv.Writer
	err error
}

func newTable(w io.Writer, columns ...string) *table {
	_, err := io.WriteString(w, "\ufeff")
	t := &table{csv: csv.NewWriter(w), err: err}
	t.csv.UseCRLF = true
	t.row(columns...)
	return t
}

func (t *table) row(cells ...string) {
	for i, c := range cells {
		cells[i] = inert(c)
	}
	if t.err == nil {
		t.err = t.csv.Write(cells)
	}
}

func (t *table) end() error {
	t.csv.Flush()
	if t.err == nil {
		t.err = t.csv.Error()
	}
	return t.err
}

// inert puts an apostrophe before a text that a spreadsheet would run as a formula.
// Numbers stay numbers.
func inert(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	return "'" + cell
}

// number writes a number without an exponent; 0 decimals are dropped.
func number(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// WriteFindings writes one row for each finding, in the order of their numbers,
// withdrawn ones too.
func (o Order) WriteFindings(w io.Writer) error {
	t := newTable(w, "finding", "part", "tag", "place", "surface", "zone", "damage", "severity", "found", "tooth", "flank",
		"share of face, %", "standing", "verdict", "duty", "photos", "by", "note", "withdrawn", "id", "part id")
	for id, f := range record.InOrder(o.Record.Findings) {
		part := o.Record.Parts[f.Part]
		t.row(strconv.Itoa(f.Number), o.partName(f.Part), part.Tag, part.Place, o.surfaceName(f.Part, f.Surface), words(string(f.Zone)),
			words(string(f.Damage)), string(f.Severity), f.Method.Says(), f.Tooth, string(f.Flank), f.Share, words(string(f.Standing)),
			o.verdictWord(id, f), string(o.Record.Duty), o.photosOf(id), f.By, f.Note, f.Withdrawn, string(id), string(f.Part))
	}
	return t.end()
}

func (o Order) verdictWord(id record.ID, f record.Finding) string {
	if f.Withdrawn != "" || o.Assessment == nil {
		return ""
	}
	return o.verdictOf(id).String()
}

// photosOf names the photos on which a finding is outlined, by their numbers.
func (o Order) photosOf(finding record.ID) string {
	var numbers []string
	for id, p := range record.InOrder(o.Record.Photos) {
		for _, outline := range o.Record.Outlines {
			if outline.Photo == id && outline.Finding == finding {
				numbers = append(numbers, strconv.Itoa(p.Number))
				break
			}
		}
	}
	return strings.Join(numbers, " ")
}

// WriteReadings writes one row for each reading: its values as they were typed, and
// what they come to.
func (o Order) WriteReadings(w io.Writer) error {
	t := newTable(w, "part", "tag", "place", "surface", "dimension", "values as typed", "unit", "length, mm", "± (95 %), mm", "comes to",
		"instrument", "serial", "calibrated", "part, °C", "instrument, °C", "by", "at", "note", "withdrawn", "id", "part id")
	for id, m := range record.InOrder(o.Record.Readings) {
		part := o.Record.Parts[m.Part]
		length, plus, says := o.comesTo(id, m)
		t.row(o.partName(m.Part), part.Tag, part.Place, o.surfaceName(m.Part, m.Surface), words(m.Dimension), typed(m), m.Unit, length, plus, says,
			m.Instrument.Name, m.Instrument.Serial, m.Instrument.Calibrated, m.PartTemperature, m.InstrumentTemperature,
			m.By, stamp(m.At), m.Note, m.Withdrawn, string(id), string(m.Part))
	}
	return t.end()
}

// WriteWorkings writes one row for each thing that was worked out: its entries as they
// were typed, and what they come to.
func (o Order) WriteWorkings(w io.Writer) error {
	t := newTable(w, "part", "tag", "place", "surface", "working", "entries as typed", "unit", "length, mm", "± (95 %), mm", "comes to",
		"decided", "source", "to be set at assembly", "instrument", "serial", "calibrated", "instrument for bores", "by", "at", "note", "withdrawn", "id", "part id")
	for id, m := range record.InOrder(o.Record.Workings) {
		part, x := o.Record.Parts[m.Part], o.worked(id, m)
		length, plus := "", ""
		if x.Measurement != nil {
			half, _ := x.Measurement.Measured.Expanded(0.95)
			length, plus = number(float64(x.Measurement.Measured.Value), 4), number(float64(half), 4)
		}
		t.row(o.partName(m.Part), part.Tag, part.Place, o.surfaceName(m.Part, m.Surface), x.Name, strings.Join(x.Typed, "; "), m.Unit,
			length, plus, strings.Join(x.Lines, "; "), x.Decided, x.Source, x.Set,
			cmp.Or(m.Instrument.Name, words(m.Instrument.Kind)), m.Instrument.Serial, m.Instrument.Calibrated, cmp.Or(m.Inner.Name, words(m.Inner.Kind)),
			m.By, stamp(m.At), m.Note, m.Withdrawn, string(id), string(m.Part))
	}
	return t.end()
}

// worked is what a working comes to; without an assessment only what was typed.
func (o Order) worked(id record.ID, m record.Working) assess.Worked {
	part := &assess.Part{}
	if o.Assessment != nil {
		if p, ok := o.Assessment.Part(m.Part); ok {
			part = p
		}
	}
	return assess.WorkedOf(part, id, m)
}

func typed(m record.Reading) string {
	var values []string
	for _, v := range m.Values {
		says := v.Text
		if place := strings.TrimSpace(v.Position + " " + v.Angle); place != "" {
			says += " (" + place + ")"
		}
		if v.Stops {
			says += " does not go in"
		}
		values = append(values, says)
	}
	return strings.Join(values, "; ")
}

func stamp(at record.Stamp) string {
	if at == (record.Stamp{}) {
		return ""
	}
	when, err := at.Time()
	if err != nil {
		return ""
	}
	return when.Format("2006-01-02T15:04:05Z07:00")
}

// comesTo returns the length and its uncertainty where the reading was worked out.
func (o Order) comesTo(id record.ID, m record.Reading) (length, plus, says string) {
	x := o.measurement(id, m)
	if x == nil {
		return "", "", ""
	}
	half, _ := x.Measured.Expanded(0.95)
	return number(float64(x.Measured.Value), 4), number(float64(half), 4), x.Says()
}

func (o Order) measurement(id record.ID, m record.Reading) *assess.Measurement {
	if o.Assessment == nil || m.Withdrawn != "" {
		return nil
	}
	part, ok := o.Assessment.Part(m.Part)
	if !ok {
		return nil
	}
	for i := range part.Surfaces {
		for k := range part.Surfaces[i].Reasons {
			if r := &part.Surfaces[i].Reasons[k]; r.Of == id {
				return r.Measurement
			}
		}
	}
	return nil
}

// WriteExtents writes one row for each finding on each photo on which it can be
// measured: what its outline comes to, each figure with its uncertainty. A length
// from a photo never decides a limit.
func (o Order) WriteExtents(w io.Writer) error {
	t := newTable(w, "finding", "photo", "scale", "area, mm²", "± area, mm²", "perimeter, mm", "± perimeter, mm", "largest chord, mm", "± chord, mm",
		"equivalent diameter, mm", "± diameter, mm", "damaged of face, mm²", "± damaged, mm²", "face, mm²", "± face, mm²", "share of face, %", "± share, %", "rests on", "not measured since")
	for id, f := range record.InOrder(o.Record.Findings) {
		if f.Withdrawn != "" {
			continue
		}
		for _, x := range assess.Extents(o.Record, id) {
			t.row(append([]string{strconv.Itoa(f.Number), strconv.Itoa(x.Photo), x.Scale}, figures(x)...)...)
		}
	}
	return t.end()
}

func figures(x assess.Extent) []string {
	cells := make([]string, 16)
	put := func(at int, value, plus float64) { cells[at], cells[at+1] = number(value, 3), number(plus, 3) }
	if x.HasScale && x.Err == nil {
		g := x.Figures
		put(0, float64(g.Area.Value), float64(g.Area.Plus))
		put(2, float64(g.Perimeter.Value), float64(g.Perimeter.Plus))
		put(4, float64(g.Chord.Value), float64(g.Chord.Plus))
		put(6, float64(g.Diameter.Value), float64(g.Diameter.Plus))
	}
	if x.HasShare && x.Err == nil {
		if x.HasScale {
			put(8, float64(x.Share.Damaged.Value), float64(x.Share.Damaged.Plus))
			put(10, float64(x.Share.Face.Value), float64(x.Share.Face.Plus))
		}
		put(12, x.Share.Percent, x.Share.PercentPlus)
	}
	cells[14] = strings.Join(x.Notes, "; ")
	if x.Err != nil {
		cells[15] = fmt.Sprint(x.Err)
	}
	return cells
}
