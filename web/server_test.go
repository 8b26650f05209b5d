package web_test

import (
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"net/url"
	"strings"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web"
	"steelyard/web/page"
	"steelyard/web/sign"
	"steelyard/web/webtest"
)

func TestSessionsEndWhenTheyShould(t *testing.T) {
	signedOut := func(c *webtest.Client) bool {
		return c.Do(http.MethodGet, "/account", "", nil).Status == http.StatusSeeOther
	}
	t.Run("after half an hour without use, for a teacher", func(t *testing.T) {
		site := webtest.New(t)
		for range 4 {
			site.Clock.Pass(29 * time.Minute)
			if signedOut(site.Teacher) {
				t.Fatal("signed out while it was used")
			}
		}
		site.Clock.Pass(31 * time.Minute)
		if !signedOut(site.Teacher) {
			t.Error("still signed in")
		}
		if s, _ := site.Store.SessionsOf(t.Context(), site.Head.ID); len(s) != 0 {
			t.Error("the session is still kept")
		}
	})
	t.Run("after two hours without use, for a pupil, and after eight in any case", func(t *testing.T) {
		site := webtest.New(t)
		site.Clock.Pass(2 * time.Hour)
		if !signedOut(site.Pupils[0]) {
			t.Error("still signed in")
		}
		pupil := site.SignIn(account.PupilOf, site.Members[0].ID)
		for range 5 {
			site.Clock.Pass(90 * time.Minute)
			if signedOut(pupil) {
				t.Fatal("signed out while it was used")
			}
		}
		site.Clock.Pass(35 * time.Minute)
		if !signedOut(pupil) {
			t.Error("signed in after eight hours")
		}
	})
	t.Run("when the pupil has left, or has a new code", func(t *testing.T) {
		site := webtest.New(t)
		p := site.Members[0]
		p.Left = site.Clock.Now()
		must(t, site.Store.SavePupil(t.Context(), by(site), p))
		q := site.Members[1]
		q.Code = site.Desk.Codes.Hash(q.Class, account.NewCode())
		must(t, site.Store.SavePupil(t.Context(), by(site), q))
		if !signedOut(site.Pupils[0]) || !signedOut(site.Pupils[1]) || signedOut(site.Pupils[2]) {
			t.Error("sessions of a pupil who left, of one with a new code, of another")
		}
	})
	t.Run("everywhere else when the password is changed", func(t *testing.T) {
		site := webtest.New(t)
		other := site.SignIn(account.Head, site.Head.ID)
		before := site.Token(site.Teacher)
		site.Teacher.Get("/account").Submit("Change password", webtest.Values{"Password now": "not this one", "New password": "gravel otter teapot nine"}).Want(422)
		site.Teacher.Get("/account").Submit("Change password", webtest.Values{"Password now": site.Password, "New password": "gravel otter teapot"}).Want(200)
		if !signedOut(other) || signedOut(site.Teacher) || before != site.Token(site.Teacher) {
			t.Error("other", signedOut(other), "this", signedOut(site.Teacher))
		}
		site.Visitor.Get("/sign-in").Submit("Sign in", webtest.Values{"login": "head", "password": site.Password}).Want(422)
	})
	t.Run("when they are ended from another browser", func(t *testing.T) {
		site := webtest.New(t)
		site.Clock.Pass(time.Second)
		other := site.SignIn(account.Head, site.Head.ID)
		other.Get("/account").Submit("End the session", nil)
		if !signedOut(site.Teacher) || signedOut(other) {
			t.Error("the wrong one was ended")
		}
	})
	t.Run("when an account is closed", func(t *testing.T) {
		site := webtest.New(t)
		_, jonas := site.AddTeacher("Jonas Brandt")
		site.Teacher.Get("/people").Submit("Close account of Jonas", nil).Has("Open again")
		if !signedOut(jonas) {
			t.Error("still signed in")
		}
		site.Teacher.Get("/people").Submit("Close account of Vera", nil).Want(409).Has("Somebody has to stay head")
	})
}

