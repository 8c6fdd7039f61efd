package store

import (
	"context"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"

	"gorm.io/gorm"
)

type priceListRow struct {
	ID        booking.ID `gorm:"primaryKey"`
	Name      string
	ValidFrom string
	Currency  billing.Currency
	Body      billing.PriceList `gorm:"serializer:json"`
	Version   int
}

func (priceListRow) TableName() string { return "price_lists" }

func (r priceListRow) domain() billing.PriceList {
	p := r.Body
	p.ID, p.Name, p.ValidFrom, p.Currency, p.Version = r.ID, r.Name, dateOf(r.ValidFrom), r.Currency, r.Version
	return p
}

// PriceLists are all lists, the latest first.
func (s *Store) PriceLists(ctx context.Context) (lists []billing.PriceList, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var rows []priceListRow
		err := tx.Order("valid_from DESC").Find(&rows).Error
		lists = make([]billing.PriceList, len(rows))
		for i, r := range rows {
			lists[i] = r.domain()
		}
		return err
	})
	return lists, err
}

// PriceList by id.
func (s *Store) PriceList(ctx context.Context, id booking.ID) (billing.PriceList, error) {
	var row priceListRow
	err := s.db.Read(ctx, func(tx *gorm.DB) error { return tx.Where("id = ?", id).Take(&row).Error })
	return row.domain(), err
}

// SavePriceList stores a price list.
func (s *Store) SavePriceList(ctx context.Context, p *billing.PriceList) error {
	row := priceListRow{ID: p.ID, Name: p.Name, ValidFrom: dateText(p.ValidFrom), Currency: p.Currency, Body: *p, Version: p.Version + 1}
	if row.ID == "" {
		row.ID = booking.NewID()
	}
	verb := "changed"
	err := s.db.InTx(ctx, func(tx *gorm.DB) error {
		if err := dayIsFree(tx, row); err != nil {
			return err
		}
		if p.Version == 0 {
			verb = "added"
			if err := tx.Create(&row).Error; err != nil {
				return err
			}
		} else if err := replaceList(tx, row); err != nil {
			return err
		}
		return s.record(ctx, tx, verb, "price list", row.ID, row.Name+", from "+row.ValidFrom)
	})
	if err == nil {
		p.ID, p.Version = row.ID, row.Version
	}
	return err
}

// dayIsFree refuses a second list from one day, naming the field.
func dayIsFree(tx *gorm.DB, row priceListRow) error {
	var n int64
	err := tx.Model(&priceListRow{}).Where("valid_from = ? AND id <> ?", row.ValidFrom, row.ID).Count(&n).Error
	if err != nil || n == 0 {
		return err
	}
	f := fault.Fields{}
	f.Add("valid_from", "Another price list begins on this day; change that one or choose another day.")
	return f.Err()
}

func replaceList(tx *gorm.DB, row priceListRow) error {
	result := tx.Model(&priceListRow{}).Where("id = ? AND version = ?", row.ID, row.Version-1).Select("*").Omit("id").Updates(&row)
	if result.Error != nil || result.RowsAffected > 0 {
		return result.Error
	}
	var n int64
	if err := tx.Model(&priceListRow{}).Where("id = ?", row.ID).Count(&n).Error; err != nil {
		return err
	}
	if n == 0 {
		return fault.New(fault.NotFound, "There is no such price list.")
	}
	return fault.New(fault.Conflict, "Somebody else changed this price list since you opened it. Your entries are still here; look at theirs, then save again.")
}
