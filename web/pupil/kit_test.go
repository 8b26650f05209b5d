package pupil

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"golang.org/x/net/html"

	"steelyard/account"
	"steelyard/bank/banktest"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
)

// A school is a server with the pupils' pages alone, and a class of two pupils. Who looks is said by the cookie "who";
// without one nobody is signed in.
type school struct {
	*httptest.Server
	t     testing.TB
	desk  *page.Desk
	clock atomic.Int64 // seconds from noon
	down  atomic.Bool  // the server answers nothing
	by    store.By
	pupil [2]homework.Pupil
}

var noon = time.Date(2026, 3, 3, 12, 0, 0, 0, time.UTC)

func open(t testing.TB) *school {
	t.Helper()
	ctx := context.Background()
	st, err := store.Open(ctx, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	s := &school{t: t}
	s.desk = &page.Desk{Store: st, Log: slog.New(slog.DiscardHandler), Marker: homework.NewMarker(), HandedIn: make(chan struct{}, 1),
		Now: func() time.Time { return noon.Add(time.Duration(s.clock.Load()) * time.Second) }}
	teacher := account.Person{ID: store.NewID(), Name: "Ms Brook", Login: "brook", Hash: "x", Role: account.Teacher, Made: noon}
	s.by = store.By{Role: account.Teacher, Who: teacher.ID, At: noon}
	class := homework.Class{ID: store.NewID(), Name: "11b", Code: "REED42"}
	s.pupil[0] = homework.Pupil{ID: store.NewID(), Class: class.ID, Name: "Heron", Code: "x"}
	s.pupil[1] = homework.Pupil{ID: store.NewID(), Class: class.ID, Name: "Wren", Code: "y", Access: homework.Access{ExtraTime: 25, TextSize: 18, Tint: "cream", Description: true}}
	s.must(st.AddPerson(ctx, s.by, teacher))
	s.must(st.AddClass(ctx, s.by, class))
	s.must(st.AddPupils(ctx, s.by, class.ID, s.pupil[:]))
	mux := http.NewServeMux()
	for _, r := range append(Routes(s.desk), page.Route{Pattern: "GET /assets/{hash}/{name...}", Do: page.ServeAsset}) {
		mux.HandleFunc(r.Pattern, s.route(r))
	}
	mux.HandleFunc("GET /session", s.route(page.Route{Do: func(w http.ResponseWriter, _ *http.Request, _ *page.Viewer) error { return nil }}))
	s.Server = httptest.NewServer(mux)
	t.Cleanup(s.Close)
	return s
}

func (s *school) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

func (s *school) route(r page.Route) http.HandlerFunc {
	return func(w http.ResponseWriter, req *http.Request) {
		assets := strings.HasPrefix(r.Pattern, "GET /assets")
		if s.down.Load() && !assets {
			panic(http.ErrAbortHandler)
		}
		v := s.viewer(req)
		if !v.Signed() && !assets {
			http.Redirect(w, req, "/sign-in/pupil", http.StatusSeeOther)
			return
		}
		w.Header().Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'")
		w.Header().Set("Cache-Control", "no-store")
		req.Body = http.MaxBytesReader(w, req.Body, max(r.Body, 64<<10))
		if err := r.Do(w, req, v); err != nil {
			if f, ok := err.(*page.Refusal); ok {
				http.Error(w, f.What+"\n"+f.Mend, f.Status)
				return
			}
			s.t.Errorf("%s: %v", r.Pattern, err)
			http.Error(w, err.Error(), http.StatusInternalServerError)
		}
	}
}

func (s *school) viewer(req *http.Request) *page.Viewer {
	v := &page.Viewer{}
	c, err := req.Cookie("who")
	if err != nil {
		return v
	}
	for _, p := range s.pupil {
		if p.ID == c.Value {
			v.Role, v.ID, v.Name, v.Class, v.Access, v.Session = account.PupilOf, p.ID, p.Name, p.Class, p.Access, "s"
		}
	}
	if t, err := req.Cookie("theme"); err == nil {
		v.Theme = t.Value
	}
	return v
}

// set gives out a set of questions of the bank that closes in two hours.
func (s *school) set(change func(*homework.Set), names ...string) homework.Set {
	s.t.Helper()
	ctx := context.Background()
	h := homework.Set{ID: store.NewID(), Class: s.pupil[0].Class, Title: "Planks and bridges", Seed: "spring", Opens: noon.Add(-time.Hour), Closes: noon.Add(2 * time.Hour), Show: homework.UsualShow(false)}
	for _, n := range names {
		h.Items = append(h.Items, homework.Item{Question: "bank:" + n, Text: banktest.Text(s.t, n), Own: true})
	}
	if change != nil {
		change(&h)
	}
	s.must(s.desk.Store.AddSet(ctx, s.by, h))
	numbers, _, err := homework.Choose(&h, s.pupil[:], nil)
	s.must(err)
	s.must(s.desk.Store.Give(ctx, s.by, h.ID, numbers))
	h, err = s.desk.Store.Set(ctx, h.ID)
	s.must(err)
	return h
}

// A browser without scripts.
type plain struct {
	*http.Client
	s *school
}

func (s *school) plain(pupil int) plain {
	jar, _ := cookiejar.New(nil)
	u, _ := url.Parse(s.URL)
	jar.SetCookies(u, []*http.Cookie{{Name: "who", Value: s.pupil[pupil].ID}})
	return plain{&http.Client{Jar: jar}, s}
}

func (p plain) get(path string) (int, string) {
	p.s.t.Helper()
	r, err := p.Get(p.s.URL + path)
	p.s.must(err)
	return read(r)
}

func (p plain) post(path string, form url.Values) (int, string) {
	p.s.t.Helper()
	r, err := p.PostForm(p.s.URL+path, form)
	p.s.must(err)
	return read(r)
}

func (p plain) send(path, json string) (int, string) {
	p.s.t.Helper()
	r, err := p.Post(p.s.URL+path, "application/json", strings.NewReader(json))
	p.s.must(err)
	return read(r)
}

func read(r *http.Response) (int, string) {
	defer r.Body.Close()
	b, _ := io.ReadAll(r.Body)
	return r.StatusCode, string(b)
}

// fields are what a form would send back: its fields with their values.
func fields(page string) url.Values {
	out := url.Values{}
	doc, _ := html.Parse(strings.NewReader(page))
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		at := map[string]string{}
		for _, a := range n.Attr {
			at[a.Key] = a.Val
		}
		switch n.Data {
		case "input":
			out.Set(at["name"], at["value"])
		case "textarea":
			var b bytes.Buffer
			if n.FirstChild != nil {
				b.WriteString(n.FirstChild.Data)
			}
			out.Set(at["name"], b.String())
		}
	}
	return out
}

// text is what stands on a page, without its tags.
func text(page string) string {
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		return fmt.Sprint(err)
	}
	var b strings.Builder
	for n := range doc.Descendants() {
		if n.Type == html.TextNode && n.Parent.Data != "style" && n.Parent.Data != "script" {
			b.WriteString(n.Data + " ")
		}
	}
	return strings.NewReplacer(" .", ".", " ,", ",", " :", ":").Replace(strings.Join(strings.Fields(b.String()), " "))
}

// foreign lists elements and attributes that can only come from what somebody typed, or that the policy forbids.
func foreign(page string) (list []string) {
	doc, _ := html.Parse(strings.NewReader(page))
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		src := false
		for _, a := range n.Attr {
			src = src || a.Key == "src"
			if strings.HasPrefix(a.Key, "on") || a.Key == "style" {
				list = append(list, n.Data+" "+a.Key)
			}
		}
		if n.Data == "img" || n.Data == "u" || n.Data == "i" || n.Data == "script" && !src {
			list = append(list, n.Data)
		}
	}
	return list
}
