package fault_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"drawbar/booking/fault"
)

func ExampleFields() {
	fields := fault.Fields{}
	fields.Add("head", "Give the number of animals, from 1 to 20,000.")
	fields.Add("head", "A second message does not replace the first.")
	err := fields.Err()
	fmt.Println(fault.KindOf(err), fault.FieldsOf(err)["head"])
	// Output: invalid Give the number of animals, from 1 to 20,000.
}

func TestInternalErrorsAreNeverShown(t *testing.T) {
	secret := errors.New("dial tcp: password=hunter2")
	for _, err := range []error{secret, fault.Wrap(fault.Internal, secret, "raw detail"), fmt.Errorf("saving: %w", secret)} {
		if got := fault.Sentence(err); strings.Contains(got, "hunter2") || strings.Contains(got, "raw detail") {
			t.Errorf("Sentence(%v) shows %q", err, got)
		}
	}
}

func TestKindSurvivesWrapping(t *testing.T) {
	err := fmt.Errorf("store: %w", fault.New(fault.Conflict, "The rig is taken."))
	if !fault.Is(err, fault.Conflict) || fault.Is(nil, fault.Internal) {
		t.Errorf("kind of %v = %s", err, fault.KindOf(err))
	}
	if fault.Sentence(err) != "The rig is taken." {
		t.Errorf("sentence = %q", fault.Sentence(err))
	}
}

func TestCauseIsKept(t *testing.T) {
	cause := errors.New("row missing")
	if err := fault.Wrap(fault.NotFound, cause, "No such farm."); !errors.Is(err, cause) || !strings.Contains(err.Error(), "row missing") {
		t.Errorf("%v does not carry its cause", err)
	}
}

func TestFieldsMergeUnderPrefix(t *testing.T) {
	outer := fault.Fields{}
	if outer.Err() != nil {
		t.Fatal("no messages must be no error")
	}
	outer.Merge("mob.0.", fault.Fields{"head": "100 % too many"})
	if outer["mob.0.head"] != "100 % too many" {
		t.Errorf("merged = %v", outer)
	}
}
