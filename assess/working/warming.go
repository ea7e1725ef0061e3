package working

import (
	"fmt"

	"fettlebook/assess/gauge"
)

const materials = "steel, aluminium, cast iron, bronze or brass"

// warming are the workings of temperature.
var warming = []*Working{
	{
		ID:    "temperature",
		Name:  "Temperature",
		About: "The size at 20 °C (ISO 1) of a part that was measured warm or cold.",
		Asks: []Ask{
			{ID: "size", Label: "size as measured"}, {ID: "part-temperature", Label: "part, °C", Takes: Number}, {ID: "tool-temperature", Label: "instrument, °C", Takes: Number},
			{ID: "material", Label: "part's material", Hint: materials, Takes: Word, Optional: true},
		},
		work: (*answers).temperature,
	}, {
		ID:    "warm-fit",
		With:  gauge.Micrometer,
		Name:  "Fit when warm",
		About: "What a fit measured at 20 °C comes to when both parts run warm: an aluminium housing lets go of its steel ring.",
		Asks: []Ask{
			{ID: "bore", Label: "bore", Inside: true}, {ID: "shaft", Label: "shaft"},
			{ID: "bore-material", Label: "the bore is of", Hint: materials, Takes: Word, Optional: true},
			{ID: "shaft-material", Label: "the shaft is of", Hint: materials, Takes: Word, Optional: true},
			{ID: "warm", Label: "both at, °C", Hint: "80", Takes: Number},
		},
		work: (*answers).warmFit,
	},
}

func (in *answers) temperature(out *Result) {
	size, part, tool, by := in.distance("size"), in.number("part-temperature"), in.number("tool-temperature"), in.material("material")
	if !in.ready() {
		return
	}
	at := keep(gauge.AtReference(size, part, by, tool, gauge.Steel)).or(in)
	out.found("size at 20 °C", gauge.Exactly(at))
	out.say(in.says(at)+" at 20 °C", fmt.Sprintf("corrected by %s; the instrument is of steel", in.says(at-size)))
}

func (in *answers) warmFit(out *Result) {
	bore, shaft, warm := in.measured("bore"), in.measured("shaft"), in.number("warm")
	ofBore, ofShaft := in.material("bore-material"), in.material("shaft-material")
	if !in.ready() {
		return
	}
	cold := keep(gauge.Clearance(bore, shaft)).or(in)
	gap := keep(gauge.Warmed(shaft.Value, warm-gauge.ReferenceTemperature, ofBore, ofShaft)).or(in)
	hot := cold
	hot.Value += gap
	out.found(fmt.Sprintf("diametral clearance at %g °C", warm), hot)
	grows := "looser by " + in.says(gap)
	if gap < 0 {
		grows = "tighter by " + in.says(-gap)
	}
	out.say(fmt.Sprintf("at %g °C: %s", warm, in.clearanceSays(hot)), "at 20 °C: "+in.clearanceSays(cold), "warmed it sits "+grows)
}
