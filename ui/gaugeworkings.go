package ui

import (
	"fmt"

	"fettlebook/assess/gauge"
)

// workings are all that can be worked out, in the order in which they are listed.
var workings = []working{
	{
		name:  "Shaft in a bore",
		about: "What two measured parts come to, and what their classes allow when new (ISO 286).",
		asks: []ask{
			{id: "bore", label: "bore", optional: true, inside: true}, {id: "shaft", label: "shaft", optional: true},
			{id: "nominal", label: "nominal size", optional: true}, {id: "hole class", label: "class of the hole", hint: "H7", optional: true},
			{id: "shaft class", label: "class of the shaft", hint: "k6", optional: true},
		},
		work: workFit,
	}, {
		name:  "Seat of a bearing ring",
		about: "A ring of the Normal class (ISO 492) on a shaft or in a housing that was measured.",
		asks: []ask{
			{id: "ring", label: "nominal size of the seat", hint: "30"}, {id: "seat shaft", label: "shaft, measured", optional: true},
			{id: "seat bore", label: "housing bore, measured", optional: true}, {id: "seat class", label: "class of the seat", hint: "k6 or H7", optional: true},
		},
		work: workSeat,
	}, {
		name:  "Needle rollers",
		about: "Bore less two rollers less journal is the diametral clearance. With sizes on the shelf: which brings it into its band.",
		asks: []ask{
			{id: "bore", label: "bore", inside: true}, {id: "journal", label: "journal"}, {id: "roller", label: "roller that is there", optional: true},
			{id: "rollers", label: "how many in a full set", optional: true},
			{id: "clearance from", label: "clearance from", optional: true}, {id: "clearance to", label: "clearance to", optional: true},
			{id: "shelf", label: "rollers on the shelf", hint: "3.000 3.005 3.010", optional: true},
		},
		work: workNeedles,
	}, {
		name:  "Rock of a shaft",
		about: "The whole movement at a dial indicator while the shaft is rocked by hand. Leave the far bearing empty for a lone bush.",
		asks: []ask{
			{id: "rock", label: "moved altogether"}, {id: "at", label: "indicator from the turning point"},
			{id: "arm", label: "worn bearing from the turning point", hint: "the other bearing is the turning point", optional: true},
			{id: "bush length", label: "or length of a lone bush", optional: true},
		},
		work: workRock,
	}, {
		name:  "Run-out",
		about: gauge.VBlocks,
		asks:  []ask{{id: "lowest", label: "lowest reading"}, {id: "highest", label: "highest reading"}},
		work: func(in *answers) []string {
			low, high := in.indicated("lowest"), in.indicated("highest")
			if !in.ready() {
				return nil
			}
			total, off, err := gauge.RunOut(low, high)
			in.fail(err)
			return []string{in.size(total) + " run-out", "the middle lies " + in.size(off) + " off its axis"}
		},
	}, {
		name:  "End float and shims",
		about: "The float between the ends of travel, and the shim, washer or selective ring that brings it into its band.",
		asks: []ask{
			{id: "one end", label: "indicator at one end", hint: "0.02"}, {id: "other end", label: "at the other end"},
			{id: "fitted", label: "shim that is fitted", optional: true}, {id: "sizes", label: "sizes to be had", hint: "0.30 0.35 0.40", optional: true},
			{id: "float from", label: "float from", optional: true}, {id: "float to", label: "float to", optional: true},
		},
		work: workShims,
	}, {
		name:  "Blocking ring gap",
		about: "Press the ring home on its cone and measure the gap to the gear at three points or more, evenly round. With feelers write the blade that goes in and the one that does not: 0.90-0.95.",
		asks:  []ask{{id: "gaps", label: "gaps round the ring", hint: "0.95 0.92 0.96"}, {id: "gap least", label: "least gap", hint: "from the manual"}},
		work:  workGap,
	}, {
		name:  "Turning torque",
		about: "A spring scale on a cord round a known radius.",
		asks: []ask{
			{id: "force", label: "force in newtons"}, {id: "radius", label: "radius"},
			{id: "torque from", label: "torque from, N·m", optional: true}, {id: "torque to", label: "torque to, N·m", optional: true},
		},
		work: workTorque,
	}, {
		name:  "Tooth thickness by span",
		about: "The size over some teeth with a span micrometer, held against what the gear has by its numbers. How much thinner the maker cut it is not known: an unworn reference tells more.",
		asks:  append(gearAsks(), ask{id: "span", label: "span, measured", optional: true}, ask{id: "span teeth", label: "over how many teeth", optional: true}, ask{id: "span unworn", label: "span of an unworn one", optional: true}),
		work:  workSpan,
	}, {
		name:  "Tooth thickness over pins",
		about: "The size over two pins or balls in opposite spaces.",
		asks:  append(gearAsks(), ask{id: "pin", label: "pin diameter", optional: true}, ask{id: "over pins", label: "size over pins, measured", optional: true}),
		work:  workPins,
	}, {
		name:  "Tooth thickness by chord",
		about: "The chordal thickness at the height at which a gear-tooth caliper is set.",
		asks:  append(gearAsks(), ask{id: "addendum", label: "addendum", hint: "the module, if uncut"}),
		work:  workChord,
	}, {
		name:  "Backlash by dial",
		about: "One gear held, the other rocked against a dial indicator. Give the numbers of the gear that moved.",
		asks:  append(gearAsks(), ask{id: "moved", label: "indicator moved"}, ask{id: "touches", label: "radius where it touches"}),
		work:  workBacklash,
	}, {
		name:  "Temperature",
		about: "The size at 20 °C (ISO 1) of a part that was measured warm or cold.",
		asks: []ask{
			{id: "size", label: "size as measured"}, {id: "part temperature", label: "part, °C"}, {id: "tool temperature", label: "instrument, °C"},
			{id: "material", label: "part's material", hint: "steel, aluminium, cast iron, bronze or brass", optional: true},
		},
		work: workTemperature,
	},
}

