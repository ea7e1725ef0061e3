package gauge

import (
	"fmt"
	"math"
)

// The names of the lines in the budget of a reading.
const (
	LineRepeatability = "repeatability"
	LineResolution    = "resolution"
	LineError         = "permissible error"
	LineTransfer      = "transfer of the size"
	LineDrift         = "drift of the zero"
	LineTemperature   = "temperature of the room"
	LineApart         = "part and instrument not equally warm"
	LineExpansion     = "coefficients of expansion"
	LineBlade         = "tolerance of the gauge"
)

// ofInstrument tells the lines that a better instrument would shrink.
func ofInstrument(line string) bool {
	return line == LineResolution || line == LineError || line == LineTransfer
}

// Value is one value of a reading and where it was taken.
type Value struct {
	Length Length
	// Position names the place along the part ("front"), Angle the place around it
	// in degrees. Values with one position and one angle are repeats; a value
	// without a position is a place of its own.
	Position string
	Angle    float64
}

// Reading is the values measured for one dimension with one instrument.
type Reading struct {
	Values []Value
	// Grows is true where wear makes the dimension larger: then the largest place
	// decides, otherwise the smallest.
	Grows      bool
	Instrument Instrument
	// Before and After are what the instrument showed on its zero or setting
	// standard, less what it should have shown; nil where nobody looked.
	Before, After *Length
	Temperatures  Temperatures
}

// Place is the mean of the repeats at one place.
type Place struct {
	Position string
	Angle    float64
	Mean     Length
	Repeats  int
}

// Result is what a reading comes to.
type Result struct {
	// Worst is the length at the worst place with its uncertainty, at 20 °C.
	Worst Measured
	// Where is that place.
	Where Place
	// Places are all places in the order of their first values.
	Places []Place
	Form   Form
	// Repeatability is the standard deviation of a single value, in millimetres,
	// with its degrees of freedom; FromRepeats says that it comes from this
	// reading, otherwise it is the pooled one.
	Repeatability Length
	RepeatDoF     float64
	FromRepeats   bool
	// Instrument is the one that counted, with defaults filled in.
	Instrument Instrument
	// Zero is the correction made for the zero check.
	Zero Length
	// Notes are what the person should know: defaults used, no zero check, …
	Notes []string
}

// enoughRepeats is from how many degrees of freedom on repeats of this reading
// speak for themselves: with four the deviation is known to a third. Fewer say
// less than what is pooled from earlier work.
const enoughRepeats = 4

// Evaluate comes to the length at the worst place and its uncertainty by the GUM:
// repeatability, resolution, permissible error, temperature. The scatter over
// places is form, not repeatability. Values must be above zero.
func (r Reading) Evaluate() (Result, error) {
	in, err := r.Instrument.Completed()
	if err != nil {
		return Result{}, err
	}
	if in.Kind.Interval() {
		return Result{}, bad("instrument kind", "a %s goes in or does not: enter the size that goes and the one that does not", in.Kind)
	}
	if len(r.Values) == 0 {
		return Result{}, &FieldError{Field: "values", Err: errMissing}
	}
	for i, v := range r.Values {
		if err := first(positive(fmt.Sprintf("value %d", i+1), v.Length), within(fmt.Sprintf("angle of value %d", i+1), v.Angle, -360, 360)); err != nil {
			return Result{}, err
		}
	}
	out := Result{Instrument: in}
	groups := r.places()
	out.repeatability(groups, in)
	for _, g := range groups {
		out.Places = append(out.Places, g.Place)
	}
	out.Where = out.Places[0]
	for _, p := range out.Places[1:] {
		if (p.Mean > out.Where.Mean) == r.Grows && p.Mean != out.Where.Mean {
			out.Where = p
		}
	}
	out.Form = formOf(groups, out.Repeatability, in.Resolution)
	if err := out.worst(r, in); err != nil {
		return Result{}, err
	}
	return out, nil
}

type group struct {
	Place
	values []float64
}

func (r Reading) places() []group {
	var groups []group
	for _, v := range r.Values {
		at := -1
		for i := range groups {
			if v.Position != "" && groups[i].Position == v.Position && sameAngle(groups[i].Angle, v.Angle) {
				at = i
				break
			}
		}
		if at < 0 {
			groups = append(groups, group{Place: Place{Position: v.Position, Angle: v.Angle}})
			at = len(groups) - 1
		}
		groups[at].values = append(groups[at].values, float64(v.Length))
	}
	for i := range groups {
		g := &groups[i]
		g.Repeats = len(g.values)
		g.Mean = Length(g.values[0])
		if g.Repeats > 1 {
			mean, _, err := Spread(g.values)
			if err == nil {
				g.Mean = Length(mean)
			}
		}
	}
	return groups
}

