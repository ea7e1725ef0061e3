package spec_test

import (
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// withUsers loads the program's own specs and a user's files over them.
func withUsers(t *testing.T, files map[string]string) (*spec.Set, []spec.Problem) {
	t.Helper()
	users := fstest.MapFS{}
	for name, text := range files {
		users[name] = &fstest.MapFile{Data: []byte(text)}
	}
	set, problems, err := spec.Load(os.DirFS(ownFolder), users)
	if err != nil {
		t.Fatal(err)
	}
	return set, problems
}

// good is a user's file that nothing is wrong with.
const good = `
[[kind]]
id = "user-washer"
name = "washer"
source = "the user"
  [[kind.surface]]
  id = "face"
  name = "face"
  role = "thrust-face"
  zones = ["working-face"]
  look = "Look at it."
  damages = ["wear"]
    [[kind.surface.dimension]]
    id = "thickness"
    name = "thickness"
`

// row is a user's row with the given lines put in.
func row(lines ...string) string {
	return "[[rule]]\nid = \"users\"\nreason = \"So says the user.\"\nsource = \"the user\"\nremedy = \"replace\"\nbecause = \"so\"\n" +
		strings.Join(lines, "\n") + "\n"
}

// unit is a user's unit with one place and the given lines put in.
func unit(lines ...string) string {
	return good + `
[[unit]]
id = "users"
name = "a unit"
rebuild_up_to = 45
donor_from = 30
source = "the user"
  [[unit.variant]]
  id = "A"
  name = "A"
  [[unit.place]]
  id = "washer"
  kind = "user-washer"
  name = "Washer"
` + strings.Join(lines, "\n") + "\n"
}

func limit(lines ...string) string {
	return unit("[[unit.limit]]", `place = "washer"`, `surface = "face"`, `dimension = "thickness"`, `source = "the user"`) +
		strings.Join(lines, "\n") + "\n"
}

// A bad file is refused with the line of a slip of the pen, or with the table
// and name of what makes no sense, and leaves all else in force.
func TestABadFileIsRefusedAndTheRestIsInForce(t *testing.T) {
	before := own(t)
	for name, c := range map[string]struct {
		text string
		line int
		says []string
	}{
		"syntax":            {"[[kind]]\nid = \"x\"\nname = \"no end\n", 3, nil},
		"a key unknown":     {"[[kind]]\nid = \"x\"\nnmae = \"x\"\n", 3, []string{`"nmae"`}},
		"a key's case":      {"[[kind]]\nID = \"x\"\n", 2, []string{`"ID"`}},
		"a table unknown":   {"[[kid]]\nid = \"x\"\n", 1, []string{`"kid"`}},
		"a table once":      {"[kind]\nid = \"x\"\n", 1, []string{"[[kind]]"}},
		"a word":            {"[[kind]]\nid = \"x\"\n[[kind.surface]]\nrole = \"konus\"\n", 4, []string{`"konus"`, "raceway", "thrust-face", "body"}},
		"a word in a list":  {"[[rule]]\nid = \"x\"\ndamage = [\n \"crack\",\n \"krack\",\n]\n", 5, []string{`"krack"`, "deposit", "jumps-out"}},
		"a verdict":         {"[[rule]]\nverdict = \"fine\"\n", 2, []string{`"fine"`, "sound", "condemned"}},
		"an inline word":    {"[[rule]]\nuntil_tested = { for = \"krack\" }\n", 2, []string{`"krack"`}},
		"a number's type":   {"[[unit]]\nrebuild_up_to = \"45\"\n", 2, []string{"whole number"}},
		"a text's type":     {"[[kind]]\nid = 3\n", 2, []string{"text"}},
		"a switch's type":   {"[[kind]]\ntorque = \"yes\"\n", 2, []string{"true or false"}},
		"a list's type":     {"[[kind]]\nwith = \"hub\"\n", 2, []string{"list"}},
		"no TOML at all":    {"PK\x03\x04\x00\x00", 1, nil},
		"too deep":          {"a = " + strings.Repeat("[", 100_000), 1, []string{"brackets"}},
		"a kind twice":      {good + good, 0, []string{`kind "user-washer"`, "twice"}},
		"no kind":           {strings.Replace(unit(), `kind = "user-washer"`, `kind = "whasher"`, 1), 0, []string{`unit "users"`, `place "washer"`, `no kind "whasher"`}},
		"no parent":         {unit(`inside = "gear"`), 0, []string{`place "washer"`, `no place "gear"`}},
		"no variant":        {limit(`discard = "2 mm"`, `variant = "B"`), 0, []string{`no variant "B"`}},
		"no dimension":      {strings.Replace(limit(`discard = "2 mm"`), `dimension = "thickness"`, `dimension = "width"`, 1), 0, []string{`no dimension "width"`}},
		"no length":         {limit(`discard = "two"`), 0, []string{`"two"`}},
		"a length in doubt": {limit(`discard = "1,850"`), 0, []string{`"1,850"`}},
		"the wrong side":    {limit(`nominal = "2 mm"`, `discard = "2.1 mm"`), 0, []string{"wrong side"}},
		"no discard":        {limit(`nominal = "2 mm"`), 0, []string{"discard"}},
		"no mates":          {unit("[[unit.mate]]", `a = "washer.face"`, `b = "washer.face"`), 0, []string{"names the other under mates"}},
		"no surface":        {unit("[[unit.mate]]", `a = "washer.rim"`, `b = "washer.face"`), 0, []string{"one of them is not there"}},
		"no cause":          {"[[damage]]\nid = \"wear\"\nplain = \"x\"\nsource = \"x\"\nconsistent = [\"gremlins\"]\n", 0, []string{`damage "wear"`, `"gremlins"`}},
		"a row for no kind": {row(`kind = ["whasher"]`, `damage = ["wear"]`, `severity = ["felt"]`, `verdict = "condemned"`), 0, []string{`rule "users"`, `no kind "whasher"`}},
		"a row for no unit": {row(`unit = ["tw5"]`, `damage = ["wear"]`, `severity = ["felt"]`, `verdict = "condemned"`), 0, []string{`no unit "tw5"`}},
		"the wrong scale":   {row(`role = ["flank"]`, `damage = ["crack"]`, `severity = ["felt"]`, `verdict = "condemned"`), 0, []string{`crack is not told as "felt"`}},
		"two forms":         {row(`role = ["flank"]`, `damage = ["wear"]`, `severity = ["felt"]`, `verdict = "condemned"`, `light = "usable"`), 0, []string{"either verdict, or light"}},
		"no next":           {row(`role = ["flank"]`, `damage = ["wear"]`, `severity = ["felt"]`, `verdict = "undecided"`), 0, []string{"needs next"}},
		"a pair of one":     {"[[pair]]\nid = \"x\"\nname = \"x\"\nsource = \"x\"\nhow = \"x\"\na = [\"hub.bore-spline\"]\n", 0, []string{`pair "x"`, "a and b"}},
		"a kind two ways":   {"[[pair]]\nid = \"x\"\nname = \"x\"\nsource = \"x\"\nhow = \"x\"\na = [\"hub.bore-spline\"]\nb = [\"main-shaft.hub-spline-2\", \"main-shaft.hub-spline-34\"]\n", 0, []string{"two surfaces"}},
		"a test of nothing": {row(`role = ["flank"]`, `damage = ["wear"]`, `severity = ["felt"]`, `verdict = "usable"`, `until_tested = { for = "wear", by = ["gauge"], light = "undecided", normal = "undecided", hard = "undecided", next = "x" }`), 0, []string{"can't be looked for and not found"}},
		"kinder untested":   {row(`role = ["flank"]`, `damage = ["wear"]`, `severity = ["felt"]`, `verdict = "condemned"`, `until_tested = { for = "crack", by = ["penetrant"], light = "usable", normal = "usable", hard = "usable", next = "x" }`), 0, []string{"kinder before the test"}},
		"no pair to try":    {row(`role = ["flank"]`, `damage = ["wear"]`, `severity = ["felt"]`, `verdict = "usable"`, `until_tested = { for = "crack", by = ["penetrant"], fit = ["x"], light = "undecided", normal = "undecided", hard = "undecided", next = "x" }`), 0, []string{`no pair "x"`}},
	} {
		t.Run(name, func(t *testing.T) {
			set, problems := withUsers(t, map[string]string{"a/bad.toml": c.text, "good.toml": good})
			if len(problems) == 0 {
				t.Fatal("it was taken")
			}
			if problems[0].File != "a/bad.toml" || problems[0].Line != c.line {
				t.Errorf("%+v, want line %d of a/bad.toml", problems[0], c.line)
			}
			if c.line == 0 && problems[0].Where == "" {
				t.Errorf("%+v names no table", problems[0])
			}
			told := fmt.Sprint(problems)
			for _, word := range c.says {
				if !strings.Contains(told, word) {
					t.Errorf("%s does not say %s", told, word)
				}
			}
			if _, ok := set.Kind("user-washer"); !ok {
				t.Error("the good file is not in force")
			}
			if len(set.Rules()) != len(before.Rules()) || len(set.Units()) != len(before.Units()) {
				t.Error("the bad file left something behind")
			}
		})
	}
}

func TestAllMistakesOfAFileAreToldAtOnce(t *testing.T) {
	_, problems := withUsers(t, map[string]string{"bad.toml": "[[kind]]\nnmae = \"x\"\ntorque = 1\n[[kind.surface]]\nrole = \"konus\"\n"})
	var lines []int
	for _, p := range problems {
		lines = append(lines, p.Line)
	}
	if fmt.Sprint(lines) != "[2 3 5]" {
		t.Errorf("the lines are %v: %v", lines, problems)
	}
}

func TestATableWithAnIdThatIsThereTakesItsPlace(t *testing.T) {
	set, problems := withUsers(t, map[string]string{
		"damage.toml": "[[damage]]\nid = \"wear\"\nplain = \"The user's own words.\"\nsource = \"the user\"\n",
		"kind.toml":   strings.ReplaceAll(good, "user-washer", "lock-nut"),
		"rule.toml": strings.Replace(row(`role = ["seal-land"]`, `damage = ["wear", "scoring"]`, `severity = ["seen"]`, `verdict = "usable"`),
			`"users"`, `"seal-land-band"`, 1),
		"pair.toml": "[[pair]]\nid = \"ring-on-cone\"\nname = \"the user's\"\nhow = \"x\"\nsource = \"x\"\na = [\"blocking-ring.cone\"]\nb = [\"input-shaft.cone\"]\n" +
			"[[pair.outcome]]\nid = \"y\"\nverdict = \"sound\"\nreason = \"x\"\n[[pair.outcome]]\nid = \"z\"\nverdict = \"sound\"\nreason = \"x\"\n",
		"unit.toml": strings.Replace(unit(), `id = "users"`, `id = "four-speed"`, 1),
	})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if d, _ := set.Damage(term.Wear); d.Plain != "The user's own words." {
		t.Errorf("the damage says %q", d.Plain)
	}
	if k, _ := set.Kind("lock-nut"); k.Name != "washer" || set.From("kind", "lock-nut") != "kind.toml" {
		t.Errorf("the kind is %q of %s", k.Name, set.From("kind", "lock-nut"))
	}
	if p, _ := set.Pair("ring-on-cone"); p.Name != "the user's" {
		t.Errorf("the pair is %q", p.Name)
	}
	if u, _ := set.Unit("four-speed"); len(u.Places) != 1 {
		t.Errorf("the unit has %d places", len(u.Places))
	}
	r := set.Decide(spec.Case{Kind: "output-flange", Surface: "seal-land", Role: term.SealLand, Damage: term.Wear, Severity: term.Seen, Zone: term.WorkingFace, Share: -1})
	if r == nil || r.At(term.Light) != term.Usable || len(set.Rules()) != len(own(t).Rules()) {
		t.Errorf("the row is %+v", r)
	}
}

func TestNothingLoosensTheSafetySet(t *testing.T) {
	n := 0
	for _, d := range term.Damages {
		if !term.Safety(d, term.Present, term.WorkingFace) {
			continue
		}
		n++
		damage, severity := fmt.Sprintf(`damage = [%q]`, d), `severity = ["present"]`
		for where, lines := range map[string][]string{
			"everywhere":        {`verdict = "usable"`},
			"a role":            {`role = ["flank"]`, `verdict = "sound"`},
			"a kind":            {`kind = ["constant-mesh-gear"]`, `verdict = "usable"`},
			"a surface":         {`kind = ["constant-mesh-gear"]`, `surface = ["flanks"]`, `by = "load"`, `light = "usable"`, `normal = "condemned"`, `hard = "condemned"`},
			"a stressed zone":   {`role = ["flank"]`, `zone = ["stressed-zone"]`, `verdict = "usable"`},
			"a unit":            {`unit = ["four-speed"]`, `verdict = "usable"`},
			"a test beforehand": {`role = ["flank"]`, `verdict = "usable"`, `until_tested = { for = "crack", by = ["penetrant"], light = "condemned", normal = "condemned", hard = "condemned", next = "x" }`},
		} {
			_, problems := withUsers(t, map[string]string{"users.toml": row(append(lines, damage, severity)...)})
			if len(problems) == 0 || !strings.Contains(problems[0].Error(), "safety set") {
				t.Errorf("%s, %s: %v", d, where, problems)
			}
		}
	}
	if n != 7 {
		t.Errorf("the safety set holds %d kinds of damage, want 7", n)
	}
}

func TestRowsThatContradictAreRefused(t *testing.T) {
	const flank = `kind = ["constant-mesh-gear"]` + "\n" + `surface = ["flanks"]` + "\n" + `damage = ["scoring"]` + "\n"
	other := func(text string) string { return strings.Replace(text, `"users"`, `"others"`, 1) }
	for name, c := range map[string]struct{ text, says string }{
		"a harder demand judged more kindly": {
			row(flank, `severity = ["deep"]`, `by = "load"`, `light = "condemned"`, `normal = "usable"`, `hard = "usable"`), "a harder demand is judged more kindly"},
		"a worse severity judged more kindly": {
			row(flank, `severity = ["seen"]`, `verdict = "condemned"`) + other(row(flank, `severity = ["felt"]`, `verdict = "usable"`)), "more kindly"},
		"a worse severity judged more kindly than a role's row": {
			row(flank, `severity = ["seen"]`, `verdict = "condemned"`), "more kindly"},
		"a larger share judged more kindly": {
			row(flank, `severity = ["deep"]`, `verdict = "condemned"`, `max_share = 5`), "a smaller share"},
		"two rows of equal width": {
			row(flank, `severity = ["seen", "felt"]`, `verdict = "usable"`) + other(row(flank, `severity = ["felt", "deep"]`, `verdict = "condemned"`)), "disagrees"},
		"a kind's row without because": {
			strings.Replace(row(flank, `severity = ["deep"]`, `verdict = "condemned"`), `because = "so"`, "", 1), "needs because"},
		"a unit's row without because": {
			strings.Replace(row(`unit = ["four-speed"]`, `damage = ["scoring"]`, `severity = ["deep"]`, `verdict = "condemned"`), `because = "so"`, "", 1), "needs because"},
	} {
		_, problems := withUsers(t, map[string]string{"users.toml": c.text})
		if len(problems) == 0 || !strings.Contains(problems[0].Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, problems, c.says)
		}
	}
}

