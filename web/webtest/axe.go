package webtest

import (
	_ "embed"
	"fmt"
	"strings"

	"github.com/chromedp/chromedp"
)

// axeSource is axe-core as published (MPL-2.0, see axe.LICENSE); it is part
// of tests only and never served.
//
//go:embed axe.min.js
var axeSource string

// violation is one rule that the page breaks, and where.
type violation struct {
	ID, Impact, Help string
	Nodes            []struct {
		HTML           string
		FailureSummary string
	}
}

// axeRun turns on the target-size rule of WCAG 2.2, which axe-core leaves
// off by default.
const axeRun = `axe.run(document, {resultTypes: ["violations"], rules: {"target-size": {enabled: true}}})
	.then(r => r.violations.map(v => ({ID: v.id, Impact: v.impact || "", Help: v.help,
		Nodes: v.nodes.map(n => ({HTML: n.html, FailureSummary: n.failureSummary || ""}))})))`

// Axe fails the test for each accessibility rule that the page, as it is
// now, breaks.
func (p *Page) Axe() {
	p.t.Helper()
	p.Do("loading axe-core", chromedp.Evaluate[chromedp.Void](axeSource))
	for _, v := range Eval[[]violation](p, axeRun) {
		p.t.Errorf("accessibility at %s: %s", p.where(), v)
	}
}

func (v violation) String() string {
	var text strings.Builder
	fmt.Fprintf(&text, "%s (%s): %s", v.ID, v.Impact, v.Help)
	for _, node := range v.Nodes {
		fmt.Fprintf(&text, "\n  %s\n    %s", node.HTML, strings.ReplaceAll(node.FailureSummary, "\n", "\n    "))
	}
	return text.String()
}
