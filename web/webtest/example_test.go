package webtest_test

import (
	"testing"

	"drawbar/web/webtest"
)

func Example() {
	var t *testing.T // from the test function
	page := webtest.Start(t).Page(webtest.Phone)
	page.Go("http://127.0.0.1:8080/round")
	page.Follow("link", "Low Field, 09:30")
	page.Click("button", "Start work")
	page.WaitText("Started at")
	page.Axe()
}