func TestASignInMakesANewSession(t *testing.T) {
	site := webtest.New(t)
	// A token that somebody else has put into the browser is not taken over.
	u := site.URL + "/sign-in/pupil"
	planted := strings.Repeat("A", 43)
	cookies(site.Visitor, site, planted)
	site.Visitor.Get("/sign-in/pupil").Submit("Sign in", webtest.Values{"class": site.Class.Code, "code": site.Codes[0]})
	if got := site.Token(site.Visitor); got == planted || got == "" {
		t.Errorf("%s: the session is %q", u, got)
	}
	first := site.Token(site.Visitor)
	p := site.Visitor.Do(http.MethodPost, "/sign-out", "", nil)
	if got := p.Header.Get("Clear-Site-Data"); !strings.Contains(got, "storage") || !strings.Contains(got, "cache") {
		t.Error("what the browser has kept stays:", got)
	}
	cookies(site.Visitor, site, first)
	if site.Visitor.Do(http.MethodGet, "/account", "", nil).Status != http.StatusSeeOther {
		t.Error("the old token still opens the account")
	}
}

func cookies(c *webtest.Client, site *webtest.Site, token string) {
	r, _ := http.NewRequest(http.MethodGet, site.URL, nil)
	c.HTTP.Jar.SetCookies(r.URL, []*http.Cookie{{Name: sign.Cookie(site.Desk), Value: token, Path: "/"}})
}

// Over TLS the cookie can't be set by another host or read by scripts; the token never comes back in a page.
func TestTheCookieIsKept(t *testing.T) {
	site := webtest.New(t)
	site.Desk.Host = "https://physics.school.example"
	p := site.Visitor.Do(http.MethodPost, "/sign-in/pupil", "application/x-www-form-urlencoded", strings.NewReader("class="+site.Class.Code+"&code="+site.Codes[0]))
	set := p.Header.Get("Set-Cookie")
	for _, must := range []string{"__Host-s=", "Path=/", "HttpOnly", "Secure", "SameSite=Lax"} {
		if !strings.Contains(set, must) || strings.Contains(set, "Domain") {
			t.Errorf("the cookie is %s", set)
		}
	}
}

// Two pupils try out codes of a classmate. They are slowed after ten, locked out after fifty, and so is nobody else's class;
// the right code among the wrong ones does not let them in once they are held. The teacher lets the class in again.
func TestTwoPupilsGuessingCodes(t *testing.T) {
	site := webtest.New(t)
	other, _, theirCodes := site.AddClass(site.Head, "11c", "Tove Anders")
	two := []*webtest.Client{site.Visitor, site.SignIn(account.PupilOf, site.Members[2].ID)}
	two[1].Get("/account").Submit("Sign out", nil)
	wrong, waits, passed := 0, 0, time.Duration(0)
	for i := 0; wrong < 50 && i < 500; i++ {
		p := try(two[i%2], site.Class.Code, fmt.Sprintf("2222%04d", 2000+i))
		switch p.Status {
		case http.StatusUnprocessableEntity:
			wrong++
		case http.StatusTooManyRequests:
			waits++
			if p := try(two[i%2], site.Class.Code, site.Codes[0]); p.Status != http.StatusTooManyRequests {
				t.Fatalf("while they have to wait, the right code gives %d", p.Status)
			}
			var seconds int
			fmt.Sscan(p.Header.Get("Retry-After"), &seconds)
			wait := time.Duration(seconds) * time.Second
			passed += wait
			site.Clock.Pass(wait)
		default:
			t.Fatal(p.Status, p.Text())
		}
	}
	if wrong != 50 || waits < 35 || passed < 25*time.Minute {
		t.Errorf("%d wrong tries, %d waits, %v", wrong, waits, passed)
	}
	site.Clock.Pass(10 * time.Minute)
	try(two[0], site.Class.Code, site.Codes[0]).Want(429).Has("ask your teacher to let you in again")
	if p := try(two[0], other.Code, theirCodes[0]); p.Status != http.StatusSeeOther {
		t.Error("another class is locked too:", p.Status)
	}
	site.Teacher = site.SignIn(account.Head, site.Head.ID)
	site.Teacher.Post("/classes/"+site.Class.ID+"/unlock", nil)
	if p := try(site.SignIn(account.PupilOf, "nobody"), site.Class.Code, site.Codes[0]); p.Status != http.StatusSeeOther {
		t.Error("after the teacher has looked:", p.Status, p.Text())
	}
}

