package document_test

import (
	"fmt"

	"drawbar/billing/document"
)

func ExampleRender() {
	pdf, err := document.Render(invoice(1))
	fmt.Printf("%s %v\n", pdf[:5], err)
	// Output: %PDF- <nil>
}
