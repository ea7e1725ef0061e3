package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/report/pdf"
)

// headedTable is how much of a page a heading, the names of the columns and a
// first row take, in millimetres: they never part.
const headedTable = 36

// readings lists what was measured, as it was typed, what it comes to, and with
// what; below it the rule by which it was decided and what must be known to trust
// it.
func (p *pages) readings(part *assess.Part) {
	any := false
	columns := []column{
		{name: "Dimension", width: 0.2 * p.width()}, {name: "Values", width: 0.2 * p.width()}, {name: "Comes to", width: 0.27 * p.width()},
		{name: "Instrument", width: 0.22 * p.width()}, {name: "By", width: 0.11 * p.width()},
	}
	var below []string
	for id, m := range record.InOrder(p.order.Record.Readings) {
		if m.Part != part.ID || !p.shows(m.Withdrawn) {
			continue
		}
		if !any {
			p.room(headedTable)
			p.head(1, "Readings")
			p.tableHead(columns)
			any = true
		}
		surface := m.Surface
		if s, ok := part.Surface(m.Surface); ok {
			surface = s.Name
		}
		if m.Withdrawn != "" {
			surface = "withdrawn (" + m.Withdrawn + "): " + surface
		}
		x := measurementOf(part, id)
		p.row(columns, []cell{
			small(surface + ", " + strings.ReplaceAll(m.Dimension, "-", " ")), small(valuesSay(m)),
			small(comesTo(x)), small(instrument(m.Instrument)), small(m.By),
		})
		if x != nil {
			p.wearBar(x)
			below = append(below, p.trust(x, m)...)
		}
	}
	slices.Sort(below)
	for _, says := range slices.Compact(below) {
		p.flow(margin, p.width(), tiny, says)
	}
}

// wearBar draws how much of an allowance is used: nominal at the left, the limit at
// the right, the reading as a mark with the width of its uncertainty.
func (p *pages) wearBar(x *assess.Measurement) {
	if !x.HasLimit || p.err != nil {
		return
	}
	bar, err := x.Limit.Bar(x.Measured)
	if err != nil {
		return
	}
	const height, beyond = 7.0, 0.12
	p.room(height)
	if p.err != nil {
		return
	}
	left, width := margin+0.4*p.width(), 0.27*p.width()-3
	at := func(share float64) float64 {
		return left + width*min(max(beyond+share*(1-2*beyond), 0), 1)
	}
	y := p.y + 1.2
	stroke := func(from, to, thick float64, ink pdf.Color) {
		p.page.Line(pdf.Point{X: from, Y: y}, pdf.Point{X: to, Y: y}, pdf.Paint{Stroke: ink, Width: thick, Square: true})
	}
	mark := func(share, reach, thick float64, ink pdf.Color) {
		p.page.Line(pdf.Point{X: at(share), Y: y - reach}, pdf.Point{X: at(share), Y: y + reach}, pdf.Paint{Stroke: ink, Width: thick, Square: true})
	}
	stroke(left, left+width, 1, inkRule)
	stroke(at(bar.Low), at(bar.High), 1, pdf.Hex(0x0072B2))
	mark(0, 1.4, 0.3, inkQuiet)
	if bar.Reuse != nil {
		mark(*bar.Reuse, 1.4, 0.3, inkQuiet)
	}
	mark(1, 1.8, 0.5, inkText)
	mark(bar.Reading, 1.6, 0.7, pdf.Hex(0x0072B2))
	p.page.Text(at(0), y+4.2, tiny, pdf.Center, "nominal")
	p.page.Text(at(1), y+4.2, tiny, pdf.Center, "limit")
	p.y += height
}

// valuesSay tells the values as they were typed, with where they were taken.
func valuesSay(m record.Reading) string {
	unit := gauge.Unit(m.Unit)
	named := slices.ContainsFunc(m.Values, func(v record.Value) bool { return gauge.WithUnit(v.Text, unit) != v.Text+" "+m.Unit })
	values := make([]string, len(m.Values))
	for i, v := range m.Values {
		values[i] = v.Text
		if named {
			values[i] = gauge.WithUnit(v.Text, unit)
		}
		where := strings.TrimSpace(v.Position)
		if v.Angle != "" {
			where = strings.TrimSpace(where + " " + v.Angle + "°")
		}
		if v.Stops {
			where = strings.TrimSpace("did not go in " + where)
		}
		if where != "" {
			values[i] += " (" + where + ")"
		}
	}
	if named {
		return strings.Join(values, "; ")
	}
	return strings.Join(values, "; ") + " " + m.Unit
}

