package main

import (
	"fmt"
	"log/slog"
	"net/netip"
	"os"
	"path/filepath"
	"time"

	"steelyard/web"
)

type serveCommand struct {
	Listen        string   `default:"127.0.0.1:8017" help:"Address to listen on. Port 0 takes a free one." placeholder:"HOST:PORT"`
	Data          string   `default:"${data}" help:"Folder for the database, backups and certificates; it is made if need be." placeholder:"DIR"`
	Database      string   `help:"PostgreSQL in place of the database in DIR: postgres://…" placeholder:"ADDRESS"`
	PublicName    string   `help:"Name in the address that people type. Without a proxy or a certificate, one is fetched for this name." placeholder:"NAME"`
	TLSCert       string   `name:"tls-cert" help:"Certificate, with those that vouch for it." placeholder:"FILE"`
	TLSKey        string   `name:"tls-key" help:"Key of the certificate." placeholder:"FILE"`
	BehindProxy   []string `help:"Addresses of the proxy in front, which does TLS: its X-Forwarded-For is believed." placeholder:"CIDR"`
	MetricsListen string   `help:"Address for metrics alone. Without it they are at /metrics, if only this computer can ask." placeholder:"HOST:PORT"`
	Demo          bool     `help:"Look round an invented school with two weeks of homework. Without --data it is gone once the program stops."`
	NoBackups     bool     `help:"Make no daily backups in DIR/backups (14 are kept)."`
}

// Help shows examples.
func (serveCommand) Help() string {
	return `Serves teachers and pupils in their browsers until it is stopped (Ctrl-C); what is being written is finished first.
At the first start it prints a link that makes the first teacher's account.

Examples:
  steelyard serve
  steelyard serve --demo
  steelyard serve --data /srv/steelyard --listen 127.0.0.1:9000
  steelyard serve --listen :443 --tls-cert school.pem --tls-key school.key --public-name physics.school.example
  steelyard serve --behind-proxy 127.0.0.1/32 --public-name physics.school.example`
}

// Run serves until it is told to stop.
func (c serveCommand) Run(s streams) error {
	if c.Demo && c.Data == ownFolder() && c.Database == "" {
		dir, remove, err := passing()
		if err != nil {
			return err
		}
		defer remove()
		c.Data, c.NoBackups = dir, true
	}
	o, err := c.options(s)
	if err != nil {
		return err
	}
	if err := o.Check(); err != nil {
		return usage(err.Error())
	}
	ctx, stop := untilStopped()
	defer stop()
	return web.Serve(ctx, o)
}

func (c serveCommand) options(s streams) (web.Options, error) {
	proxies := make([]netip.Prefix, len(c.BehindProxy))
	for i, text := range c.BehindProxy {
		p, err := netip.ParsePrefix(text)
		if err != nil {
			return web.Options{}, usage(fmt.Sprintf("--behind-proxy %s: give addresses as 10.0.0.0/8 or 127.0.0.1/32", text))
		}
		proxies[i] = p
	}
	o := web.Options{Listen: c.Listen, Cert: c.TLSCert, Key: c.TLSKey, PublicName: c.PublicName, Proxies: proxies, Data: c.Data, Database: c.Database,
		Metrics: c.MetricsListen, Backups: !c.NoBackups, Out: s.out, Log: slog.New(slog.NewJSONHandler(s.err, utc)), Now: time.Now}
	if c.Demo {
		o.Prepare = invented(s.out)
	}
	return o, nil
}

// utc has times in logs in UTC, so that those of several machines fit together.
var utc = &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
	if a.Key == slog.TimeKey {
		a.Value = slog.TimeValue(a.Value.Time().UTC())
	}
	return a
}}

// ownFolder is where data are kept if nothing is said: beside other programs' data of this user.
func ownFolder() string {
	if home, err := os.UserHomeDir(); err == nil {
		return filepath.Join(home, ".local", "share", "steelyard")
	}
	return "steelyard-data"
}
