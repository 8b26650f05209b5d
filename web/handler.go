package web

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"steelyard/web/page"
	"steelyard/web/sign"
)

// How long a request may take.
var (
	usual = 10 * time.Second
	slow  = time.Minute
)

// recheck is after how long it is seen whether who listens is still signed in.
var recheck = 30 * time.Second

const usualBody = 64 << 10

// A server answers requests.
type server struct {
	desk   *page.Desk
	mux    *http.ServeMux
	origin *http.CrossOriginProtection
	rates  *rates

	listeners listeners
	meter     *meter
	proxies   []netip.Prefix
	hosts     []string // that may be asked for; none: any
	secure    bool     // served over TLS, here or by a proxy
	closing   context.Context
}

// A Setting says how a server stands in the network.
type Setting struct {
	Proxies []netip.Prefix  // whose X-Forwarded-For is believed
	Hosts   []string        // names that the server answers to, without ports; none: any
	Often   bool            // no limit on how many requests come: for tests
	Metrics bool            // answer /metrics to everyone who gets here
	Closing context.Context // when it ends, what stays open is closed
}

// New makes the handler of all routes. It fails if a route has no rule.
func New(d *page.Desk, set Setting) (http.Handler, error) {
	pages, _, err := build(d, set, Routes(d))
	return pages, err
}

// build makes the handler of routes, and one for metrics alone.
func build(d *page.Desk, set Setting, routes []page.Route) (pages, metrics http.Handler, err error) {
	s := &server{desk: d, mux: http.NewServeMux(), origin: http.NewCrossOriginProtection(), meter: newMeter(), proxies: set.Proxies,
		hosts: set.Hosts, secure: strings.HasPrefix(d.Host, "https://"), closing: set.Closing,
		rates: &rates{seen: map[string]*counted{}, now: time.Now}}
	if s.closing == nil {
		s.closing = context.Background()
	}
	if set.Often {
		s.rates = nil
	}
	if err := s.origin.AddTrustedOrigin(d.Host); err != nil {
		return nil, nil, fmt.Errorf("the public address %q: %w", d.Host, err)
	}
	for _, r := range slices.Concat(routes, s.own(set.Metrics)) {
		if err := ruled(r); err != nil {
			return nil, nil, err
		}
		s.mux.Handle(r.Pattern, s.route(r))
	}
	s.mux.Handle("/", s.route(page.Route{Pattern: "/", For: page.Everyone, Do: nowhere}))
	return s, s.meter.handler(), nil
}

func nowhere(http.ResponseWriter, *http.Request, *page.Viewer) error { return page.NotFound }

// A record is what is noted of a request.
type record struct {
	http.ResponseWriter
	status int
	who    string // an ID
	fault  error
}

func (r *record) WriteHeader(status int) {
	if r.status == 0 {
		r.status = status
	}
	r.ResponseWriter.WriteHeader(status)
}

func (r *record) Write(b []byte) (int, error) {
	if r.status == 0 {
		r.status = http.StatusOK
	}
	return r.ResponseWriter.Write(b)
}

func (r *record) Unwrap() http.ResponseWriter { return r.ResponseWriter }

type recordKey struct{}

func recordOf(r *http.Request) *record { return r.Context().Value(recordKey{}).(*record) }

// ServeHTTP answers one request, whatever happens while it is answered.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	began := time.Now()
	rec := &record{ResponseWriter: w}
	r = r.WithContext(context.WithValue(r.Context(), recordKey{}, rec))
	r.RemoteAddr = net.JoinHostPort(address(r, s.proxies), "0")
	headers(w.Header(), s.secure)
	s.meter.open.Inc()
	defer func() {
		s.meter.open.Dec()
		s.note(r, rec, time.Since(began))
	}()
	defer func() {
		if p := recover(); p != nil {
			if p == http.ErrAbortHandler {
				panic(p)
			}
			s.failed(rec, r, visitor(), fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
		}
	}()
	if !s.known(r.Host) {
		s.failed(rec, r, visitor(), &page.Refusal{Status: http.StatusMisdirectedRequest, What: "this server has another name", Mend: "use the address that you were given"})
		return
	}
	if err := s.origin.Check(r); err != nil {
		s.failed(rec, r, visitor(), &page.Refusal{Status: http.StatusForbidden, What: "this came from another site", Mend: "open Steelyard itself and do it there"})
		return
	}
	s.mux.ServeHTTP(rec, r)
}

// known says whether a host is ours. Otherwise another site could make its own name lead to this computer, and so read
// what only this computer may.
func (s *server) known(host string) bool {
	if len(s.hosts) == 0 {
		return true
	}
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return slices.Contains(s.hosts, strings.ToLower(strings.Trim(host, "[]")))
}

