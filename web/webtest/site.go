package webtest

import (
	"context"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web"
	"steelyard/web/marks"
	"steelyard/web/page"
	"steelyard/web/sign"
)

// A Site is the program, running.
type Site struct {
	T     testing.TB
	URL   string // "http://127.0.0.1:…"
	Desk  *page.Desk
	Store *store.Store
	Clock *Clock
	Log   *Log

	Head     account.Person // teaches Class
	Class    homework.Class
	Members  []homework.Pupil // three of them
	Codes    []string         // their personal codes, as printed
	Password string           // Head's; the login is "head"

	Teacher *Client   // signed in as Head
	Pupils  []*Client // signed in as Members
	Visitor *Client
}

// A Clock is set by the test. It starts on a Monday morning and does not go by itself.
type Clock struct {
	mu  sync.Mutex
	now time.Time
}

// Now is the time.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

// Pass lets time pass.
func (c *Clock) Pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(d)
}

// A Log keeps what was logged.
type Log struct {
	mu sync.Mutex
	b  strings.Builder
}

func (l *Log) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(b)
}

func (l *Log) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// password is the head's, hashed once for all tests.
const password = "lantern mossy ferry plug"

var hashed = sync.OnceValues(func() (string, error) { return account.HashPassword(context.Background(), password) })

// New starts the program with an empty database but for a head teacher, a class and three pupils. It ends with the test.
func New(t testing.TB) *Site {
	t.Helper()
	s, err := store.Open(t.Context(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return On(t, s)
}

// On starts the program on an open database, which it closes when the test ends.
func On(t testing.TB, s *store.Store) *Site {
	t.Helper()
	site := &Site{T: t, Store: s, Clock: &Clock{now: time.Date(2026, 11, 30, 8, 0, 0, 0, time.UTC)}, Log: &Log{}, Password: password}
	server := httptest.NewUnstartedServer(nil)
	site.URL = "http://" + server.Listener.Addr().String()
	d, err := web.NewDesk(t.Context(), s, slog.New(slog.NewJSONHandler(site.Log, nil)), site.Clock.Now, site.URL)
	if err != nil {
		t.Fatal(err)
	}
	site.Desk = d
	closing, closeAll := context.WithCancel(context.Background())
	if server.Config.Handler, err = web.New(d, web.Setting{Hosts: []string{"127.0.0.1", "localhost"}, Metrics: true, Closing: closing}); err != nil {
		t.Fatal(err)
	}
	server.Start()
	t.Cleanup(func() {
		closeAll()
		server.Close()
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	site.people()
	return site
}

// Mark has hand-ins marked as they come, as the program does beside serving, until the test ends.
func (s *Site) Mark() {
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { marks.Work(ctx, s.Desk); close(done) }()
	s.T.Cleanup(func() { stop(); <-done })
}

func (s *Site) people() {
	s.T.Helper()
	hash, err := hashed()
	s.must(err)
	s.Head = account.Person{ID: store.NewID(), Name: "Vera Orlando", Login: "head", Hash: hash, Role: account.Head, Made: s.Clock.Now()}
	s.must(s.Store.AddPerson(s.T.Context(), store.By{At: s.Clock.Now()}, s.Head))
	s.Class, s.Members, s.Codes = s.AddClass(s.Head, "10b", "Ilse Hart", "Omar Quist", "Pia Lund")
	s.Teacher = s.SignIn(account.Head, s.Head.ID)
	for _, p := range s.Members {
		s.Pupils = append(s.Pupils, s.SignIn(account.PupilOf, p.ID))
	}
	s.Visitor = s.client()
}

// AddTeacher adds one more teacher, signed in. Nobody has the password.
func (s *Site) AddTeacher(name string) (account.Person, *Client) {
	s.T.Helper()
	p := account.Person{ID: store.NewID(), Name: name, Login: strings.ToLower(strings.ReplaceAll(name, " ", ".")), Role: account.Teacher, Made: s.Clock.Now()}
	s.must(s.Store.AddPerson(s.T.Context(), store.By{At: s.Clock.Now()}, p))
	return p, s.SignIn(account.Teacher, p.ID)
}

// AddClass adds a class of a teacher with pupils, and returns their codes too.
func (s *Site) AddClass(teacher account.Person, name string, pupils ...string) (homework.Class, []homework.Pupil, []string) {
	s.T.Helper()
	by := store.By{Role: teacher.Role, Who: teacher.ID, At: s.Clock.Now()}
	c := homework.Class{ID: store.NewID(), Name: name, Code: account.NewClassCode(), KeepTill: s.Clock.Now().AddDate(1, 0, 0)}
	s.must(s.Store.AddClass(s.T.Context(), by, c))
	var members []homework.Pupil
	var codes []string
	for _, name := range pupils {
		code := account.NewCode()
		codes = append(codes, code)
		members = append(members, homework.Pupil{ID: store.NewID(), Class: c.ID, Name: name, Code: s.Desk.Codes.Hash(c.ID, code)})
	}
	s.must(s.Store.AddPupils(s.T.Context(), by, c.ID, members))
	c, err := s.Store.Class(s.T.Context(), c.ID)
	s.must(err)
	return c, members, codes
}

// SignIn is a browser that is signed in, without having typed anything.
func (s *Site) SignIn(role account.Role, who string) *Client {
	s.T.Helper()
	c := s.client()
	token, session := account.NewSession(role, who, "a test", s.Clock.Now())
	s.must(s.Store.StartSession(s.T.Context(), store.By{Role: role, Who: who, At: s.Clock.Now()}, session))
	u, _ := url.Parse(s.URL)
	c.HTTP.Jar.SetCookies(u, []*http.Cookie{{Name: sign.Cookie(s.Desk), Value: token, Path: "/"}})
	return c
}

func (s *Site) client() *Client {
	jar, err := cookiejar.New(nil)
	s.must(err)
	transport := http.DefaultTransport.(*http.Transport).Clone()
	s.T.Cleanup(transport.CloseIdleConnections)
	return &Client{T: s.T, URL: s.URL, HTTP: &http.Client{Jar: jar, Transport: transport, Timeout: 90 * time.Second,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
}

func (s *Site) must(err error) {
	s.T.Helper()
	if err != nil {
		s.T.Fatal(err)
	}
}

// Token is the client's session token, to be put into a real browser as the cookie named by [sign.Cookie].
func (s *Site) Token(c *Client) string {
	u, _ := url.Parse(s.URL)
	for _, k := range c.HTTP.Jar.Cookies(u) {
		if k.Name == sign.Cookie(s.Desk) {
			return k.Value
		}
	}
	return ""
}
