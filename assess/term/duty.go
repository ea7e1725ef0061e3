package term

// Demand is how much a service asks of a surface.
type Demand string

// The demands, the lightest first.
const (
	Light  Demand = "light"
	Normal Demand = "normal"
	Hard   Demand = "hard"
)

// Demands lists the demands, the lightest first.
var Demands = []Demand{Light, Normal, Hard}

// UnmarshalText reads a demand.
func (d *Demand) UnmarshalText(text []byte) error { return read(d, "demand", Demands, text) }

// Rank returns 0 for light, 1 for normal, 2 for hard.
func (d Demand) Rank() int {
	switch d {
	case Normal:
		return 1
	case Hard:
		return 2
	}
	return 0
}

// DemandOf says what kind of demand a rule looks at.
type DemandOf string

// The kinds of demand.
const (
	Load     DemandOf = "load"
	Shifting DemandOf = "shifting"
)

// UnmarshalText reads a kind of demand.
func (d *DemandOf) UnmarshalText(text []byte) error {
	return read(d, "kind of demand", []DemandOf{Load, Shifting}, text)
}

// GearGroup is the group of gears that a surface serves.
type GearGroup string

// The gear groups. A surface that serves all gears meets the harder demand.
const (
	LowGears   GearGroup = "low" // first and reverse
	UpperGears GearGroup = "upper"
	AllGears   GearGroup = "all"
)

// UnmarshalText reads a gear group.
func (g *GearGroup) UnmarshalText(text []byte) error {
	return read(g, "gear group", []GearGroup{LowGears, UpperGears, AllGears}, text)
}

// Duty is the service that a part will see.
type Duty string

// The duties that are preset.
const (
	Yard     Duty = "yard"
	Road     Duty = "road"
	HardDuty Duty = "hard"
)

// Duties lists the preset duties, in the order in which they are shown.
var Duties = []Duty{Yard, Road, HardDuty}

// UnmarshalText reads a duty.
func (d *Duty) UnmarshalText(text []byte) error { return read(d, "duty", Duties, text) }

// demands of one kind in the two gear groups.
type demands struct{ low, upper Demand }

// A yard machine crawls: its synchronisers see little, its first and reverse
// see much (common practice, no source).
var dutyDemands = map[Duty]map[DemandOf]demands{
	Yard:     {Load: {Hard, Light}, Shifting: {Light, Light}},
	Road:     {Load: {Normal, Normal}, Shifting: {Normal, Normal}},
	HardDuty: {Load: {Hard, Hard}, Shifting: {Hard, Hard}},
}

// Demand returns what the duty asks of a surface in one gear group. The
// harder of the two counts for a surface that serves all gears. An unknown
// duty, and an unknown kind of demand, ask for the most.
func (d Duty) Demand(of DemandOf, group GearGroup) Demand {
	both, ok := dutyDemands[d][of]
	switch {
	case !ok:
		return Hard
	case group == LowGears:
		return both.low
	case group == UpperGears:
		return both.upper
	case both.low.Rank() > both.upper.Rank():
		return both.low
	}
	return both.upper
}
