package record

import (
	"fmt"

	"github.com/google/uuid"
)

// ID is a UUID version 7 in its usual lower-case text: unique in the world,
// never an index, never used again. The zero value names nothing.
type ID string

// NewID makes an id that sorts behind those made before it.
func NewID() ID { return ID(uuid.Must(uuid.NewV7()).String()) }

// ParseID reads an id.
func ParseID(text string) (ID, error) {
	u, err := uuid.Parse(text)
	if err != nil || u.Version() != 7 || u.String() != text {
		return "", fmt.Errorf("%q is not an id; an id is a UUID version 7 in lower case, such as 0197f3a0-1c2b-7def-8123-456789abcdef", text)
	}
	return ID(text), nil
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
