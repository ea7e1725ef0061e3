package ui

import (
	"fmt"

	"fettlebook/assess/record"
)

// errand is what the next thing drawn on the photo is for, where it is not for
// damage: an outline once more, or the axis of the round part that it lies on.
type errand struct {
	outline record.ID
	axis    bool
}

// fewCorners is up to how many corners an outline is taken to have been set one by
// one, and not drawn freehand.
const fewCorners = 12

// mayShowDamage tells whether an outline that shows no finding yet may show one.
func mayShowDamage(o record.Outline) bool {
	return o.Finding == "" && o.Face == record.Face{} && o.Known == record.Known{} && o.Repeats == "" && o.Shape != record.Edges
}

// encloses tells whether an outline has an area.
func encloses(o record.Outline) bool { return o.Shape == record.Polygon || o.Shape == record.Oval }

// toolChanged follows the tool; whoever goes back to pointing draws nothing any more.
func (v *viewer) toolChanged(t Tool) {
	v.showTool()
	if t == PointTool && v.errand != (errand{}) {
		v.errand = errand{}
		v.showOutlines()
	}
}

// sizable is the outline that is chosen on the photo, "" for none.
func (v *viewer) sizable() record.ID {
	id := v.photoView.Selected()
	if _, ok := v.p.n.Record().Outlines[id]; !ok {
		v.photoView.tell("Choose an outline or a line on the photo first.")
		return ""
	}
	return id
}

// drawAgain has a person draw an outline once more, without seeing the first: how far
// the two are apart tells how well they pick.
func (v *viewer) drawAgain(id record.ID) {
	o, ok := v.p.n.Record().Outlines[id]
	if !ok || !v.p.editable() {
		return
	}
	if o.Repeats != "" {
		id, o = o.Repeats, v.p.n.Record().Outlines[o.Repeats]
	}
	if !encloses(o) || o.Photo != v.shown {
		v.photoView.tell("Only an outline with an area, on the photo that is shown, is drawn once more.")
		return
	}
	tool := PencilTool
	switch {
	case o.Shape == record.Oval:
		tool = OvalTool
	case len(o.Points) <= fewCorners:
		tool = CornersTool
	}
	v.begin(errand{outline: id}, tool, fmt.Sprintf("Draw outline %d once more, as if for the first time: it is hidden meanwhile · Esc leads out", o.Number))
}

// drawAxis has a person draw the axis of the round part that an outline lies on.
func (v *viewer) drawAxis(id record.ID) {
	o, ok := v.p.n.Record().Outlines[id]
	if !ok || o.Photo != v.shown || !v.p.editable() {
		return
	}
	v.begin(errand{outline: id, axis: true}, LineTool, "Drag along the axis, in the middle between the two sides of the round part · Esc leads out")
}

func (v *viewer) begin(d errand, tool Tool, hint string) {
	v.take(tool)
	v.errand = d
	v.showOutlines()
	v.photoView.tell(hint)
}

// drawnFor takes over what was drawn for a purpose, and reports whether there was one.
func (v *viewer) drawnFor(shape record.Shape, points []record.Point) bool {
	d := v.errand
	o, ok := v.p.n.Record().Outlines[d.outline]
	if !ok || o.Photo != v.shown {
		v.errand = errand{}
		return false
	}
	switch {
	case d.axis && shape != record.Line:
		v.photoView.tell("An axis is a line: drag along the middle of the round part, or Esc.")
		return true
	case !d.axis && shape != record.Polygon && shape != record.Oval:
		v.photoView.tell("Draw round the same damage once more, or Esc.")
		return true
	}
	v.photoView.SetTool(PointTool) // which ends the purpose
	if d.axis {
		lies := v.p.n.LiesOf(d.outline)
		lies.Axis = [2]record.Point{points[0], points[len(points)-1]}
		v.p.tried("The axis was not kept.", v.p.n.Lie(d.outline, lies))
	} else {
		v.p.tried("The outline was not kept.", v.p.n.RepeatOutline(d.outline, shape, points))
	}
	v.p.refresh()
	v.photoView.Select(d.outline)
	v.p.showSize(d.outline)
	return true
}

// hidden tells whether an outline is not to lead the hand that draws it once more.
func (d errand) hidden(id record.ID, o record.Outline) bool {
	return d.outline != "" && !d.axis && (id == d.outline || o.Repeats == d.outline)
}

// axisID names the axis of an outline among the shown outlines, and outlineOfAxis
// the other way round.
func axisID(outline record.ID) record.ID { return "axis of " + outline }

func outlineOfAxis(id record.ID) (record.ID, bool) {
	const before = "axis of "
	if len(id) <= len(before) || id[:len(before)] != before {
		return "", false
	}
	return id[len(before):], true
}

// axes are the axes that were drawn on a photo, each once.
func axes(r *record.Record, photo record.ID) (shown []ShownOutline) {
	seen := map[[2]record.Point]bool{}
	for id, o := range record.InOrder(r.Outlines) {
		axis := o.Lies.Axis
		if o.Photo != photo || axis == [2]record.Point{} || seen[axis] {
			continue
		}
		seen[axis] = true
		shown = append(shown, ShownOutline{ID: axisID(id), Faint: true, Outline: record.Outline{Photo: photo, Shape: record.Line, Points: axis[:]}})
	}
	return shown
}

// reshapedAxis keeps an axis that was moved, or takes it away where points is nil.
func (v *viewer) reshapedAxis(outline record.ID, points []record.Point) {
	lies := v.p.n.LiesOf(outline)
	lies.Axis = [2]record.Point{}
	if len(points) == 2 {
		lies.Axis = [2]record.Point{points[0], points[1]}
	}
	v.p.tried("The axis was not changed.", v.p.n.Lie(outline, lies))
	v.p.refreshSoon()
}
