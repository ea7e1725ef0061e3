package inspection

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
)

// Gauges are the shop's instruments and how readings are decided. A reading takes
// its instrument by value, so that the record still tells it when it was sold.
type Gauges struct {
	Instruments []record.Instrument `json:"instruments,omitempty"`
	// For remembers by dimension the name of the instrument that was used last.
	For map[string]string `json:"for,omitempty"`
	// OlderRule keeps the expanded uncertainty at k = 2 away from a limit, as the
	// older editions of ISO 14253-1 have it.
	OlderRule bool `json:"olderRule,omitzero"`
}

// Rule is the rule by which readings are decided.
func (g Gauges) Rule() gauge.Rule {
	if g.OlderRule {
		return gauge.ByU
	}
	return gauge.By95
}

// Called finds an instrument by what [InstrumentName] calls it.
func (g Gauges) Called(name string) (record.Instrument, bool) {
	i := slices.IndexFunc(g.Instruments, func(in record.Instrument) bool { return InstrumentName(in) == name })
	if i < 0 {
		return record.Instrument{}, false
	}
	return g.Instruments[i], true
}

// InstrumentName says which instrument it is: name and serial, or its kind.
func InstrumentName(in record.Instrument) string {
	name := firstOf(in.Name, strings.ReplaceAll(in.Kind, "-", " "))
	if in.Serial != "" {
		name += ", " + in.Serial
	}
	return name
}

// CheckInstrument says what can't be read or can't be of an instrument.
func CheckInstrument(in record.Instrument) error { return assess.CheckInstrument(in) }

// CheckDays says what is wrong with the days of an instrument's calibration.
func CheckDays(in record.Instrument) error { return assess.CheckDays(in) }

// CheckReading says what can't be read or can't be of a reading. Where one entry is
// at fault, it is a [gauge.FieldError].
func CheckReading(m record.Reading) error { return assess.CheckReading(m) }

// TypedLimit finds the limit that holds of those that were typed in for a dimension
// of a part: the newest that was not withdrawn.
func TypedLimit(r *record.Record, part record.ID, surface, dimension string) (record.ID, bool) {
	return assess.TypedLimit(r, part, surface, dimension)
}

// LimitSource says where a typed-in limit comes from, and by whose hand.
func LimitSource(r *record.Record, l record.Limit) string { return assess.LimitSource(r, l) }

const gaugesSetting = "gauges"

// Gauges returns the shop's instruments.
func (b *Bench) Gauges() Gauges {
	b.mu.Lock()
	defer b.mu.Unlock()
	g := b.gauges
	g.Instruments, g.For = slices.Clone(g.Instruments), maps.Clone(g.For)
	return g
}

// SetGauges keeps the shop's instruments and the rule. Two of one name and serial
// are refused, and so is one of which the numbers can't be. What is remembered by
// dimension stays: a reading may have been kept since g was asked for.
func (b *Bench) SetGauges(ctx context.Context, g Gauges) error {
	names := map[string]bool{}
	for _, in := range g.Instruments {
		name := InstrumentName(in)
		if names[name] {
			return fmt.Errorf("there are two instruments called %q; give each its serial", name)
		}
		names[name] = true
		if err := CheckInstrument(in); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return b.changeGauges(ctx, func(now *Gauges) {
		now.Instruments, now.OlderRule = slices.Clone(g.Instruments), g.OlderRule
	})
}

// changeGauges makes one change at a time of what the archive keeps of them.
func (b *Bench) changeGauges(ctx context.Context, change func(*Gauges)) error {
	b.gauging.Lock()
	defer b.gauging.Unlock()
	g := b.Gauges()
	was, had := g.Rule(), slices.Clone(g.Instruments)
	change(&g)
	if err := b.keepSetting(ctx, gaugesSetting, g); err != nil {
		return err
	}
	b.mu.Lock()
	b.gauges = g
	b.mu.Unlock()
	if was != g.Rule() || !slices.Equal(had, g.Instruments) {
		for _, n := range b.atWork() {
			n.judgeAnew()
		}
	}
	return nil
}

// UseFor remembers the instrument for a dimension of a kind of part.
func (b *Bench) UseFor(ctx context.Context, kind, surface, dimension string, in record.Instrument) error {
	g, key := b.Gauges(), dimensionKey(kind, surface, dimension)
	name := InstrumentName(in)
	if _, ok := g.Called(name); !ok || g.For[key] == name || b.ReadOnly() {
		return nil
	}
	return b.changeGauges(ctx, func(now *Gauges) {
		if now.For == nil {
			now.For = map[string]string{}
		}
		now.For[key] = name
	})
}

// LastFor returns the instrument that was last used for a dimension.
func (b *Bench) LastFor(kind, surface, dimension string) (record.Instrument, bool) {
	g := b.Gauges()
	return g.Called(g.For[dimensionKey(kind, surface, dimension)])
}

func dimensionKey(kind, surface, dimension string) string {
	return kind + "." + surface + "." + dimension
}

// Reading returns the gesture that notes a reading under an id: a new one, or in
// place of the one that is changed.
func (n *Inspection) Reading(id record.ID, m record.Reading) record.Gesture {
	if m.By == "" {
		m.By = n.bench.Who()
	}
	if m.At == (record.Stamp{}) {
		m.At = record.StampOf(n.bench.now())
	}
	values := make([]string, len(m.Values))
	for i, v := range m.Values {
		values[i] = gauge.WithUnit(v.Text, gauge.Unit(m.Unit))
	}
	says := fmt.Sprintf("%s of %s of %s measured: %s", strings.ReplaceAll(m.Dimension, "-", " "),
		n.SurfaceName(m.Part, m.Surface), strings.ToLower(n.PartName(m.Part)), strings.Join(values, ", "))
	return record.AddReading(says, id, m)
}

// TypeLimit returns the gesture that notes a wear limit out of the manual.
func (n *Inspection) TypeLimit(id record.ID, l record.Limit) record.Gesture {
	if l.By == "" {
		l.By = n.bench.Who()
	}
	says := fmt.Sprintf("limit of the %s of %s of %s typed in: %s (%s)", strings.ReplaceAll(l.Dimension, "-", " "),
		n.SurfaceName(l.Part, l.Surface), strings.ToLower(n.PartName(l.Part)), l.Discard, l.Manual)
	return record.AddLimit(says, id, l)
}
