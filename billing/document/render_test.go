package document_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"drawbar/billing"
	"drawbar/billing/document"
	"drawbar/booking"

	"cloud.google.com/go/civil"
)

var (
	taxed  = billing.Tax{Category: billing.Standard, Percent: billing.Whole(23)}
	exempt = billing.Tax{Category: billing.Exempt}
)

// invoice is an invented invoice with so many visits, three lines each.
func invoice(visits int) billing.Invoice {
	eur := billing.Currency("EUR")
	i := billing.Invoice{
		Kind: billing.AnInvoice, Number: "2026-0042", Month: billing.Month{Year: 2026, Month: 3}, Currency: eur,
		Date: civil.Date{Year: 2026, Month: 4, Day: 1}, Due: civil.Date{Year: 2026, Month: 5, Day: 1},
		Seller: billing.Party{Name: "Alder Lane Sheep Work", Address: "Alder Lane 3\nBallymore", Country: "IE", TaxID: "IE1234567T", Email: "office@alder.example"},
		Buyer:  billing.Party{Name: "Höfner & Żółkiewski Farm", Contact: "Łucja Żółkiewska", Address: "Hill Road 9\nKilcolgan", TaxID: "IE7654321A"},
		PayTo:  "IBAN of the test account, held by Alder Lane Sheep Work",
	}
	for n := range visits {
		id := booking.NewID()
		day := civil.Date{Year: 2026, Month: 3, Day: 1}.AddDays(n % 28)
		line := func(l billing.Line) {
			l.DocketID, l.Day, l.Yard, l.Tax = id, day, "Top Yard", taxed
			l.Net = l.Rate.Times(l.Quantity, eur)
			i.Lines = append(i.Lines, l)
		}
		line(billing.Line{Kind: billing.ForWork, Text: "Drench, ewes", Why: "Of 1,240 ewes: number 101 to 1,240 at €0.4525 each.", Quantity: 1140, Unit: billing.Head, Rate: 4525})
		line(billing.Line{Kind: billing.ForSetUp, Text: "Setting up at Top Yard", Why: "Charged once for each setting up of the rig.", Quantity: 1, Unit: billing.Visit, Rate: billing.Whole(40)})
		line(billing.Line{Kind: billing.ForTravel, Text: "Travel to Top Yard and back", Why: "56 km from home to the yard and back. The distance is an estimate.", Quantity: 56, Unit: billing.Kilometres, Rate: 6000})
	}
	i.Totals = billing.Sum(eur, i.Lines)
	return i
}

// render gives the text of the document as pdftotext reads it, which is not
// our code, and how many pages it has.
func render(t *testing.T, i billing.Invoice) (text string, pages int) {
	t.Helper()
	pdf, err := document.Render(i)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "document.pdf")
	if folder := os.Getenv("DRAWBAR_KEEP_PDF"); folder != "" {
		path = filepath.Join(folder, strings.ReplaceAll(t.Name(), "/", "-")+".pdf")
	}
	if err := os.WriteFile(path, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext (Debian package poppler-utils): %v", err)
	}
	return string(out), strings.Count(string(out), "\f")
}

func contains(t *testing.T, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		if !strings.Contains(text, p) {
			t.Errorf("%q is not in the document:\n%s", p, text)
		}
	}
}

// Source: Directive 2006/112/EC, Art. 226, by its numbers.
func TestCompulsoryContentOfAnInvoice(t *testing.T) {
	text, pages := render(t, invoice(1))
	if pages != 1 {
		t.Errorf("%d pages", pages)
	}
	for point, parts := range map[string][]string{
		"(1) date of issue":            {"1 April 2026"},
		"(2) sequential number":        {"Invoice 2026-0042"},
		"(3) supplier's tax number":    {"IE1234567T"},
		"(4) customer's tax number":    {"IE7654321A"},
		"(5) names and addresses":      {"Alder Lane Sheep Work", "Alder Lane 3", "Ballymore", "Höfner & Żółkiewski Farm", "Hill Road 9", "Kilcolgan"},
		"(6) quantity and nature":      {"Drench, ewes", "1,140 head"},
		"(7) date of supply":           {"1 March 2026, Top Yard"},
		"(8) base and unit price":      {"0.4525", "589.45"},
		"(9) rate":                     {"23 %"},
		"(10) tax":                     {"135.57"},
		"terms of payment":             {"Please pay €725.02 by 1 May 2026", "IBAN of the test account"},
		"the sentence for each charge": {"Of 1,240 ewes: number 101 to 1,240 at €0.4525 each.", "The distance is an estimate."},
	} {
		t.Run(point, func(t *testing.T) { contains(t, text, parts...) })
	}
}

