package store_test

import (
	"testing"

	"drawbar/booking/fault"
	"drawbar/migrations/db"
)

// The database itself refuses to change what has been issued.
func TestIssuedDocumentsNeverChange(t *testing.T) {
	eachShop(t, func(s *shop) {
		s.price()
		s.docket(s.farm(), 120)
		s.run()
		for _, statement := range []string{
			"UPDATE invoices SET gross = gross + 1, net = net + 1", "DELETE FROM invoices",
			"UPDATE invoice_lines SET net = 0", "DELETE FROM invoice_lines",
		} {
			if err := s.exec(statement); err == nil {
				s.Errorf("%s went through", statement)
			}
		}
	})
}

// Whoever takes the guard off and changes a byte is found out by the hash.
func TestChangedBytesAreNoticed(t *testing.T) {
	guard := map[string]string{db.SQLite: "DROP TRIGGER invoices_no_update", db.Postgres: "DROP TRIGGER invoices_never_change ON invoices"}
	change := map[string]string{db.SQLite: "UPDATE invoices SET pdf = x'2550'", db.Postgres: `UPDATE invoices SET pdf = '\x2550'`}
	eachShop(t, func(s *shop) {
		s.price()
		s.docket(s.farm(), 120)
		issued := s.run().Issued[0]
		if _, pdf, err := s.biller.Store.PDF(s.Context(), issued.ID); err != nil || len(pdf) < 1000 {
			s.Fatalf("%d bytes, %v", len(pdf), err)
		}
		s.must(s.exec(guard[s.db.Dialect()]))
		s.must(s.exec(change[s.db.Dialect()]))
		if _, _, err := s.biller.Store.PDF(s.Context(), issued.ID); !fault.Is(err, fault.Internal) {
			s.Errorf("the changed bytes were handed out: %v", err)
		}
	})
}