func try(c *webtest.Client, class, code string) *webtest.Page {
	c.T.Helper()
	return c.Do(http.MethodPost, "/sign-in/pupil", "application/x-www-form-urlencoded", strings.NewReader("class="+class+"&code="+code))
}

// Nobody learns from an answer whether a class, a code or a login exists.
func TestAnswersDoNotTellWhatExists(t *testing.T) {
	site := webtest.New(t)
	a := try(site.Visitor, site.Class.Code, "2222-2222")
	b := try(site.Visitor, "222222", "2222-2222")
	left := site.Members[0]
	left.Left = site.Clock.Now()
	must(t, site.Store.SavePupil(t.Context(), by(site), left))
	c := try(site.Visitor, site.Class.Code, site.Codes[0])
	if said(a) != said(b) || said(a) != said(c) || a.Status != b.Status || a.Status != c.Status {
		t.Errorf("wrong code: %s\nwrong class: %s\npupil who has left: %s", said(a), said(b), said(c))
	}
	closed, _ := site.AddTeacher("Mira Castellan")
	closed.Hash, closed.Ended = site.Head.Hash, site.Clock.Now()
	must(t, site.Store.SavePerson(t.Context(), by(site), closed, ""))
	in := func(login, password string) *webtest.Page {
		return site.Visitor.Post("/sign-in", url.Values{"login": {login}, "password": {password}})
	}
	x, y, z := in("head", "wrong"), in("nobody", "wrong"), in(closed.Login, site.Password)
	if said(x) != said(y) || said(x) != said(z) || x.Status != y.Status || x.Status != z.Status {
		t.Errorf("wrong password: %s\nnobody: %s\nclosed: %s", said(x), said(y), said(z))
	}
}

// said is what a page says of faults.
func said(p *webtest.Page) string {
	var b strings.Builder
	for _, n := range p.All("p", "class", "fault") {
		b.WriteString(webtest.TextOf(n))
	}
	return b.String()
}

// A teacher's password can be tried a hundred times at most, with growing waits, and not many times at once.
func TestPasswordsCannotBeGuessed(t *testing.T) {
	site := webtest.New(t)
	answered, waited := 0, time.Duration(0)
	for i := range 8 {
		p := site.Visitor.Post("/sign-in", url.Values{"login": {"head"}, "password": {fmt.Sprint("guess ", i)}})
		if p.Status == http.StatusUnprocessableEntity {
			answered++
			continue
		}
		var seconds int
		fmt.Sscan(p.Header.Get("Retry-After"), &seconds)
		waited += time.Duration(seconds) * time.Second
		site.Clock.Pass(time.Duration(seconds) * time.Second)
	}
	if answered != 6 || waited != 90*time.Second {
		t.Errorf("%d of 8 were answered, after %v", answered, waited)
	}
}