func TestTheNarrowerRowWins(t *testing.T) {
	at := spec.Case{Kind: "constant-mesh-gear", Surface: "flanks", Role: term.Flank, Damage: term.Scoring, Severity: term.Deep, Zone: term.WorkingFace, Share: -1, Unit: "four-speed"}
	named := func(id string, lines ...string) string {
		lines = append(lines, `damage = ["scoring"]`, `severity = ["deep"]`, `verdict = "condemned"`)
		return strings.Replace(row(lines...), `"users"`, fmt.Sprintf("%q", id), 1)
	}
	var text string
	want := "flank-scoring-deep"
	for _, next := range []struct{ id, text string }{
		{"the role's own zone", named("the role's own zone", `role = ["flank"]`, `zone = ["working-face"]`)},
		{"a kind", named("a kind", `kind = ["constant-mesh-gear"]`)},
		{"a kind and a zone", named("a kind and a zone", `kind = ["constant-mesh-gear"]`, `zone = ["working-face"]`)},
		{"a surface", named("a surface", `kind = ["constant-mesh-gear"]`, `surface = ["flanks"]`)},
		{"a unit", named("a unit", `unit = ["four-speed"]`)},
		{"a unit's kind", named("a unit's kind", `unit = ["four-speed"]`, `kind = ["constant-mesh-gear"]`)},
	} {
		set, problems := withUsers(t, map[string]string{"users.toml": text})
		if r := set.Decide(at); len(problems) > 0 || r == nil || r.ID != want {
			t.Errorf("got %v (%v), want %q", r, problems, want)
		}
		text, want = text+next.text, next.id
	}
	set, _ := withUsers(t, map[string]string{"users.toml": text})
	if r := set.Decide(at); r.ID != want {
		t.Errorf("got %q, want %q", r.ID, want)
	}
	at.Unit = "another"
	if r := set.Decide(at); r.ID != "a surface" {
		t.Errorf("in another unit: got %q", r.ID)
	}
}