// Art. 226 (11): why there is no tax.
func TestReasonForNoTax(t *testing.T) {
	i := invoice(1)
	for n := range i.Lines {
		i.Lines[n].Tax = exempt
	}
	i.Totals, i.TaxReason = billing.Sum(i.Currency, i.Lines), "Exempt: small business scheme"
	text, _ := render(t, i)
	contains(t, text, "none *", "589.45 exempt from tax *", "* Exempt: small business scheme", "€589.45")
}

// Art. 219: a document that amends an invoice refers to it.
func TestCreditNoteNamesItsInvoice(t *testing.T) {
	of := invoice(1)
	of.ID = booking.NewID()
	note, err := billing.Credit{Lines: []int{2}, Reason: "The rig stood there already"}.Draft(of, nil, civil.Date{Year: 2026, Month: 4, Day: 9})
	if err != nil {
		t.Fatal(err)
	}
	note.Number = "C2026-0001"
	text, _ := render(t, note)
	contains(t, text, "Credit note C2026-0001", "invoice 2026-0042 of 1 April 2026", "The rig stood there already", "€49.20", "lowers what is open on invoice 2026-0042")
	if strings.Contains(text, "Please pay") || strings.Contains(text, "Drench") {
		t.Errorf("the credit note asks for money or shows lines it does not take back:\n%s", text)
	}
}

func TestTableRunsOverPagesWithItsHead(t *testing.T) {
	i := invoice(30)
	text, pages := render(t, i)
	if pages < 4 {
		t.Fatalf("90 lines on %d pages", pages)
	}
	sheets := strings.Split(text, "\f")
	lines := 0
	for n, page := range sheets[:pages] {
		contains(t, page, fmt.Sprintf("page %d of %d", n+1, pages))
		if count := strings.Count(page, "Drench, ewes"); count > 0 {
			lines += count
			contains(t, page, "Unit price", ", Top Yard")
		}
	}
	if lines != 30 {
		t.Errorf("%d of 30 visits are printed", lines)
	}
	contains(t, sheets[pages-1], i.Totals.Gross.String(), i.Totals.Net.Figure())
}

func TestSameDocumentSameBytes(t *testing.T) {
	first, err := document.Render(invoice0)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		again, err := document.Render(invoice0)
		if err != nil || !bytes.Equal(first, again) {
			t.Fatalf("two renderings differ (%v)", err)
		}
	}
}

var invoice0 = invoice(3)

func TestPaperFollowsTheCountry(t *testing.T) {
	for country, size := range map[string]string{"IE": "595.28 841.89", "US": "612.00 792.00"} {
		i := invoice(1)
		i.Seller.Country = country
		pdf, err := document.Render(i)
		if err != nil || !bytes.Contains(pdf, []byte("/MediaBox [0 0 "+size+"]")) {
			t.Errorf("%s is not on %s points (%v)", country, size, err)
		}
	}
}

func TestLettersOfManyCountries(t *testing.T) {
	i := invoice(1)
	i.Buyer.Name = "Ærøskøbing Šumava Ŵyn Þórður Ξένος Пётр"
	i.Buyer.Address = strings.Repeat("Averylongwordwithoutanyspace", 12) + "\nœuvre €15 £16 −17 łąka gőz"
	text, _ := render(t, i)
	contains(t, text, "Ærøskøbing Šumava Ŵyn Þórður", "Ξένος Пётр", "œuvre €15 £16 −17 łąka gőz")
}

// Nothing that may stand in a name or a note stops a document.
func FuzzRender(f *testing.F) {
	f.Add("Top Yard", "ewes at 0.50", "Hill Road\n9")
	f.Add("🐑🐑", "\x00\xff", strings.Repeat("x", 3000))
	f.Add("", "", "\r\n\r\n")
	f.Add("שלום", "羊", "{pages} ()\\")
	f.Fuzz(func(t *testing.T, yard, why, address string) {
		i := invoice(1)
		i.Lines[0].Yard, i.Lines[0].Text, i.Lines[0].Why, i.Buyer.Address, i.Seller.Name = yard, yard, why, address, why
		if _, err := document.Render(i); err != nil {
			t.Error(err)
		}
	})
}

func BenchmarkRender(b *testing.B) {
	i := invoice(8)
	for b.Loop() {
		if _, err := document.Render(i); err != nil {
			b.Fatal(err)
		}
	}
}