// What people call themselves stands on pages as they wrote it, and nothing of it is obeyed.
func TestHostileNamesAreOnlyText(t *testing.T) {
	site := webtest.New(t)
	hostile := `<script>alert(1)</script>"><img src=x onerror=alert(2)> ' javascript:alert(3) {{7*7}}`
	site.Teacher.Get("/account").Submit("Change name", webtest.Values{"Your name": hostile}).Want(200)
	site.AddClass(site.Head, hostile, hostile)
	if err := site.Store.AddQuestion(t.Context(), by(site), store.Question{ID: store.NewID(), Owner: site.Head.ID, Title: hostile, Text: "question \"" + strings.ReplaceAll(hostile, `"`, "'") + "\"\n", Shared: true, Changed: site.Clock.Now()}); err != nil {
		t.Fatal(err)
	}
	classes, err := site.Store.ClassesOf(t.Context(), site.Head.ID)
	must(t, err)
	paths := []string{"/account", "/people", "/history", "/classes", "/questions", "/today"}
	for _, c := range classes {
		paths = append(paths, "/classes/"+c.ID, "/classes/"+c.ID+"/codes", "/classes/"+c.ID+"/about")
	}
	for _, path := range paths {
		p := site.Teacher.Get(path)
		if p.Status != http.StatusOK {
			t.Errorf("%s: %d", path, p.Status)
		}
		inline(t, p, path)
		if len(p.All("img", "src", "x")) > 0 {
			t.Errorf("%s has a picture that a name put there", path)
		}
	}
	if p := site.Teacher.Get("/account"); !strings.Contains(p.Text(), hostile[:25]) {
		t.Error("the name does not stand there as it was written")
	}
}

// hooks answers requests with routes of the test's own.
func hooks(t *testing.T, site *webtest.Site, set web.Setting, routes ...page.Route) string {
	t.Helper()
	h, err := web.Handler(site.Desk, set, routes)
	must(t, err)
	s := httptest.NewServer(h)
	t.Cleanup(s.Close)
	return s.URL
}

func TestFaultsAreToldInPlainWords(t *testing.T) {
	site := webtest.New(t)
	web.Usual(t, 100*time.Millisecond)
	fails := func(pattern string, err error) page.Route {
		return page.Route{Pattern: pattern, For: page.Everyone, Do: func(http.ResponseWriter, *http.Request, *page.Viewer) error { return err }}
	}
	at := hooks(t, site, web.Setting{},
		fails("GET /changed", fmt.Errorf("saving: %w", store.ErrChanged)), fails("GET /closed", store.ErrClosed), fails("GET /full", store.ErrFull),
		fails("GET /busy", store.ErrBusy), fails("GET /gone", store.ErrNotFound), fails("GET /late", context.DeadlineExceeded), fails("GET /own", errors.New("secret detail")),
		fails("GET /refused", &page.Refusal{Status: 403, What: "this is not yours", Mend: "ask for it"}),
		page.Route{Pattern: "GET /slow", For: page.Everyone, Do: func(_ http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
			<-r.Context().Done()
			return r.Context().Err()
		}},
		page.Route{Pattern: "GET /panic", For: page.Everyone, Do: func(http.ResponseWriter, *http.Request, *page.Viewer) error { panic("secret detail") }},
		page.Route{Pattern: "POST /large", For: page.Everyone, Body: 100, Do: func(_ http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
			_, err := io.ReadAll(r.Body)
			return err
		}})
	for path, want := range map[string]struct {
		status int
		says   string
	}{
		"/changed": {409, "Nothing of theirs was written over"}, "/closed": {409, "This set is closed"}, "/full": {507, "disk is full"}, "/busy": {503, "too long"},
		"/gone": {404, "There is no such page"}, "/late": {503, "too long"}, "/slow": {503, "too long"}, "/own": {500, "not your doing"}, "/panic": {500, "not your doing"}, "/refused": {403, "Ask for it."}, "/nowhere": {404, "There is no such page"},
	} {
		p := site.Visitor.Get(at + path)
		if p.Status != want.status || len(p.All("h1", "", "")) != 1 || strings.Contains(p.Text(), "secret detail") {
			t.Errorf("%s: %d %s", path, p.Status, p.Text())
		}
		p.Has(want.says)
		if want.status == 500 {
			reference := webtest.TextOf(p.All("strong", "class", "number")[0])
			if !strings.Contains(site.Log.String(), reference) || !strings.Contains(site.Log.String(), "secret detail") {
				t.Errorf("%s: the log does not have %s", path, reference)
			}
		}
	}
	large := strings.NewReader(strings.Repeat("x", 101))
	if p := site.Visitor.Do(http.MethodPost, at+"/large", "text/plain", large); p.Status != 413 {
		t.Error("a body too large:", p.Status)
	}
	form := strings.NewReader("a=" + strings.Repeat("x", 101))
	if p := site.Visitor.Do(http.MethodPost, at+"/large", "application/x-www-form-urlencoded", form); p.Status != 413 {
		t.Error("a form too large:", p.Status)
	}
}