// sameAngle compares angles of a two-point measurement, where half a turn is the
// same place.
func sameAngle(a, b float64) bool {
	return math.Abs(math.Mod(a-b+3600, 180)) < 1e-9
}

// repeatability pools the spread of repeats over the places (GUM H.3.6 note;
// every place weighs by its degrees of freedom).
func (out *Result) repeatability(groups []group, in Instrument) {
	var squares, dof float64
	for _, g := range groups {
		if g.Repeats < 2 {
			continue
		}
		if _, s, err := Spread(g.values); err == nil {
			squares += s * s * float64(g.Repeats-1)
			dof += float64(g.Repeats - 1)
		}
	}
	if dof >= enoughRepeats || dof > 0 && in.Repeatability == 0 {
		out.Repeatability, out.RepeatDoF, out.FromRepeats = Length(math.Sqrt(squares/dof)), dof, true
		return
	}
	out.Repeatability, out.RepeatDoF = in.Repeatability, in.RepeatDoF
}

// worst makes the budget of the worst place.
func (out *Result) worst(r Reading, in Instrument) error {
	zero, drift, err := r.zero(in)
	if err != nil {
		return err
	}
	out.Zero = -zero
	at, warm, err := r.Temperatures.ByTemperature(out.Where.Mean-zero, in.Expansion)
	if err != nil {
		return err
	}
	key := in.key()
	budget := make([]Contribution, 0, 8)
	budget = append(budget,
		Contribution{Name: LineRepeatability, U: float64(out.Repeatability) / math.Sqrt(float64(out.Where.Repeats)), C: 1, DoF: out.RepeatDoF},
		Contribution{Name: LineResolution, U: ResolutionUncertainty(in.Resolution), C: 1},
		Contribution{Name: LineError, U: float64(in.Error) / Rectangular, C: 1, Shared: key},
	)
	if in.Transfer > 0 {
		budget = append(budget, Contribution{Name: LineTransfer, U: float64(in.Transfer), C: 1})
	}
	if drift > 0 {
		budget = append(budget, Contribution{Name: LineDrift, U: float64(drift) / Rectangular, C: 1})
	}
	out.Worst = Measured{Value: at, Resolution: in.Resolution, Budget: append(budget, warm...)}
	out.note(r, in)
	return out.Worst.Check("reading")
}

// key is what two readings by one instrument share.
func (in Instrument) key() string {
	switch {
	case in.Serial != "":
		return string(in.Kind) + " " + in.Serial
	case in.Name != "":
		return in.Name
	}
	return ""
}

// zero returns the mean error of the zero checks and half the drift between
// them. A zero that is off by more than the instrument may be wrong in all means
// that it must be set first.
func (r Reading) zero(in Instrument) (mean, drift Length, err error) {
	var sum Length
	n := 0
	for _, c := range [...]struct {
		name string
		off  *Length
	}{{"zero check before", r.Before}, {"zero check after", r.After}} {
		if c.off == nil {
			continue
		}
		if err := finite(c.name, *c.off); err != nil {
			return 0, 0, err
		}
		if off := Length(math.Abs(float64(*c.off))); off > in.Error+in.Resolution {
			return 0, 0, bad(c.name, "is off by %s, more than the instrument may be (%s); set it and measure again",
				off.Text(Millimetre, in.Resolution), in.Error.Text(Millimetre, in.Resolution))
		}
		sum += *c.off
		n++
	}
	if n == 0 {
		return 0, 0, nil
	}
	if n == 2 {
		drift = Length(math.Abs(float64(*r.After-*r.Before))) / 2
	}
	return sum / Length(n), drift, nil
}

func (out *Result) note(r Reading, in Instrument) {
	if len(in.Assumed) > 0 {
		out.Notes = append(out.Notes, "usual values were taken for the instrument's "+list(in.Assumed))
	}
	if r.Before == nil && r.After == nil {
		out.Notes = append(out.Notes, "the zero or setting was not checked")
	}
	if !r.Temperatures.Soaked && !r.Temperatures.Known {
		out.Notes = append(out.Notes, "nobody said whether part and instrument had soaked together")
	}
}

func list(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	text := words[0]
	for _, w := range words[1 : len(words)-1] {
		text += ", " + w
	}
	return text + " and " + words[len(words)-1]
}