// note logs a request: the route and not the address, the pseudonym and not the name.
func (s *server) note(r *http.Request, rec *record, took time.Duration) {
	route, live := r.Pattern, strings.Contains(rec.Header().Get("Content-Type"), "event-stream")
	if route == "" {
		route = "none"
	}
	s.meter.count(route, rec.status, took, live)
	if quiet := route == "GET /healthz" || route == "GET /readyz" || strings.HasPrefix(route, "GET /assets/"); quiet && rec.fault == nil {
		return
	}
	level, fields := slog.LevelInfo, []slog.Attr{slog.String("route", route), slog.Int("status", rec.status),
		slog.Float64("ms", float64(took.Microseconds())/1000), slog.String("who", rec.who)}
	if rec.fault != nil {
		level = slog.LevelError
		fields = append(fields, slog.String("err", rec.fault.Error()), slog.String("reference", reference(rec)))
	}
	s.desk.Log.LogAttrs(r.Context(), level, "request", fields...)
}

// reference is what the page of a fault and the log have in common.
func reference(rec *record) string {
	if rec.Header().Get("X-Reference") == "" {
		var b [4]byte
		rand.Read(b[:])
		rec.Header().Set("X-Reference", hex.EncodeToString(b[:]))
	}
	return rec.Header().Get("X-Reference")
}

// failed tells the reader of an error, if nothing has been sent yet.
func (s *server) failed(w http.ResponseWriter, r *http.Request, v *page.Viewer, err error) {
	rec := recordOf(r)
	if errors.Is(err, io.ErrUnexpectedEOF) && strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		err = badRequest // a file broke off on its way
	}
	f := tell(err)
	if f.Status >= 500 {
		rec.fault = err
	}
	if f.Status == http.StatusInternalServerError {
		f.Reference = reference(rec)
	}
	if rec.status != 0 {
		return
	}
	for _, h := range []string{"Content-Length", "Content-Encoding", "Content-Disposition", "ETag"} {
		w.Header().Del(h)
	}
	w.Header().Set("Cache-Control", "no-store")
	r = r.WithContext(context.WithoutCancel(r.Context())) // the time may be up; to say so is still possible
	if err := s.sendFault(w, r, v, f); err != nil && rec.fault == nil {
		rec.fault = err
	}
}

// bare routes look at nobody's session.
func bare(pattern string) bool {
	return strings.HasPrefix(pattern, "GET /assets/") || pattern == "GET /healthz" || pattern == "GET /readyz" || pattern == "GET /metrics"
}

// route serves one route: who looks, how often, how much, how long, and whether they may.
func (s *server) route(route page.Route) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		v := visitor()
		if bare(route.Pattern) {
			if err := route.Do(w, r, v); err != nil {
				s.failed(w, r, v, err)
			}
			return
		}
		defer func() {
			if p := recover(); p != nil {
				if p == http.ErrAbortHandler {
					panic(p)
				}
				s.failed(w, r, v, fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
			}
		}()
		ctx, cancel := s.bounded(w, r, route)
		defer cancel()
		r = r.WithContext(ctx)
		if err := s.serve(w, r, &v, route); err != nil && !errors.Is(err, context.Canceled) {
			s.failed(w, r, v, err)
		}
	}
}

func (s *server) serve(w http.ResponseWriter, r *http.Request, seen **page.Viewer, route page.Route) error {
	v, err := sign.Find(s.desk, r, route.Pattern != "GET /session")
	if err != nil {
		return err
	}
	*seen, recordOf(r).who = v, v.ID
	if ok, wait := s.may(v, r); !ok {
		w.Header().Set("Retry-After", fmt.Sprint(int(wait.Seconds()+1)))
		return &page.Refusal{Status: http.StatusTooManyRequests, What: "too many requests at once", Mend: "wait a few seconds and try again"}
	}
	if !forRole(route.For, v.Role) {
		if v.Signed() {
			return page.NotFound
		}
		return s.signInFirst(w, r, v, route)
	}
	if err := allowed(s.desk, r, v, route.Pattern); err != nil {
		return err
	}
	if err := readForm(w, r, route); err != nil {
		return err
	}
	if of := r.PostForm.Get(page.Of); of != "" && of != v.ID {
		return opened
	}
	if route.Live {
		return s.live(w, r, v, route)
	}
	if !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") || r.Method == http.MethodHead {
		return route.Do(w, r, v)
	}
	p := &packed{ResponseWriter: w}
	err = route.Do(p, r, v)
	if err != nil && !p.decided {
		return err // nothing was sent: the fault has its own page
	}
	p.close()
	return err
}