func TestRequestsAreLimited(t *testing.T) {
	site := webtest.New(t)
	at := hooks(t, site, web.Setting{}, page.Route{Pattern: "GET /x", For: page.Everyone, Do: func(w http.ResponseWriter, _ *http.Request, _ *page.Viewer) error {
		_, err := w.Write([]byte("x"))
		return err
	}})
	for i := range 3000 {
		if p := site.Visitor.Do(http.MethodGet, at+"/x", "", nil); p.Status == http.StatusTooManyRequests {
			if p.Header.Get("Retry-After") == "" {
				t.Error("it does not say how long to wait")
			}
			p.Has("Too many requests")
			return
		} else if i == 2999 {
			t.Error("3000 requests at once were answered")
		}
	}
}

// Another site's name that leads to this computer gets nothing from it.
func TestOnlyOurOwnNamesAreAnswered(t *testing.T) {
	site := webtest.New(t)
	for host, want := range map[string]int{"127.0.0.1": 200, "localhost:99": 200, "elsewhere.example": 421, "127.0.0.1.elsewhere.example": 421, "[::1]:80": 421} {
		r, _ := http.NewRequestWithContext(t.Context(), http.MethodGet, site.URL+"/", nil)
		r.Host = host
		if p := site.Visitor.Send(r); p.Status != want {
			t.Errorf("%s: %d", host, p.Status)
		}
	}
}

// What a header says about where a request comes from counts from the named proxy only.
func TestOnlyTheProxyIsBelieved(t *testing.T) {
	site := webtest.New(t)
	var seen string
	route := page.Route{Pattern: "GET /x", For: page.Everyone, Do: func(_ http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
		seen = r.RemoteAddr
		return page.NotFound
	}}
	for _, c := range []struct{ proxy, says, want string }{
		{"", "192.0.2.1", "127.0.0.1:0"}, {"10.0.0.0/8", "192.0.2.1", "127.0.0.1:0"}, {"127.0.0.1/32", "192.0.2.1", "192.0.2.1:0"},
		{"127.0.0.1/32", "203.0.113.9, 192.0.2.1", "192.0.2.1:0"}, {"127.0.0.1/32", "192.0.2.1, 127.0.0.1", "192.0.2.1:0"},
		{"127.0.0.1/32", "nonsense", "127.0.0.1:0"}, {"127.0.0.1/32", "", "127.0.0.1:0"}, {"127.0.0.1/32", "2001:db8::1", "[2001:db8::]:0"},
	} {
		var set web.Setting
		if c.proxy != "" {
			set.Proxies = []netip.Prefix{netip.MustParsePrefix(c.proxy)}
		}
		r, _ := http.NewRequestWithContext(t.Context(), http.MethodGet, hooks(t, site, set, route)+"/x", nil)
		r.Header.Set("X-Forwarded-For", c.says)
		if site.Visitor.Send(r); seen != c.want {
			t.Errorf("%+v: %s", c, seen)
		}
	}
}

