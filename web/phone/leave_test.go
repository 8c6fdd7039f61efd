package phone_test

import (
	"testing"

	"drawbar/web/webtest"
)

// Somebody who taps on while the first page is still making the phone's
// database finds it working on the next. Without the lock in phone-store.js
// about one leaving in three left the database shut for every later page.
func TestLeavingWhileTheDatabaseIsMade(t *testing.T) {
	s := newSite(t)
	browser := webtest.Start(t)
	for range 12 {
		p := s.phone(browser) // opens today's round for the first time
		p.Go(s.server.URL + s.visitPath())
		p.WaitText("all sent")
	}
}
