package gauge

import (
	"fmt"
	"math"
)

// Rock is a shaft that was rocked by hand while a dial indicator showed how far
// it moved altogether, from one side to the other.
type Rock struct {
	// Total is the whole movement at the indicator.
	Total Measured
	// At is how far the indicator stands from the turning point, and Arm how far
	// the worn bearing is from it. In a lever the turning point is the other
	// bearing; in a lone bush it is the middle of the bush and Arm its length.
	At, Arm Length
	// DistanceWithin is how well both distances are known, to either side; zero
	// means 1 mm.
	DistanceWithin Length
	// FarPlay is the diametral clearance of the bearing at the turning point of a
	// lever, zero where it has none.
	FarPlay Measured
}

// RockResult is a diametral clearance with the geometry that leads to it.
type RockResult struct {
	Clearance Measured
	// Geometry tells the computation in a sentence, with its numbers.
	Geometry string
}

const usualDistance Length = 1

// Lever returns the diametral clearance of a bearing from the rock of a shaft
// that turns in another bearing: total × arm / distance. Play at the turning
// point tips the shaft as well and is taken off.
func (r Rock) Lever() (RockResult, error) {
	if err := r.check(); err != nil {
		return RockResult{}, err
	}
	if err := notNegative("play of the far bearing", r.FarPlay.Value); err != nil {
		return RockResult{}, err
	}
	at, arm := float64(r.At), float64(r.Arm)
	lift := math.Abs(at-arm) / at
	c, err := Sum(Term{Times: arm / at, Of: r.Total}, Term{Times: -lift, Of: r.FarPlay})
	if err != nil {
		return RockResult{}, err
	}
	// c = (T·a − p·|x−a|)/x, with x the distance and a the arm.
	side := 1.0
	if at < arm {
		side = -1
	}
	t, p := float64(r.Total.Value), float64(r.FarPlay.Value)
	c.Budget = append(c.Budget, r.distance("arm", (t+side*p)/at), r.distance("distance of the indicator", -(t*arm+side*p*arm)/(at*at)))
	if c.Value < 0 {
		return RockResult{}, bad("rock", "the play of the far bearing alone would rock the shaft further than it did; measure both anew")
	}
	text := fmt.Sprintf("rocked %s at %g mm from the other bearing, the bearing is at %g mm: %s × %g / %g",
		r.Total.Value.Text(Millimetre, Micrometre), at, arm, r.Total.Value.Text(Millimetre, Micrometre), arm, at)
	if p > 0 {
		text += fmt.Sprintf(", less %s × %g / %g for the play of the other bearing", r.FarPlay.Value.Text(Millimetre, Micrometre), math.Abs(at-arm), at)
	}
	return RockResult{Clearance: c, Geometry: text + " = " + c.Value.Text(Millimetre, Micrometre) + " diametral"}, nil
}

// Bush returns the diametral clearance of a lone bush in which the shaft tips
// from corner to corner: total × length / (2 × distance).
func (r Rock) Bush() (RockResult, error) {
	if err := r.check(); err != nil {
		return RockResult{}, err
	}
	at, arm := float64(r.At), float64(r.Arm)
	if at < arm/2 {
		return RockResult{}, bad("distance of the indicator", "%g mm is inside the bush of %g mm; set the indicator outside it", at, arm)
	}
	c, err := Sum(Term{Times: arm / (2 * at), Of: r.Total})
	if err != nil {
		return RockResult{}, err
	}
	t := float64(r.Total.Value)
	c.Budget = append(c.Budget, r.distance("length of the bush", t/(2*at)), r.distance("distance of the indicator", -t*arm/(2*at*at)))
	text := fmt.Sprintf("rocked %s at %g mm from the middle of a bush of %g mm: %s × %g / (2 × %g) = %s diametral",
		r.Total.Value.Text(Millimetre, Micrometre), at, arm, r.Total.Value.Text(Millimetre, Micrometre), arm, at, c.Value.Text(Millimetre, Micrometre))
	return RockResult{Clearance: c, Geometry: text}, nil
}

