package web_test

import (
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"steelyard/account"
	"steelyard/film"
	"steelyard/homework"
	"steelyard/show"
	"steelyard/store"
	"steelyard/web"
	"steelyard/web/page"
	"steelyard/web/webtest"
)

// A thing is what a name in braces stands for, and whose it is.
type thing struct {
	id    string
	whose string
	for_  map[string]bool // the clients that it is there for
}

// the question of the sets here
const bridge = "question \"Lock footbridge\"\nlevel 16-18\ng 9.81 N/kg\n\nbody plank: uniform, length 4.80 m, weight 310 N\n" +
	"support P: rest, on plank at 0.60 m\nsupport Q: rest, on plank at 3.90 m\n\npart a: find force P  marks 3\n"

// A world has two teachers with a class each, sets and questions of both, and somebody of every role.
type world struct {
	*webtest.Site
	clients map[string]*webtest.Client
	things  map[string][]thing // by the name in braces
	class   map[string]string  // of things: the class that they belong to
	ids     map[string]string  // of the people
}

func newWorld(t testing.TB) *world {
	site := webtest.New(t)
	w := &world{Site: site, clients: map[string]*webtest.Client{}, things: map[string][]thing{}, class: map[string]string{}}
	jonas, asJonas := site.AddTeacher("Jonas Brandt")
	other, theirs, _ := site.AddClass(jonas, "11c", "Tove Anders")
	w.clients = map[string]*webtest.Client{"visitor": site.Visitor, "head": site.Teacher, "teacher": asJonas,
		"pupil": site.Pupils[0], "classmate": site.Pupils[1], "other pupil": site.SignIn(account.PupilOf, theirs[0].ID)}
	w.ids = map[string]string{"head": site.Head.ID, "teacher": jonas.ID, "pupil": site.Members[0].ID, "classmate": site.Members[1].ID, "other pupil": theirs[0].ID}
	add := func(name, id, whose, class string, who ...string) {
		f := map[string]bool{}
		for _, x := range who {
			f[x] = true
		}
		w.things[name] = append(w.things[name], thing{id, whose, f})
		w.class[id] = class
	}
	mine, a, b := site.Class, site.Members[0], site.Members[1]
	add("class", mine.ID, "10b", mine.ID, "head", "pupil", "classmate")
	add("class", other.ID, "11c", other.ID, "teacher", "other pupil")
	add("pupil", a.ID, "pupil of 10b", mine.ID, "head", "pupil")
	add("pupil", b.ID, "classmate of 10b", mine.ID, "head", "classmate")
	add("pupil", theirs[0].ID, "pupil of 11c", other.ID, "teacher", "other pupil")
	add("set", w.set(t, mine.ID, nil, true), "given to 10b", mine.ID, "head", "pupil", "classmate")
	add("set", w.set(t, mine.ID, []string{a.ID}, true), "given to one of 10b", mine.ID, "head", "pupil")
	add("set", w.set(t, mine.ID, nil, false), "draft for 10b", mine.ID, "head")
	add("set", w.set(t, other.ID, nil, true), "given to 11c", other.ID, "teacher", "other pupil")
	add("question", w.question(t, site.Head.ID, false), "head's own", "", "head")
	add("question", w.question(t, site.Head.ID, true), "head's, shared", "", "head", "teacher reads")
	add("question", w.question(t, jonas.ID, false), "teacher's own", "", "teacher")
	add("person", jonas.ID, "teacher", "", "head", "teacher")
	add("person", site.Head.ID, "head", "", "head")
	add("film", w.film(t, jonas.ID), "teacher's", "", "teacher")
	add("film", w.film(t, site.Head.ID), "head's", "", "head")
	for _, name := range []string{"class", "pupil", "set", "question", "person", "film"} {
		add(name, store.NewID(), "nobody's", "", "")
	}
	return w
}

func (w *world) by() store.By { return store.By{Role: account.Head, Who: w.Head.ID, At: w.Clock.Now()} }

func (w *world) set(t testing.TB, class string, only []string, given bool) string {
	t.Helper()
	h := homework.Set{ID: store.NewID(), Class: class, Title: "Beams", Seed: "spring", For: only, Items: []homework.Item{{Question: "bank:none", Text: bridge}}}
	if err := w.Store.AddSet(t.Context(), w.by(), h); err != nil {
		t.Fatal(err)
	}
	if given {
		if err := w.Store.Give(t.Context(), w.by(), h.ID, nil); err != nil {
			t.Fatal(err)
		}
	}
	return h.ID
}

func (w *world) question(t testing.TB, owner string, shared bool) string {
	t.Helper()
	q := store.Question{ID: store.NewID(), Owner: owner, Title: "Footbridge", Text: bridge, Shared: shared, Changed: w.Clock.Now()}
	if err := w.Store.AddQuestion(t.Context(), store.By{Role: account.Teacher, Who: owner, At: w.Clock.Now()}, q); err != nil {
		t.Fatal(err)
	}
	return q.ID
}

