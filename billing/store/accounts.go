package store

import (
	"context"
	"slices"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"

	"gorm.io/gorm"
)

const mostAccounts = 20_000

// Accounts picks invoices with what became of them, the latest first.
func (s *Store) Accounts(ctx context.Context, q billing.AccountQuery) (accounts []billing.Account, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var rows []documentRow
		if err := tx.Scopes(picked(q)).Find(&rows).Error; err != nil {
			return err
		}
		accounts, err = withStory(tx, rows)
		return err
	})
	return accounts, err
}

// picked builds the query. What is open is worked out in the database, so
// that old settled invoices cost nothing.
func picked(q billing.AccountQuery) func(tx *gorm.DB) *gorm.DB {
	return func(tx *gorm.DB) *gorm.DB {
		tx = tx.Where("kind = ?", billing.AnInvoice)
		if q.FarmID != "" {
			tx = tx.Where("farm_id = ?", q.FarmID)
		}
		if q.Month != (billing.Month{}) {
			tx = tx.Where("month = ?", q.Month.String())
		}
		if q.Open {
			tx = tx.Where(`gross <> (SELECT COALESCE(SUM(c.gross), 0) FROM invoices c WHERE c.credits = invoices.id)
				+ (SELECT COALESCE(SUM(p.amount), 0) FROM payments p WHERE p.invoice_id = invoices.id AND p.struck = 0)`)
		}
		most := 1000
		if q.Limit > 0 {
			most = min(q.Limit, mostAccounts)
		}
		return tx.Order("series DESC, place DESC").Limit(most)
	}
}

// withStory adds credit notes and payments to invoices.
func withStory(tx *gorm.DB, rows []documentRow) ([]billing.Account, error) {
	accounts := make([]billing.Account, len(rows))
	at := map[booking.ID]*billing.Account{}
	for i, r := range rows {
		accounts[i].Invoice = r.domain(nil)
		at[r.ID] = &accounts[i]
	}
	for ids := range slices.Chunk(rows, 500) {
		if err := addStory(tx, at, ids); err != nil {
			return nil, err
		}
	}
	return accounts, nil
}

func addStory(tx *gorm.DB, at map[booking.ID]*billing.Account, rows []documentRow) error {
	ids := make([]booking.ID, len(rows))
	for i, r := range rows {
		ids[i] = r.ID
	}
	var notes []documentRow
	if err := tx.Where("credits IN ?", ids).Order("series, place").Find(&notes).Error; err != nil {
		return err
	}
	for _, n := range notes {
		a := at[*n.Credits]
		a.Notes = append(a.Notes, n.domain(nil))
	}
	var payments []paymentRow
	if err := tx.Where("invoice_id IN ?", ids).Order("day, recorded, id").Find(&payments).Error; err != nil {
		return err
	}
	for _, p := range payments {
		a := at[p.InvoiceID]
		a.Payments = append(a.Payments, p.domain(a.Invoice.Currency))
	}
	return nil
}

// Account of an invoice, with all lines.
func (s *Store) Account(ctx context.Context, id booking.ID) (account billing.Account, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		row, err := findDocument(tx, id)
		if err != nil {
			return err
		}
		if row.Credits != nil {
			id = *row.Credits
		}
		account, err = findAccount(tx, id)
		return err
	})
	return account, err
}

func findDocument(tx *gorm.DB, id booking.ID) (documentRow, error) {
	var rows []documentRow
	if err := tx.Where("id = ?", id).Find(&rows).Error; err != nil {
		return documentRow{}, err
	}
	if len(rows) == 0 {
		return documentRow{}, fault.New(fault.NotFound, "There is no such invoice.")
	}
	return rows[0], nil
}

// findAccount is one document with its lines, those of its credit notes, and
// its payments.
func findAccount(tx *gorm.DB, id booking.ID) (billing.Account, error) {
	row, err := findDocument(tx, id)
	if err != nil {
		return billing.Account{}, err
	}
	accounts, err := withStory(tx, []documentRow{row})
	if err != nil {
		return billing.Account{}, err
	}
	a := accounts[0]
	if a.Invoice.Lines, err = linesOf(tx, a.Invoice); err != nil {
		return a, err
	}
	for i := range a.Notes {
		if a.Notes[i].Lines, err = linesOf(tx, a.Notes[i]); err != nil {
			return a, err
		}
		for _, l := range a.Notes[i].Lines {
			a.Credited = append(a.Credited, l.Credits)
		}
	}
	slices.Sort(a.Credited)
	return a, nil
}

func linesOf(tx *gorm.DB, i billing.Invoice) ([]billing.Line, error) {
	var rows []lineRow
	err := tx.Where("invoice_id = ?", i.ID).Order("place").Find(&rows).Error
	lines := make([]billing.Line, len(rows))
	for n, r := range rows {
		lines[n] = r.domain(i.Currency)
	}
	return lines, err
}

// PDF is a document as issued; a byte changed by hand is noticed.
func (s *Store) PDF(ctx context.Context, id booking.ID) (i billing.Invoice, pdf []byte, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		row, err := findDocument(tx, id)
		if err != nil {
			return err
		}
		i = row.domain(nil)
		return tx.Raw("SELECT pdf FROM invoices WHERE id = ?", id).Row().Scan(&pdf)
	})
	if err == nil && hash(pdf) != i.Hash {
		err = fault.Newf(fault.Internal, "The bytes of %s do not match their hash: the database was changed by hand.", i.Number)
	}
	return i, pdf, err
}
