package web

import (
	"context"
	"crypto/rand"
	"crypto/tls"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"path/filepath"
	"syscall"
	"time"

	"golang.org/x/crypto/acme/autocert"
	"golang.org/x/net/netutil"

	"steelyard/account"
	"steelyard/film"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/marks"
	"steelyard/web/page"
	"steelyard/web/sign"
)

// Options say where and how to serve.
type Options struct {
	Listen     string         // "127.0.0.1:8017"
	Cert, Key  string         // files of a certificate and its key
	PublicName string         // the name in the address that people type, if it is not this computer's own
	Proxies    []netip.Prefix // of the proxy in front, which does TLS
	Data       string         // the folder for the database, backups and certificates
	Database   string         // a postgres:// address; "" is a file in Data
	Metrics    string         // where to listen for who collects metrics; "" with others, if those come from this computer only
	Backups    bool           // make one each day, in Data/backups

	Out     io.Writer // where the address is told, and the link for the first teacher
	Log     *slog.Logger
	Now     func() time.Time
	Prepare func(context.Context, *page.Desk) error // is called before the first page, to fill an empty database
}

// Check says what cannot be served safely.
func (o Options) Check() error {
	switch {
	case (o.Cert == "") != (o.Key == ""):
		return errors.New("--tls-cert and --tls-key belong together")
	case o.Cert != "" && len(o.Proxies) > 0:
		return errors.New("either a proxy does TLS, or a certificate is given")
	case len(o.Proxies) > 0 && o.PublicName == "":
		return errors.New("behind a proxy the address is not known from here; give --public-name, such as steelyard.school.example")
	case !loopback(o.Listen) && o.Cert == "" && o.PublicName == "":
		return errors.New("other computers could read what passes over the network: give --tls-cert and --tls-key, --public-name for a certificate " +
			"of its own, or --behind-proxy and --public-name")
	case o.Metrics != "" && !loopback(o.Metrics) && len(o.Proxies) == 0:
		return errors.New("metrics are for this computer only, or for behind a proxy")
	}
	return nil
}

// automatic says whether certificates are fetched for the public name.
func (o Options) automatic() bool { return o.PublicName != "" && len(o.Proxies) == 0 && o.Cert == "" }

func (o Options) tls() bool { return o.Cert != "" || o.automatic() }

// host is the address that people type.
func (o Options) host(l net.Listener) string {
	_, port, _ := net.SplitHostPort(l.Addr().String())
	switch {
	case len(o.Proxies) > 0:
		return "https://" + o.PublicName
	case o.PublicName != "":
		return withPort("https://"+o.PublicName, port, "443")
	case o.tls():
		host, _, _ := net.SplitHostPort(l.Addr().String())
		return withPort("https://"+bracketed(host), port, "443")
	}
	host, _, _ := net.SplitHostPort(o.Listen)
	return withPort("http://"+bracketed(host), port, "80")
}

func withPort(address, port, usual string) string {
	if port == usual {
		return address
	}
	return address + ":" + port
}

func bracketed(host string) string {
	if a, err := netip.ParseAddr(host); err == nil && a.Is6() {
		return "[" + host + "]"
	}
	return host
}

// hosts are the names that are answered to.
func (o Options) hosts() []string {
	own := []string{"localhost", "127.0.0.1", "::1"}
	switch {
	case o.PublicName != "":
		return append(own, o.PublicName)
	case loopback(o.Listen):
		host, _, _ := net.SplitHostPort(o.Listen)
		return append(own, host)
	}
	return nil
}

// Serve opens the database and serves until the context ends; then it finishes what is being answered and written.
func Serve(ctx context.Context, o Options) (err error) {
	if err := o.Check(); err != nil {
		return err
	}
	where := o.Database
	if where == "" {
		where = o.Data
	}
	s, err := store.Open(ctx, where)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	listener, err := listen(o.Listen)
	if err != nil {
		return err
	}
	defer listener.Close()
	d, err := NewDesk(ctx, s, o.Log, o.Now, o.host(listener))
	if err != nil {
		return err
	}
	if o.Prepare != nil {
		if err := o.Prepare(ctx, d); err != nil {
			return err
		}
	}
	return o.serve(ctx, d, listener)
}

// NewDesk makes what pages work with.
func NewDesk(ctx context.Context, s *store.Store, log *slog.Logger, now func() time.Time, host string) (*page.Desk, error) {
	secret := make([]byte, 32)
	rand.Read(secret)
	kept, err := s.FirstSetting(ctx, "codes", base64.StdEncoding.EncodeToString(secret))
	if err != nil {
		return nil, err
	}
	if secret, err = base64.StdEncoding.DecodeString(kept); err != nil {
		return nil, fmt.Errorf("the secret of the personal codes: %w", err)
	}
	return &page.Desk{Store: s, Log: log, Now: now, Host: host, Codes: account.NewCodes(secret),
		Marker: homework.NewMarker(), HandedIn: make(chan struct{}, 1), Films: film.NewQueue(now)}, nil
}

