package lesson

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/booking/pace/learn"
	"drawbar/jobs"
)

// Teacher learns from the dockets and keeps the model in use up to date.
type Teacher struct {
	Trade   booking.Store
	Dockets jobs.Store
	Current *pace.Current
	Now     func() time.Time
}

// settles is how long after signing nothing more is awaited.
const settles = 12 * time.Hour

// batch is how many dockets are looked at in one go.
const batch = 200

// Teach takes the time of new dockets, learns again where anything has changed,
// and puts the newest model to use.
func (t *Teacher) Teach(ctx context.Context) error {
	if err := t.take(ctx); err != nil {
		return err
	}
	priors, basis, err := t.basis(ctx)
	if err != nil {
		return err
	}
	last, err := t.Trade.PaceModel(ctx)
	if err != nil {
		return err
	}
	if last.Basis != basis {
		err = t.learn(ctx, priors, basis)
	}
	if err != nil && !fault.Is(err, fault.Conflict) { // another process was faster
		return err
	}
	return t.Refresh(ctx)
}

// basis is the table of base values, and a text that changes with all that a
// model rests on.
func (t *Teacher) basis(ctx context.Context) (pace.Priors, string, error) {
	priors, err := t.Priors(ctx)
	if err != nil {
		return priors, "", err
	}
	table, err := json.Marshal(priors)
	if err != nil {
		return priors, "", err
	}
	mark, err := t.Dockets.TimingMark(ctx)
	sum := sha256.Sum256(table)
	return priors, mark + " " + hex.EncodeToString(sum[:8]), err
}

// Priors is the table the business's estimates stand on.
func (t *Teacher) Priors(ctx context.Context) (pace.Priors, error) {
	own, err := t.Trade.BaseTimes(ctx)
	return booking.Priors(own), err
}

func (t *Teacher) learn(ctx context.Context, priors pace.Priors, basis string) error {
	dockets, err := t.Dockets.Timings(ctx)
	if err != nil {
		return err
	}
	r, err := learn.Learn(priors, dockets)
	if err != nil {
		return err
	}
	m := booking.PaceModel{Made: t.Now(), Basis: basis, Dockets: len(dockets) - len(r.Unused), Learned: r.Learned, Looks: looks(r)}
	return t.Trade.KeepPaceModel(ctx, &m)
}

func looks(r learn.Result) []booking.Look {
	var all []booking.Look
	for _, odd := range r.Odd {
		all = append(all, booking.Look{Docket: booking.ID(odd.ID), Sentence: odd.Sentence})
	}
	for _, u := range r.Unused {
		all = append(all, booking.Look{Docket: booking.ID(u.ID), Sentence: "Nothing is learned from its time. " + reason(u.Err)})
	}
	return all
}

func reason(err error) string {
	var bad *pace.Error
	if errors.As(err, &bad) {
		return bad.Sentence
	}
	return err.Error()
}

// Refresh puts the newest model to use, if it is not yet. One that an older
// program has learned and that does not fit is left aside until the next
// lesson.
func (t *Teacher) Refresh(ctx context.Context) error {
	version, err := t.Trade.PaceVersion(ctx)
	if err != nil || version == t.Current.Version() && version > 0 {
		return err
	}
	priors, err := t.Priors(ctx)
	if err != nil {
		return err
	}
	kept, err := t.Trade.PaceModel(ctx)
	if err != nil {
		return err
	}
	m, err := pace.NewModel(priors, kept.Learned)
	if err != nil {
		kept.Version = 0
		m, err = pace.NewModel(priors, nil)
	}
	if err == nil {
		t.Current.Set(m, kept.Version)
	}
	return err
}
