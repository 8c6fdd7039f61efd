package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"gorm.io/gorm"
)

// Issue numbers, renders and stores a draft, see billing.Store.
func (s *Store) Issue(ctx context.Context, draft billing.Invoice, render billing.Render) (issued billing.Invoice, err error) {
	err = s.db.InTx(ctx, func(tx *gorm.DB) error {
		if err := stillUnbilled(tx, draft.Dockets()); err != nil {
			return err
		}
		if issued, err = s.keep(ctx, tx, draft, render); err != nil {
			return err
		}
		for _, id := range issued.Dockets() {
			if err := tx.Create(&billedRow{DocketID: id, InvoiceID: &issued.ID}).Error; err != nil {
				return err
			}
		}
		return nil
	})
	return issued, err
}

func stillUnbilled(tx *gorm.DB, dockets []booking.ID) error {
	var n int64
	err := tx.Model(&billedRow{}).Where("docket_id IN ?", dockets).Count(&n).Error
	if err == nil && n > 0 {
		return billing.ErrBilled
	}
	return err
}

// keep gives the document its number and its bytes and stores it.
func (s *Store) keep(ctx context.Context, tx *gorm.DB, draft billing.Invoice, render billing.Render) (billing.Invoice, error) {
	series := draft.Kind.Series(draft.Date)
	place, err := nextPlace(tx, series)
	if err != nil {
		return draft, err
	}
	i := draft
	i.ID, i.Number, i.Created = booking.NewID(), billing.Numbered(series, place), s.now().UTC()
	pdf, err := render(i)
	if err != nil {
		return draft, fmt.Errorf("rendering %s: %w", i.Number, err)
	}
	i.Hash = hash(pdf)
	row := issuedRow{Document: documentRowOf(i), PDF: pdf}
	row.Document.Series, row.Document.Place = series, place
	if err := tx.Create(&row).Error; err != nil {
		return draft, err
	}
	if lines := lineRowsOf(i); len(lines) > 0 {
		if err := tx.Create(&lines).Error; err != nil {
			return draft, err
		}
	}
	return i, s.record(ctx, tx, "issued", string(i.Kind), i.ID, fmt.Sprintf("%s to %s: %s", i.Number, i.Buyer.Name, i.Totals.Gross))
}

func hash(pdf []byte) string {
	sum := sha256.Sum256(pdf)
	return hex.EncodeToString(sum[:])
}

// nextPlace takes the next number of a series. It is given back when the
// transaction fails, so a series has no gaps.
func nextPlace(tx *gorm.DB, series string) (place int, err error) {
	err = tx.Raw(`INSERT INTO number_series (series, last) VALUES (?, 1)
		ON CONFLICT (series) DO UPDATE SET last = number_series.last + 1 RETURNING last`, series).Scan(&place).Error
	return place, err
}

// Credit issues a credit note, see billing.Store.
func (s *Store) Credit(ctx context.Context, c billing.Credit, date civil.Date, render billing.Render) (note billing.Invoice, err error) {
	err = s.db.InTx(ctx, func(tx *gorm.DB) error {
		account, err := findAccount(tx, c.Invoice)
		if err != nil {
			return err
		}
		draft, err := c.Draft(account.Invoice, account.Credited, date)
		if err != nil {
			return err
		}
		if note, err = s.keep(ctx, tx, draft, render); err != nil || !c.Rebill {
			return err
		}
		return s.release(ctx, tx, note)
	})
	return note, err
}

// release lets the dockets of a credit note be billed anew where no line of
// them is left standing.
func (s *Store) release(ctx context.Context, tx *gorm.DB, note billing.Invoice) error {
	for _, id := range note.Dockets() {
		left, err := linesLeft(tx, note.Credits.ID, id)
		if err != nil {
			return err
		}
		if left > 0 {
			return fault.New(fault.Invalid, "To bill a visit anew, credit all lines of it.")
		}
		if err := tx.Where("docket_id = ? AND invoice_id = ?", id, note.Credits.ID).Delete(&billedRow{}).Error; err != nil {
			return err
		}
		if err := s.record(ctx, tx, "freed to be billed anew", "docket", id, "credited by "+note.Number); err != nil {
			return err
		}
	}
	return nil
}

// linesLeft counts the lines of a docket on an invoice that have not been
// credited.
func linesLeft(tx *gorm.DB, invoice, docket booking.ID) (left int, err error) {
	err = tx.Raw(`SELECT COUNT(*) FROM invoice_lines l WHERE l.invoice_id = ? AND l.docket_id = ? AND NOT EXISTS (
		SELECT 1 FROM invoice_lines c WHERE c.credits = l.invoice_id AND c.credits_line = l.place)`, invoice, docket).Scan(&left).Error
	return left, err
}
