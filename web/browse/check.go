package browse

import (
	_ "embed"
	"fmt"
	"strings"
)

// axe finds faults of access in a page; where it comes from: testdata/axe-licence.txt, and the hash in the test.
//
//go:embed testdata/axe.js
var axe string

//go:embed check.js
var checker string

// rules are those of WCAG 2.2, A and AA.
const rules = `["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22a","wcag22aa","best-practice"]`

// Check fails the test for everything that a program can see to be wrong with the page: axe, width, targets, faults.
func (tab *Tab) Check() {
	tab.t.Helper()
	at := tab.Address()
	for _, list := range [][]string{tab.Axe(), tab.Layout(), tab.Faults()} {
		for _, fault := range list {
			tab.t.Errorf("%s, %s: %s", at, tab.window.Name, fault)
		}
	}
}

// Axe are the violations that axe-core finds, each with where it is and how to mend it.
func (tab *Tab) Axe() (list []string) {
	tab.t.Helper()
	if !Eval[bool](tab, "!!window.axe") {
		Eval[any](tab, axe+"; true")
	}
	type node struct {
		Target         []any
		FailureSummary string
		HTML           string
	}
	type violation struct {
		ID, Impact, Help string
		Nodes            []node
	}
	found := Eval[[]violation](tab, `axe.run(document, {runOnly: {type: "tag", values: `+rules+`}, resultTypes: ["violations"]}).then((r) =>
		r.violations.map((v) => ({ID: v.id, Impact: v.impact, Help: v.help, Nodes: v.nodes.map((n) => ({Target: n.target, FailureSummary: n.failureSummary, HTML: n.html}))})))`)
	for _, v := range found {
		for _, n := range v.Nodes {
			list = append(list, fmt.Sprintf("%s (%s) %s: %v %s: %s", v.ID, v.Impact, v.Help, n.Target, brief(n.HTML), strings.Join(strings.Fields(n.FailureSummary), " ")))
		}
	}
	return list
}

// Layout is what is wrong with how the page lies in the window: scrolling sideways, targets under 24 px, text cut off.
func (tab *Tab) Layout() []string {
	tab.t.Helper()
	return Eval[[]string](tab, strings.TrimSpace(checker)+"()")
}

// A Stop is a place that the Tab key comes to.
type Stop struct {
	Name    string
	Ring    bool // its focus can be seen: an outline, or in a drawing something in the colour --focus
	Covered bool // something lies over it
}

// Walk presses Tab through the page from its beginning and tells the stops, at most so many.
func (tab *Tab) Walk(most int) (list []Stop) {
	tab.t.Helper()
	Eval[any](tab, `document.activeElement?.blur(); getSelection().removeAllRanges(); scrollTo(0, 0)`)
	for range most {
		tab.Keys("Tab")
		s := Eval[*Stop](tab, `(() => {
			const e = document.activeElement;
			if (!e || e === document.body || e === document.documentElement) return null;
			const s = getComputedStyle(e), r = e.getBoundingClientRect();
			const top = document.elementFromPoint(Math.min(Math.max(r.left + r.width / 2, 0), innerWidth - 1), Math.min(Math.max(r.top + r.height / 2, 0), innerHeight - 1));
			const ink = new Option().style;
			ink.color = s.getPropertyValue("--focus");
			const drawn = e instanceof SVGElement && [...e.querySelectorAll("*")].some((x) => getComputedStyle(x).stroke === ink.color);
			return { Ring: drawn || s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2, Covered: !(top && (e.contains(top) || top.contains(e) || [...(e.labels || [])].some((l) => l.contains(top)))) };
		})()`)
		if s == nil {
			return list
		}
		s.Name = tab.Focused()
		list = append(list, *s)
	}
	return list
}
