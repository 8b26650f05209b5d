package web

import (
	"net"
	"net/http"
	"net/netip"
	"strings"
)

// address is where a request comes from. What a header says about that counts only from a proxy that was named when the
// program was started: the last address that is not such a proxy's own.
func address(r *http.Request, proxies []netip.Prefix) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		host = r.RemoteAddr
	}
	if !within(host, proxies) {
		return host
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
	return host
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
