package store

import (
	"context"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"gorm.io/gorm"
)

// Pay records a payment, once for its id.
func (s *Store) Pay(ctx context.Context, p billing.Payment, today civil.Date) error {
	return s.db.InTx(ctx, func(tx *gorm.DB) error {
		account, err := findAccount(tx, p.InvoiceID)
		if err != nil {
			return err
		}
		if account.Invoice.Kind != billing.AnInvoice {
			return fault.New(fault.Invalid, "A credit note is not paid; record the payment with an invoice.")
		}
		for _, had := range account.Payments {
			if had.ID == p.ID {
				return nil
			}
		}
		if err := p.Check(account.Open(), today); err != nil {
			return err
		}
		row := paymentRow{ID: p.ID, InvoiceID: p.InvoiceID, Day: dateText(p.Day), Amount: p.Amount.Minor, How: p.How, Recorded: millis(s.now())}
		if err := tx.Create(&row).Error; err != nil {
			return err
		}
		return s.record(ctx, tx, "recorded a payment for", "invoice", p.InvoiceID, p.Amount.String()+" for "+account.Invoice.Number)
	})
}

// StrikePayment takes back a payment; a second time changes nothing.
func (s *Store) StrikePayment(ctx context.Context, id booking.ID) error {
	return s.db.InTx(ctx, func(tx *gorm.DB) error {
		var rows []paymentRow
		if err := tx.Where("id = ?", id).Find(&rows).Error; err != nil {
			return err
		}
		if len(rows) == 0 {
			return fault.New(fault.NotFound, "There is no such payment.")
		}
		if rows[0].Struck != 0 {
			return nil
		}
		if err := tx.Model(&paymentRow{}).Where("id = ?", id).Update("struck", millis(s.now())).Error; err != nil {
			return err
		}
		return s.record(ctx, tx, "took back a payment for", "invoice", rows[0].InvoiceID, "")
	})
}
