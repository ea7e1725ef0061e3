package gauge

import "math"

// ToothWear is what measured teeth have lost.
type ToothWear struct {
	// Lost is the normal thickness lost, along the pitch circle.
	Lost Measured
	// Circumferential and Normal are the backlash that this adds.
	Circumferential, Normal Measured
	// Caution says what the comparison can't tell, empty where nothing.
	Caution string
}

// MakersThinning is the caution of a comparison with the nominal thickness.
const MakersThinning = "Against the nominal thickness: the maker thins new teeth for backlash by an amount that is not known here, so part of this was never there. An unworn reference part tells the wear."

// LostToNominal compares a measured thickness with the nominal one.
func (g Gear) LostToNominal(measured Measured) (ToothWear, error) {
	w, err := g.LostTo(Exactly(Length(g.Thickness())), measured)
	w.Caution = MakersThinning
	return w, err
}

// LostTo compares a measured thickness with that of the unworn reference, both by
// the same means. Below zero means that nothing is lost.
func (g Gear) LostTo(unworn, measured Measured) (ToothWear, error) {
	if err := first(g.Check(), positive("thickness of the unworn tooth", unworn.Value), positive("thickness of the tooth", measured.Value)); err != nil {
		return ToothWear{}, err
	}
	lost, err := Difference(unworn, measured)
	if err != nil {
		return ToothWear{}, err
	}
	w := ToothWear{Lost: lost}
	if w.Circumferential, err = Sum(Term{Times: 1 / math.Cos(g.beta()), Of: lost}); err != nil {
		return ToothWear{}, err
	}
	w.Normal, err = Sum(Term{Times: math.Cos(g.alpha()), Of: lost})
	return w, err
}

// Pair are two gears in mesh.
type Pair struct {
	A, B Gear
	// Centres is the distance of their axes.
	Centres Length
	// Thinning is the sum of what the teeth of both are thinner than nominal, in
	// normal thickness.
	Thinning Length
}

// Backlash is that of a pair, in millimetres.
type Backlash struct {
	// Circumferential is along the working pitch circles, Normal along the line of
	// action, Radial how far the axes could close up.
	Circumferential, Normal, Radial Length
	// WorkingAngle is the transverse pressure angle in mesh, in degrees.
	WorkingAngle float64
}

// Backlash returns the backlash of the pair; below zero the teeth are too thick
// for the distance. Both gears must be of one module, pressure angle and helix.
func (p Pair) Backlash() (Backlash, error) {
	if err := first(p.A.Check(), p.B.Check(), positive("distance of the axes", p.Centres), finite("thinning", p.Thinning)); err != nil {
		return Backlash{}, err
	}
	if p.A.Module != p.B.Module || p.A.PressureAngle != p.B.PressureAngle || math.Abs(p.A.Helix) != math.Abs(p.B.Helix) {
		return Backlash{}, bad("pair", "module, pressure angle and helix of the two gears differ: they can't mesh")
	}
	base := (p.A.BaseDiameter() + p.B.BaseDiameter()) / 2
	a := float64(p.Centres)
	if a <= base {
		return Backlash{}, bad("distance of the axes", "%g mm is less than these gears need; check module and teeth", a)
	}
	working := math.Acos(base / a)
	thinning := float64(p.Thinning) / math.Cos(p.A.beta())
	// Along the working pitch circles: the pitch less both teeth, where a tooth of
	// transverse thickness s at d has dw·(s/d + inv αt − inv αw).
	var teeth, pitch float64
	for _, g := range [...]Gear{p.A, p.B} {
		d := g.PitchDiameter()
		dw := g.BaseDiameter() / math.Cos(working)
		teeth += dw * (g.Thickness()/math.Cos(g.beta())/d + Involute(g.transverse()) - Involute(working))
		pitch = math.Pi * dw / g.z()
	}
	// What the teeth are thinner counts by how much wider the working circle is.
	j := pitch - teeth + thinning*a/(float64(p.A.PitchDiameter()+p.B.PitchDiameter())/2)
	return Backlash{
		Circumferential: Length(j),
		Normal:          Length(j * math.Cos(working) * math.Cos(p.A.baseHelix())),
		Radial:          Length(j / (2 * math.Tan(working))),
		WorkingAngle:    working / degree,
	}, nil
}