// film is one that waits to be made.
func (w *world) film(t testing.TB, owner string) string {
	t.Helper()
	talk, err := show.Explain(bridge)
	if err != nil {
		t.Fatal(err)
	}
	id, err := w.Desk.Films.Add(film.Order{Owner: owner, Film: film.New(talk, film.Pace), Format: film.MP4}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

var roles = map[string]account.Role{"visitor": account.Visitor, "head": account.Head, "teacher": account.Teacher,
	"pupil": account.PupilOf, "classmate": account.PupilOf, "other pupil": account.PupilOf}

func takes(f page.For, r account.Role) bool {
	switch f {
	case page.Everyone:
		return true
	case page.SignedIn:
		return r != account.Visitor
	case page.Pupils:
		return r == account.PupilOf
	case page.Teachers:
		return r == account.Teacher || r == account.Head
	case page.Heads:
		return r == account.Head
	}
	return false
}

// Every role on every route, with every combination of things that its address can name. The table of routes is
// the program's own, with what they do replaced: whether they are reached at all is what is tried here. What is expected is
// worked out from whose the things are, not from the rules of the program.
func TestEveryRoleOnEveryRoute(t *testing.T) {
	w := newWorld(t)
	tried, reached := 0, ""
	routes := web.Routes(w.Desk)
	for i := range routes {
		routes[i].Live = false // those stay open
		routes[i].Do = func(rw http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
			reached = r.Pattern
			rw.WriteHeader(http.StatusNoContent)
			return nil
		}
	}
	handler, err := web.Handler(w.Desk, web.Setting{Often: true}, routes)
	if err != nil {
		t.Fatal(err)
	}
	for _, route := range routes {
		method, pattern, _ := strings.Cut(route.Pattern, " ")
		for _, named := range w.addresses(pattern) {
			for who, role := range roles {
				r := httptest.NewRequest(method, named.path, nil)
				r.Header.Set("Sec-Fetch-Site", "same-origin")
				r.Header.Set("Sec-Fetch-Dest", "document")
				if token := w.Token(w.clients[who]); token != "" {
					r.AddCookie(&http.Cookie{Name: "s", Value: token})
				}
				answer := httptest.NewRecorder()
				reached = ""
				handler.ServeHTTP(answer, r)
				tried++
				may := takes(route.For, role) && named.agree && named.there(who, method == http.MethodGet || strings.HasSuffix(pattern, "/copy") || strings.HasPrefix(pattern, "/record/own/"))
				got := reached == route.Pattern
				if got != may {
					t.Errorf("%s to %s %s (%s): reached %v, should be %v", who, method, pattern, named.whose, got, may)
				}
				switch {
				case may:
				case role == account.Visitor && method == http.MethodGet:
					if answer.Code != http.StatusSeeOther || !strings.HasPrefix(answer.Header().Get("Location"), "/sign-in") {
						t.Errorf("%s to %s: %d", who, route.Pattern, answer.Code)
					}
				case role == account.Visitor:
					if answer.Code != http.StatusUnauthorized {
						t.Errorf("%s to %s: %d", who, route.Pattern, answer.Code)
					}
				case answer.Code != http.StatusNotFound:
					t.Errorf("%s to %s (%s): %d, but nobody is to learn that it is there", who, route.Pattern, named.whose, answer.Code)
				}
			}
		}
	}
	t.Logf("%d requests to %d routes", tried, len(routes))
}

// A named address has things of the world in place of names in braces.
type named struct {
	path, whose string
	things      []thing
	agree       bool // all things of one class
}

func (n named) there(who string, reading bool) bool {
	for _, x := range n.things {
		if !x.for_[who] && !(reading && x.for_[who+" reads"]) {
			return false
		}
	}
	return true
}

// addresses are all that a pattern can name.
func (w *world) addresses(pattern string) []named {
	list := []named{{path: pattern, agree: true}}
	for _, part := range strings.Split(pattern, "/") {
		name, ok := strings.CutPrefix(part, "{")
		if !ok {
			continue
		}
		name, _, _ = strings.Cut(strings.TrimSuffix(name, "}"), "...")
		things, ok := w.things[name]
		if !ok {
			things = []thing{{id: "x"}}
		}
		if name == "$" {
			things = []thing{{}}
		}
		var next []named
		for _, n := range list {
			for _, x := range things {
				more := named{path: strings.Replace(n.path, part, x.id, 1), whose: n.whose + " " + x.whose, things: n.things, agree: n.agree}
				if x.for_ != nil {
					more.things = append(slices.Clone(n.things), x)
				}
				for _, y := range n.things {
					a, b := w.class[x.id], w.class[y.id]
					more.agree = more.agree && (a == b || a == "" || b == "")
				}
				next = append(next, more)
			}
		}
		list = next
	}
	return list
}

// A route that says nothing about who it is for, or names something without a rule, is not served at all.
func TestARouteWithoutARuleIsNotServed(t *testing.T) {
	site := webtest.New(t)
	do := func(http.ResponseWriter, *http.Request, *page.Viewer) error { return nil }
	for _, r := range []page.Route{{Pattern: "GET /x", Do: do}, {Pattern: "GET /x/{thing}", For: page.Teachers, Do: do}, {Pattern: "GET /x/{set}", For: page.Everyone, Do: do}} {
		if _, err := web.Handler(site.Desk, web.Setting{}, []page.Route{r}); err == nil {
			t.Errorf("%s is served", r.Pattern)
		}
	}
}

// All routes of the program, as a stranger, as a pupil and as a teacher see them: the headers that keep pages safe are there
// whatever comes back, and nothing answers with a fault of ours.
func TestHeadersAreOnEveryRoute(t *testing.T) {
	w := newWorld(t)
	for _, route := range web.Routes(w.Desk) {
		method, pattern, _ := strings.Cut(route.Pattern, " ")
		if route.Live || method != http.MethodGet {
			continue
		}
		for _, n := range w.addresses(pattern) {
			if !n.agree {
				continue
			}
			for _, who := range []string{"visitor", "pupil", "head"} {
				p := w.clients[who].Do(method, n.path, "", nil)
				h := p.Header
				if p.Status >= 500 {
					t.Errorf("%s %s as %s: %d", method, pattern, who, p.Status)
				}
				policy := h.Get("Content-Security-Policy")
				for _, must := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'"} {
					if !strings.Contains(policy, must) {
						t.Errorf("%s as %s: the policy lacks %s", pattern, who, must)
					}
				}
				if strings.Contains(policy, "unsafe") || h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") != "no-referrer" || h.Get("Cross-Origin-Opener-Policy") != "same-origin" {
					t.Errorf("%s as %s: %v", pattern, who, h)
				}
				if cache := h.Get("Cache-Control"); cache != "no-store" && !strings.HasPrefix(pattern, "/assets/") && !(strings.HasPrefix(cache, "private") && !strings.HasPrefix(h.Get("Content-Type"), "text/html")) {
					t.Errorf("%s as %s may be kept: %q", pattern, who, cache)
				}
				inline(t, p, pattern)
			}
		}
	}
}