func TestFilesThatAreNoSpecsAreNotRead(t *testing.T) {
	big := "# " + strings.Repeat("x", 4<<20) + "\n" + good
	set, problems := withUsers(t, map[string]string{"big.toml": big, "note.txt": "no spec", "good.toml": good})
	if len(problems) != 1 || problems[0].File != "big.toml" || !strings.Contains(problems[0].Text, "4 MB") {
		t.Errorf("%v", problems)
	}
	if _, ok := set.Kind("user-washer"); !ok {
		t.Error("the good file is not in force")
	}
	if _, found := spec.Parse("big.toml", []byte(big)); len(found) == 0 {
		t.Error("a file of over 4 MB was parsed")
	}
}

// locked is a file system of which one entry can't be opened, as if it belonged
// to somebody else.
type locked struct {
	fs.FS
	name string
}

func (l locked) Open(name string) (fs.File, error) {
	if name == l.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return l.FS.Open(name)
}

func (l locked) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == l.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return fs.ReadDir(l.FS, name)
}

func TestWhatCantBeReadIsToldAndTheRestIsInForce(t *testing.T) {
	files := fstest.MapFS{
		"good.toml":      {Data: []byte(good)},
		"mine/lost.toml": {Data: []byte("[[kind]]\n")},
	}
	for _, name := range []string{".", "mine", "mine/lost.toml"} {
		set, problems, err := spec.Load(os.DirFS(ownFolder), locked{files, name})
		if err != nil || len(problems) != 1 || problems[0].File != name || !strings.Contains(problems[0].Text, "can't be read") {
			t.Errorf("%s: %v %v", name, problems, err)
			continue
		}
		_, ok := set.Kind("user-washer")
		if want := name != "."; ok != want {
			t.Errorf("%s: the good file is in force: %v", name, ok)
		}
		if _, ok := set.Kind("input-shaft"); !ok {
			t.Errorf("%s: the program's own specs are not in force", name)
		}
	}
}

