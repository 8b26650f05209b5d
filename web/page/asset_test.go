package page_test

import (
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"

	"steelyard/web/page"
)

// Files from elsewhere, unchanged; the packages are those of the npm registry.
var taken = map[string]string{
	// @fontsource-variable/source-sans-3 5.3.1, latin, 200 to 900; licence OFL 1.1
	"text.woff2": "19143dca075972bc84e3fd9eab7416dd40cc565dccb2435a044bdfabe060c7d5",
	// @fontsource/source-serif-4 5.3.1, latin 600; licence OFL 1.1
	"heading.woff2": "f2b7e1cf1d277b7608231868135648f8ad8e2b58d8e97ca088bee15dc357bee7",
}

func TestWhatIsTakenFromElsewhereIsUnchanged(t *testing.T) {
	for name, want := range taken {
		b, err := os.ReadFile("assets/" + name)
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(b)
		if got := hex.EncodeToString(sum[:]); got != want {
			t.Errorf("assets/%s has changed: its SHA-256 is %s", name, got)
		}
	}
}

func get(t *testing.T, address, encoding string) *http.Response {
	t.Helper()
	r := httptest.NewRequest("GET", address, nil)
	r.Header.Set("Accept-Encoding", encoding)
	w := httptest.NewRecorder()
	mux := http.NewServeMux()
	mux.HandleFunc("GET /assets/{hash}/{name...}", func(w http.ResponseWriter, r *http.Request) {
		if page.ServeAsset(w, r, nil) != nil {
			w.WriteHeader(http.StatusNotFound)
		}
	})
	mux.ServeHTTP(w, r)
	return w.Result()
}

func TestAssetsAreSentPackedWithTheirTypeAndKept(t *testing.T) {
	r := get(t, page.Asset("look.css"), "gzip, br")
	z, err := gzip.NewReader(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	packed, _ := io.ReadAll(z)
	plain, _ := io.ReadAll(get(t, page.Asset("look.css"), "").Body)
	if string(packed) != string(plain) || !strings.Contains(string(plain), "--paper") {
		t.Error("packed and plain differ")
	}
	for name, kind := range map[string]string{"look.css": "text/css; charset=utf-8", "said.js": "text/javascript; charset=utf-8", "mark.svg": "image/svg+xml", "text.woff2": "font/woff2"} {
		h := get(t, page.Asset(name), "gzip").Header
		if h.Get("Content-Type") != kind || !strings.Contains(h.Get("Cache-Control"), "immutable") {
			t.Errorf("%s is sent as %q, %q", name, h.Get("Content-Type"), h.Get("Cache-Control"))
		}
	}
}

func TestOtherAssetsAreNotThere(t *testing.T) {
	stamp := strings.Split(page.Asset("look.css"), "/")[2]
	for _, address := range []string{"/assets/" + stamp + "/none.css", "/assets/0123/look.css", "/assets/" + stamp + "/licences", "/assets/" + stamp + "/licences/source-sans-3.txt"} {
		if r := get(t, address, ""); r.StatusCode != http.StatusNotFound {
			t.Errorf("%s: %d", address, r.StatusCode)
		}
	}
}
