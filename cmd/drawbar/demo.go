package main

type demoCmd struct{}

// Run serves an invented business.
func (demoCmd) Run(c *call) error { return nil }
