package report

import (
	"strings"

	"fettlebook/assess"
	"fettlebook/report/pdf"
)

// perLine is how many grades stand in a line.
const perLine = 4

// graded are the parts that are judged; what is always replaced is named above.
func (p *pages) graded() []*assess.Part {
	var parts []*assess.Part
	for i := range p.order.Assessment.Parts {
		if part := &p.order.Assessment.Parts[i]; !part.Consumable {
			parts = append(parts, part)
		}
	}
	return parts
}

// allGrades sets every part with its grade in columns. Where the page has no
// room for those, the parts that stand in the table of work are not named again,
// and the others stand in one paragraph for each grade.
func (p *pages) allGrades() {
	parts := p.graded()
	if len(parts) == 0 {
		return
	}
	if p.y+p.headHeight()+gridHeight(parts) > p.floor() {
		p.head(0, "All other grades")
		for _, text := range byGrade(parts) {
			p.paragraph(tiny.In(inkText), text)
			p.space(0.5)
		}
		return
	}
	p.head(0, "All grades")
	width, rows := p.width()/perLine, (len(parts)+perLine-1)/perLine
	for r := range rows {
		p.room(gradeLine())
		if p.err != nil {
			return
		}
		for c := range perLine {
			if i := c*rows + r; i < len(parts) {
				p.grade(parts[i], margin+float64(c)*width, width-5)
			}
		}
		p.y += gradeLine()
	}
}

func gradeLine() float64 { return tiny.LineHeight() + 0.7 }

func gridHeight(parts []*assess.Part) float64 {
	return float64((len(parts)+perLine-1)/perLine) * gradeLine()
}

func (p *pages) groupHeight(parts []*assess.Part) float64 {
	height := 0.0
	for _, text := range byGrade(parts) {
		height += p.heightOf(tiny, p.width(), text) + 0.5
	}
	return height
}

// byGrade names the parts of each grade in one text, those with work to do left
// out, in the order in which the grades are first met along the unit, sound last.
func byGrade(parts []*assess.Part) []string {
	var grades []string
	names := map[string][]string{}
	for _, part := range parts {
		if toDo(part) {
			continue
		}
		if len(names[part.Grade]) == 0 {
			grades = append(grades, part.Grade)
		}
		names[part.Grade] = append(names[part.Grade], part.Name)
	}
	var texts []string
	last := ""
	for _, grade := range grades {
		text := capital(grade) + ": " + strings.Join(names[grade], "; ") + "."
		if grade == "sound" {
			last = text
			continue
		}
		texts = append(texts, text)
	}
	if last != "" {
		texts = append(texts, last)
	}
	return texts
}

func (p *pages) headHeight() float64 { return 4.5 + heading.LineHeight() }

// heightOf is how high a text stands in a column.
func (p *pages) heightOf(st pdf.Style, width float64, text string) float64 {
	return float64(len(p.doc.Wrap(st, text, width))) * st.LineHeight()
}

// unitRoom is how high the unit may be drawn on page one, so that the outcome,
// the work and the grades stand there too. The grades give way first: they stand
// in columns only where those leave the drawing comfortable room.
func (p *pages) unitRoom() float64 {
	const least, comfortable, most, legend = 20.0, 30.0, 56.0, 6.5
	head := p.headHeight()
	needs := legend + head
	columns, rows := p.work()
	if len(rows) == 0 {
		needs += body.LineHeight()
	} else {
		needs += 5 + betweenRow
	}
	for _, cells := range rows {
		height := 0.0
		for i, c := range cells {
			height = max(height, p.heightOf(c.style, columns[i].width-3, c.text))
		}
		needs += height + 1.3*betweenRow
	}
	if text := p.alwaysSays(); text != "" {
		needs += 1 + p.heightOf(quiet, p.width(), text)
	}
	if lines := p.waiting(); len(lines) > 0 {
		needs += head
		for _, line := range lines {
			needs += p.heightOf(body, p.width(), line) + 0.6
		}
	}
	parts := p.graded()
	left := p.floor() - p.y - needs - head
	if grid := left - gridHeight(parts); grid >= comfortable {
		return min(grid, most)
	}
	return max(least, min(left-p.groupHeight(parts), most))
}