// A page that is listened to ends when the session does, and when the program stops.
func TestLivePagesEndWithTheSession(t *testing.T) {
	site := webtest.New(t)
	web.Recheck(t, 20*time.Millisecond)
	closing, stop := context.WithCancel(t.Context())
	route := page.Route{Pattern: "GET /live", For: page.Teachers, Live: true, Do: func(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
		w.Header().Set("Content-Type", "text/event-stream")
		http.NewResponseController(w).Flush()
		<-r.Context().Done()
		return nil
	}}
	at := hooks(t, site, web.Setting{Closing: closing}, route)
	ended := func(what func()) bool {
		r, _ := http.NewRequestWithContext(t.Context(), http.MethodGet, at+"/live", nil)
		r.AddCookie(&http.Cookie{Name: "s", Value: site.Token(site.Teacher)})
		answer, err := http.DefaultClient.Do(r)
		must(t, err)
		defer answer.Body.Close()
		if answer.StatusCode != http.StatusOK {
			t.Fatal(answer.StatusCode)
		}
		what()
		over := make(chan struct{})
		go func() { io.Copy(io.Discard, answer.Body); close(over) }()
		select {
		case <-over:
			return true
		case <-time.After(5 * time.Second):
			return false
		}
	}
	if !ended(func() { must(t, site.Store.EndSessions(t.Context(), by(site), site.Head.ID, "")) }) {
		t.Error("it goes on after the session")
	}
	site.Teacher = site.SignIn(account.Head, site.Head.ID)
	if !ended(stop) {
		t.Error("it goes on after the program was told to stop")
	}
}

func TestPagesArePackedAndTheSame(t *testing.T) {
	site := webtest.New(t)
	read := func(encoding string) (string, http.Header) {
		r, _ := http.NewRequestWithContext(t.Context(), http.MethodGet, site.URL+"/kept", nil)
		r.Header.Set("Accept-Encoding", encoding)
		answer, err := http.DefaultTransport.RoundTrip(r)
		must(t, err)
		defer answer.Body.Close()
		body := io.Reader(answer.Body)
		if answer.Header.Get("Content-Encoding") == "gzip" {
			body, err = gzip.NewReader(body)
			must(t, err)
		}
		b, err := io.ReadAll(body)
		must(t, err)
		return string(b), answer.Header
	}
	plain, h := read("identity")
	packed, g := read("gzip")
	if plain != packed || h.Get("Content-Encoding") != "" || g.Get("Content-Encoding") != "gzip" || !strings.Contains(g.Get("Vary"), "Accept-Encoding") {
		t.Error(len(plain), len(packed), h, g)
	}
}

// Neither log nor metrics nor addresses have names, codes, tokens or what was typed.
func TestLogsHaveNothingPersonal(t *testing.T) {
	site := webtest.New(t)
	site.Visitor.Get("/sign-in/pupil?to=/work/abc").Submit("Sign in", webtest.Values{"class": site.Class.Code, "code": site.Codes[0]})
	site.Teacher.Get("/account").Submit("Change name", webtest.Values{"Your name": "Vera Quartermaine"})
	site.Teacher.Get("/people").Submit("Make a link", nil).Want(200).Has("/first#")
	site.Teacher.Get("/classes/" + site.Class.ID)
	site.Visitor.Post("/sign-in", url.Values{"login": {"head"}, "password": {"quite wrong indeed"}})
	metrics := site.Visitor.Get("/metrics").Want(200).Body
	if !strings.Contains(metrics, `steelyard_requests_total{route="POST /sign-in/pupil",status="303"} 1`) {
		t.Error("metrics lack the sign-in:", metrics)
	}
	for where, text := range map[string]string{"log": site.Log.String(), "metrics": metrics} {
		for _, secret := range []string{"Ilse", "Vera", "Quartermaine", site.Class.Code, account.ReadCode(site.Codes[0]), site.Codes[0], site.Token(site.Teacher), site.Token(site.Visitor), "quite wrong", "10b", "127.0.0.1", "/work/abc"} {
			if strings.Contains(text, secret) {
				t.Errorf("the %s has %q", where, secret)
			}
		}
	}
	if !strings.Contains(site.Log.String(), site.Members[0].ID) || !strings.Contains(site.Log.String(), `"route":"POST /sign-in/pupil","status":303`) {
		t.Error("the log does not say what happened:", site.Log)
	}
}

