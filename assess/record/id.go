package record

import (
	"cmp"
	"fmt"
	"iter"
	"maps"
	"slices"

	"github.com/google/uuid"
)

// ID is a UUID version 7 in its usual lower-case text: unique in the world,
// never an index, never used again. The zero value names nothing.
type ID string

// NewID makes an id that sorts behind those made before it by this program.
func NewID() ID { return ID(uuid.Must(uuid.NewV7()).String()) }

// ParseID reads an id.
func ParseID(text string) (ID, error) {
	if !isID(text) {
		return "", fmt.Errorf("%q is not an id; an id is a UUID version 7 in lower case, such as 0197f3a0-1c2b-7def-8123-456789abcdef", text)
	}
	return ID(text), nil
}

// isID reports whether text is an id: the one form, not the several that a
// library for UUIDs reads, and of the variant of RFC 9562.
func isID(text string) bool {
	if len(text) != 36 || text[14] != '7' || text[19] < '8' || (text[19] > '9' && text[19] != 'a' && text[19] != 'b') {
		return false
	}
	for i := range len(text) {
		if dash := i == 8 || i == 13 || i == 18 || i == 23; dash != (text[i] == '-') || !dash && !isHex(text[i]) {
			return false
		}
	}
	return true
}

func isHex(b byte) bool { return b >= '0' && b <= '9' || b >= 'a' && b <= 'f' }

// hexHash reports whether text is a SHA-256 in lower-case hex.
func hexHash(text string) bool {
	for i := range len(text) {
		if !isHex(text[i]) {
			return false
		}
	}
	return len(text) == 64
}

// UnmarshalText reads an id.
func (id *ID) UnmarshalText(text []byte) error {
	parsed, err := ParseID(string(text))
	if err != nil {
		return err
	}
	*id = parsed
	return nil
}

// Compare orders ids by the time at which they were made.
func (id ID) Compare(other ID) int { return cmp.Compare(id, other) }

// InOrder yields a collection in the order of its ids, which is the order in
// which its members were made.
func InOrder[V any](collection map[ID]V) iter.Seq2[ID, V] {
	return func(yield func(ID, V) bool) {
		for _, id := range slices.SortedFunc(maps.Keys(collection), ID.Compare) {
			if !yield(id, collection[id]) {
				return
			}
		}
	}
}
