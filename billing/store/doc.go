// Package store keeps price lists, issued documents, month runs and payments
// in the database, on either engine. It promises what billing.Store says; the
// suite in billing/storetest proves it.
package store