// opened refuses a form that was opened by one and is sent by another, as on a shared phone after the session has ended.
var opened = &page.Refusal{Status: http.StatusConflict, What: "somebody else opened this form, in this browser",
	Mend: "nothing of it was kept under your name. Open your own work again"}

func (s *server) may(v *page.Viewer, r *http.Request) (bool, time.Duration) {
	if s.rates == nil {
		return true, 0
	}
	if v.Signed() {
		return s.rates.take("session "+v.Session, perSession, sessionBurst)
	}
	host, _, _ := net.SplitHostPort(r.RemoteAddr)
	return s.rates.take("address "+host, perAddress, addressBurst)
}

// bounded limits how long a request may take to be read, worked on and answered.
func (s *server) bounded(w http.ResponseWriter, r *http.Request, route page.Route) (context.Context, context.CancelFunc) {
	c := http.NewResponseController(w)
	if route.Live {
		c.SetReadDeadline(time.Time{})
		c.SetWriteDeadline(time.Time{})
		ctx, cancel := context.WithCancel(r.Context())
		stop := context.AfterFunc(s.closing, cancel)
		return ctx, func() { stop(); cancel() }
	}
	within := usual
	if route.Slow {
		within = slow
	}
	now := time.Now()
	// A connection that may not be read any more counts as left: later than the time is up, so that this can be told.
	c.SetReadDeadline(now.Add(within + usual))
	c.SetWriteDeadline(now.Add(within + usual))
	return context.WithTimeout(r.Context(), within)
}

// readForm bounds the body, and reads it where it is a form, so that a form too large or broken never gets to a room.
func readForm(w http.ResponseWriter, r *http.Request, route page.Route) error {
	most := route.Body
	if most == 0 {
		most = usualBody
	}
	r.Body = http.MaxBytesReader(w, r.Body, most)
	if _, err := url.ParseQuery(r.URL.RawQuery); err != nil {
		return badRequest
	}
	if !strings.HasPrefix(r.Header.Get("Content-Type"), "application/x-www-form-urlencoded") {
		return nil
	}
	err := r.ParseForm()
	if large := new(http.MaxBytesError); errors.As(err, &large) {
		return err
	}
	if err != nil {
		return badRequest
	}
	for _, values := range r.Form {
		for _, value := range values {
			if strings.ContainsRune(value, 0) {
				return badRequest // no database keeps it, no keyboard has it
			}
		}
	}
	return nil
}

var badRequest = &page.Refusal{Status: http.StatusBadRequest, What: "this could not be read", Mend: "go back, open the page again and send it once more"}

// listening is how many live pages one session may have open: each holds a connection, and the database looks for it.
const listening = 12

// live keeps a connection open for as long as whoever listens is signed in, and the server runs.
func (s *server) live(w http.ResponseWriter, r *http.Request, v *page.Viewer, route page.Route) error {
	if !s.listeners.enter(v.Session) {
		return &page.Refusal{Status: http.StatusTooManyRequests, What: "too many live pages are open", Mend: "close some of them"}
	}
	defer s.listeners.leave(v.Session)
	ctx, cancel := context.WithCancel(r.Context())
	defer cancel()
	tick := time.NewTicker(recheck)
	defer tick.Stop()
	go func() {
		for {
			select {
			case <-ctx.Done():
				return
			case <-tick.C:
				if again, err := sign.Find(s.desk, r, false); err == nil && again.Session != v.Session {
					cancel()
				}
			}
		}
	}()
	return route.Do(w, r.WithContext(ctx), v)
}

// own are the server's own routes, for whoever looks after it.
func (s *server) own(metrics bool) []page.Route {
	list := []page.Route{
		{Pattern: "GET /healthz", For: page.Everyone, Do: func(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error { return plain(w, "well") }},
		{Pattern: "GET /readyz", For: page.Everyone, Do: s.ready},
	}
	if metrics {
		h := s.meter.handler()
		list = append(list, page.Route{Pattern: "GET /metrics", For: page.Everyone, Do: func(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
			h.ServeHTTP(w, r)
			return nil
		}})
	}
	return list
}

// ready says whether the database answers and can write.
func (s *server) ready(w http.ResponseWriter, r *http.Request, _ *page.Viewer) error {
	ctx, cancel := context.WithTimeout(r.Context(), 3*time.Second)
	defer cancel()
	if err := s.desk.Store.Ready(ctx); err != nil {
		recordOf(r).fault = err
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		w.WriteHeader(http.StatusServiceUnavailable)
		_, err = w.Write([]byte("not ready\n"))
		return err
	}
	return plain(w, "ready")
}

func plain(w http.ResponseWriter, word string) error {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, err := w.Write([]byte(word + "\n"))
	return err
}
