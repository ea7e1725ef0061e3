package report

import (
	"fmt"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/term"
	"fettlebook/report/pdf"
)

// rest holds what belongs to no part's page.
func (p *pages) rest() {
	p.running = "Overview"
	p.room(partNeeds)
	p.toSet()
	p.nothingToReport()
	p.notLookedAt()
	if len(p.loose) > 0 {
		p.head(0, "Photos that show no part in particular")
		p.photos(p.loose)
	}
	p.leftOutPhotos()
	p.causes()
	p.installed()
	if p.order.Reader == Warranty {
		p.history()
	}
}

// nothingToReport names the parts that were looked at and found sound.
func (p *pages) nothingToReport() {
	var names []string
	for i := range p.order.Assessment.Parts {
		part := &p.order.Assessment.Parts[i]
		if p.anchors[part.ID] == nil && part.Verdict.Serves() {
			names = append(names, part.Name+" ("+part.Grade+")")
		}
	}
	if len(names) > 0 {
		p.head(0, "Looked at, with nothing to report")
		p.paragraph(body, strings.Join(names, " · "))
	}
}

// notLookedAt says plainly what the report does not vouch for.
func (p *pages) notLookedAt() {
	p.head(0, "What was not looked at")
	columns := []column{{name: "Part", width: 0.25 * p.width()}, {name: "What is missing", width: 0.75 * p.width()}}
	any := false
	say := func(part, text string, link *pdf.Anchor) {
		if !any {
			p.tableHead(columns)
			any = true
		}
		p.row(columns, []cell{{text: part, style: body, link: link}, plain(text)})
	}
	for i := range p.order.Assessment.Parts {
		part := &p.order.Assessment.Parts[i]
		if text := missing(part); text != "" {
			say(part.Name, text, p.anchors[part.ID])
		}
	}
	for _, place := range p.order.Assessment.Unrecorded {
		say(place, "There is no such part in this record.", nil)
	}
	if !any {
		p.paragraph(body, "Every surface that the program knows was looked at, and felt where a finger is called for.")
	}
}

// missing says what is missing for a part: the steps, or that it needs no more
// looking at since it is condemned.
func missing(part *assess.Part) string {
	if part.Verdict == term.Condemned {
		open := 0
		for i := range part.Surfaces {
			if part.Surfaces[i].Verdict == term.Undecided {
				open++
			}
		}
		if open == 0 || part.Consumable {
			return ""
		}
		return capital(count(open, "surface was", "surfaces were")) + " not judged: not needed, the part is condemned already."
	}
	steps := make([]string, len(part.Inspect))
	for i, step := range part.Inspect {
		steps[i] = step.Text
		if s, ok := part.Surface(step.Surface); ok {
			steps[i] = capital(s.Name) + ": " + step.Text
		}
	}
	return strings.Join(steps, "\n")
}

// history sets every change that was made to the record.
func (p *pages) history() {
	p.head(0, "History of the record")
	p.paragraph(quiet, "Every change is chained to the one before by its hash. Undoing adds a line; none is ever taken out.")
	p.space(1)
	columns := p.columns(0.06, 0.24, 0.2, 0.5, "No.", "When (UTC)", "Who, at", "What")
	p.tableHead(columns)
	for _, e := range p.order.History {
		when := strings.NewReplacer("T", " ", "Z", "").Replace(e.At.UTC) + "\n(shop's clock: UTC" + e.At.Zone + ")"
		p.row(columns, []cell{plain(fmt.Sprint(e.Number)), {text: when, style: quiet}, {text: e.Who + ", " + e.Bench, style: quiet}, plain(e.Says)})
	}
	if n := len(p.order.History); n > 0 {
		p.space(1)
		p.paragraph(tiny, "SHA-256 of the record after its last change: "+string(p.order.History[n-1].After))
	}
}

var cautions = []string{
	"This report tells what was seen on the day, by the people named, with the means named. A visual inspection does not find every crack.",
	"The maker's manual comes first, and with it local codes. Work on vehicles that are used on the road belongs in the hands of those who are licensed for it.",
	"No cracked part goes back. Single-use fasteners, split pins and prevailing-torque nuts are not used again.",
	"Worn edges cut. Springs and snap rings fly: wear eye protection. Solvents and compressed air hurt skin, eyes and lungs. Gearboxes and cases are heavy: use lifting gear.",
	"A bearing is never spun dry with compressed air.",
	"A length taken from a photo never decides a limit.",
}

// closing holds the cautions and the signatures.
func (p *pages) closing() {
	p.running = "Cautions and signatures"
	p.room(80)
	if p.err != nil {
		return
	}
	p.page.Set(p.cautions, p.y)
	p.head(0, "Cautions")
	for _, c := range cautions {
		p.paragraph(body, c)
		p.space(0.8)
	}
	p.head(0, "Agreed")
	p.room(26)
	if p.err != nil {
		return
	}
	p.y += 14
	half := p.width()/2 - 8
	for i, label := range []string{"for the shop, name and date", "for the owner, name and date"} {
		x := margin + float64(i)*(half+16)
		p.page.Line(pdf.Point{X: x, Y: p.y}, pdf.Point{X: x + half, Y: p.y}, pdf.Paint{Stroke: inkText, Width: 0.25})
		p.page.Text(x, p.y+3.6, quiet, pdf.Left, label)
	}
	p.y += 10
	p.people()
}

func (p *pages) people() {
	var says []string
	for _, person := range p.order.Record.People {
		one := person.Name
		if person.Does != "" {
			one += " (" + person.Does + ")"
		}
		says = append(says, one)
	}
	if len(says) > 0 {
		p.paragraph(quiet, "People named in this record: "+strings.Join(says, ", ")+".")
	}
}
