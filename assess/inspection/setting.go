package inspection

import (
	"context"
	"errors"
	"fmt"

	"github.com/go-json-experiment/json"

	"fettlebook/assess/archive"
	"fettlebook/report"
)

// Shop is whose reports these are, as they print it.
type Shop = report.Shop

// shopSetting is the name under which the archive keeps the shop.
const shopSetting = "shop"

// Shop returns whose reports these are.
func (b *Bench) Shop(ctx context.Context) (Shop, error) {
	var s Shop
	return s, b.setting(ctx, shopSetting, &s)
}

// SetShop says whose reports these are.
func (b *Bench) SetShop(ctx context.Context, s Shop) error {
	value, err := json.Marshal(s)
	if err != nil {
		return fmt.Errorf("the shop's data: %w", err)
	}
	_, at, err := b.store.Setting(ctx, shopSetting)
	if err != nil && !errors.Is(err, archive.ErrNotFound) {
		return fmt.Errorf("the shop's data: %w", err)
	}
	_, err = b.store.SetSetting(ctx, shopSetting, at, value)
	return err
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
