// Package browse drives Debian's Chromium through pages, as a person would: things are found by the words on them. Only
// tests use it.
//
//	tab := browse.Open(t, browse.Phone, server.URL+"/sign-in")
//	tab.Fill("Class code", "reed heron")
//	tab.Click("Go on")
//	tab.See("Your work")
//	tab.Check() // axe, width, targets, faults on the console
//
// Whatever does not come within ten seconds fails the test with what stood on the page and a picture of it. Pictures go
// to $STEELYARD_SHOTS, or to the test's own directory of results (go test -artifacts).
//
// Where Chromium is missing the test is skipped, aloud; with CI set it fails.
//
// What is found on the console, breaches of the content security policy and requests to other hosts are kept and fail
// [Tab.Check] and the end of the test; [Tab.Forgive] lets expected ones pass.
package browse
