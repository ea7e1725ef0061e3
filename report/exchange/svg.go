package exchange

import (
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// WriteSVG writes the outlines of one photo, in pixels of the photo as this program
// shows it, each a shape with its id and a title that says what it shows. The photo
// itself is not in it: it is drawn to be laid over.
func (o Order) WriteSVG(w io.Writer, photo record.ID) error {
	p, ok := o.Record.Photos[photo]
	if !ok {
		return fmt.Errorf("there is no photo %s in the record", photo)
	}
	in := shown(p)
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%[1]s" height="%[2]s" viewBox="0 0 %[1]s %[2]s">`+"\n", short(in.width), short(in.height))
	fmt.Fprintf(&b, "<title>%s</title>\n<desc>%s</desc>\n", escaped(fmt.Sprintf("Photo %d, %s", p.Number, p.Name)),
		escaped(fmt.Sprintf("Pixels of the photo upright and turned by %d° as shown; original SHA-256 %s. %s", p.Turned, p.File, o.Creator)))
	size := max(in.width, in.height) / 60
	for _, m := range o.outlinesOn(photo) {
		at := in.points(m.Outline)
		band := o.band(m)
		width := size / 6
		dash := make([]string, len(band.Dash))
		for i, d := range band.Dash {
			dash[i] = short(d * width)
		}
		style := fmt.Sprintf(`fill="none" stroke="#%06x" stroke-width="%s" stroke-linejoin="round"`, band.Ink, short(width))
		if len(dash) > 0 {
			style += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(dash, " "))
		}
		top := topmost(at)
		fmt.Fprintf(&b, `<g id="outline-%s"><title>%s</title>%s%s<text x="%s" y="%s" font-family="sans-serif" font-size="%s" text-anchor="middle" fill="#%06x" stroke="#ffffff" stroke-width="%s" paint-order="stroke">%s</text></g>`+"\n",
			m.id, escaped(o.says(m)), shape(m.Outline, at, fmt.Sprintf(`fill="none" stroke="#ffffff" stroke-width="%s" stroke-linejoin="round"`, short(2*width))),
			shape(m.Outline, at, style), short(top.X), short(max(top.Y-width, size)), short(size), band.Ink, short(size/5), escaped(o.label(m)))
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// shape is the SVG element of an outline.
func shape(o record.Outline, at []plane.Point, style string) string {
	if style != "" {
		style = " " + style
	}
	if o.Shape == record.Spot && len(at) == 1 {
		return fmt.Sprintf(`<circle cx="%s" cy="%s" r="8"%s/>`, short(at[0].X), short(at[0].Y), style)
	}
	pairs := make([]string, len(at))
	for i, p := range at {
		pairs[i] = short(p.X) + "," + short(p.Y)
	}
	element := "polygon"
	if !closed(o) {
		element = "polyline"
	}
	return fmt.Sprintf(`<%s points="%s"%s/>`, element, strings.Join(pairs, " "), style)
}

// short is a number to the hundredth of a pixel, without needless zeros.
func short(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func escaped(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return ""
	}
	return b.String()
}

// topmost is the place at which an outline's number stands.
func topmost(at []plane.Point) (top plane.Point) {
	for i, p := range at {
		if i == 0 || p.Y < top.Y {
			top = p
		}
	}
	return top
}
