package web

import (
	"net/http"
	"net/netip"
	"testing"
)

// Who guesses from one IPv6 network (the usual allotment of a household is 64 bits, RFC 6177 and RFC 4291) is one
// guesser; a header counts only from the proxy.
func TestWhereARequestComesFrom(t *testing.T) {
	proxies := []netip.Prefix{netip.MustParsePrefix("10.0.0.0/8")}
	for _, c := range []struct{ from, header, want string }{
		{"192.0.2.7:1", "198.51.100.1", "192.0.2.7"},
		{"10.0.0.1:1", "198.51.100.1", "198.51.100.1"},
		{"10.0.0.1:1", "203.0.113.9, 198.51.100.1", "198.51.100.1"},
		{"10.0.0.1:1", "198.51.100.1, 10.0.0.2", "198.51.100.1"},
		{"10.0.0.1:1", "rubbish", "10.0.0.1"},
		{"[2001:db8:1:2:3:4:5:6]:1", "", "2001:db8:1:2::"},
		{"[2001:db8:1:2::9]:1", "", "2001:db8:1:2::"},
		{"[2001:db8:1:3::9]:1", "", "2001:db8:1:3::"},
		{"10.0.0.1:1", "2001:db8:1:2:ffff::1", "2001:db8:1:2::"},
		{"[::1]:1", "", "::1"},
	} {
		r := &http.Request{RemoteAddr: c.from, Header: http.Header{"X-Forwarded-For": {c.header}}}
		if got := address(r, proxies); got != c.want {
			t.Errorf("from %s with %q: %s, want %s", c.from, c.header, got, c.want)
		}
	}
}
