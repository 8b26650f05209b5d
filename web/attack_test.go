package web_test

import (
	"context"
	"net/http"
	"testing"

	"steelyard/web"
	"steelyard/web/page"
	"steelyard/web/webtest"
)

// One session cannot hold all connections with live pages; one that was closed makes room.
func TestLivePagesOfOneSessionAreBounded(t *testing.T) {
	site := webtest.New(t)
	route := page.Route{Pattern: "GET /live", For: page.Teachers, Live: true, Do: func(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
		w.Header().Set("Content-Type", "text/event-stream")
		http.NewResponseController(w).Flush()
		<-r.Context().Done()
		return nil
	}}
	at := hooks(t, site, web.Setting{}, route)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	refused := 0
	for range 40 {
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, at+"/live", nil)
		must(t, err)
		r.AddCookie(&http.Cookie{Name: "s", Value: site.Token(site.Teacher)})
		answer, err := http.DefaultClient.Do(r)
		must(t, err)
		defer answer.Body.Close()
		if answer.StatusCode == http.StatusTooManyRequests {
			refused++
		}
	}
	if refused != 40-12 {
		t.Errorf("%d of 40 were refused, want 28", refused)
	}
}
