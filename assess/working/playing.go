package working

import (
	"fmt"
	"math"

	"fettlebook/assess/gauge"
)

// playing are the workings of how parts move against each other.
var playing = []*Working{
	{
		ID:    "rock",
		With:  gauge.DialIndicator,
		Name:  "Rock of a shaft",
		About: "The whole movement at a dial indicator while the shaft is rocked by hand. Leave the far bearing empty for a lone bush.",
		Asks: []Ask{
			{ID: "rock", Label: "moved altogether"}, {ID: "at", Label: "indicator from the turning point"},
			{ID: "arm", Label: "worn bearing from the turning point", Hint: "the other bearing is the turning point", Optional: true},
			{ID: "bush-length", Label: "or length of a lone bush", Optional: true},
			{ID: "rock-limit", Label: "largest diametral clearance", Hint: "from the manual", Optional: true, Limit: true},
		},
		work: (*answers).rock,
	}, {
		ID:    "run-out",
		With:  gauge.DialIndicator,
		Name:  "Run-out",
		About: gauge.VBlocks,
		Asks: []Ask{
			{ID: "lowest", Label: "lowest reading"}, {ID: "highest", Label: "highest reading"},
			{ID: "run-out-limit", Label: "largest run-out", Hint: "from the manual", Optional: true, Limit: true},
		},
		work: (*answers).runOut,
	}, {
		ID:    "shims",
		With:  gauge.DialIndicator,
		Name:  "End float and shims",
		About: "The float between the ends of travel, and the shim, washer or selective ring that brings it into its band.",
		Asks: []Ask{
			{ID: "one-end", Label: "indicator at one end", Hint: "0.02"}, {ID: "other-end", Label: "at the other end"},
			{ID: "fitted", Label: "shim that is fitted", Optional: true}, {ID: "sizes", Label: "sizes to be had", Hint: "0.30 0.35 0.40", Takes: Lengths, Optional: true},
			{ID: "float-from", Label: "float from", Optional: true}, {ID: "float-to", Label: "float to", Optional: true},
		},
		work: (*answers).shims,
	}, {
		ID:    "ring-gap",
		With:  gauge.FeelerGauge,
		Name:  "Blocking ring gap",
		About: "Press the ring home on its cone and measure the gap to the gear at three points or more, evenly round. With feelers write the blade that goes in and the one that does not: 0.90-0.95.",
		Asks: []Ask{
			{ID: "gaps", Label: "gaps round the ring", Hint: "0.95 0.92 0.96", Takes: Lengths},
			{ID: "gap-least", Label: "least gap", Hint: "from the manual", Limit: true},
		},
		work: (*answers).ringGap,
	}, {
		ID:    "turning-torque",
		Name:  "Turning torque",
		About: "A spring scale on a cord round a known radius.",
		Asks: []Ask{
			{ID: "force", Label: "force in newtons", Takes: Number}, {ID: "radius", Label: "radius"},
			{ID: "torque-from", Label: "torque from, N·m", Takes: Number, Optional: true}, {ID: "torque-to", Label: "torque to, N·m", Takes: Number, Optional: true},
		},
		work: (*answers).torque,
	},
}

func (in *answers) rock(out *Result) {
	r := gauge.Rock{Total: in.measured("rock"), At: in.distance("at")}
	arm, bush := in.distance("arm"), in.distance("bush-length")
	if !in.ready() {
		return
	}
	var found gauge.RockResult
	var err error
	switch {
	case in.has("bush-length"):
		r.Arm = bush
		found, err = r.Bush()
	case in.has("arm"):
		r.Arm = arm
		found, err = r.Lever()
	default:
		in.lack("how far the worn bearing is from the turning point, or the length of a lone bush")
		return
	}
	in.fail(err)
	out.found("diametral clearance by rock", found.Clearance)
	out.say(in.clearanceSays(found.Clearance))
	in.worn(out, "rock-limit", true, "")
	out.say(found.Geometry)
}