func (o Options) serve(ctx context.Context, d *page.Desk, l net.Listener) error {
	closing, closeAll := context.WithCancel(context.Background())
	defer closeAll()
	handler, metrics, err := build(d, Setting{Proxies: o.Proxies, Hosts: o.hosts(), Metrics: o.Metrics == "" && loopback(o.Listen) && len(o.Proxies) == 0, Closing: closing}, Routes(d))
	if err != nil {
		return err
	}
	server := o.httpServer(handler)
	server.RegisterOnShutdown(closeAll)
	fault := make(chan error, 2)
	go func() { fault <- o.listen(server, l) }()
	if o.Metrics != "" {
		ml, err := listen(o.Metrics)
		if err != nil {
			return err
		}
		beside := o.httpServer(metrics)
		defer beside.Close()
		go func() { fault <- beside.Serve(ml) }()
	}
	finished := o.work(ctx, d)
	defer finished()
	if err := o.greet(ctx, d); err != nil {
		return err
	}
	select {
	case err := <-fault:
		return err
	case <-ctx.Done():
	}
	d.Log.Info("stopping")
	within, cancel := context.WithTimeout(context.WithoutCancel(ctx), 20*time.Second)
	defer cancel()
	return server.Shutdown(within)
}

func listen(address string) (net.Listener, error) {
	l, err := net.Listen("tcp", address)
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, fmt.Errorf("another program listens at %s already; stop it, or give another address: 127.0.0.1:0 takes a free one", address)
	}
	return l, err
}

func (o Options) httpServer(h http.Handler) *http.Server {
	return &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 20 * time.Second, WriteTimeout: 30 * time.Second,
		IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10, ErrorLog: slog.NewLogLogger(o.Log.Handler(), slog.LevelDebug)}
}

// connections at most: a few hundred pupils with two or three each.
const connections = 4096

func (o Options) listen(server *http.Server, l net.Listener) error {
	l = netutil.LimitListener(l, connections)
	server.TLSConfig = &tls.Config{MinVersion: tls.VersionTLS12}
	switch {
	case o.automatic():
		m := &autocert.Manager{Prompt: autocert.AcceptTOS, HostPolicy: autocert.HostWhitelist(o.PublicName), Cache: autocert.DirCache(filepath.Join(o.Data, "certificates"))}
		server.TLSConfig = m.TLSConfig()
		server.TLSConfig.MinVersion = tls.VersionTLS12
		return server.ServeTLS(l, "", "")
	case o.tls():
		return server.ServeTLS(l, o.Cert, o.Key)
	}
	return server.Serve(l)
}

// work starts what is done beside serving, and returns what waits for its end.
func (o Options) work(ctx context.Context, d *page.Desk) (finished func()) {
	ctx, cancel := context.WithCancel(ctx)
	jobs := []func(context.Context, *page.Desk){marks.Work, func(ctx context.Context, d *page.Desk) { daily(ctx, d, o.Data, o.Backups) },
		func(ctx context.Context, d *page.Desk) { films(ctx, d, o.Data) }}
	done := make(chan struct{})
	for _, job := range jobs {
		go func() {
			defer func() { done <- struct{}{} }()
			job(ctx, d)
		}()
	}
	return func() {
		cancel()
		for range jobs {
			<-done
		}
	}
}

// films makes films of walkthroughs, one after another, in a folder that is there only while the program runs.
func films(ctx context.Context, d *page.Desk, data string) {
	err := d.Films.Run(ctx, filepath.Join(data, "films"), func(id string, err error) {
		d.Log.ErrorContext(ctx, "making a film", "film", id, "err", err)
	})
	if err != nil {
		d.Log.ErrorContext(ctx, "films are not made", "err", err)
	}
}

// firstFor is how long the link for the first teacher may be used; starting anew makes another.
const firstFor = 24 * time.Hour

// greet tells the address and, as long as there is no account, the link that makes the first.
func (o Options) greet(ctx context.Context, d *page.Desk) error {
	fmt.Fprintf(o.Out, "Steelyard is at %s\n", d.Host)
	people, err := d.Store.People(ctx)
	if err != nil || len(people) > 0 {
		return err
	}
	ends := d.Now().Add(firstFor)
	link, err := sign.Invite(ctx, d, store.By{At: d.Now()}, account.Head, ends)
	if err != nil {
		return err
	}
	fmt.Fprintf(o.Out, "This link makes the first teacher's account, once, until %s:\n\n    %s\n\n", ends.Local().Format("Monday 15:04"), link)
	return nil
}
