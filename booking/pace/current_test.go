package pace

import (
	"sync"
	"testing"
)

// Estimates go on while models are put in place; each is whole.
func TestCurrentChangesBetweenEstimates(t *testing.T) {
	slow := DefaultPriors()
	for i := range slow.Rows {
		slow.Rows[i].Seconds *= 2
	}
	twice, err := NewModel(slow, nil)
	if err != nil {
		t.Fatal(err)
	}
	c := NewCurrent(DefaultModel())
	once, _ := c.Estimate(plain())
	c.Set(twice, 7)
	double, _ := c.Estimate(plain())
	if c.Version() != 7 || double.Parts.Work.Minutes < 1.5*once.Parts.Work.Minutes {
		t.Fatalf("version %d: %.0f then %.0f min", c.Version(), once.Parts.Work.Minutes, double.Parts.Work.Minutes)
	}
	var all sync.WaitGroup
	for worker := range 4 {
		all.Go(func() {
			for i := range 50 {
				if worker == 0 {
					c.Set([]*Model{twice, DefaultModel()}[i%2], i)
					continue
				}
				e, err := c.Estimate(plain())
				if m := e.Parts.Work.Minutes; err != nil || m != once.Parts.Work.Minutes && m != double.Parts.Work.Minutes {
					t.Errorf("%.1f min, %v", m, err)
				}
			}
		})
	}
	all.Wait()
	if other, err := c.WhatIf(plain()); err != nil || len(other) == 0 {
		t.Error(err)
	}
}
