package pace

import "sync/atomic"

// Current is the model in use. Learning puts a new one in its place while
// estimates go on; it is the one thing in this package that changes. Who makes
// several estimates that belong together takes the Model once.
type Current struct{ in atomic.Pointer[numbered] }

type numbered struct {
	*Model
	version int
}

// NewCurrent starts with a model of version 0, which knows no dockets.
func NewCurrent(m *Model) *Current {
	c := &Current{}
	c.Set(m, 0)
	return c
}

// Set puts a model in place. Versions count up with what is learned.
func (c *Current) Set(m *Model, version int) { c.in.Store(&numbered{m, version}) }

// Model is the one in use.
func (c *Current) Model() *Model { return c.in.Load().Model }

// Version of the model in use.
func (c *Current) Version() int { return c.in.Load().version }

// Estimate is Model.Estimate of the model in use.
func (c *Current) Estimate(j Job) (Estimate, error) { return c.Model().Estimate(j) }

// WhatIf is Model.WhatIf of the model in use.
func (c *Current) WhatIf(j Job) ([]Alternative, error) { return c.Model().WhatIf(j) }
