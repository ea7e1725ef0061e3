package report

import (
	"fmt"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/record"
)

// shows reports whether an entry stands in the report: a customer sees what counts
// alone, the adjuster and the archive see all, what was withdrawn with its reason.
func (p *pages) shows(withdrawn string) bool {
	return withdrawn == "" || p.order.Reader != Customer
}

// withdrawn keeps the findings, verdicts and limits of a part in print that no
// longer count. Readings, workings, trial fits and opinions stand
// among their own kind.
func (p *pages) withdrawn(part *assess.Part) {
	lines := p.withdrawnOf(part)
	if len(lines) == 0 {
		return
	}
	p.room(20)
	p.head(1, "Withdrawn")
	for _, says := range lines {
		p.space(0.8)
		p.flow(margin+4, p.width()-4, body.In(inkQuiet), says)
	}
}

// withdrawnOf words what was withdrawn of a part, with who withdrew it and why.
func (p *pages) withdrawnOf(part *assess.Part) []string {
	var lines []string
	add := func(of record.ID, why, says string) {
		if of == part.ID && why != "" && p.shows(why) {
			lines = append(lines, fmt.Sprintf("Does not count (%s): %s.", why, strings.TrimRight(says, ". ")))
		}
	}
	surface := func(id, otherwise string) string {
		if s, ok := part.Surface(id); ok {
			return s.Name
		}
		return otherwise
	}
	r := p.order.Record
	for id, f := range record.InOrder(r.Findings) {
		add(f.Part, f.Withdrawn, p.finding(id, f))
	}
	for _, o := range record.InOrder(r.Overrides) {
		add(o.Part, o.Withdrawn, fmt.Sprintf("%s judged %s %s: %s", o.By, surface(o.Surface, "the part"), o.Verdict, o.Reason))
	}
	for _, l := range record.InOrder(r.Limits) {
		add(l.Part, l.Withdrawn, fmt.Sprintf("limit of the %s, %s: %s. %s", surface(l.Surface, l.Surface),
			strings.ReplaceAll(l.Dimension, "-", " "), assess.LimitSays(l), assess.LimitSource(r, l)))
	}
	return lines
}

// anyWithdrawn reports whether a part has an entry that the reader sees although it
// no longer counts.
func (p *pages) anyWithdrawn(part *assess.Part) bool {
	if len(p.withdrawnOf(part)) > 0 {
		return true
	}
	r := p.order.Record
	for _, m := range r.Readings {
		if m.Part == part.ID && m.Withdrawn != "" && p.shows(m.Withdrawn) {
			return true
		}
	}
	for _, w := range r.Workings {
		if w.Part == part.ID && w.Withdrawn != "" && p.shows(w.Withdrawn) {
			return true
		}
	}
	for _, f := range r.TrialFits {
		if _, ours := otherEnd(f, r.ID, part.ID); ours && f.Withdrawn != "" && p.shows(f.Withdrawn) {
			return true
		}
	}
	return false
}