func gearAsks() []ask {
	return []ask{
		{id: "module", label: "module, or 12 DP", hint: "2.5"}, {id: "teeth", label: "teeth"},
		{id: "pressure angle", label: "pressure angle, °", hint: "20", optional: true}, {id: "helix", label: "helix angle, °", hint: "0", optional: true},
		{id: "shift", label: "profile shift", hint: "0", optional: true},
	}
}

func workFit(in *answers) []string {
	var says []string
	bore, shaft := in.measured("bore"), in.measured("shaft")
	if in.has("bore") && in.has("shaft") && in.ready() {
		says = append(says, in.clearanceSays(keep(gauge.Difference(bore, shaft)).or(in)))
	}
	hole, pin, nominal := in.class("hole class"), in.class("shaft class"), in.length("nominal")
	if in.has("nominal") && in.has("hole class") && in.has("shaft class") && in.ready() {
		says = append(says, fmt.Sprintf("new, %s/%s: %s", hole, pin, in.fitSays(keep(gauge.FitOf(nominal, hole, pin)).or(in))))
	}
	for _, one := range []struct {
		size, class string
		m           gauge.Measured
		of          gauge.Class
	}{{"bore", "hole class", bore, hole}, {"shaft", "shaft class", shaft, pin}} {
		if in.has("nominal") && in.has(one.size) && in.has(one.class) && in.ready() {
			says = append(says, "the "+one.size+": "+keep(one.of.Compare(nominal, one.m, gauge.By95)).or(in).Text)
		}
	}
	if len(says) == 0 && in.ready() {
		in.missing = append(in.missing, "bore and shaft as measured, or the nominal size with both classes")
	}
	return says
}