// measurementOf finds the numbers behind a reading, also of one on a surface that the
// spec does not name: its reason is then the part's.
func measurementOf(part *assess.Part, id record.ID) *assess.Measurement {
	reasons := part.Reasons
	for i := range part.Surfaces {
		reasons = slices.Concat(reasons, part.Surfaces[i].Reasons)
	}
	if at := slices.IndexFunc(reasons, func(r assess.Reason) bool { return r.Of == id }); at >= 0 {
		return reasons[at].Measurement
	}
	return nil
}

// comesTo tells the length with its uncertainty and how it stands to its limit.
func comesTo(x *assess.Measurement) string {
	if x == nil {
		return ""
	}
	says := x.Says()
	if !x.HasLimit {
		return says + "; no limit is known"
	}
	says += "; limit " + x.Limit.Discard.Text(x.Unit, gauge.Micrometre)
	switch d := x.Judgement.Discard.Decision; {
	case x.Open != "":
		says += ": not decided, " + x.Open
	case d == gauge.Conforms:
		says += ": within it"
	case d == gauge.DoesNotConform:
		says += ": past it"
	default:
		says += ": not decided"
	}
	if x.Would != "" {
		says += "; " + x.Would
	}
	if w := x.Judgement.Wear; w != nil {
		says += fmt.Sprintf(", %.0f %% ± %.0f %% of the allowance used", w.Used*100, 200*w.Standard)
	}
	return says
}

// trust tells by which rule a reading was decided and what must be known of it.
func (p *pages) trust(x *assess.Measurement, m record.Reading) []string {
	var says []string
	if x.HasLimit {
		says = append(says, "Limit: "+x.Source+". Decided by "+x.Rule.Name()+"; ± is at 95 %.")
	}
	if p.order.Reader == Customer {
		return says
	}
	for _, note := range x.Notes {
		says = append(says, capital(x.Name)+": "+note+".")
	}
	if f := x.Result.Form; f.HasOutOfRound {
		says = append(says, capital(x.Name)+": out of round by "+f.OutOfRound.Text(x.Unit)+". "+gauge.OddLobes)
	}
	if taken := takenSays(m); taken != "" {
		says = append(says, capital(x.Name)+": "+taken+".")
	}
	if m.Note != "" {
		says = append(says, capital(x.Name)+": "+m.Note)
	}
	return says
}

// takenSays tells the zero checks of a reading and how warm part and instrument
// were, as typed.
func takenSays(m record.Reading) string {
	var says []string
	add := func(before, value, behind string) {
		if value != "" {
			says = append(says, before+value+behind)
		}
	}
	unit := func(text string) string {
		if _, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64); err == nil {
			return " " + m.Unit
		}
		return ""
	}
	add("zero before ", m.ZeroBefore, unit(m.ZeroBefore))
	add("zero after ", m.ZeroAfter, unit(m.ZeroAfter))
	if m.Soaked {
		says = append(says, "part and instrument lay together")
	}
	degrees := func(text string) string { return strings.TrimSpace(strings.TrimRight(text, "°C ")) }
	add("part at ", degrees(m.PartTemperature), " °C")
	add("instrument at ", degrees(m.InstrumentTemperature), " °C")
	add("", m.Material, "")
	return strings.Join(says, "; ")
}

func instrument(in record.Instrument) string {
	var says []string
	if name := in.Name; name != "" {
		says = []string{name}
	} else if in.Kind != "" {
		says = []string{"a " + strings.ReplaceAll(in.Kind, "-", " ")}
	}
	add := func(prefix, value string) {
		if value != "" {
			says = append(says, prefix+value)
		}
	}
	add("serial ", in.Serial)
	add("resolution ", in.Resolution)
	add("error up to ", in.Error)
	add("calibrated ", day(in.Calibrated))
	add("due ", day(in.Due))
	add("certificate ", in.Certificate)
	add("set to ", in.Standard)
	return strings.Join(says, ", ")
}

// fits lists the trial fits of the part.
func (p *pages) fits(part *assess.Part) {
	any := false
	columns := p.columns(0.3, 0.25, 0.3, 0.15, "Trial fit", "Outcome", "With", "By")
	for _, f := range record.InOrder(p.order.Record.TrialFits) {
		other, ok := otherEnd(f, p.order.Record.ID, part.ID)
		if !ok || !p.shows(f.Withdrawn) {
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
