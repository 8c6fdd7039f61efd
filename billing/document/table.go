package document

import (
	"strconv"

	"drawbar/billing"
	"drawbar/booking"
)

func pageOf(n int) string { return strconv.Itoa(n) + " of {pages}" }

// columns of the table of lines, in millimetres; the first takes the rest.
const (
	quantityWidth = 24.0
	priceWidth    = 24.0
	taxWidth      = 22.0
	netWidth      = 28.0
)

func (s *sheet) textWidth() float64 {
	return s.width - quantityWidth - priceWidth - taxWidth - netWidth
}

// table writes the lines, visit by visit.
func (s *sheet) table() {
	s.tableHead()
	var at booking.ID
	for n, l := range s.doc.Lines {
		begins := n == 0 || l.DocketID != at
		at = l.DocketID
		height := s.lineHeight(l)
		if begins {
			height += step + 3
		}
		if s.needs(height) {
			s.tableHead()
			begins = true
		}
		if begins {
			s.visit(l)
		}
		s.line(l)
	}
	s.SetY(s.GetY() + 1)
	s.rule()
}

func (s *sheet) tableHead() {
	s.soft()
	s.font("", small)
	s.cells("", "Quantity", "Unit price", "Tax", "Net")
	s.SetY(s.GetY() + 0.6)
	s.rule()
	s.SetY(s.GetY() + 0.6)
}

// cells writes one row of the table and moves down.
func (s *sheet) cells(text, quantity, price, tax, net string) {
	x, y := margin, s.GetY()
	for _, c := range []struct {
		text  string
		width float64
		align string
	}{{text, s.textWidth(), "L"}, {quantity, quantityWidth, "R"}, {price, priceWidth, "R"}, {tax, taxWidth, "R"}, {net, netWidth, "R"}} {
		s.SetXY(x, y)
		s.row(x, c.width, step, c.text, c.align)
		x += c.width
	}
}

// visit heads the lines of one docket: when and where the work was done.
func (s *sheet) visit(l billing.Line) {
	s.SetY(s.GetY() + 2)
	s.ink()
	s.font("B", normal)
	if rows := s.wrap(dayText(l.Day)+", "+l.Yard, s.width); len(rows) > 0 {
		s.row(margin, s.width, step+1, rows[0], "L")
	}
}

func (s *sheet) lineRows(l billing.Line) (text, why []string) {
	s.font("", normal)
	text = s.wrap(l.Text, s.textWidth()-2)
	s.font("", small)
	why = s.wrap(l.Why, s.width-netWidth-6)
	return text, why
}

func (s *sheet) lineHeight(l billing.Line) float64 {
	text, why := s.lineRows(l)
	return step*float64(max(1, len(text))) + 4*float64(len(why)) + 1
}

// line writes one charge with the sentence that explains it.
func (s *sheet) line(l billing.Line) {
	text, why := s.lineRows(l)
	s.ink()
	s.font("", normal)
	first := ""
	if len(text) > 0 {
		first = text[0]
	}
	tax := l.Tax.Category.Words()
	if l.Tax.Category == billing.Standard {
		tax = l.Tax.Percent.Percent()
	} else if l.Tax.Category.NeedsReason() {
		tax = "none *"
	}
	s.cells(first, billing.Number(l.Quantity)+" "+string(l.Unit), l.Rate.Figure(s.doc.Currency), tax, l.Net.Figure())
	for _, r := range text[min(1, len(text)):] {
		s.row(margin, s.textWidth(), step, r, "L")
	}
	s.soft()
	s.font("", small)
	for _, r := range why {
		s.row(margin, s.width, 4, r, "L")
	}
	s.SetY(s.GetY() + 1)
}
