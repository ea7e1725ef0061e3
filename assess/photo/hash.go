package photo

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
)

// Hash is the SHA-256 of a file's bytes as 64 lower-case hexadecimal digits.
// It names an original for good.
type Hash string

// ParseHash returns s as a Hash, or an error when s is not 64 lower-case
// hexadecimal digits. Capitals are refused, so that equal files have equal
// names everywhere.
func ParseHash(s string) (Hash, error) {
	if len(s) != 2*sha256.Size {
		return "", fmt.Errorf("hash %.80q: %d characters instead of %d; copy it whole", s, len(s), 2*sha256.Size)
	}
	for i := range len(s) {
		if c := s[i]; (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return "", fmt.Errorf("hash %q: character %d is not one of 0-9 and a-f; copy it again", s, i+1)
		}
	}
	return Hash(s), nil
}

// HashOf reads r to its end and returns the hash of its bytes and their
// number. It holds a fixed small amount of memory and stops when ctx is
// done.
func HashOf(ctx context.Context, r io.Reader) (Hash, int64, error) {
	h := sha256.New()
	buf := make([]byte, 256<<10)
	var n int64
	for {
		if err := ctx.Err(); err != nil {
			return "", n, fmt.Errorf("hash: stopped before it was finished: %w", err)
		}
		k, err := r.Read(buf)
		h.Write(buf[:k])
		n += int64(k)
		if err == io.EOF {
			return Hash(hex.EncodeToString(h.Sum(nil))), n, nil
		}
		if err != nil {
			return "", n, err
		}
	}
}
