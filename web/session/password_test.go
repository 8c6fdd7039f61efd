package session

import (
	"context"
	"strings"
	"testing"

	"drawbar/booking/fault"

	"github.com/alexedwards/argon2id"
)

var ctx = context.Background()

func TestPasswords(t *testing.T) {
	hash, err := HashPassword(ctx, "four grey sheep äöü")
	if err != nil {
		t.Fatal(err)
	}
	for password, want := range map[string]bool{"four grey sheep äöü": true, "four grey sheep": false, "": false, "Four grey sheep äöü": false} {
		if got, err := MatchPassword(ctx, password, hash); got != want || err != nil {
			t.Errorf("%q matches: %v, %v", password, got, err)
		}
	}
	again, err := HashPassword(ctx, "four grey sheep äöü")
	if err != nil || again == hash {
		t.Error("the same password has the same hash twice")
	}
}

// RFC 9106, section 4, second recommended option: 3 passes over 64 MiB in 4 lanes, with
// a salt of 128 and a tag of 256 bits.
func TestHashFollowsTheStandard(t *testing.T) {
	hash, err := HashPassword(ctx, "four grey sheep")
	if err != nil {
		t.Fatal(err)
	}
	p, salt, key, err := argon2id.DecodeHash(hash)
	if err != nil || p.Memory != 64*1024 || p.Iterations != 3 || p.Parallelism != 4 || len(salt) != 16 || len(key) != 32 {
		t.Errorf("%s: %v", hash, err)
	}
}

// Somebody who is not there is compared with a hash of the same cost, or the
// time of the answer would tell.
func TestUnknownPeopleCostTheSame(t *testing.T) {
	p, salt, key, err := argon2id.DecodeHash(nobody)
	if err != nil || p.Memory != params.Memory || p.Iterations != params.Iterations || p.Parallelism != params.Parallelism || len(salt) != 16 || len(key) != 32 {
		t.Errorf("%+v, %v", p, err)
	}
	if ok, err := MatchPassword(ctx, "four grey sheep", ""); ok || err != nil {
		t.Errorf("nobody's password matches: %v, %v", ok, err)
	}
}

func TestPasswordsThatWillNotDo(t *testing.T) {
	for _, password := range []string{"", "short", strings.Repeat("ä", 9), strings.Repeat("x", 201)} {
		if _, err := HashPassword(ctx, password); fault.FieldsOf(err)["password"] == "" {
			t.Errorf("%.10q is taken: %v", password, err)
		}
	}
	if ok, _ := MatchPassword(ctx, strings.Repeat("x", 100_000), nobody); ok {
		t.Error("an endless password matches")
	}
}

func TestWhoLeavesDoesNotWaitForATurn(t *testing.T) {
	gone, leave := context.WithCancel(ctx)
	leave()
	for range cap(hashing) {
		hashing <- struct{}{}
	}
	defer func() {
		for range cap(hashing) {
			<-hashing
		}
	}()
	if _, err := MatchPassword(gone, "four grey sheep", ""); err == nil {
		t.Error("a hash was made although all turns are taken")
	}
}
