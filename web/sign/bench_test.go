package sign_test

import (
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"steelyard/web/webtest"
)

// A class signs in at once: what it costs is the hash of the code, two at a time.
func BenchmarkPupilsSignIn(b *testing.B) {
	site := webtest.New(b)
	var n atomic.Int64
	b.SetParallelism(50)
	b.ResetTimer()
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			code := site.Codes[n.Add(1)%3]
			r, _ := http.NewRequest(http.MethodPost, site.URL+"/sign-in/pupil", strings.NewReader("class="+site.Class.Code+"&code="+code))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			answer, err := http.DefaultTransport.RoundTrip(r)
			if err != nil || answer.StatusCode != http.StatusSeeOther {
				b.Error(answer, err)
				return
			}
			answer.Body.Close()
		}
	})
}
