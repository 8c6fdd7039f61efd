package store

import (
	"context"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"gorm.io/gorm"
)

// Billed is what became of a docket.
func (s *Store) Billed(ctx context.Context, docket booking.ID) (b billing.Billed, ok bool, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var rows []billedRow
		if err := tx.Where("docket_id = ?", docket).Find(&rows).Error; err != nil || len(rows) == 0 {
			return err
		}
		ok, b.Waived = true, rows[0].Waived
		if rows[0].InvoiceID == nil {
			return nil
		}
		invoice, err := findDocument(tx, *rows[0].InvoiceID)
		if err != nil {
			return err
		}
		b.Invoice = invoice.domain(nil).Reference()
		left, err := linesLeft(tx, invoice.ID, docket)
		b.Credited = left == 0
		return err
	})
	return b, ok, err
}

// Waive notes that a docket will not be billed.
func (s *Store) Waive(ctx context.Context, docket booking.ID, reason string) error {
	f := fault.Fields{}
	f.Text("reason", reason, 200, fault.Required)
	if err := f.Err(); err != nil {
		return err
	}
	return s.db.InTx(ctx, func(tx *gorm.DB) error {
		if err := stillUnbilled(tx, []booking.ID{docket}); err != nil {
			return err
		}
		if err := tx.Create(&billedRow{DocketID: docket, Waived: reason}).Error; err != nil {
			return err
		}
		return s.record(ctx, tx, "waived", "docket", docket, reason)
	})
}

// Unbilled are the standing signed dockets until a day that nobody has billed
// or waived, in order of day.
func (s *Store) Unbilled(ctx context.Context, until civil.Date) (ids []booking.ID, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		ids = nil
		return tx.Table("dockets").Where("superseded = '' AND day <= ?", until.String()).
			Where("NOT EXISTS (SELECT 1 FROM billed_dockets WHERE docket_id = dockets.id)").
			Order("day, id").Pluck("id", &ids).Error
	})
	return ids, err
}
