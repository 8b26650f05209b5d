package browse

import (
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
)

// Metric is one of the browser's own counts of what it has done for the page, such as "LayoutCount".
func (tab *Tab) Metric(name string) float64 {
	tab.t.Helper()
	call(tab, performance.Enable, performance.EnableParams{})
	for _, m := range call(tab, performance.GetMetrics, cdp.Empty{}).Metrics {
		if m.Name == name {
			return m.Value
		}
	}
	tab.t.Fatalf("%s: the browser counts no %s", tab.window.Name, name)
	return 0
}
