package working

import (
	"fmt"
	"slices"
	"strings"

	"fettlebook/assess/gauge"
)

// fitting are the workings of what sits or runs in a bore.
var fitting = []*Working{
	{
		ID:    "fit",
		With:  gauge.Micrometer,
		Name:  "Shaft in a bore",
		About: "What two measured parts come to, and what their classes allow when new (ISO 286).",
		Asks: []Ask{
			{ID: "bore", Label: "bore", Optional: true, Inside: true}, {ID: "shaft", Label: "shaft", Optional: true},
			{ID: "nominal", Label: "nominal size", Optional: true}, {ID: "hole-class", Label: "class of the hole", Hint: "H7", Takes: Word, Optional: true},
			{ID: "shaft-class", Label: "class of the shaft", Hint: "k6", Takes: Word, Optional: true},
		},
		work: (*answers).fit,
	}, {
		ID:    "seat",
		With:  gauge.Micrometer,
		Name:  "Seat of a bearing ring",
		About: "A ring of the Normal class (ISO 492) on a shaft or in a housing that was measured.",
		Asks: []Ask{
			{ID: "ring", Label: "nominal size of the seat", Hint: "30"}, {ID: "seat-shaft", Label: "shaft, measured", Optional: true},
			{ID: "seat-bore", Label: "housing bore, measured", Optional: true, Inside: true},
			{ID: "seat-class", Label: "class of the seat", Hint: "k6 or H7", Takes: Word, Optional: true},
		},
		work: (*answers).seat,
	}, {
		ID:    "bearing-clearance",
		With:  gauge.DialIndicator,
		Name:  "Clearance of a bearing",
		About: "The radial internal clearance of a bearing that is not mounted, and the groups of ISO 5753-1 to which it can belong: C2, Normal (CN), C3, C4, C5.",
		Asks: []Ask{
			{ID: "bearing-bore", Label: "bore of the bearing, nominal", Hint: "30"},
			{ID: "bearing-type", Label: "ball or roller", Hint: "ball", Takes: Word, Optional: true},
			{ID: "radial-clearance", Label: "radial clearance, measured", Optional: true},
			{ID: "clearance-group", Label: "group on the box", Hint: "C3", Takes: Word, Optional: true},
		},
		work: (*answers).bearing,
	}, {
		ID:    "needles",
		With:  gauge.Micrometer,
		Name:  "Needle rollers",
		About: "Bore less two rollers less journal is the diametral clearance. With sizes on the shelf: which brings it into its band.",
		Asks: []Ask{
			{ID: "bore", Label: "bore", Inside: true}, {ID: "journal", Label: "journal"}, {ID: "roller", Label: "roller that is there", Optional: true},
			{ID: "rollers", Label: "how many in a full set", Takes: Number, Optional: true},
			{ID: "clearance-from", Label: "clearance from", Optional: true}, {ID: "clearance-to", Label: "clearance to", Optional: true},
			{ID: "shelf", Label: "rollers on the shelf", Hint: "3.000 3.005 3.010", Takes: Lengths, Optional: true},
		},
		work: (*answers).needles,
	},
}

func (in *answers) fit(out *Result) {
	bore, shaft := in.measured("bore"), in.measured("shaft")
	if in.has("bore") && in.has("shaft") && in.ready() {
		clearance := keep(gauge.Clearance(bore, shaft)).or(in)
		out.found("diametral clearance", clearance)
		out.say(in.clearanceSays(clearance))
	}
	hole, pin, nominal := in.class("hole-class"), in.class("shaft-class"), in.distance("nominal")
	if in.has("nominal") && in.has("hole-class") && in.has("shaft-class") && in.ready() {
		out.say(fmt.Sprintf("new, %s/%s: %s", hole, pin, in.fitSays(keep(gauge.FitOf(nominal, hole, pin)).or(in))))
	}
	for _, one := range []struct {
		size, class string
		m           gauge.Measured
		of          gauge.Class
	}{{"bore", "hole-class", bore, hole}, {"shaft", "shaft-class", shaft, pin}} {
		if in.has("nominal") && in.has(one.size) && in.has(one.class) && in.ready() {
			out.say("the " + one.size + ": " + keep(one.of.Compare(nominal, one.m, in.Rule)).or(in).Text)
		}
	}
	if len(out.Lines) == 0 {
		in.lack("bore and shaft as measured, or the nominal size with both classes")
	}
}

func (in *answers) seat(out *Result) {
	nominal, class := in.distance("ring"), in.class("seat-class")
	shaft, bore := in.measured("seat-shaft"), in.measured("seat-bore")
	if !in.ready() {
		return
	}
	if in.has("seat-bore") {
		fit := keep(gauge.MeasuredHousing(nominal, bore)).or(in)
		out.found("diametral clearance of the ring in its bore", fit)
		out.say("ring in the bore: " + in.clearanceSays(fit))
	}
	if in.has("seat-shaft") {
		fit := keep(gauge.MeasuredSeat(nominal, shaft)).or(in)
		out.found("diametral clearance of the ring on its shaft", fit)
		out.Lines = slices.Insert(out.Lines, 0, "ring on the shaft: "+in.clearanceSays(fit))
	}
	if in.has("seat-class") && in.ready() {
		seat := gauge.SeatOnShaft
		if class.Hole {
			seat = gauge.SeatInBore
		}
		out.say(fmt.Sprintf("new, %s: %s", class, in.fitSays(keep(seat(nominal, class)).or(in))))
	}
	if len(out.Lines) == 0 {
		in.lack("shaft or housing bore as measured, or the class of the seat")
	}
}