func (in *answers) runOut(out *Result) {
	low, high := in.indicated("lowest"), in.indicated("highest")
	if !in.ready() {
		return
	}
	total, off, err := gauge.RunOut(low, high)
	in.fail(err)
	out.found("run-out", total)
	out.say(in.size(total) + " run-out")
	in.worn(out, "run-out-limit", true, "")
	out.say("the middle lies " + in.size(off) + " off its axis")
}

func (in *answers) shims(out *Result) {
	one, other := in.indicated("one-end"), in.indicated("other-end")
	fitted, sizes := in.measured("fitted"), in.lengths("sizes")
	band, banded := in.band("float-from", "float-to")
	if !in.ready() {
		return
	}
	float := keep(gauge.EndFloat(one, other)).or(in)
	out.found("end float", float)
	out.say(in.size(float) + " end float")
	var choices []gauge.Choice
	if len(sizes) > 0 && in.ready() {
		choices = keep(gauge.Shims{Float: float, Fitted: fitted, Sizes: sizes, Band: band}.Choose(in.Rule)).or(in)
		out.say(in.choicesSay(choices, "shim of", "float")...)
	}
	if banded && in.ready() {
		now := keep(in.Rule.Decide(band, float)).or(in)
		in.set(out, &now, choices, len(sizes) > 0, "a shim of", "end float", band)
	}
}

func (in *answers) ringGap(out *Result) {
	points := in.gaps("gaps")
	least := in.distance("gap-least")
	if !in.ready() {
		return
	}
	ring := keep(gauge.SynchroGap(gauge.SpacedEvenly(points...), least, in.Rule)).or(in)
	if !in.ready() {
		return
	}
	// The widest interval of a feeler may reach furthest and yet prove less than a
	// narrow one that lies wholly below the limit.
	harder := map[gauge.Decision]int{gauge.Conforms: 0, gauge.CannotDecide: 1, gauge.DoesNotConform: 2}
	narrowest, limit := ring.Least, gauge.Limit{Discard: least}
	worst := keep(limit.Judge(narrowest, in.Rule)).or(in)
	for _, p := range points {
		if j := keep(limit.Judge(p, in.Rule)).or(in); harder[j.Discard.Decision] > harder[worst.Discard.Decision] {
			narrowest, worst = p, j
		}
	}
	out.Ring = &ring
	out.found("narrowest gap of the blocking ring", narrowest)
	in.wornBy(out, limit, worst, "")
	out.say(
		"the narrowest gap is "+in.size(narrowest),
		fmt.Sprintf("%s in the middle; one side has %s more than the other", in.says(ring.Mean), in.says(ring.Tilt)))
	if ring.Tilted {
		out.say("the ring sits tilted: press it home evenly and measure again, or look for a bent ring")
	}
}

func (in *answers) torque(out *Result) {
	force, radius := in.number("force"), in.distance("radius")
	least, most := math.Inf(-1), math.Inf(1)
	if in.has("torque-from") {
		least = in.number("torque-from")
	}
	if in.has("torque-to") {
		most = in.number("torque-to")
	}
	if !in.ready() {
		return
	}
	// A spring scale is read to about a fiftieth, a radius to half a millimetre
	// (common practice, no source).
	t := keep(gauge.TurningTorque(force, force/50, radius, 0.5)).or(in)
	out.Of, out.Torque = "turning torque", &t
	out.say(fmt.Sprintf("%.2f N·m ± %.2f N·m turning torque", t.Value, 2*t.Standard))
	out.Notes = append(out.Notes, "the scale is taken as right to a fiftieth of what it shows and the radius to half a millimetre")
	if !in.has("torque-from") && !in.has("torque-to") || !in.ready() {
		return
	}
	now := keep(t.Within(least, most, in.Rule)).or(in)
	band := bandSays(least, most, func(v float64) string { return fmt.Sprintf("%g N·m", v) })
	out.Setting = &Setting{Says: standing(now, "the turning torque", band)}
	if now.Decision != gauge.Conforms {
		out.Setting.Do = "set the preload so that the turning torque comes into its band, " + band
	}
}
