package page_test

import (
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/a-h/templ"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/web/browse"
	"steelyard/web/page"
)

func read(t *testing.T, file string) string {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// policy is the content security policy that pages are served under.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; media-src 'self' blob:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; object-src 'none'"

// show serves a page of the layout with a body, and the assets, as the program does.
func show(t *testing.T, v page.Viewer, p page.Page) string {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /assets/{hash}/{name}", func(w http.ResponseWriter, r *http.Request) {
		if err := page.ServeAsset(w, r, nil); err != nil {
			http.NotFound(w, r)
		}
	})
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) { page.Write(w, r, &v, http.StatusOK, p) })
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", policy)
		mux.ServeHTTP(w, r)
	}))
	t.Cleanup(s.Close)
	return s.URL + "/"
}

func specimen(t *testing.T) page.Page {
	drawing := read(t, "../../docs/pictures/sketch.svg")
	body := strings.Replace(read(t, "testdata/specimen.html"), "SKETCH", drawing, 1)
	return page.Page{Title: "Specimen", Here: "questions", Crumbs: []page.Crumb{{Name: "Questions", Href: "/questions"}, {Name: "Bridges", Href: "/q"}}, Body: templ.Raw(body)}
}

func TestEverythingInTheStyleSheetCanBeReadAndPressed(t *testing.T) {
	browse.Hold(t)
	teacher := page.Viewer{Role: account.Teacher, Name: "M Fennimore"}
	large, cream, dark := teacher, teacher, teacher
	large.Large = true
	cream.Access = homework.Access{Tint: "cream", TextSize: 18}
	dark.Theme = "dark"
	cases := []struct {
		name   string
		viewer page.Viewer
		window browse.Window
	}{
		{"specimen", teacher, browse.Phone}, {"specimen", teacher, browse.Tablet}, {"specimen", teacher, browse.Desk},
		{"specimen", teacher, browse.Phone.InDark()}, {"specimen", teacher, browse.Tablet.InDark()}, {"specimen", teacher, browse.Desk.InDark()},
		{"specimen-large", large, browse.Desk}, {"specimen-dark-chosen", dark, browse.Phone}, {"specimen-cream-18", cream, browse.Phone.InDark()},
		{"specimen-forced", teacher, browse.Window{Name: "forced", Width: 820, Height: 1000, Forced: true}},
		{"specimen", teacher, browse.Window{Name: "narrow", Width: 320, Height: 640}},
	}
	for _, c := range cases {
		t.Run(c.name+" "+c.window.Name, func(t *testing.T) {
			tab := browse.Open(t, c.window, show(t, c.viewer, specimen(t)))
			tab.Shot(c.name)
			if c.window.Forced { // axe reads the colours that were asked for, not those that are forced
				for _, fault := range tab.Layout() {
					t.Error(fault)
				}
				return
			}
			tab.Check()
		})
	}
}

func TestTheFocusIsSeenAtEveryStop(t *testing.T) {
	tab := browse.Open(t, browse.Desk, show(t, page.Viewer{Role: account.Teacher, Name: "M Fennimore"}, specimen(t)))
	stops := tab.Walk(60)
	if len(stops) < 20 || stops[0].Name != "To the content" {
		t.Fatalf("the Tab key comes to %v", stops)
	}
	for _, s := range stops {
		if !s.Ring || s.Covered {
			t.Errorf("%q: focus seen %v, covered %v", s.Name, s.Ring, s.Covered)
		}
	}
}

// Spacing of text as WCAG 2.2, 1.4.12 asks for it.
func TestWiderTextStillFits(t *testing.T) {
	tab := browse.Open(t, browse.Phone, show(t, page.Viewer{Role: account.Teacher, Name: "M Fennimore"}, specimen(t)))
	browse.Eval[any](tab, `(() => { const s = new CSSStyleSheet(); s.replaceSync("* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }"); document.adoptedStyleSheets.push(s); })()`)
	tab.Shot("specimen-spaced")
	tab.Check()
}

var (
	block    = regexp.MustCompile(`([^{}]+)\{([^{}]*)\}`)
	property = regexp.MustCompile(`--([a-z-]+):\s*(#[0-9a-f]{3,6})\b`)
	comment  = regexp.MustCompile(`(?s)/\*.*?\*/`)
)

// colours reads the colours of every theme from the style sheet; a tint has what it doesn't say from light.
func colours(t *testing.T) map[string]map[string]string {
	all := map[string]map[string]string{}
	for _, b := range block.FindAllStringSubmatch(comment.ReplaceAllString(read(t, "assets/look.css"), ""), -1) {
		name, list := strings.TrimSpace(b[1]), map[string]string{}
		for _, p := range property.FindAllStringSubmatch(b[2], -1) {
			list[p[1]] = p[2]
		}
		if len(list) > 4 && list["paper"] != "#fff" { // not that of print
			all[name] = list
		}
	}
	for name, list := range all {
		if strings.HasPrefix(name, ".tint-") {
			for k, v := range all[":root, .drawing"] {
				if list[k] == "" {
					list[k] = v
				}
			}
		}
	}
	return all
}

// contrast is that of WCAG 2.2 (the formula of its definitions "contrast ratio" and "relative luminance").
func contrast(a, b string) float64 {
	la, lb := luminance(a), luminance(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

func luminance(hex string) float64 {
	n, _ := strconv.ParseUint(hex[1:], 16, 32)
	part := func(shift uint) float64 {
		c := float64(n>>shift&255) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}

func TestColoursHaveTheContrastThatTheyPromise(t *testing.T) {
	if c := contrast("#000000", "#ffffff"); math.Abs(c-21) > 1e-9 { // WCAG: from 1 to 21
		t.Fatalf("black on white has contrast %v, not 21", c)
	}
	all := colours(t)
	if len(all) != 7 {
		t.Errorf("%d themes instead of light, dark twice, and four tints", len(all))
	}
	for name, c := range all {
		need := func(text, on string, least float64) {
			if got := contrast(c[text], c[on]); got < least {
				t.Errorf("%s: --%s on --%s has contrast %.2f, less than %v", name, text, on, got, least)
			}
		}
		for _, on := range []string{"paper", "sheet", "well"} {
			need("ink", on, 7)
			for _, text := range []string{"soft", "accent", "right", "carried", "wrong", "doubt"} {
				need(text, on, 4.5)
			}
			need("edge", on, 3)
			need("focus", on, 3)
		}
		need("on-accent", "accent", 4.5)
		need("paper", "ink", 4.5)
		for _, how := range []string{"right", "carried", "wrong", "doubt"} {
			need("ink", how+"-wash", 7)
			need(how, how+"-wash", 4.5)
		}
	}
}

func TestBothDarksAreTheSame(t *testing.T) {
	all := colours(t)
	chosen, asked := all[":root.dark"], map[string]string{}
	for name, list := range all {
		if strings.Contains(name, ":not(.light)") {
			asked = list
		}
	}
	if fmt.Sprint(chosen) != fmt.Sprint(asked) || len(chosen) == 0 {
		t.Errorf("dark by choice %v and by the computer's setting %v differ", chosen, asked)
	}
}
