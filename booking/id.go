package booking

import "github.com/google/uuid"

// ID names one thing of one kind. Ids are UUIDv7 in their usual text form, so
// they sort by age and can be made on a phone without asking the server.
type ID string

// NewID makes an id.
func NewID() ID { return ID(uuid.Must(uuid.NewV7()).String()) }

// ParseID reads an id in its one canonical spelling; ok is false for anything else.
func ParseID(s string) (id ID, ok bool) {
	u, err := uuid.Parse(s)
	if err != nil || u.String() != s {
		return "", false
	}
	return ID(s), true
}
