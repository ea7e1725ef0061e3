package report

import (
	"fmt"

	"fettlebook/assess/record"
)

// causes says what the findings are consistent with, for and against, unranked;
// then what a person signs. It stands in a customer's report only if it is asked
// for.
func (p *pages) causes() {
	if p.order.Reader == Customer && !p.order.Causes {
		return
	}
	if len(p.order.Assessment.Causes) > 0 {
		p.head(0, "What the findings are consistent with")
		p.paragraph(quiet, "In no order of likelihood. The program names what speaks for and against; whether one of them was the cause, a person signs.")
		p.space(1)
		columns := p.columns(0.2, 0.3, 0.15, 0.35, "Consistent with", "For", "Against", "What would tell it apart")
		p.tableHead(columns)
		for _, c := range p.order.Assessment.Causes {
			p.row(columns, []cell{{text: capital(c.Name), style: strong}, plain(p.numbered(c.For)), plain(p.numbered(c.Against)), plain(c.Apart)})
		}
	}
	for _, o := range record.InOrder(p.order.Record.Opinions) {
		if !p.shows(o.Withdrawn) {
			continue
		}
		name := o.Cause
		for _, c := range p.order.Assessment.Causes {
			if c.ID == o.Cause {
				name = c.Name
			}
		}
		says := fmt.Sprintf("%s holds it to be consistent with %s. %s", o.By, name, o.Text)
		if o.Withdrawn != "" {
			says = "Withdrawn (" + o.Withdrawn + "): " + says
		}
		p.space(1)
		p.paragraph(body, says)
	}
}

// numbered names findings by their numbers, with those that came first marked.
func (p *pages) numbered(ids []record.ID) string {
	says := make([]string, len(ids))
	for i, id := range ids {
		f := p.order.Record.Findings[id]
		says[i] = fmt.Sprint(f.Number)
		if f.Standing != "" {
			says[i] += " (" + string(f.Standing) + ")"
		}
	}
	if len(says) == 0 {
		return "none"
	}
	if len(says) == 1 {
		return "finding " + says[0]
	}
	return "findings " + join(says)
}
