package inspection

import (
	"context"
	"errors"
	"fmt"

	"github.com/go-json-experiment/json"

	"fettlebook/assess"
	"fettlebook/assess/archive"
	"fettlebook/report"
)

// Shop is whose reports these are, as they print it.
type Shop = report.Shop

// Wear says from which share of the wear allowance a part that conforms is no
// longer sound, and no longer serves under hard duty. Zero is the usual.
type Wear = assess.Wear

// UsualWear is what holds where the shop sets nothing.
func UsualWear() Wear { return assess.UsualWear() }

// The names under which the archive keeps the settings.
const (
	shopSetting = "shop"
	wearSetting = "wear"
)

// Shop returns whose reports these are.
func (b *Bench) Shop(ctx context.Context) (Shop, error) {
	var s Shop
	err := b.setting(ctx, shopSetting, &s)
	return s, err
}

// SetShop says whose reports these are.
func (b *Bench) SetShop(ctx context.Context, s Shop) error { return b.keepSetting(ctx, shopSetting, s) }

// Wear returns the shop's shares of the wear allowance.
func (b *Bench) Wear() Wear {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.wear
}

// SetWear sets the shop's shares of the wear allowance. Records that are being
// worked on are judged by them at once.
func (b *Bench) SetWear(ctx context.Context, w Wear) error {
	if err := w.Check(); err != nil {
		return err
	}
	if err := b.keepSetting(ctx, wearSetting, w); err != nil {
		return err
	}
	b.mu.Lock()
	b.wear = w
	b.mu.Unlock()
	for _, n := range b.atWork() {
		n.judgeAnew()
	}
	return nil
}

// setting reads a setting; one that was never set leaves into as it is.
func (b *Bench) setting(ctx context.Context, name string, into any) error {
	value, _, err := b.store.Setting(ctx, name)
	if errors.Is(err, archive.ErrNotFound) || (err == nil && len(value) == 0) {
		return nil
	}
	if err == nil {
		err = json.Unmarshal(value, into, json.RejectUnknownMembers(true))
	}
	if err != nil {
		return fmt.Errorf("the setting %q can't be read: %w", name, err)
	}
	return nil
}

func (b *Bench) keepSetting(ctx context.Context, name string, v any) error {
	value, err := json.Marshal(v)
	if err != nil {
		return fmt.Errorf("the setting %q: %w", name, err)
	}
	_, at, err := b.store.Setting(ctx, name)
	if err != nil && !errors.Is(err, archive.ErrNotFound) {
		return fmt.Errorf("the setting %q: %w", name, err)
	}
	_, err = b.store.SetSetting(ctx, name, at, value)
	return err
}
