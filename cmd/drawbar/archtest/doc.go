// Package archtest holds the tests of the house itself: which package may
// know which, that each says what it promises, that nothing lies about at the
// top, and that the libraries for the browser are the ones their manifest
// names. It has no code for the program.
package archtest
