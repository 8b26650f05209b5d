package web

import (
	"net"
	"net/http"
	"net/netip"
	"strings"
)

// address is where a request comes from. What a header says about that counts only from a proxy that was named when the
// program was started: the last address that is not such a proxy's own. Of IPv6 it is the first 64 bits, which is what
// one household gets: whoever has one address there has 2^64 to try from.
func address(r *http.Request, proxies []netip.Prefix) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		host = r.RemoteAddr
	}
	if !within(host, proxies) {
		return network(host)
	}
	list := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
	for i := len(list) - 1; i >= 0; i-- {
		a, err := netip.ParseAddr(strings.TrimSpace(list[i]))
		if err != nil {
			break
		}
		host = a.Unmap().String()
		if !within(host, proxies) {
			break
		}
	}
	return network(host)
}

func network(host string) string {
	a, err := netip.ParseAddr(host)
	if err != nil || !a.Is6() || a.Is4In6() || a.IsLoopback() {
		return host
	}
	p, err := a.WithZone("").Prefix(64)
	if err != nil {
		return host
	}
	return p.Addr().String()
}

func within(host string, list []netip.Prefix) bool {
	a, err := netip.ParseAddr(host)
	if err != nil {
		return false
	}
	for _, p := range list {
		if p.Contains(a.Unmap()) {
			return true
		}
	}
	return false
}

// loopback says whether a listening address can be reached from this computer only.
func loopback(listen string) bool {
	host, _, err := net.SplitHostPort(listen)
	if err != nil {
		return false
	}
	if host == "localhost" {
		return true
	}
	a, err := netip.ParseAddr(host)
	return err == nil && a.IsLoopback()
}
