package booking

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"time"
)

// Link is a secret in an address that lets somebody in. Only its hash is kept.
type Link struct {
	Hash    [32]byte
	Purpose LinkPurpose
	Subject ID // person, farm or booking
	Expires time.Time
	Once    bool // good for one use
	Used    time.Time
	Created time.Time
}

// LinkPurpose says what a link opens.
type LinkPurpose string

// The purposes. A link never opens anything else.
const (
	ToSignIn  LinkPurpose = "sign in"      // Subject is a person; once
	ToFarm    LinkPurpose = "find farm"    // Subject is a farm; once
	ToBooking LinkPurpose = "open booking" // Subject is a booking; until it expires
)

// Secret is the part of an address that only its reader knows.
type Secret string

// NewSecret makes 256 random bits in URL-safe text.
func NewSecret() Secret {
	var raw [32]byte
	_, _ = rand.Read(raw[:]) // never fails: crypto/rand ends the program first
	return Secret(base64.RawURLEncoding.EncodeToString(raw[:]))
}

// Hash is what is kept of the secret.
func (s Secret) Hash() [32]byte { return sha256.Sum256([]byte(s)) }
