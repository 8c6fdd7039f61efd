package document

import (
	"bytes"
	"slices"
	"time"

	"drawbar/billing"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// letterCountries use US Letter. Source: Unicode CLDR, supplemental
// measurement data, paperSize (from memory).
var letterCountries = []string{"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"}

// Measures in millimetres.
const (
	margin = 18.0
	foot   = 22.0 // kept free at the bottom of each page
	step   = 4.6  // height of a row of normal text
)

const (
	normal = 9.5 // points
	small  = 8.0
)

// Render draws a document. It fails only if the PDF library does.
func Render(i billing.Invoice) ([]byte, error) {
	s := newSheet(i)
	s.AddPage()
	s.head()
	s.table()
	s.totals()
	s.terms()
	var out bytes.Buffer
	err := s.Output(&out)
	return out.Bytes(), err
}

// sheet is one document being drawn.
type sheet struct {
	*fpdf.Fpdf
	doc   billing.Invoice
	width float64 // between the margins
	floor float64 // lowest place a row may reach
}

func newSheet(i billing.Invoice) *sheet {
	paper := "A4"
	if slices.Contains(letterCountries, i.Seller.Country) {
		paper = "Letter"
	}
	s := &sheet{Fpdf: fpdf.New("P", "mm", paper, ""), doc: i}
	w, h := s.GetPageSize()
	s.width, s.floor = w-2*margin, h-foot
	s.AddUTF8FontFromBytes("go", "", goregular.TTF)
	s.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	s.SetMargins(margin, margin, margin)
	s.SetCellMargin(0)
	s.SetAutoPageBreak(false, 0) // breaks are made between lines, by hand
	s.AliasNbPages("{pages}")
	s.SetFooterFunc(s.footer)
	s.stamp()
	return s
}

// stamp writes what the file says of itself, all of it from the document.
func (s *sheet) stamp() {
	date := s.doc.Date.In(time.UTC)
	s.SetCreationDate(date)
	s.SetModificationDate(date)
	s.SetCatalogSort(true)
	s.SetLang("en")
	s.SetTitle(s.title()+" "+s.doc.Number, true)
	s.SetAuthor(printable(s.doc.Seller.Name), true)
	s.SetProducer("Drawbar", true)
}

func (s *sheet) title() string {
	if s.doc.Kind == billing.ACreditNote {
		return "Credit note"
	}
	return "Invoice"
}

// ink and soft are the two tones of text.
func (s *sheet) ink()  { s.SetTextColor(32, 38, 31) }
func (s *sheet) soft() { s.SetTextColor(93, 100, 87) }

// font picks the face: "" regular, "B" bold.
func (s *sheet) font(style string, size float64) { s.SetFont("go", style, size) }

// row writes one row at the current place and moves down.
func (s *sheet) row(x, w, h float64, text, align string) {
	s.SetXY(x, s.GetY())
	s.CellFormat(w, h, printable(text), "", 2, align, false, 0, "")
}

// rule draws a thin line across the page.
func (s *sheet) rule() {
	s.SetDrawColor(190, 184, 168)
	s.SetLineWidth(0.2)
	s.Line(margin, s.GetY(), margin+s.width, s.GetY())
}

// needs begins a new page unless so much room is left; it tells whether it
// did.
func (s *sheet) needs(height float64) bool {
	if s.GetY()+height <= s.floor {
		return false
	}
	s.AddPage()
	return true
}
