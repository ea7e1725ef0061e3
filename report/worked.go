package report

import (
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/record"
)

// worked lists what was worked out of several sizes: of what, what it comes to, how
// it is decided, and with what it was measured; below it how it was reckoned and what
// must be known to trust it.
func (p *pages) worked(part *assess.Part) {
	any := false
	columns := []column{
		{name: "Worked out", width: 0.16 * p.width()}, {name: "Of", width: 0.26 * p.width()}, {name: "Comes to", width: 0.27 * p.width()},
		{name: "Measured with", width: 0.2 * p.width()}, {name: "By", width: 0.11 * p.width()},
	}
	var below []string
	for id, m := range record.InOrder(p.order.Record.Workings) {
		if m.Part != part.ID || !p.shows(m.Withdrawn) {
			continue
		}
		if !any {
			p.room(headedTable)
			p.head(1, "Worked out")
			p.tableHead(columns)
			any = true
		}
		x := assess.WorkedOf(part, id, m)
		p.row(columns, []cell{
			small(p.workedName(part, m, x)), small(strings.Join(x.Typed, "; ")), small(workedSays(x)),
			small(workedWith(m)), small(m.By),
		})
		if m.Withdrawn == "" {
			below = append(below, p.trustWorked(x, m)...)
		}
	}
	for _, says := range below {
		p.flow(margin, p.width(), tiny, says)
	}
}

func (p *pages) workedName(part *assess.Part, m record.Working, x assess.Worked) string {
	name := x.Name
	if s, ok := part.Surface(m.Surface); ok {
		name += ", " + s.Name
	} else if m.Surface != "" {
		name += ", " + strings.ReplaceAll(m.Surface, "-", " ")
	}
	if m.Withdrawn != "" {
		name = "withdrawn (" + m.Withdrawn + "): " + name
	}
	return name
}

// workedSays tells the outcome, how it is decided and what is to be set.
func workedSays(x assess.Worked) string {
	if len(x.Lines) == 0 {
		return ""
	}
	says := []string{x.Lines[0]}
	if x.Decided != "" {
		says = append(says, x.Decided)
	}
	if x.Set != "" {
		says = append(says, "at assembly: "+x.Set)
	}
	return strings.Join(says, "; ")
}

func workedWith(m record.Working) string {
	says := instrument(m.Instrument)
	if says == "" {
		says = "sizes as written"
	}
	if inner := instrument(m.Inner); inner != "" {
		says += "; bores: " + inner
	}
	return says
}

// trustWorked tells how something was reckoned, by which rule and out of which manual
// it was decided, and what must be known of it.
func (p *pages) trustWorked(x assess.Worked, m record.Working) []string {
	var says []string
	if len(x.Lines) > 1 {
		says = append(says, x.Name+": "+strings.Join(x.Lines[1:], "; ")+".")
	}
	if x.Decided != "" {
		source := x.Source
		if source == "" {
			source = "no manual is named"
		}
		says = append(says, x.Name+": "+source+". Decided by "+x.Rule.Name()+"; ± is at 95 %.")
	}
	if p.order.Reader == Customer {
		return says
	}
	for _, note := range x.Notes {
		says = append(says, x.Name+": "+strings.TrimRight(note, ". ")+".")
	}
	if m.Note != "" {
		says = append(says, x.Name+": "+m.Note)
	}
	return says
}

// toSet lists what is to be set when the unit is put together: the shims and rollers
// to fit.
func (p *pages) toSet() {
	columns := p.columns(0.17, 0.2, 0.63, 0, "Part", "To be set", "What to do")
	any := false
	for i := range p.order.Assessment.Parts {
		part := &p.order.Assessment.Parts[i]
		for _, x := range part.Workings {
			if x.Set == "" {
				continue
			}
			if !any {
				p.room(headedTable)
				p.head(0, "To be set at assembly")
				p.tableHead(columns)
				any = true
			}
			p.row(columns, []cell{{text: part.Name, style: strong.At(8.4), link: p.anchors[part.ID]}, small(x.Name), small(capital(x.Set) + ".")})
		}
	}
}
