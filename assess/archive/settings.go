package archive

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"regexp"

	"github.com/go-json-experiment/json/jsontext"
)

var settingForm = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?$`)

// Setting gives the newest value of a setting.
func (f *folder) Setting(ctx context.Context, name string) ([]byte, Revision, error) {
	value, at, err := newestSetting(ctx, f.read, name)
	if err == nil && at == 0 {
		err = fmt.Errorf("the setting %q %w", name, ErrNotFound)
	}
	return value, at, f.explain("read a setting", err)
}

func newestSetting(ctx context.Context, db asker, name string) (value []byte, at Revision, err error) {
	err = db.QueryRowContext(ctx, `SELECT value, revision FROM setting WHERE name = ? ORDER BY revision DESC LIMIT 1`, name).Scan(&value, &at)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, 0, nil
	}
	return value, at, err
}

// SetSetting keeps a new value of a setting; the old ones stay. A base that is
// not the newest revision is a *StaleError.
func (f *folder) SetSetting(ctx context.Context, name string, base Revision, value []byte) (Revision, error) {
	what := fmt.Sprintf("keep the setting %q", name)
	switch {
	case !settingForm.MatchString(name):
		return 0, f.explain(what, errors.New("its name may hold a-z, 0-9 and hyphens, 64 characters at most"))
	case !jsontext.Value(value).IsValid():
		return 0, f.explain(what, errors.New("its value is not JSON"))
	}
	if err := f.takeTurn(ctx); err != nil {
		return 0, f.explain(what, err)
	}
	defer f.giveTurn()
	ctx = context.WithoutCancel(ctx)
	err := inTransaction(ctx, f.write, func(tx *sql.Tx) error {
		_, at, err := newestSetting(ctx, tx, name)
		if err != nil {
			return err
		}
		if at != base {
			return &StaleError{Setting: name, Base: base, Newest: at}
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO setting (name, revision, value) VALUES (?, ?, ?)`, name, base+1, value)
		return err
	})
	if err != nil {
		return 0, f.explain(what, err)
	}
	_ = f.writeSettingBeside(name, value) // if it fails, the next opening does it
	return base + 1, nil
}

func (f *folder) writeSettingBeside(name string, value []byte) error {
	return writeWhole(f.path(settingsName), name+".json", value)
}

// writeSettingsBeside writes the settings whose newest value does not stand
// beside the database. There are few, so no list is kept of them.
func (f *folder) writeSettingsBeside(ctx context.Context) error {
	names, err := column[string](ctx, f.write, `SELECT DISTINCT name FROM setting`)
	if err != nil {
		return err
	}
	for _, name := range names {
		value, _, err := newestSetting(ctx, f.write, name)
		if err != nil {
			return err
		}
		beside, err := readWhole(f.path(settingsName, name+".json"))
		if err == nil && bytes.Equal(beside, value) {
			continue
		}
		_ = f.writeSettingBeside(name, value) // on a full disk the archive still opens
	}
	return nil
}
