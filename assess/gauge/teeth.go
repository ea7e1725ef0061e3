package gauge

import "math"

const degree = math.Pi / 180

// Gear is an external involute gear by the numbers of ISO 21771. Lengths are in
// millimetres, angles in degrees.
type Gear struct {
	// Module is the normal module mn.
	Module float64
	Teeth  int
	// PressureAngle is the normal pressure angle, usually 20.
	PressureAngle float64
	// Helix is the helix angle at the pitch circle, 0 for spur teeth; the hand does
	// not matter.
	Helix float64
	// Shift is the profile shift coefficient x.
	Shift float64
}

// ModuleOf returns the module of a diametral pitch in teeth per inch.
func ModuleOf(diametralPitch float64) (float64, error) {
	if err := within("diametral pitch", diametralPitch, 0.5, 200); err != nil {
		return 0, err
	}
	return 25.4 / diametralPitch, nil
}

// FromTransverse returns a gear of which module, pressure angle and shift are
// given in the transverse section.
func FromTransverse(module float64, teeth int, pressureAngle, helix, shift float64) Gear {
	cos := math.Cos(helix * degree)
	return Gear{
		Module: module * cos, Teeth: teeth, Helix: helix, Shift: shift / cos,
		PressureAngle: math.Atan(math.Tan(pressureAngle*degree)*cos) / degree,
	}
}

// Check refuses a gear that can't be, and names the number.
func (g Gear) Check() error {
	return first(
		within("module", g.Module, 0.1, 50), wholeWithin("teeth", g.Teeth, 4, 1000),
		within("pressure angle", g.PressureAngle, 10, 35), within("helix angle", g.Helix, -60, 60), within("profile shift", g.Shift, -2, 2),
	)
}

// Involute returns inv a = tan a - a, both in radians.
func Involute(a float64) float64 { return math.Tan(a) - a }

// InverseInvolute returns the angle in radians of an involute from 0 to 10.
func InverseInvolute(inv float64) float64 {
	if !(inv > 0) {
		return 0
	}
	// Below the root the steps of Newton overshoot upwards once and then fall
	// steadily, as the function is convex; the start is the small-angle form.
	a := min(1.45, math.Cbrt(3*inv))
	for range 60 {
		t := math.Tan(a)
		step := (t - a - inv) / (t * t)
		a -= step
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return a
}

func (g Gear) z() float64     { return float64(g.Teeth) }
func (g Gear) alpha() float64 { return g.PressureAngle * degree }
func (g Gear) beta() float64  { return math.Abs(g.Helix) * degree }

// transverse is the pressure angle in the transverse section, in radians.
func (g Gear) transverse() float64 { return math.Atan(math.Tan(g.alpha()) / math.Cos(g.beta())) }

// baseHelix is the helix angle at the base circle, in radians.
func (g Gear) baseHelix() float64 { return math.Asin(math.Sin(g.beta()) * math.Cos(g.alpha())) }

// TransverseAngle is the pressure angle in the transverse section, in degrees.
func (g Gear) TransverseAngle() float64 { return g.transverse() / degree }

// PitchDiameter and BaseDiameter are in millimetres.
func (g Gear) PitchDiameter() float64 { return g.z() * g.Module / math.Cos(g.beta()) }

// BaseDiameter is that of the circle from which the involute unwinds.
func (g Gear) BaseDiameter() float64 { return g.PitchDiameter() * math.Cos(g.transverse()) }

// Thickness is the normal tooth thickness along the pitch circle, without any
// thinning for backlash.
func (g Gear) Thickness() float64 {
	return g.Module * (math.Pi/2 + 2*g.Shift*math.Tan(g.alpha()))
}

// Chord is the thickness of a tooth as a tooth caliper meets it.
type Chord struct {
	// Thickness is along the chord, Height the depth at which it is measured, from
	// the tip.
	Thickness, Height Length
	// HalfAngle is in degrees, VirtualTeeth the number in the normal section.
	HalfAngle, VirtualTeeth float64
}

// Chordal returns the chordal thickness of the teeth. Addendum is the height of
// the tip over the pitch circle.
func (g Gear) Chordal(addendum Length) (Chord, error) {
	if err := first(g.Check(), positive("addendum", addendum)); err != nil {
		return Chord{}, err
	}
	zv := g.z() / math.Pow(math.Cos(g.beta()), 3)
	half := g.Thickness() / (g.Module * zv)
	d := g.Module * zv
	return Chord{
		Thickness: Length(d * math.Sin(half)), Height: addendum + Length(d/2*(1-math.Cos(half))),
		HalfAngle: half / degree, VirtualTeeth: zv,
	}, nil
}

// ByChord returns the normal tooth thickness from a chordal thickness that was
// measured at the height of [Gear.Chordal].
func (g Gear) ByChord(chord Measured) (Measured, error) {
	if err := first(g.Check(), positive("chordal thickness", chord.Value)); err != nil {
		return Measured{}, err
	}
	d := g.Module * g.z() / math.Pow(math.Cos(g.beta()), 3)
	ratio := float64(chord.Value) / d
	if ratio >= 1 {
		return Measured{}, bad("chordal thickness", "%g mm is wider than the gear; check module and teeth", float64(chord.Value))
	}
	out, err := Sum(Term{Times: 1 / math.Sqrt(1-ratio*ratio), Of: chord})
	out.Value = Length(d * math.Asin(ratio))
	return out, first(err, plausibleThickness(g, out))
}

// RackThickness is the thickness of a rack's tooth on its pitch line.
func RackThickness(module float64) (Length, error) {
	return Length(module * math.Pi / 2), within("module", module, 0.1, 50)
}
