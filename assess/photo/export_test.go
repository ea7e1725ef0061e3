package photo

import (
	"context"
	"errors"
	"time"
)

// DecodeHEICWithin decodes in a sandbox with a budget of the test's.
func DecodeHEICWithin(ctx context.Context, data []byte, memory int64, limit time.Duration) error {
	return withHEIC(ctx, heicBudget{memory, limit}, func(ctx context.Context, d *heicDecoder) error {
		_, err := d.decode(ctx, data)
		return err
	})
}

// TookTooLong tells whether a decoder was stopped by its budget.
func TookTooLong(err error) bool { return errors.Is(err, errHEICTime) }