func TestProbesAnswer(t *testing.T) {
	site := webtest.New(t)
	site.Visitor.Get("/healthz").Want(200).Has("well")
	site.Visitor.Get("/readyz").Want(200).Has("ready")
	must(t, site.Store.Close())
	site.Visitor.Get("/healthz").Want(200)
	site.Visitor.Get("/readyz").Want(503).Has("not ready")
}

func TestWhereToGoOnIsOurs(t *testing.T) {
	site := webtest.New(t)
	for _, to := range []string{"https://elsewhere.example/", "//elsewhere.example", `/\elsewhere.example`, "javascript:alert(1)", "/%5c/elsewhere", "work", "/\t/elsewhere.example"} {
		p := site.Visitor.Do(http.MethodPost, "/sign-in/pupil", "application/x-www-form-urlencoded",
			strings.NewReader(url.Values{"class": {site.Class.Code}, "code": {site.Codes[0]}, "to": {to}}.Encode()))
		if got := p.Header.Get("Location"); got != "/work" && got != "/%5c/elsewhere" {
			t.Errorf("%q leads to %q", to, got)
		}
	}
	if p := site.SignIn(account.PupilOf, "nobody").Do(http.MethodGet, "/classes?x=1", "", nil); p.Header.Get("Location") != "/sign-in?to=/classes" {
		t.Error(p.Header)
	}
}

func TestAnInvitationIsForOne(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/people").Submit("Make a link", webtest.Values{"Teach": "teacher"}).Want(200)
	_, code, _ := strings.Cut(webtest.TextOf(p.All("p", "id", "link")[0]), "#")
	fill := webtest.Values{"Code of the invitation": strings.ToLower(code), "Your name": "Jonas Brandt", "Name to sign in with": "Jonas", "Password": "gravel otter teapot nine"}
	first := site.Visitor.Get("/first")
	short := webtest.Values{}
	for k, v := range fill {
		short[k] = v
	}
	short["Password"] = "too short"
	first.Submit("Make the account", short).Want(422).Has("characters are too few")
	first.Submit("Make the account", fill)
	site.Visitor.Get("/account").Want(200).Has("Jonas Brandt").Lacks("History")
	again := site.SignIn(account.PupilOf, "nobody")
	again.Get("/first").Submit("Make the account", fill).Want(422).Has("has been used, is over, or is mistyped")
	person, err := site.Store.PersonByLogin(t.Context(), "jonas")
	if err != nil || person.Role != account.Teacher {
		t.Error(person, err)
	}
	late := site.Teacher.Get("/people").Submit("Make a link", nil)
	_, code, _ = strings.Cut(webtest.TextOf(late.All("p", "id", "link")[0]), "#")
	site.Clock.Pass(8 * 24 * time.Hour)
	fill["Code of the invitation"], fill["Name to sign in with"] = code, "jonas2"
	again.Get("/first").Submit("Make the account", fill).Want(422).Has("is over")
}

func TestHowPagesLookIsKeptInTheBrowser(t *testing.T) {
	site := webtest.New(t)
	p := site.Pupils[0].Get("/account").Submit("Keep this look", webtest.Values{"Dark": "dark", "Large": "yes"}).Want(200)
	if class := webtest.Attr(p.All("html", "", "")[0], "class"); !strings.Contains(class, "dark") || !strings.Contains(class, "large") {
		t.Error(class)
	}
}

func by(site *webtest.Site) store.By {
	return store.By{Role: account.Head, Who: site.Head.ID, At: site.Clock.Now()}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
