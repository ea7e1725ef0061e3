package report

import (
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// headedTable is how much of a page a heading, the names of the columns and a
// first row take, in millimetres: they never part.
const headedTable = 36

// readings lists what was measured, as it was typed, and with what.
func (p *pages) readings(part *assess.Part) {
	any := false
	columns := p.columns(0.27, 0.25, 0.33, 0.15, "Dimension", "Values", "Instrument", "By")
	for _, m := range record.InOrder(p.order.Record.Readings) {
		if m.Part != part.ID {
			continue
		}
		if m.Withdrawn != "" && p.order.Reader == Customer {
			continue
		}
		if !any {
			p.room(headedTable)
			p.head(1, "Readings")
			p.tableHead(columns)
			any = true
		}
		values := make([]string, len(m.Values))
		for i, v := range m.Values {
			values[i] = v.Text
			if v.Position != "" {
				values[i] += " (" + v.Position + ")"
			}
		}
		surface := m.Surface
		if s, ok := part.Surface(m.Surface); ok {
			surface = s.Name
		}
		if m.Withdrawn != "" {
			surface = "withdrawn (" + m.Withdrawn + "): " + surface
		}
		p.row(columns, []cell{
			plain(surface + ", " + strings.ReplaceAll(m.Dimension, "-", " ")),
			plain(strings.Join(values, "; ") + " " + m.Unit), plain(instrument(m.Instrument)), plain(m.By),
		})
	}
}

func instrument(in record.Instrument) string {
	says := []string{in.Name}
	add := func(prefix, value string) {
		if value != "" {
			says = append(says, prefix+value)
		}
	}
	add("serial ", in.Serial)
	add("resolution ", in.Resolution)
	add("error up to ", in.Error)
	add("calibrated ", day(in.Calibrated))
	return strings.Join(says, ", ")
}

// fits lists the trial fits of the part.
func (p *pages) fits(part *assess.Part) {
	any := false
	columns := p.columns(0.3, 0.25, 0.3, 0.15, "Trial fit", "Outcome", "With", "By")
	for _, f := range record.InOrder(p.order.Record.TrialFits) {
		other, ok := otherEnd(f, p.order.Record.ID, part.ID)
		if !ok {
			continue
		}
		if !any {
			p.room(headedTable)
			p.head(1, "Trial fits")
			p.tableHead(columns)
			any = true
		}
		with := capital(p.order.Named(other))
		outcome := strings.ReplaceAll(f.Outcome, "-", " ")
		if f.Note != "" {
			outcome += "; " + f.Note
		}
		if f.Withdrawn != "" {
			outcome += "; withdrawn (" + f.Withdrawn + ")"
		}
		p.row(columns, []cell{plain(strings.ReplaceAll(f.Pair, "-", " ")), plain(outcome), plain(with), plain(f.By)})
	}
}

func otherEnd(f record.TrialFit, in, part record.ID) (record.PartOf, bool) {
	here := record.PartOf{Record: in, Part: part}
	switch here {
	case f.A:
		return f.B, true
	case f.B:
		return f.A, true
	}
	return record.PartOf{}, false
}

// installed lists what was put into the finished unit.
func (p *pages) installed() {
	if p.order.Reader == Customer || len(p.order.Record.Installed) == 0 {
		return
	}
	p.head(0, "Installed")
	columns := p.columns(0.25, 0.35, 0.4, 0, "Place", "What", "Note")
	p.tableHead(columns)
	for _, in := range record.InOrder(p.order.Record.Installed) {
		what := in.What
		if in.From.Part != "" {
			what = strings.TrimSpace(what + " (from core " + string(in.From.Record) + ")")
			if q, ok := p.order.Assessment.Part(in.From.Part); ok {
				what = q.Name + ", " + term.Plain(p.order.Record.Parts[in.From.Part].State)
			}
		}
		p.row(columns, []cell{plain(strings.ReplaceAll(in.Place, "-", " ")), plain(what), plain(in.Note)})
	}
}
