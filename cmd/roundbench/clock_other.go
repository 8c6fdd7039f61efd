//go:build !unix

package main

import "time"

// cpuClock is the wall clock where there is no other.
func cpuClock() time.Time { return time.Now() }
