// Package storetest is the suite that every billing.Store has to pass, on
// either engine. It says in tests what the interface says in words.
package storetest