func workSeat(in *answers) []string {
	nominal, class := in.length("ring"), in.class("seat class")
	shaft, bore := in.measured("seat shaft"), in.measured("seat bore")
	if !in.ready() {
		return nil
	}
	var says []string
	if in.has("seat shaft") {
		says = append(says, "ring on the shaft: "+in.clearanceSays(keep(gauge.MeasuredSeat(nominal, shaft)).or(in)))
	}
	if in.has("seat bore") {
		says = append(says, "ring in the bore: "+in.clearanceSays(keep(gauge.MeasuredHousing(nominal, bore)).or(in)))
	}
	if in.has("seat class") {
		seat := gauge.SeatOnShaft
		if class.Hole {
			seat = gauge.SeatInBore
		}
		says = append(says, fmt.Sprintf("new, %s: %s", class, in.fitSays(keep(seat(nominal, class)).or(in))))
	}
	if len(says) == 0 {
		in.missing = append(in.missing, "shaft or housing bore as measured, or the class of the seat")
	}
	return says
}

func workNeedles(in *answers) []string {
	bore, journal, roller := in.measured("bore"), in.measured("journal"), in.measured("roller")
	count := in.count("rollers")
	band, shelf := in.band("clearance from", "clearance to"), in.lengths("shelf")
	if !in.ready() {
		return nil
	}
	var says []string
	if in.has("roller") {
		says = append(says, in.clearanceSays(keep(gauge.NeedleClearance(bore, journal, roller)).or(in)))
		says = append(says, fmt.Sprintf("at most %d of these go round the journal side by side", keep(gauge.FullSet(journal.Value, roller.Value)).or(in)))
		if count > 0 {
			says = append(says, fmt.Sprintf("with %d of them a gap of %s is left round the journal", count, in.size(keep(gauge.CircumferentialGap(journal, roller, count)).or(in))))
		}
	}
	if len(shelf) > 0 && in.ready() {
		choices := keep(gauge.Needles{Bore: bore, Journal: journal, Rollers: shelf, Count: count, Clearance: band}.Choose(gauge.By95)).or(in)
		says = append(says, in.choicesSay(choices, "rollers of", "clearance")...)
	}
	if len(says) == 0 && in.ready() {
		in.missing = append(in.missing, "the roller that is there, or rollers on the shelf with the band of the clearance")
	}
	return says
}

// choicesSay words which sizes of a shelf will do, the best first.
func (in *answers) choicesSay(choices []gauge.Choice, what, of string) []string {
	if len(choices) == 0 && in.ready() {
		return []string{"none of the sizes brings the " + of + " into its band"}
	}
	var says []string
	for _, c := range choices {
		one := fmt.Sprintf("%s %s: %s to be expected, %s", what, in.says(c.Size), in.size(c.Expected), decisionSays(c.Verdict, "it"))
		if c.Gap != nil {
			one += ", gap round the journal " + in.size(*c.Gap)
		}
		if c.Note != "" {
			one += "; " + c.Note
		}
		says = append(says, one)
	}
	return says
}

func workRock(in *answers) []string {
	r := gauge.Rock{Total: in.measured("rock"), At: in.length("at")}
	arm, bush := in.length("arm"), in.length("bush length")
	if !in.ready() {
		return nil
	}
	var out gauge.RockResult
	var err error
	switch {
	case in.has("bush length"):
		r.Arm = bush
		out, err = r.Bush()
	case in.has("arm"):
		r.Arm = arm
		out, err = r.Lever()
	default:
		in.missing = append(in.missing, "how far the worn bearing is from the turning point, or the length of a lone bush")
		return nil
	}
	in.fail(err)
	return []string{in.clearanceSays(out.Clearance), out.Geometry}
}

func workShims(in *answers) []string {
	one, other := in.indicated("one end"), in.indicated("other end")
	fitted, sizes, band := in.measured("fitted"), in.lengths("sizes"), in.band("float from", "float to")
	if !in.ready() {
		return nil
	}
	float := keep(gauge.EndFloat(one, other)).or(in)
	says := []string{in.size(float) + " end float"}
	if len(sizes) > 0 && in.ready() {
		choices := keep(gauge.Shims{Float: float, Fitted: fitted, Sizes: sizes, Band: band}.Choose(gauge.By95)).or(in)
		says = append(says, in.choicesSay(choices, "shim of", "float")...)
	}
	return says
}