func (r Rock) check() error {
	return first(notNegative("rock", r.Total.Value), r.Total.Check("rock"), positive("distance of the indicator", r.At),
		positive("arm", r.Arm), notNegative("uncertainty of the distances", r.DistanceWithin))
}

func (r Rock) distance(name string, sensitivity float64) Contribution {
	half := r.DistanceWithin
	if half == 0 {
		half = usualDistance
	}
	return Contribution{Name: name, U: float64(half) / Rectangular, C: sensitivity}
}

// VBlocks is the caution that goes with a run-out taken on V-blocks.
const VBlocks = "Taken on V-blocks: journals that are not round show as run-out. Between centres, or with the journals measured for roundness, it is sure."

// RunOut returns how far the middle of a shaft lies off its axis, half of what a
// dial indicator shows over one turn, from its lowest and its highest reading.
func RunOut(lowest, highest Measured) (total, eccentricity Measured, err error) {
	total, err = travel(lowest, highest)
	if err != nil {
		return Measured{}, Measured{}, err
	}
	if total.Value < 0 {
		return Measured{}, Measured{}, bad("run-out", "the highest reading is below the lowest; swap them")
	}
	eccentricity, err = Sum(Term{Times: 0.5, Of: total})
	return total, eccentricity, err
}

// DialBacklash is the play of a gear felt against its held mate, by a dial
// indicator on a tooth or an arm.
type DialBacklash struct {
	// Moved is what the indicator showed, At the radius at which its tip touched.
	Moved Measured
	At    Length
	// Tilt is the angle between its stem and the direction of movement, in degrees.
	Tilt float64
}

// Backlash returns the circumferential backlash at the pitch circle and the one
// along the normal, in the transverse section's pressure angle and the base helix
// of the gear. The gear is the one that moved.
func (d DialBacklash) Backlash(g Gear) (circumferential, normal Measured, err error) {
	if err := first(g.Check(), notNegative("backlash", d.Moved.Value), d.Moved.Check("backlash"), positive("radius of the indicator", d.At), within("tilt of the indicator", d.Tilt, 0, 60)); err != nil {
		return Measured{}, Measured{}, err
	}
	scale := g.PitchDiameter() / 2 / float64(d.At) * math.Cos(d.Tilt*degree)
	circumferential, err = Sum(Term{Times: scale, Of: d.Moved})
	if err != nil {
		return Measured{}, Measured{}, err
	}
	normal, err = Sum(Term{Times: math.Cos(g.transverse()) * math.Cos(g.baseHelix()), Of: circumferential})
	return circumferential, normal, err
}

// Torque is a turning torque in newton metres with its standard uncertainty.
type Torque struct{ Value, Standard float64 }

// TurningTorque returns the torque that a spring scale shows at a radius. Force
// is in newtons; both half-widths are those within which the scale and the radius
// are known.
func TurningTorque(newtons, newtonsWithin float64, radius, radiusWithin Length) (Torque, error) {
	if err := first(within("force", newtons, 0, 1e5), within("force, uncertainty", newtonsWithin, 0, 1e5),
		positive("radius", radius), notNegative("radius, uncertainty", radiusWithin)); err != nil {
		return Torque{}, err
	}
	m := float64(radius) / 1000
	return Torque{Value: newtons * m, Standard: math.Hypot(newtonsWithin*m, newtons*float64(radiusWithin)/1000) / Rectangular}, nil
}

// Within decides a torque against a band in newton metres; an open end is an
// infinity.
func (t Torque) Within(least, most float64, rule Rule) (Verdict, error) {
	// The rule is the same for any quantity.
	m := Measured{Value: Length(t.Value), Budget: []Contribution{{Name: "turning torque", U: t.Standard, C: 1}}}
	return rule.Decide(Tolerance{Lower: Length(least), Upper: Length(most)}, m)
}
