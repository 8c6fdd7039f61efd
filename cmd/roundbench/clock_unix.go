//go:build unix

package main

import (
	"syscall"
	"time"
)

// cpuClock is the time this process has had on a processor, for machines that
// are busy with other things.
func cpuClock() time.Time {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return time.Now()
	}
	return time.Unix(0, u.Utime.Nano()+u.Stime.Nano())
}
