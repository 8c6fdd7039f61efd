package document

import "drawbar/billing"

// totals are the tax summary and the sums; they stay on one page.
func (s *sheet) totals() {
	t := s.doc.Totals
	height := 8 + float64(len(t.Taxes)+4)*step + 8
	s.needs(height + float64(len(s.reason()))*step)
	s.SetY(s.GetY() + 4)
	s.sum("Net", t.Net.Figure(), "")
	for _, sum := range t.Taxes {
		s.sum(taxText(sum), sum.Due.Figure(), "")
	}
	if len(t.Taxes) > 1 {
		s.sum("Tax together", t.Tax.Figure(), "")
	}
	s.SetY(s.GetY() + 1)
	s.sum(s.grossText(), t.Gross.String(), "B")
	s.soft()
	s.font("", small)
	for _, r := range s.reason() {
		s.row(margin, s.width, step, r, "L")
	}
}

// taxText says what a line of the tax summary is.
func taxText(sum billing.TaxSum) string {
	if sum.Category == billing.Standard {
		return "Tax " + sum.Percent.Percent() + " on " + sum.Base.Figure()
	}
	words := sum.Category.Words()
	if sum.Category.NeedsReason() {
		words += " *"
	}
	return sum.Base.Figure() + " " + words
}

func (s *sheet) grossText() string {
	if s.doc.Kind == billing.ACreditNote {
		return "Credited"
	}
	return "To pay"
}

// sum writes one row of the sums, at the right.
func (s *sheet) sum(text, figure, style string) {
	size := normal
	if style == "B" {
		size = 12
	}
	s.ink()
	s.font(style, size)
	y := s.GetY()
	s.row(margin+s.width-netWidth-90, 86, step+0.6, text, "R")
	s.SetXY(margin, y)
	s.row(margin+s.width-netWidth-4, netWidth+4, step+0.6, figure, "R")
}

// reason is why a line bears no tax.
func (s *sheet) reason() []string {
	for _, sum := range s.doc.Totals.Taxes {
		if sum.Category.NeedsReason() && s.doc.TaxReason != "" {
			s.font("", small)
			return s.wrap("* "+s.doc.TaxReason, s.width)
		}
	}
	return nil
}

// terms say how to pay, or what becomes of a credit.
func (s *sheet) terms() {
	rows := []string{"This credit note lowers what is open on invoice " + s.doc.Credits.Number + "."}
	if s.doc.Kind == billing.AnInvoice {
		rows = []string{"Please pay " + s.doc.Totals.Gross.String() + " by " + dayText(s.doc.Due) + " and name " + s.doc.Number + ".", s.doc.PayTo}
	}
	s.font("", normal)
	height := 8.0
	for _, r := range rows {
		height += float64(len(s.wrap(r, s.width))) * step
	}
	s.needs(height)
	s.SetY(s.GetY() + 8)
	s.ink()
	s.font("", normal)
	s.block(margin, s.width, rows)
}