// inline finds what the policy would not let run.
func inline(t *testing.T, p *webtest.Page, pattern string) {
	t.Helper()
	if p.Root == nil || strings.HasPrefix(p.Header.Get("Content-Disposition"), "attachment") {
		return // a file to keep, with a policy of its own, is never run from here
	}
	if n := p.All("", "style", ""); len(n) > 0 {
		t.Errorf("%s has a style attribute on %s", pattern, n[0].Data)
	}
	for n := range p.Root.Descendants() {
		// What has another type is data, and is not run.
		if n.Data == "script" && webtest.Attr(n, "src") == "" && webtest.Attr(n, "type") != "application/json" {
			t.Errorf("%s has an inline script", pattern)
		}
		for _, a := range n.Attr {
			if strings.HasPrefix(a.Key, "on") || strings.HasPrefix(a.Val, "javascript:") {
				t.Errorf("%s has %s=%q", pattern, a.Key, a.Val)
			}
		}
	}
	if p.Status == http.StatusOK {
		if n := p.All("h1", "", ""); len(n) != 1 {
			t.Errorf("%s has %d first headings", pattern, len(n))
		}
	}
}

// What another site makes a browser send is refused, on every route that changes something.
func TestPostsFromOtherSitesAreRefused(t *testing.T) {
	w := newWorld(t)
	for _, route := range web.Routes(w.Desk) {
		method, pattern, _ := strings.Cut(route.Pattern, " ")
		if method == http.MethodGet {
			continue
		}
		path := w.addresses(pattern)[0].path
		for _, from := range []map[string]string{{"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}, {"Origin": "https://elsewhere.example"}, {"Origin": "null"}} {
			r, _ := http.NewRequestWithContext(t.Context(), method, w.URL+path, strings.NewReader("a=b"))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			for k, v := range from {
				r.Header.Set(k, v)
			}
			if p := w.Teacher.Send(r); p.Status != http.StatusForbidden {
				t.Errorf("%s with %v: %d", route.Pattern, from, p.Status)
			}
		}
	}
}

// Nothing changes by following a link: the history stays as it was after every GET.
func TestReadingChangesNothing(t *testing.T) {
	w := newWorld(t)
	before := w.events(t)
	for _, route := range web.Routes(w.Desk) {
		method, pattern, _ := strings.Cut(route.Pattern, " ")
		if method != http.MethodGet || route.Live {
			continue
		}
		for _, n := range w.addresses(pattern) {
			for _, who := range []string{"pupil", "head"} {
				w.clients[who].Do(method, n.path, "", nil)
			}
		}
	}
	for _, e := range w.events(t)[len(before):] {
		if !strings.HasPrefix(e.What, "looked") && !strings.HasPrefix(e.What, "saw") && !strings.Contains(e.What, "read") {
			t.Errorf("reading left %q about %s", e.What, e.About)
		}
	}
}

func (w *world) events(t *testing.T) []store.Event {
	t.Helper()
	list, err := w.Store.History(t.Context(), "", 100000)
	if err != nil {
		t.Fatal(err)
	}
	slices.Reverse(list)
	return list
}
