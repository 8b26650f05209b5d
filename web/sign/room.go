package sign

import (
	"fmt"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	"steelyard/account"
	"steelyard/web/page"
)

// A room is what these pages work with.
type room struct {
	*page.Desk
	tries    *account.Throttle
	passkeys *ceremonies
}

func newRoom(d *page.Desk) *room {
	return &room{Desk: d, tries: account.NewThrottle(20000), passkeys: newCeremonies()}
}

// send sends a page of this room.
func send(w http.ResponseWriter, r *http.Request, v *page.Viewer, status int, p page.Page) error {
	p.Scripts = append(p.Scripts, "sign.js")
	p.Styles = append(p.Styles, "sign.css")
	return page.Write(w, r, v, status, p)
}

// addressOf is where a request comes from.
func addressOf(r *http.Request) string {
	host, _, _ := net.SplitHostPort(r.RemoteAddr)
	return host
}

// within is an address of ours to go on to, or else: where a form says to go can come from anywhere.
func within(to, otherwise string) string {
	u, err := url.Parse(to)
	if err != nil || u.Host != "" || u.Scheme != "" || u.Opaque != "" || !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.ContainsAny(to, "\\\r\n\t") {
		return otherwise
	}
	return to
}

// home is the first page of somebody signed in.
func home(role account.Role) string {
	if role == account.PupilOf {
		return "/work"
	}
	return "/today"
}

// slowed refuses a try that comes too early.
func slowed(w http.ResponseWriter, wait time.Duration) string {
	seconds := int((wait + time.Second - 1) / time.Second)
	w.Header().Set("Retry-After", fmt.Sprint(seconds))
	if seconds > 90 {
		return fmt.Sprintf("there were too many wrong tries: wait %d minutes, then try again", (seconds+59)/60)
	}
	return fmt.Sprintf("there were too many wrong tries: wait %d seconds, then try again", seconds)
}

// titled says in the title how many fields have to be mended.
func titled(title string, fields ...page.Field) string {
	n := 0
	for _, f := range fields {
		if f.Fault != "" {
			n++
		}
	}
	switch n {
	case 0:
		return title
	case 1:
		return "1 thing to mend: " + title
	}
	return fmt.Sprintf("%d things to mend: %s", n, title)
}

// status is that of a form that is sent, or comes back.
func status(fields ...page.Field) int {
	for _, f := range fields {
		if f.Fault != "" {
			return http.StatusUnprocessableEntity
		}
	}
	return http.StatusOK
}
