package web_test

import (
	"context"
	"database/sql"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web"
	"steelyard/web/webtest"
)

// A handing is a set that has been given out, at which a pupil is at work.
type handing struct {
	t     *testing.T
	site  *webtest.Site
	path  string
	set   string
	boxes []string // parts, as the page names them
}

func newHanding(t *testing.T, s *store.Store) *handing {
	t.Helper()
	h := &handing{t: t, site: webtest.On(t, s)}
	set := homework.Set{ID: store.NewID(), Class: h.site.Class.ID, Title: "Beams", Seed: "spring", Items: []homework.Item{{Question: "bank:none", Text: bridge}}}
	must(t, s.AddSet(t.Context(), by(h.site), set))
	must(t, s.Give(t.Context(), by(h.site), set.ID, nil))
	h.set, h.path = set.ID, "/work/"+set.ID
	for _, id := range boxes.FindAllStringSubmatch(h.site.Pupils[0].Get(h.path).Want(200).Body, -1) {
		h.boxes = append(h.boxes, id[1])
	}
	if len(h.boxes) == 0 {
		t.Fatal("the set has no parts")
	}
	return h
}

// draft sends what pupil i has typed so far, as the page's script does.
func (h *handing) draft(i int, text string, rev, base int64) *webtest.Page {
	h.t.Helper()
	return h.site.Pupils[i].Do(http.MethodPost, h.path+"/drafts", "application/json",
		strings.NewReader(fmt.Sprintf(`{"parts":[{"id":%q,"answer":%q,"working":"P = 1","rev":%d,"base":%d}]}`, h.boxes[0], text, rev, base)))
}

// ready is the form that pupil i hands in with.
func (h *handing) ready(i int) url.Values {
	h.t.Helper()
	values := url.Values{}
	for _, m := range hidden.FindAllStringSubmatch(h.site.Pupils[i].Get(h.path+"/look").Want(200).Body, -1) {
		values.Set(m[1], m[2])
	}
	return values
}

func (h *handing) handIn(i int, v url.Values) *webtest.Page {
	h.t.Helper()
	return h.site.Pupils[i].Do(http.MethodPost, h.path+"/hand-in", form, strings.NewReader(v.Encode()))
}

// kept are the first answers of all hand-ins of pupil i, the last first.
func (h *handing) kept(i int) (list []string) {
	h.t.Helper()
	all, err := h.site.Store.HandInsBy(h.t.Context(), h.set, h.site.Members[i].ID)
	must(h.t, err)
	for _, one := range all {
		if len(one.Answers) == 0 {
			list = append(list, "")
			continue
		}
		list = append(list, one.Answers[0].Answer)
	}
	return list
}

func (h *handing) holds(i int, want ...string) {
	h.t.Helper()
	if got := h.kept(i); !slices.Equal(got, want) {
		h.t.Errorf("hand-ins of pupil %d are %q, want %q", i, got, want)
	}
}

func (h *handing) whole() {
	h.t.Helper()
	faults, err := h.site.Store.Verify(h.t.Context())
	must(h.t, err)
	if len(faults) > 0 {
		h.t.Error(faults)
	}
}

// A PostgreSQL of the tests' own, on loopback. A server that is missing skips the test.
type postgresServer struct {
	bin, dir, port string
	as             *syscall.SysProcAttr // PostgreSQL refuses to be run by root
	cmd            *exec.Cmd
}

func newPostgres(t *testing.T) *postgresServer {
	t.Helper()
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if len(found) == 0 {
		t.Skip("PostgreSQL's programs are missing: install the package postgresql to run this test")
	}
	dir, err := os.MkdirTemp("", "steelyard-pages-")
	must(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	s := &postgresServer{bin: filepath.Dir(slices.Max(found)), dir: dir, port: strconv.Itoa(15000 + os.Getpid()%15000)}
	if os.Geteuid() == 0 {
		u, err := user.Lookup("postgres")
		if err != nil {
			u, err = user.Lookup("nobody")
		}
		must(t, err)
		uid, _ := strconv.Atoi(u.Uid)
		gid, _ := strconv.Atoi(u.Gid)
		s.as = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}
		must(t, os.Chown(dir, uid, gid))
	}
	if out, err := s.run("initdb", "-D", filepath.Join(dir, "data"), "-U", "tester", "--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8", "--no-sync").CombinedOutput(); err != nil {
		t.Fatalf("initdb: %v: %s", err, out)
	}
	s.start(t)
	t.Cleanup(s.stop)
	return s
}

