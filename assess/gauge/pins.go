package gauge

import "math"

// Pin is a pair of pins or balls laid into opposite tooth spaces.
type Pin struct {
	Diameter Length
	// Ball says that they are balls. Over helical teeth of an odd number only
	// balls give a size that can be computed.
	Ball bool
}

// half is half the angle between the two pins' opposite and where they lie: zero
// for an even number of teeth.
func (g Gear) across() float64 {
	if g.Teeth%2 == 0 {
		return 1
	}
	return math.Cos(math.Pi / (2 * g.z()))
}

func (g Gear) checkPin(p Pin) error {
	if err := first(g.Check(), positive("pin diameter", p.Diameter)); err != nil {
		return err
	}
	if g.Teeth%2 == 1 && g.Helix != 0 && !p.Ball {
		return bad("pins", "over helical teeth of an odd number pins do not lie true; take balls, or span teeth")
	}
	if ratio := float64(p.Diameter) / g.Module; ratio < 1 || ratio > 3 {
		return bad("pin diameter", "%g mm does not suit a module of %g; about %.2f mm does", float64(p.Diameter), g.Module, 1.7*g.Module)
	}
	return nil
}

// contact is the pressure angle at the pin's middle, in radians.
func (g Gear) contact(p Pin) float64 {
	inv := Involute(g.transverse()) + float64(p.Diameter)/(g.z()*g.Module*math.Cos(g.alpha())) -
		math.Pi/(2*g.z()) + 2*g.Shift*math.Tan(g.alpha())/g.z()
	if inv <= 0 {
		return math.NaN()
	}
	return InverseInvolute(inv)
}

// OverPins returns the size over two pins or balls and the pressure angle at
// their middles in degrees.
func (g Gear) OverPins(p Pin) (size Length, contact float64, err error) {
	if err := g.checkPin(p); err != nil {
		return 0, 0, err
	}
	phi := g.contact(p)
	if math.IsNaN(phi) {
		return 0, 0, bad("pin diameter", "%g mm falls to the bottom of the tooth space; take thicker pins", float64(p.Diameter))
	}
	m := g.BaseDiameter()/math.Cos(phi)*g.across() + float64(p.Diameter)
	return Length(m), phi / degree, nil
}

// IdealPin returns the diameter of pins that touch at the pitch circle shifted by
// the profile shift, where they tell the thickness best.
func (g Gear) IdealPin() (Length, error) {
	if err := g.Check(); err != nil {
		return 0, err
	}
	// In the normal section, with as many teeth as would lie on its circle.
	zv := g.z() / math.Pow(math.Cos(g.beta()), 3)
	a := g.alpha()
	half := math.Pi/(2*zv) - Involute(a) - 2*g.Shift*math.Tan(a)/zv
	at := math.Acos(math.Min(1, zv*math.Cos(a)/(zv+2*g.Shift)))
	phi := math.Tan(at) + half
	return Length(zv * g.Module * math.Cos(a) * (Involute(phi) + half)), nil
}

// ByPins returns the normal tooth thickness from a measured size over pins. The
// error of the pins must be in the budget of the size or be negligible.
func (g Gear) ByPins(p Pin, size Measured) (Measured, error) {
	if err := first(g.checkPin(p), positive("size over pins", size.Value)); err != nil {
		return Measured{}, err
	}
	thickness := func(m float64) float64 {
		centre := (m - float64(p.Diameter)) / g.across()
		if centre <= g.BaseDiameter() {
			return math.NaN()
		}
		phi := math.Acos(g.BaseDiameter() / centre)
		x := (Involute(phi) - Involute(g.transverse()) - float64(p.Diameter)/(g.z()*g.Module*math.Cos(g.alpha())) + math.Pi/(2*g.z())) *
			g.z() / (2 * math.Tan(g.alpha()))
		gear := g
		gear.Shift = x
		return gear.Thickness()
	}
	m := float64(size.Value)
	at := thickness(m)
	if math.IsNaN(at) {
		return Measured{}, bad("size over pins", "%s is less than pins of %g mm can give on this gear; check both", size.Value.Text(Millimetre, Micrometre), float64(p.Diameter))
	}
	const h = 1e-6
	slope := (thickness(m+h) - thickness(m-h)) / (2 * h)
	if math.IsNaN(slope) {
		slope = 0
	}
	out, err := Sum(Term{Times: slope, Of: size})
	out.Value = Length(at)
	return out, first(err, plausibleThickness(g, out))
}
