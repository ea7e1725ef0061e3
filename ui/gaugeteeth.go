package ui

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fettlebook/assess/gauge"
)

func workGap(in *answers) []string {
	least := in.length("gap least")
	tool, err := in.g.instrument(in.unit, false)
	in.fail(err)
	var points []gauge.Measured
	if tool != nil && tool.Kind.Interval() {
		points = in.feelers("gaps", *tool)
	} else {
		for _, g := range in.lengths("gaps") {
			point := gauge.Exactly(g)
			if tool != nil && in.err == nil {
				r, err := gauge.Reading{Values: []gauge.Value{{Length: g}}, Instrument: *tool, Temperatures: gauge.Temperatures{Soaked: true}}.Evaluate()
				in.fail(err)
				point = r.Worst
			}
			points = append(points, point)
		}
	}
	if !in.ready() {
		return nil
	}
	ring := keep(gauge.SynchroGap(gauge.SpacedEvenly(points...), least, gauge.By95)).or(in)
	size := in.size(ring.Least)
	if ring.Least.Open == gauge.Above {
		size = "at least " + size
	}
	says := []string{
		fmt.Sprintf("the narrowest gap is %s: %s", size, decisionSays(ring.Verdict, "the gap")),
		fmt.Sprintf("%s in the middle; one side has %s more than the other", in.says(ring.Mean), in.says(ring.Tilt)),
	}
	if ring.Tilted {
		says = append(says, "the ring sits tilted: press it home evenly and measure again, or look for a bent ring")
	}
	return says
}

func workTorque(in *answers) []string {
	force, radius := in.number("force"), in.length("radius")
	least, most := math.Inf(-1), math.Inf(1)
	if in.has("torque from") {
		least = in.number("torque from")
	}
	if in.has("torque to") {
		most = in.number("torque to")
	}
	if !in.ready() {
		return nil
	}
	// A spring scale is read to about a fiftieth, a radius to half a millimetre
	// (common practice, no source).
	t := keep(gauge.TurningTorque(force, force/50, radius, 0.5)).or(in)
	says := []string{fmt.Sprintf("%.2f N·m ± %.2f N·m turning torque", t.Value, 2*t.Standard)}
	if (in.has("torque from") || in.has("torque to")) && in.ready() {
		says = append(says, decisionSays(keep(t.Within(least, most, gauge.By95)).or(in), "the torque"))
	}
	return says
}

// gear reads the numbers of a gear; its module may be written as a diametral
// pitch: "12 DP".
func (in *answers) gear() gauge.Gear {
	g := gauge.Gear{Teeth: in.count("teeth"), PressureAngle: 20, Helix: in.number("helix"), Shift: in.number("shift")}
	if in.has("pressure angle") {
		g.PressureAngle = in.number("pressure angle")
	}
	text, ok := in.text("module")
	if pitch, isPitch := strings.CutSuffix(strings.ToUpper(text), "DP"); ok && isPitch {
		v, err := strconv.ParseFloat(strings.TrimSpace(pitch), 64)
		if err != nil {
			in.fail(&gauge.FieldError{Field: "module", Err: fmt.Errorf("%q is not a diametral pitch; write 12 DP", shortened(text, 40))})
		}
		g.Module = keep(gauge.ModuleOf(v)).or(in)
	} else if ok {
		g.Module = in.number("module")
	}
	if in.ready() {
		in.fail(g.Check())
	}
	return g
}

func (in *answers) wearSays(w gauge.ToothWear) []string {
	if w.Caution != "" {
		in.notes = append(in.notes, w.Caution)
	}
	return []string{
		"lost in normal thickness: " + in.size(w.Lost),
		"that adds " + in.size(w.Circumferential) + " of backlash at the pitch circle",
	}
}

func workSpan(in *answers) []string {
	g, span, over, unworn := in.gear(), in.measured("span"), in.count("span teeth"), in.measured("span unworn")
	if !in.ready() {
		return nil
	}
	if over == 0 {
		over, _, _ = g.SpanTeeth()
	}
	nominal := keep(g.Span(over)).or(in)
	says := []string{fmt.Sprintf("over %d teeth it has %s by its numbers", over, in.says(nominal))}
	if width := keep(g.FaceWidthForSpan(over)).or(in); width > 0 {
		says = append(says, fmt.Sprintf("the face must be at least %s wide for it", in.says(width)))
	}
	if !in.has("span") || !in.ready() {
		return says
	}
	measured := keep(g.BySpan(over, span)).or(in)
	wear, err := g.LostToNominal(measured)
	if in.has("span unworn") && in.err == nil {
		wear, err = g.LostTo(keep(g.BySpan(over, unworn)).or(in), measured)
	}
	in.fail(err)
	return append(in.wearSays(wear), says...)
}

func workPins(in *answers) []string {
	g, size, pin := in.gear(), in.measured("over pins"), in.length("pin")
	if !in.ready() {
		return nil
	}
	p := gauge.Pin{Diameter: pin, Ball: g.Helix != 0}
	if pin == 0 {
		p.Diameter = keep(g.IdealPin()).or(in)
		return []string{"pins of about " + in.says(p.Diameter) + " touch best"}
	}
	nominal, _, err := g.OverPins(p)
	in.fail(err)
	says := []string{"over these pins it has " + in.says(nominal) + " by its numbers"}
	if !in.has("over pins") || !in.ready() {
		return says
	}
	wear, err := g.LostToNominal(keep(g.ByPins(p, size)).or(in))
	in.fail(err)
	return append(in.wearSays(wear), says...)
}

func workChord(in *answers) []string {
	g, addendum := in.gear(), in.length("addendum")
	if !in.ready() {
		return nil
	}
	c := keep(g.Chordal(addendum)).or(in)
	return []string{"chordal thickness " + in.says(c.Thickness), "the caliper set to a height of " + in.says(c.Height)}
}

func workBacklash(in *answers) []string {
	g, moved, at := in.gear(), in.measured("moved"), in.length("touches")
	if !in.ready() {
		return nil
	}
	round, normal, err := gauge.DialBacklash{Moved: moved, At: at}.Backlash(g)
	in.fail(err)
	return []string{in.size(round) + " backlash at the pitch circle", in.size(normal) + " along the normal"}
}

func workTemperature(in *answers) []string {
	size, part, tool := in.length("size"), in.number("part temperature"), in.number("tool temperature")
	expands := map[string]float64{
		"": gauge.Steel, "steel": gauge.Steel, "aluminium": gauge.Aluminium, "cast iron": gauge.CastIron, "bronze": gauge.Bronze, "brass": gauge.Brass,
	}
	material, _ := in.text("material")
	by, known := expands[strings.ToLower(material)]
	if !known {
		in.fail(&gauge.FieldError{Field: "part's material", Err: fmt.Errorf("%q is not known; known are steel, aluminium, cast iron, bronze, brass", shortened(material, 40))})
	}
	if !in.ready() {
		return nil
	}
	at := keep(gauge.AtReference(size, part, by, tool, gauge.Steel)).or(in)
	return []string{in.says(at) + " at 20 °C", fmt.Sprintf("corrected by %s; the instrument is of steel", in.says(at-size))}
}
