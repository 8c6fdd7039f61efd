package session

import (
	"context"
	"unicode/utf8"

	"drawbar/booking/fault"

	"github.com/alexedwards/argon2id"
)

// params follow RFC 9106, section 4, second recommended option: 64 MiB.
var params = &argon2id.Params{Memory: 64 * 1024, Iterations: 3, Parallelism: 4, SaltLength: 16, KeyLength: 32}

// hashing bounds how many hashes are made at once: each takes 64 MiB.
var hashing = make(chan struct{}, 2)

// Limits of a password, in characters.
const (
	ShortestPassword = 10
	longestPassword  = 200
)

// HashPassword checks and hashes a new password.
func HashPassword(ctx context.Context, password string) (string, error) {
	if n := utf8.RuneCountInString(password); n < ShortestPassword || n > longestPassword {
		f := fault.Fields{}
		f.Add("password", "Use %d to %d characters; a few words in a row are good.", ShortestPassword, longestPassword)
		return "", f.Err()
	}
	release, err := turn(ctx)
	if err != nil {
		return "", err
	}
	defer release()
	return argon2id.CreateHash(password, params)
}

// nobody is compared with where there is no such person, so that the answer
// takes as long.
const nobody = "$argon2id$v=19$m=65536,t=3,p=4$c29tZXNhbHRzb21lc2FsdA$5eq5cbBF1uNqUKpQYUvE6v0ZkHh4G3CPZ0p0ZC4x3nY"

// MatchPassword tells whether the password is the one that was hashed. An
// empty hash never matches.
func MatchPassword(ctx context.Context, password, hash string) (bool, error) {
	if utf8.RuneCountInString(password) > longestPassword {
		return false, nil
	}
	known := hash != ""
	if !known {
		hash = nobody
	}
	release, err := turn(ctx)
	if err != nil {
		return false, err
	}
	defer release()
	match, err := argon2id.ComparePasswordAndHash(password, hash)
	return match && known, err
}

// turn waits until a hash may be made.
func turn(ctx context.Context) (release func(), err error) {
	select {
	case hashing <- struct{}{}:
		return func() { <-hashing }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}
