package report

import "fettlebook/report/pdf"

// column is one column of a table, width in millimetres.
type column struct {
	name  string
	width float64
	align pdf.Align
}

// cell is one cell of a row.
type cell struct {
	text  string
	style pdf.Style
	link  *pdf.Anchor
}

func small(text string) cell { return cell{text: text, style: body.At(8.4)} }
func plain(text string) cell { return cell{text: text, style: body} }

// tableHead sets the names of the columns over a rule.
func (p *pages) tableHead(columns []column) {
	p.room(14)
	if p.err != nil {
		return
	}
	x := margin
	for _, c := range columns {
		p.page.Text(at(x, c), p.y+3.4, strong.At(8.4), c.align, c.name)
		x += c.width
	}
	p.y += 5
	p.page.Line(pdf.Point{X: margin, Y: p.y}, pdf.Point{X: margin + p.width(), Y: p.y}, pdf.Paint{Stroke: inkQuiet, Width: 0.3})
	p.y += betweenRow
}

func at(x float64, c column) float64 {
	if c.align == pdf.Right {
		return x + c.width - 1
	}
	return x
}

// row sets one row as high as its highest cell, whole on one page; only a row
// higher than a page is broken, in its last cell.
func (p *pages) row(columns []column, cells []cell) {
	wrapped := make([][]pdf.Line, len(cells))
	height := 0.0
	for i, c := range cells {
		wrapped[i] = p.doc.Wrap(c.style, c.text, columns[i].width-3)
		height = max(height, float64(len(wrapped[i]))*c.style.LineHeight())
	}
	if height > p.floor()-top-20 {
		p.tallRow(columns, cells)
		return
	}
	p.room(height + betweenRow)
	if p.err != nil {
		return
	}
	x := margin
	for i, c := range cells {
		width := columns[i].width - 3
		if columns[i].align == pdf.Right {
			p.page.Lines(x+2, p.y, width, c.style, pdf.Right, wrapped[i])
		} else {
			p.page.Lines(x, p.y, width, c.style, columns[i].align, wrapped[i])
		}
		if c.link != nil {
			p.page.Link(pdf.Rect{X: x, Y: p.y, W: columns[i].width, H: height}, c.link)
		}
		x += columns[i].width
	}
	p.y += height + betweenRow*0.6
	p.rule()
	p.y += betweenRow * 0.7
}

// tallRow sets the cells one below the other, each over as many pages as it takes.
func (p *pages) tallRow(columns []column, cells []cell) {
	for i, c := range cells {
		if columns[i].name != "" {
			p.paragraph(strong.At(8.4), columns[i].name)
		}
		p.paragraph(c.style, c.text)
	}
	p.rule()
	p.space(betweenRow)
}
