package gauge

import (
	"errors"
	"slices"
	"strings"
)

// InstrumentKind is what sort of instrument it is.
type InstrumentKind string

// The kinds of instruments. A telescopic gauge carries a bore's size to a
// micrometer; its user's feel in that transfer outweighs the micrometer.
const (
	Micrometer      InstrumentKind = "micrometer"
	Caliper         InstrumentKind = "caliper"
	BoreGauge       InstrumentKind = "bore-gauge"
	DialIndicator   InstrumentKind = "dial-indicator"
	DepthGauge      InstrumentKind = "depth-gauge"
	FeelerGauge     InstrumentKind = "feeler-gauge"
	PlugGauge       InstrumentKind = "plug-gauge"
	TelescopicGauge InstrumentKind = "telescopic-gauge"
	SpanMicrometer  InstrumentKind = "span-micrometer"
	Pins            InstrumentKind = "pins"
)

// InstrumentKinds are all kinds, in the order in which they are offered.
var InstrumentKinds = []InstrumentKind{
	Micrometer, Caliper, BoreGauge, DialIndicator, DepthGauge, FeelerGauge, PlugGauge, TelescopicGauge, SpanMicrometer, Pins,
}

// Interval reports whether the kind says only that it goes in or does not.
func (k InstrumentKind) Interval() bool { return k == FeelerGauge || k == PlugGauge }

// Instrument is what a reading was taken with. Lengths that are zero are not
// known.
type Instrument struct {
	Kind   InstrumentKind
	Name   string
	Serial string
	// Resolution is the smallest step that it shows; of a set of feeler or plug
	// gauges it is not used.
	Resolution Length
	// Error is the maximum permissible error to either side; of feeler and plug
	// gauges and pins the tolerance of their size.
	Error Length
	// Repeatability is the standard deviation of one reading taken again and again
	// at one place by this hand, pooled from earlier work, and RepeatDoF its
	// degrees of freedom, zero where they are not known.
	Repeatability Length
	RepeatDoF     float64
	// Transfer is the standard uncertainty of carrying a size over by feel.
	Transfer Length
	// Calibrated and Due are days as YYYY-MM-DD; Certificate is its number.
	Calibrated  string
	Due         string
	Certificate string
	// Standard is the setting standard, such as a ring, that it is set to.
	Standard string
	// Expansion is its material's coefficient per kelvin; zero means steel.
	Expansion float64
	// Assumed names the fields that defaults filled; it is said wherever the
	// uncertainty is shown.
	Assumed []string
}

// usual are what an instrument in good order comes to where its owner says
// nothing: common practice of the bench, no source. Lengths in millimetres.
var usual = map[InstrumentKind]Instrument{
	Micrometer:      {Resolution: 0.01, Error: 0.004, Repeatability: 0.002},
	Caliper:         {Resolution: 0.01, Error: 0.03, Repeatability: 0.01},
	BoreGauge:       {Resolution: 0.001, Error: 0.004, Repeatability: 0.002},
	DialIndicator:   {Resolution: 0.01, Error: 0.015, Repeatability: 0.003},
	DepthGauge:      {Resolution: 0.01, Error: 0.005, Repeatability: 0.003},
	FeelerGauge:     {Error: 0.005},
	PlugGauge:       {Error: 0.002},
	TelescopicGauge: {Resolution: 0.01, Error: 0.004, Repeatability: 0.002, Transfer: 0.01},
	SpanMicrometer:  {Resolution: 0.01, Error: 0.004, Repeatability: 0.003},
	Pins:            {Resolution: 0.01, Error: 0.004, Repeatability: 0.003},
}

// Usual returns an instrument of a kind with nothing but defaults, all of them
// marked as assumed. An unknown kind gives an error.
func Usual(kind InstrumentKind) (Instrument, error) {
	if _, ok := usual[kind]; !ok {
		return Instrument{}, bad("instrument kind", "%q is not known; known are %s", shortened(string(kind)), kinds())
	}
	return Instrument{Kind: kind, Name: strings.ReplaceAll(string(kind), "-", " ")}.Completed()
}

func kinds() string {
	words := make([]string, len(InstrumentKinds))
	for i, k := range InstrumentKinds {
		words[i] = string(k)
	}
	return strings.Join(words, ", ")
}

// Completed returns the instrument with defaults where it says nothing, and
// names them in Assumed. An instrument of which neither kind nor resolution nor
// permissible error is known is refused: nothing can be said of what it shows.
func (in Instrument) Completed() (Instrument, error) {
	if err := in.Check(); err != nil {
		return Instrument{}, err
	}
	// A slice of its own: the caller's stays as it is.
	in.Assumed = slices.Clone(in.Assumed)
	like := usual[in.Kind]
	if in.Kind == "" {
		// Of an unnamed kind the one length that is known stands for the others.
		like.Error = max(in.Error, in.Resolution)
		like.Repeatability = like.Error / 2
	}
	fill := func(field string, l *Length, otherwise Length) {
		if *l == 0 && otherwise > 0 {
			*l = otherwise
			in.Assumed = append(in.Assumed, field)
		}
	}
	// An instrument is hardly better than the step that it shows.
	fill("permissible error", &in.Error, max(like.Error, in.Resolution))
	fill("resolution", &in.Resolution, like.Resolution)
	fill("repeatability", &in.Repeatability, like.Repeatability)
	fill("transfer", &in.Transfer, like.Transfer)
	return in, nil
}

// Check refuses an instrument with nothing in it, or with numbers that can't be.
func (in Instrument) Check() error {
	if in.Kind == "" && in.Resolution == 0 && in.Error == 0 {
		return &FieldError{Field: "instrument", Err: errors.New("is empty; say what kind it is, or its resolution and permissible error")}
	}
	if in.Kind != "" && !slices.Contains(InstrumentKinds, in.Kind) {
		return bad("instrument kind", "%q is not known; known are %s", shortened(string(in.Kind)), kinds())
	}
	return first(
		notNegative("instrument resolution", in.Resolution),
		notNegative("instrument permissible error", in.Error),
		notNegative("instrument repeatability", in.Repeatability),
		notNegative("instrument transfer", in.Transfer),
		within("instrument repeatability, degrees of freedom", in.RepeatDoF, 0, 1e9),
		within("instrument expansion", in.Expansion, 0, 1e-3),
		aDay("instrument calibrated", in.Calibrated), aDay("instrument calibration due", in.Due),
	)
}