func (s *postgresServer) run(program string, args ...string) *exec.Cmd {
	c := exec.Command(filepath.Join(s.bin, program), args...)
	c.SysProcAttr, c.Dir = s.as, s.dir
	return c
}

func (s *postgresServer) start(t *testing.T) {
	t.Helper()
	s.cmd = s.run("postgres", "-D", filepath.Join(s.dir, "data"), "-p", s.port, "-c", "listen_addresses=127.0.0.1", "-c", "unix_socket_directories=", "-c", "fsync=off", "-c", "log_min_messages=panic")
	must(t, s.cmd.Start())
	for range 300 {
		if s.run("pg_isready", "-q", "-h", "127.0.0.1", "-p", s.port).Run() == nil {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatal("PostgreSQL does not answer")
}

func (s *postgresServer) stop() {
	if s.cmd != nil {
		s.cmd.Process.Signal(syscall.SIGQUIT)
		s.cmd.Wait()
		s.cmd = nil
	}
}

// A database server that is down is said on every page that needs it; when it is there again, so is everything.
func TestPagesWhileThePostgresServerIsDown(t *testing.T) {
	pg := newPostgres(t)
	s, err := store.Open(t.Context(), "postgres://tester@127.0.0.1:"+pg.port+"/postgres")
	must(t, err)
	h := newHanding(t, s)
	h.draft(0, "310 N", 1, 0).Want(200)
	values := h.ready(0)
	pg.stop()
	web.Usual(t, 500*time.Millisecond)
	pupil := h.site.Pupils[0]
	for name, p := range map[string]*webtest.Page{"hand-in": h.handIn(0, values), "drafts": h.draft(0, "320 N", 2, 1), "the work": pupil.Do(http.MethodGet, h.path, "", nil),
		"marks": h.site.Teacher.Do(http.MethodGet, "/sets/"+h.set+"/marks", "", nil), "the form": pupil.Do(http.MethodPost, h.path, form, strings.NewReader("a-"+h.boxes[0]+"=1"))} {
		if p.Status != http.StatusServiceUnavailable || p.Header.Get("Retry-After") == "" || !strings.Contains(p.Text(), "try again") {
			t.Errorf("%s: %d %s", name, p.Status, p.Text())
		}
	}
	if p := h.site.Visitor.Do(http.MethodGet, "/sign-in", "", nil); p.Status != http.StatusOK && p.Status != http.StatusServiceUnavailable {
		t.Error("signing in:", p.Status)
	}
	web.Usual(t, 10*time.Second)
	pg.start(t)
	if p := h.handIn(0, values); p.Status != http.StatusSeeOther {
		t.Error("after it is there again:", p.Status, p.Text())
	}
	h.handIn(0, values)
	h.holds(0, "310 N")
	h.draft(0, "320 N", 2, 1).Want(200)
	h.whole()
}

// A full disk is said, and is no loss: what was handed in can be read, and the same form does it when there is room.
func TestPagesOnAFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=4m"); err != nil {
		t.Skipf("a small disk can't be mounted: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	s, err := store.Open(t.Context(), dir)
	must(t, err)
	h := newHanding(t, s)
	h.draft(0, "310 N", 1, 0).Want(200)
	h.handIn(0, h.ready(0))
	h.draft(1, "410 N", 1, 0).Want(200)
	values := h.ready(1)
	ballast := filepath.Join(dir, "ballast")
	fill := func() {
		f, err := os.OpenFile(ballast, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
		must(t, err)
		for n := 64 << 10; n > 0; {
			if k, err := f.Write(make([]byte, n)); err != nil && k == 0 {
				n /= 2
			}
		}
		f.Close()
	}
	fill()
	full := 0
	for i := range 300 { // the database's own files have some room left within
		p := h.site.Pupils[2].Do(http.MethodPost, h.path+"/drafts", "application/json",
			strings.NewReader(fmt.Sprintf(`{"parts":[{"id":%q,"answer":"%d N","working":%q,"rev":%d,"base":%d}]}`, h.boxes[0], i, strings.Repeat("P = 1 \n", 500), i+1, i)))
		if p.Status == http.StatusInsufficientStorage {
			if full++; full > 2 {
				break
			}
		} else if p.Status != http.StatusOK && p.Status != http.StatusTooManyRequests {
			t.Fatalf("a draft: %d %s", p.Status, p.Text())
		}
	}
	if full == 0 {
		t.Fatal("the disk was not full: the test shows nothing")
	}
	p := h.handIn(1, values)
	if p.Status != http.StatusInsufficientStorage || !strings.Contains(p.Text(), "The disk is full") || !strings.Contains(p.Text(), "make room") {
		t.Errorf("handing in on a full disk: %d %s", p.Status, p.Text())
	}
	h.site.Pupils[0].Get(h.path + "/receipt").Want(200)
	h.site.Teacher.Get("/sets/" + h.set + "/marks").Want(200)
	h.site.Visitor.Get("/sign-in").Want(200)
	h.holds(0, "310 N")
	h.holds(1)
	h.site.Clock.Pass(20 * time.Minute) // so that the session is to be touched: a disk that is full keeps nobody from reading
	h.site.Pupils[0].Get(h.path + "/receipt").Want(200)
	must(t, os.Remove(ballast))
	if p := h.handIn(1, values); p.Status != http.StatusSeeOther {
		t.Error("when there is room:", p.Status, p.Text())
	}
	h.holds(1, "410 N")
	h.whole()
}

// A database that another program holds is waited for, but not for ever.
func TestPagesWhileTheDatabaseIsLocked(t *testing.T) {
	dir := t.TempDir()
	s, err := store.Open(t.Context(), dir)
	must(t, err)
	h := newHanding(t, s)
	h.draft(0, "310 N", 1, 0).Want(200)
	values := h.ready(0)
	other, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "steelyard.db")+"?_txlock=immediate")
	must(t, err)
	defer other.Close()
	lock := func() *sql.Tx {
		tx, err := other.BeginTx(context.Background(), nil)
		must(t, err)
		return tx
	}
	tx := lock()
	time.AfterFunc(2*time.Second, func() { tx.Rollback() })
	if p := h.handIn(0, values); p.Status != http.StatusSeeOther {
		t.Error("locked for two seconds:", p.Status, p.Text())
	}
	h.holds(0, "310 N")
	h.draft(0, "320 N", 3, 1).Want(200)
	values = h.ready(0)
	tx = lock()
	p := h.handIn(0, values)
	if p.Status != http.StatusServiceUnavailable || !strings.Contains(p.Text(), "try again") {
		t.Error("locked for long:", p.Status, p.Text())
	}
	h.holds(0, "310 N")
	must(t, tx.Rollback())
	if p := h.handIn(0, values); p.Status != http.StatusSeeOther {
		t.Error("free again:", p.Status, p.Text())
	}
	h.holds(0, "320 N", "310 N")
	h.whole()
}

// The clock of the server is put right now and then, by an hour for once. What was typed last is what counts.
func TestAClockThatJumps(t *testing.T) {
	s, err := store.Open(t.Context(), t.TempDir())
	must(t, err)
	h := newHanding(t, s)
	fresh := func() (rev int64) { // what the page, opened now, knows of the first part
		all, err := s.Drafts(t.Context(), h.set, h.site.Members[0].ID)
		must(t, err)
		for _, d := range all {
			rev = max(rev, d.Rev)
		}
		return rev
	}
	var base int64
	for i, jump := range []time.Duration{0, time.Hour, -2 * time.Hour, time.Hour, -time.Hour, time.Hour, -time.Hour} {
		h.site.Clock.Pass(jump)
		text := fmt.Sprint(100+i, " N")
		if i%2 == 0 { // from the page's script, whose clock is the phone's
			p := h.draft(0, text, h.site.Clock.Now().UnixMilli()+int64(i), base).Want(200)
			if strings.Contains(p.Body, text) {
				t.Errorf("after %v the newest text is held for old: %s", jump, p.Body)
			}
		} else { // from the page without script
			h.site.Pupils[0].Post(h.path, url.Values{"a-" + h.boxes[0]: {text}, "w-" + h.boxes[0]: {"P = 1"}, "do": {"keep"}}).Want(200)
		}
		base = fresh()
		all, err := s.Drafts(t.Context(), h.set, h.site.Members[0].ID)
		must(t, err)
		if len(all) != 1 || all[0].Answer.Answer != text {
			t.Fatalf("step %d, after %v: %q is kept, want %q", i, jump, fmt.Sprint(all), text)
		}
		if p := h.handIn(0, h.ready(0)); p.Status != http.StatusSeeOther {
			t.Fatalf("step %d: %d %s", i, p.Status, p.Text())
		}
		if got := h.kept(0); got[0] != text {
			t.Errorf("step %d, after %v: %q counts as handed in, want %q", i, jump, got[0], text)
		}
		last, err := s.HandInOf(t.Context(), h.set, h.site.Members[0].ID)
		must(t, err)
		if last.Answers[0].Answer != text {
			t.Errorf("step %d: the last hand-in is %q", i, last.Answers[0].Answer)
		}
		h.site.Pupils[0].Get(h.path).Want(200)
		for k, c := range h.site.Pupils {
			if c.Do(http.MethodGet, "/work", "", nil).Status != http.StatusOK {
				t.Errorf("step %d, after %v: pupil %d is signed out", i, jump, k)
			}
		}
		c := h.site.SignIn(account.Head, h.site.Head.ID)
		c.Get("/today").Want(200)
		c.Get("/sets/" + h.set + "/marks").Want(200)
		c.Get("/history").Want(200)
	}
	h.whole()
}

// Two browsers that follow one invitation at the same moment make one account.
func TestAnInvitationFollowedTwiceAtOnce(t *testing.T) {
	site := webtest.New(t)
	p := site.Teacher.Get("/people").Submit("Make a link", webtest.Values{"Teach": "teacher"}).Want(200)
	_, code, _ := strings.Cut(webtest.TextOf(p.All("p", "id", "link")[0]), "#")
	before, err := site.Store.People(t.Context())
	must(t, err)
	status := make([]int, 4)
	var group sync.WaitGroup
	for i := range status {
		c := site.SignIn(account.PupilOf, "nobody")
		page := c.Get("/first")
		group.Go(func() {
			status[i] = page.Submit("Make the account", webtest.Values{"Code of the invitation": code, "Your name": "Jonas Brandt", "Name to sign in with": fmt.Sprint("jonas", i), "Password": "gravel otter teapot nine"}).Status
		})
	}
	group.Wait()
	people, err := site.Store.People(t.Context())
	must(t, err)
	if len(people) != len(before)+1 {
		t.Errorf("%d accounts were made: %v", len(people)-len(before), status)
	}
	made := 0
	for _, s := range status {
		if s == http.StatusOK {
			made++
		} else if s != http.StatusUnprocessableEntity && s != http.StatusServiceUnavailable && s != http.StatusTooManyRequests {
			t.Error("the other one is told", s)
		}
	}
	if made != 1 {
		t.Errorf("%d browsers were told of an account: %v", made, status)
	}
}

// Every session that began before is over, for pages and for what scripts send alike.
func TestOldSessionsAreOverEverywhere(t *testing.T) {
	s, err := store.Open(t.Context(), t.TempDir())
	must(t, err)
	h := newHanding(t, s)
	site, old := h.site, h.site.Pupils
	phone := site.SignIn(account.PupilOf, site.Members[0].ID)
	over := func(what string, cs ...*webtest.Client) {
		t.Helper()
		for i, c := range cs {
			p := c.Do(http.MethodGet, "/account", "", nil)
			q := c.Do(http.MethodPost, h.path+"/drafts", "application/json", strings.NewReader(`{"parts":[]}`))
			if p.Status != http.StatusSeeOther || !strings.HasPrefix(p.Header.Get("Location"), "/sign-in") || q.Status != http.StatusUnauthorized {
				t.Errorf("%s: session %d gets %d and %d", what, i, p.Status, q.Status)
			}
		}
	}
	class := "/classes/" + site.Class.ID
	site.Teacher.Post(class+"/codes", url.Values{"who": {site.Members[0].ID}, "sure": {"yes"}}).Want(200)
	over("a new personal code", old[0], phone)
	site.Teacher.Post(class+"/pupils/"+site.Members[1].ID+"/left", nil).Want(200)
	over("a pupil who has left", old[1])
	if old[2].Do(http.MethodGet, h.path, "", nil).Status != http.StatusOK {
		t.Error("a pupil whom nothing happened to is signed out")
	}
}
