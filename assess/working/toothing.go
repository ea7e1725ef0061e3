package working

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettlebook/assess/gauge"
)

// toothing are the workings of gear teeth.
var toothing = []*Working{
	{
		ID:    "span",
		With:  gauge.SpanMicrometer,
		Name:  "Tooth thickness by span",
		About: "The size over some teeth with a span micrometer, held against what the gear has by its numbers. How much thinner the maker cut it is not known: an unworn reference tells more.",
		Asks: slices.Concat(gearAsks, []Ask{
			{ID: "span", Label: "span, measured", Optional: true}, {ID: "span-teeth", Label: "over how many teeth", Takes: Number, Optional: true},
			{ID: "span-unworn", Label: "span of an unworn one", Optional: true}, lossLimit,
		}),
		work: (*answers).span,
	}, {
		ID:    "pins",
		With:  gauge.Pins,
		Name:  "Tooth thickness over pins",
		About: "The size over two pins or balls in opposite spaces.",
		Asks: slices.Concat(gearAsks, []Ask{
			{ID: "pin", Label: "pin diameter", Optional: true}, {ID: "over-pins", Label: "size over pins, measured", Optional: true},
			{ID: "over-pins-unworn", Label: "size over pins of an unworn one", Optional: true}, lossLimit,
		}),
		work: (*answers).pins,
	}, {
		ID:    "chord",
		With:  gauge.Caliper,
		Name:  "Tooth thickness by chord",
		About: "The chordal thickness at the height at which a gear-tooth caliper is set.",
		Asks: slices.Concat(gearAsks, []Ask{
			{ID: "addendum", Label: "addendum", Hint: "the module, if uncut"}, {ID: "chord", Label: "chordal thickness, measured", Optional: true},
			{ID: "chord-unworn", Label: "chordal thickness of an unworn one", Optional: true}, lossLimit,
		}),
		work: (*answers).chord,
	}, {
		ID:    "backlash",
		With:  gauge.DialIndicator,
		Name:  "Backlash by dial",
		About: "One gear held, the other rocked against a dial indicator. Give the numbers of the gear that moved.",
		Asks: slices.Concat(gearAsks, []Ask{{ID: "moved", Label: "indicator moved"}, {ID: "touches", Label: "radius where it touches"},
			{ID: "backlash-limit", Label: "largest backlash", Hint: "from the manual", Optional: true, Limit: true}}),
		work: (*answers).backlash,
	},
}

var gearAsks = []Ask{
	{ID: "module", Label: "module, or 12 DP", Hint: "2.5", Takes: Word}, {ID: "teeth", Label: "teeth", Takes: Number},
	{ID: "pressure-angle", Label: "pressure angle, °", Hint: "20", Takes: Number, Optional: true}, {ID: "helix", Label: "helix angle, °", Hint: "0", Takes: Number, Optional: true},
	{ID: "shift", Label: "profile shift", Hint: "0", Takes: Number, Optional: true},
}

var lossLimit = Ask{ID: "loss-limit", Label: "most thickness that may be lost", Hint: "from the manual", Optional: true, Limit: true}

// unwornFirst is why a loss against the nominal thickness proves nothing past its
// limit.
const unwornFirst = "part of it may be the maker's thinning; measure an unworn one in the same way"

