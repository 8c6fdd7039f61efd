// Package roadfile writes and reads road networks as files.
//
// A file is a head of fixed size and a body. The head holds the magic words
// with the version, the length of the body and its SHA-256. The body holds the
// tables of network.Roads one after the other as variable-length integers,
// positions as differences.
//
// Reading takes the whole file at once. It refuses anything that is cut off,
// damaged, of another version, or that does not make a network, with a
// sentence that says which; it never panics and never takes memory out of
// proportion to the file. What it returns is sound: all indexes are in range.
package roadfile
