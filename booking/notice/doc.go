// Package notice sends what was written to people. A notice is stored with
// the change it tells of; Deliver claims those that wait, sends them and
// notes each as sent. Several processes may deliver at once: a notice is
// claimed by one of them. A stop between sending and noting can at worst send
// one mail twice (with the same Message-ID), and none is ever lost: one that
// cannot be sent is tried again, ever more rarely, for as long as it waits.
package notice