// gear reads the numbers of a gear; its module may be written as a diametral
// pitch: "12 DP".
func (in *answers) gear() gauge.Gear {
	g := gauge.Gear{Teeth: in.count("teeth"), PressureAngle: 20, Helix: in.number("helix"), Shift: in.number("shift")}
	if in.has("pressure-angle") {
		g.PressureAngle = in.number("pressure-angle")
	}
	text, ok := in.text("module")
	if pitch, isPitch := strings.CutSuffix(strings.ToUpper(text), "DP"); ok && isPitch {
		v, err := strconv.ParseFloat(strings.TrimSpace(pitch), 64)
		if err != nil {
			in.refuse("module", "%q is not a diametral pitch; write 12 DP", shortened(text))
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

// lost tells what teeth have lost: against an unworn one where one was measured,
// else against the nominal thickness.
func (in *answers) lost(out *Result, g gauge.Gear, by string, measured gauge.Measured, unworn *gauge.Measured) {
	if !in.ready() {
		return
	}
	wear, err := g.LostToNominal(measured)
	doubt := unwornFirst
	if unworn != nil {
		wear, err = g.LostTo(*unworn, measured)
		doubt = ""
	}
	in.fail(err)
	if wear.Caution != "" {
		out.Notes = append(out.Notes, wear.Caution)
	}
	out.found("tooth thickness lost by "+by, wear.Lost)
	out.say("lost in normal thickness: " + in.size(wear.Lost))
	in.worn(out, "loss-limit", true, doubt)
	out.say("that adds " + in.size(wear.Circumferential) + " of backlash at the pitch circle")
}

func (in *answers) span(out *Result) {
	g, span, over, unworn := in.gear(), in.measured("span"), in.count("span-teeth"), in.measured("span-unworn")
	in.length("loss-limit")
	if !in.ready() {
		return
	}
	if over == 0 {
		over, _, _ = g.SpanTeeth()
	}
	nominal := keep(g.Span(over)).or(in)
	if in.has("span") && in.ready() {
		var reference *gauge.Measured
		if in.has("span-unworn") {
			m := keep(g.BySpan(over, unworn)).or(in)
			reference = &m
		}
		in.lost(out, g, "span", keep(g.BySpan(over, span)).or(in), reference)
	}
	out.say(fmt.Sprintf("over %d teeth it has %s by its numbers", over, in.says(nominal)))
	if width := keep(g.FaceWidthForSpan(over)).or(in); width > 0 {
		out.say(fmt.Sprintf("the face must be at least %s wide for it", in.says(width)))
	}
}

func (in *answers) pins(out *Result) {
	g, size, pin, unworn := in.gear(), in.measured("over-pins"), in.distance("pin"), in.measured("over-pins-unworn")
	in.length("loss-limit")
	if !in.ready() {
		return
	}
	if pin == 0 {
		out.say("pins of about " + in.says(keep(g.IdealPin()).or(in)) + " touch best")
		return
	}
	p := gauge.Pin{Diameter: pin, Ball: g.Helix != 0}
	nominal, _, err := g.OverPins(p)
	in.fail(err)
	if in.has("over-pins") && in.ready() {
		var reference *gauge.Measured
		if in.has("over-pins-unworn") {
			m := keep(g.ByPins(p, unworn)).or(in)
			reference = &m
		}
		in.lost(out, g, "pins", keep(g.ByPins(p, size)).or(in), reference)
	}
	out.say("over these pins it has " + in.says(nominal) + " by its numbers")
}

func (in *answers) chord(out *Result) {
	g, addendum, chord, unworn := in.gear(), in.distance("addendum"), in.measured("chord"), in.measured("chord-unworn")
	in.length("loss-limit")
	if !in.ready() {
		return
	}
	c := keep(g.Chordal(addendum)).or(in)
	if in.has("chord") && in.ready() {
		var reference *gauge.Measured
		if in.has("chord-unworn") {
			m := keep(g.ByChord(unworn)).or(in)
			reference = &m
		}
		in.lost(out, g, "chord", keep(g.ByChord(chord)).or(in), reference)
	}
	out.say("chordal thickness "+in.says(c.Thickness)+" by its numbers", "the caliper set to a height of "+in.says(c.Height))
}

func (in *answers) backlash(out *Result) {
	g, moved, at := in.gear(), in.measured("moved"), in.distance("touches")
	if !in.ready() {
		return
	}
	round, normal, err := gauge.DialBacklash{Moved: moved, At: at}.Backlash(g)
	in.fail(err)
	out.found("backlash at the pitch circle", round)
	out.say(in.size(round) + " backlash at the pitch circle")
	in.worn(out, "backlash-limit", true, "")
	out.say(in.size(normal) + " along the normal")
}
