// Package webtest drives a real browser through a page as a person would:
// things are found by the role and the name that assistive technology is
// told, clicked where they are seen, and refused when something covers them.
//
//	b := webtest.Start(t)
//	page := b.Page(webtest.Phone)
//	page.Go(server.URL + "/round")
//	page.Fill("Head counted", "238")
//	page.Follow("button", "Finish the visit")
//	page.WaitText("Signed off")
//	page.Axe()
//
// Every page is watched from its first request to the end of the test: an
// error in the console, a breach of the content security policy, or a
// request to another server fails the test, unless Expect allowed it.
//
// Waiting looks again until a deadline, so a slow machine makes a test
// slower, not wrong. The package needs Chromium and fails without it.
package webtest