func TestAFolderThatIsNotThereIsNoProblem(t *testing.T) {
	set, problems, err := spec.Load(os.DirFS(ownFolder), os.DirFS(t.TempDir()+"/none"))
	if err != nil || len(problems) > 0 || set == nil {
		t.Errorf("%v %v", problems, err)
	}
}

func TestTheProgramsOwnSpecsMustBeSound(t *testing.T) {
	for name, text := range map[string]string{"syntax": "[[kind", "meaning": row(`kind = ["none"]`)} {
		set, problems, err := spec.Load(fstest.MapFS{"own.toml": {Data: []byte(text)}}, nil)
		if err == nil || set != nil || len(problems) == 0 {
			t.Errorf("%s: %v %v %v", name, set, problems, err)
		}
	}
}

func TestCheckOneTellsWhatLoadWouldRefuse(t *testing.T) {
	if found, err := spec.CheckOne(os.DirFS(ownFolder), "good.toml", []byte(good)); err != nil || len(found) > 0 {
		t.Errorf("%v %v", found, err)
	}
	bad := row(`kind = ["whasher"]`, `damage = ["wear"]`, `severity = ["felt"]`, `verdict = "condemned"`)
	found, err := spec.CheckOne(os.DirFS(ownFolder), "mine.toml", []byte(bad))
	if err != nil || len(found) != 1 || found[0].Error() != `mine.toml: rule "users": there is no kind "whasher"` {
		t.Errorf("%v %v", found, err)
	}
}
