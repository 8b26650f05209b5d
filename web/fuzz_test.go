package web_test

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"unicode/utf8"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web"
)

// An odd request is one that no page of ours would send.
type oddRequest struct {
	route                     uint16 // of the program's, and what it names
	as, id                    uint8
	query, kind, header, body string
}

// odd sends requests of a client that keeps to no form: any route, as anybody, with any body, kind, query, header and ID.
// Whatever comes, the program answers without a fault of its own, and with its headers.
type odd struct {
	*world
	handler   http.Handler
	addresses [][2]string
	first     []uint16 // address of each route
	tokens    map[string]string
}

var anybody = []string{"head", "teacher", "pupil", "classmate", "other pupil", "visitor"}

func newOdd(t testing.TB) *odd {
	o := &odd{world: newWorld(t), tokens: map[string]string{}}
	routes := web.Routes(o.Desk)
	var err error
	if o.handler, err = web.Handler(o.Desk, web.Setting{Often: true}, routes); err != nil {
		t.Fatal(err)
	}
	for _, r := range routes {
		method, pattern, _ := strings.Cut(r.Pattern, " ")
		if r.Live {
			continue
		}
		o.first = append(o.first, uint16(len(o.addresses)))
		for _, n := range o.world.addresses(pattern) {
			if n.agree {
				o.addresses = append(o.addresses, [2]string{method, n.path})
			}
		}
	}
	return o
}

var oddities = []oddRequest{
	{},
	{query: "to=%2Fwork", kind: "application/x-www-form-urlencoded", body: "class=K7M2QD&code=4F7K-29QR"},
	{query: "about=x&n=1", kind: "application/x-www-form-urlencoded", header: "HX-Request: true", body: "name=%00&login=%ff&password=%zz&do=close"},
	{query: "%", kind: "application/json", header: "Accept-Encoding: gzip", body: `{"id":"x","rawId":"eA","type":"public-key","response":{}}`},
	{query: "x=;", kind: "multipart/form-data; boundary=b", header: "Cookie: look=dark.large; asked=x",
		body: "--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a.csv\"\r\n\r\nname\nIlse\n--b--\r\n"},
	{query: "item=99&part=zz", kind: "multipart/form-data", header: "Range: bytes=0-1", body: "title=" + strings.Repeat("9", 5000)},
	{kind: "multipart/form-data; boundary=b", body: "--b\r\nContent-Disposition form\r\n\r\nx\r\n--b"},
	{kind: "multipart/form-data; boundary=b", body: "--b\r\nContent-Disposition: form-data; name=\"file\"\r\n\r\nx"},
	{kind: "text/csv", header: "Sec-Fetch-Dest: empty", body: "\xff\xfe\x00"},
	{query: "tab=-1&item=-1&page=1e9", kind: "application/x-www-form-urlencoded", body: "item=-1&part=a&mark=9999999999999999999&answer=" + strings.Repeat("(", 300)},
	{query: "item=0", kind: "application/x-www-form-urlencoded",
		body: "a.0.a=12+N&w.0.a=12&key=k&text=question+%22x%22&version=1&title=x&closes=2026-13-45T99:99&policy=x&show=9"},
	{id: 4, query: "..%2f..%2fetc"},
}

// token is that of somebody's session: a new one if the last was ended by what was sent.
func (o *odd) token(who string) string {
	if who == "visitor" {
		return ""
	}
	if _, err := o.Store.Session(context.Background(), account.HashToken(o.tokens[who])); err == nil {
		return o.tokens[who]
	}
	token, s := account.NewSession(roles[who], o.ids[who], "", o.Clock.Now())
	o.Store.StartSession(context.Background(), store.By{At: o.Clock.Now()}, s)
	o.tokens[who] = token
	return token
}

func (o *odd) send(t *testing.T, q oddRequest) {
	at, who := o.addresses[int(q.route)%len(o.addresses)], anybody[int(q.as)%len(anybody)]
	path := at[1]
	if q.id%5 == 4 {
		path += "/" + strings.Map(func(r rune) rune {
			if r <= ' ' || r == 0x7f || r == utf8.RuneError || strings.ContainsRune(`?#%"<>\^{}|`+"`", r) {
				return -1
			}
			return r
		}, q.query)
	}
	r, err := http.NewRequest(at[0], "http://127.0.0.1"+path, io.NopCloser(strings.NewReader(q.body)))
	if err != nil {
		return
	}
	r.RemoteAddr, r.RequestURI, r.URL.RawQuery = "127.0.0.1:1", path, q.query
	r.Header.Set("Content-Type", q.kind)
	if name, value, ok := strings.Cut(q.header, ": "); ok && name != "" {
		r.Header.Set(name, value)
	}
	if token := o.token(who); token != "" {
		r.AddCookie(&http.Cookie{Name: "s", Value: token})
	}
	answer := httptest.NewRecorder()
	o.handler.ServeHTTP(answer, r)
	if answer.Code >= 500 {
		t.Errorf("%s %s as %s: %d\n%+v\n%s", at[0], path, who, answer.Code, q, o.Log)
	}
	if answer.Header().Get("Content-Security-Policy") == "" {
		t.Errorf("%s %s: no policy", at[0], path)
	}
}

// All oddities on every address, as everybody.
func TestOddRequestsAreNoFaultOfOurs(t *testing.T) {
	o := newOdd(t)
	for n := range o.addresses {
		for i, q := range oddities {
			q.route = uint16(n)
			o.send(t, q) // as a teacher who may do it
			q.as = uint8(n + i)
			o.send(t, q)
		}
	}
}

// And those that a machine thinks of.
func FuzzRequests(f *testing.F) {
	o := newOdd(f)
	for i, n := range o.first {
		q := oddities[i%len(oddities)]
		f.Add(n, uint8(i), q.id, q.query, q.kind, q.header, q.body)
	}
	f.Fuzz(func(t *testing.T, route uint16, as, id uint8, query, kind, header, body string) {
		o.send(t, oddRequest{route, as, id, query, kind, header, body})
	})
}
