package term

// Zone is where on a surface a finding lies.
type Zone string

// The zones. Parts break in the stressed zone: root and shaft fillets,
// snap-ring grooves, keyways, spline run-outs.
const (
	WorkingFace  Zone = "working-face"
	StressedZone Zone = "stressed-zone"
	Elsewhere    Zone = "elsewhere"
)

// Zones lists the zones.
var Zones = []Zone{WorkingFace, StressedZone, Elsewhere}

// UnmarshalText reads a zone.
func (z *Zone) UnmarshalText(text []byte) error { return read(z, "zone", Zones, text) }

// Role is what a surface does.
type Role string

// The roles of surfaces.
const (
	Raceway         Role = "raceway"
	Journal         Role = "journal"
	Cone            Role = "cone"
	Flank           Role = "flank"
	EngagementTeeth Role = "engagement-teeth"
	Seat            Role = "seat"
	Spline          Role = "spline"
	Thread          Role = "thread"
	ThrustFace      Role = "thrust-face"
	Bush            Role = "bush"
	SealLand        Role = "seal-land"
	Body            Role = "body"
)

// Roles lists the roles of surfaces.
var Roles = []Role{
	Raceway, Journal, Cone, Flank, EngagementTeeth, Seat, Spline, Thread, ThrustFace, Bush, SealLand, Body,
}

// UnmarshalText reads a role.
func (r *Role) UnmarshalText(text []byte) error { return read(r, "role", Roles, text) }

// FlankSide tells which side of a tooth a finding is on.
type FlankSide string

// The sides of a tooth.
const (
	Drive FlankSide = "drive"
	Coast FlankSide = "coast"
)

// FlankSides lists the sides of a tooth.
var FlankSides = []FlankSide{Drive, Coast}

// UnmarshalText reads a side of a tooth.
func (f *FlankSide) UnmarshalText(text []byte) error {
	return read(f, "side of a tooth", FlankSides, text)
}