// bearingTypes are the words by which a person tells the two tables apart.
var bearingTypes = map[string]gauge.BearingType{
	"": gauge.DeepGroove, "ball": gauge.DeepGroove, "roller": gauge.CylindricalRoller,
	string(gauge.DeepGroove): gauge.DeepGroove, string(gauge.CylindricalRoller): gauge.CylindricalRoller,
}

func (in *answers) bearing(out *Result) {
	bore, clearance := in.distance("bearing-bore"), in.measured("radial-clearance")
	typed, _ := in.text("bearing-type")
	kind, known := bearingTypes[strings.ToLower(typed)]
	if !known {
		in.refuse("bearing-type", "%q has no table here; write ball or roller", shortened(typed))
	}
	group, _ := in.text("clearance-group")
	group = strings.ToUpper(group)
	if !in.ready() {
		return
	}
	if in.has("radial-clearance") {
		read := keep(gauge.GroupsOf(kind, bore, clearance.Value)).or(in)
		out.found("radial internal clearance", clearance)
		says := in.size(clearance) + " radial clearance: "
		if len(read) == 0 {
			says += "as read it is in no group of the table"
		} else {
			says += "as read it can be " + or(read)
		}
		out.say(says)
		if also := in.groupsWithin(kind, bore, clearance, read); len(also) > 0 {
			out.say("by what the instrument may err it can be " + or(also) + " as well")
		}
		out.Notes = append(out.Notes, "before mounting: a ring that is pressed on or in takes some of it away")
	}
	if in.has("clearance-group") && in.ready() {
		t := keep(gauge.InternalClearance(kind, bore, group)).or(in)
		out.say(fmt.Sprintf("new, %s: from %s to %s radial, before mounting", group, in.says(t.Lower), in.says(t.Upper)))
		if out.Measured != nil && in.ready() {
			v := keep(in.Rule.Decide(t, clearance)).or(in)
			out.Lines = slices.Insert(out.Lines, 1, "against "+group+": "+decisionSays(v, "it"))
		}
	}
	if len(out.Lines) == 0 {
		in.lack("the radial clearance as measured, or the group on the box")
	}
}

// groupsWithin returns the groups, beyond those as read, that the uncertainty of the
// clearance leaves open.
func (in *answers) groupsWithin(kind gauge.BearingType, bore gauge.Length, clearance gauge.Measured, read []string) []string {
	var also []string
	for _, g := range gauge.ClearanceGroups {
		t, err := gauge.InternalClearance(kind, bore, g)
		if err != nil || slices.Contains(read, g) {
			continue // not every table has every group
		}
		if v := keep(in.Rule.Decide(t, clearance)).or(in); v.Decision != gauge.DoesNotConform {
			also = append(also, g)
		}
	}
	return also
}

func or(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}

func (in *answers) needles(out *Result) {
	bore, journal, roller := in.measured("bore"), in.measured("journal"), in.measured("roller")
	count, shelf := in.count("rollers"), in.lengths("shelf")
	band, banded := in.band("clearance-from", "clearance-to")
	if !in.ready() {
		return
	}
	var now *gauge.Verdict
	if in.has("roller") {
		clearance := keep(gauge.NeedleClearance(bore, journal, roller)).or(in)
		out.found("diametral clearance over the rollers", clearance)
		out.say(in.clearanceSays(clearance))
		if banded && in.ready() {
			v := keep(in.Rule.Decide(band, clearance)).or(in)
			now = &v
		}
		out.say(fmt.Sprintf("at most %d of these go round the journal side by side", keep(gauge.FullSet(journal.Value, roller.Value)).or(in)))
		if count > 0 {
			out.say(fmt.Sprintf("with %d of them a gap of %s is left round the journal", count, in.size(keep(gauge.CircumferentialGap(journal, roller, count)).or(in))))
		}
	}
	var choices []gauge.Choice
	if len(shelf) > 0 && in.ready() {
		choices = keep(gauge.Needles{Bore: bore, Journal: journal, Rollers: shelf, Count: count, Clearance: band}.Choose(in.Rule)).or(in)
		out.say(in.choicesSay(choices, "rollers of", "clearance")...)
	}
	if len(out.Lines) == 0 {
		in.lack("the roller that is there, or rollers on the shelf with the band of the clearance")
	}
	if banded {
		in.set(out, now, choices, len(shelf) > 0, "rollers of", "clearance", band)
	}
}

// set tells how something stands to its band and what brings it there. Now is the
// decision of what is fitted, nil where nothing is.
func (in *answers) set(out *Result, now *gauge.Verdict, choices []gauge.Choice, offered bool, what, of string, band gauge.Tolerance) {
	s := &Setting{Says: "the " + of + " is to lie in its band, " + in.bandSays(band)}
	if now != nil {
		s.Says = standing(*now, "the "+of, in.bandSays(band))
	}
	if now == nil || now.Decision != gauge.Conforms {
		s.Do = in.toSet(choices, offered, what, of, in.bandSays(band))
	}
	out.Setting = s
}
