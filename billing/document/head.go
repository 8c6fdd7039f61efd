package document

import (
	"strings"
	"time"

	"drawbar/billing"

	"cloud.google.com/go/civil"
)

// dayText is a day as a document writes it.
func dayText(d civil.Date) string { return d.In(time.UTC).Format("2 January 2006") }

// head is who, to whom, and what kind of document.
func (s *sheet) head() {
	half := s.width * 0.52
	top := s.GetY()
	s.seller(half)
	left := s.GetY()
	s.SetXY(margin+half, top)
	s.facts(margin+half, s.width-half)
	s.SetY(max(left, s.GetY()) + 6)
	s.buyer(half)
	s.SetY(s.GetY() + 8)
}

func (s *sheet) seller(w float64) {
	s.ink()
	s.font("B", 14)
	for _, r := range s.wrap(s.doc.Seller.Name, w-6) {
		s.row(margin, w, 7.4, r, "L")
	}
	s.font("", normal)
	s.block(margin, w-6, partyRows(s.doc.Seller))
}

// partyRows are the address and the numbers of a party.
func partyRows(p billing.Party) []string {
	rows := strings.Split(p.Address, "\n")
	if p.TaxID != "" {
		rows = append(rows, "Tax number "+p.TaxID)
	}
	return append(rows, p.Phone, p.Email)
}

// block writes rows that may have to be wrapped; empty ones take no room.
func (s *sheet) block(x, w float64, rows []string) {
	for _, text := range rows {
		for _, r := range s.wrap(text, w) {
			s.row(x, w, step, r, "L")
		}
	}
}

// facts stand at the top right.
func (s *sheet) facts(x, w float64) {
	s.ink()
	s.font("B", 14)
	s.row(x, w, 7.4, s.title()+" "+s.doc.Number, "L")
	for _, f := range s.factRows() {
		y := s.GetY()
		s.soft()
		s.font("", normal)
		s.row(x, 30, step, f[0], "L")
		s.ink()
		s.SetXY(x, y)
		s.block(x+30, w-30, []string{f[1]})
	}
}

func (s *sheet) factRows() [][2]string {
	rows := [][2]string{{"Date", dayText(s.doc.Date)}}
	if s.doc.Kind == billing.ACreditNote {
		return append(rows,
			[2]string{"Credits", "invoice " + s.doc.Credits.Number + " of " + dayText(s.doc.Credits.Date)},
			[2]string{"Reason", s.doc.Reason},
			[2]string{"Amounts in", string(s.doc.Currency)})
	}
	return append(rows,
		[2]string{"Work of", s.doc.Month.Words()},
		[2]string{"To be paid by", dayText(s.doc.Due)},
		[2]string{"Amounts in", string(s.doc.Currency)})
}

func (s *sheet) buyer(w float64) {
	s.soft()
	s.font("", small)
	s.row(margin, w, step, "To", "L")
	s.ink()
	s.font("B", normal+1)
	s.block(margin, w-6, []string{s.doc.Buyer.Name})
	s.font("", normal)
	rows := append([]string{s.doc.Buyer.Contact}, strings.Split(s.doc.Buyer.Address, "\n")...)
	if s.doc.Buyer.TaxID != "" {
		rows = append(rows, "Tax number "+s.doc.Buyer.TaxID)
	}
	s.block(margin, w-6, rows)
}

// footer names seller, document and page on each page.
func (s *sheet) footer() {
	_, h := s.GetPageSize()
	s.SetY(h - 14)
	s.soft()
	s.font("", small)
	left := s.doc.Seller.Name
	if s.doc.Seller.TaxID != "" {
		left += ", tax number " + s.doc.Seller.TaxID
	}
	if rows := s.wrap(left, s.width-62); len(rows) > 0 {
		left = rows[0]
	}
	y := s.GetY()
	s.row(margin, s.width-60, step, left, "L")
	s.SetXY(margin, y)
	// Not set to the right: the number of pages is filled in later.
	s.row(margin+s.width-36, 36, step, s.doc.Number+", page "+pageOf(s.PageNo()), "L")
}
