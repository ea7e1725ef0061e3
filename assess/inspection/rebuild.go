package inspection

import (
	"context"
	"os"
	"path/filepath"
	"time"

	"fettlebook/assess"
	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

// Rebuild makes an archive's database again from what is left of it, with the
// register as the specs in force have it. It returns what was lost.
func Rebuild(ctx context.Context, dir, who string) ([]archive.Damage, error) {
	specs, _, err := LoadSpecs(filepath.Join(dir, specsFolder))
	if err != nil {
		return nil, err
	}
	if who == "" {
		who = systemUser()
	}
	bench, err := os.Hostname()
	if err != nil {
		bench = "unnamed bench"
	}
	meta := record.Meta{At: record.StampOf(time.Now()), Who: who, Bench: bench}
	return archive.Rebuild(ctx, dir, meta, func(r *record.Record) Row {
		return row(r, assess.Assess(assess.Case{Record: r}, specs, r.Duty), meta.At.UTC)
	})
}
