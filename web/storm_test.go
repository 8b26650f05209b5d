package web_test

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"os/signal"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/bank"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web"
	"steelyard/web/page"
	"steelyard/web/sign"
)

// dataOfChild names the folder that the test binary serves when it is started as the program.
const dataOfChild = "STEELYARD_TEST_SERVE"

// TestServeForStorm is no test of its own: it is the program, in a process whose memory can be told.
func TestServeForStorm(t *testing.T) {
	data := os.Getenv(dataOfChild)
	if data == "" {
		t.Skip("the benchmark starts it")
	}
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM)
	defer stop()
	log := slog.New(slog.NewJSONHandler(io.Discard, nil))
	if err := web.Serve(ctx, web.Options{Listen: "127.0.0.1:0", Data: data, Out: os.Stdout, Log: log, Now: time.Now}); err != nil {
		t.Fatal(err)
	}
}

// A storm is a class that hands in, and a teacher who watches.
type storm struct {
	b       *testing.B
	set     homework.Set
	head    string            // the teacher's session
	members map[string]string // pupils' sessions, by ID
	url     string
	name    string // of the cookie
}

// BenchmarkClassHandsIn: 300 pupils open a set of six parts, type, look over and hand in, spread over a minute, while a
// teacher watches the table of marks. Reported are the times of handing in and of all requests, and the most memory
// that the program took.
func BenchmarkClassHandsIn(b *testing.B) {
	for _, over := range []time.Duration{60 * time.Second, 0} {
		name := "within " + over.String()
		if over == 0 {
			name = "all at once"
		}
		b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
			for range b.N {
				runStorm(b, over)
			}
		})
	}
}

func runStorm(b *testing.B, over time.Duration) {
	const pupils = 300
	data := b.TempDir()
	s := &storm{b: b, members: map[string]string{}}
	s.fill(data, pupils)
	child := s.start(data)
	watching, stop := context.WithCancel(b.Context())
	defer stop()
	go s.watch(watching)

	var mu sync.Mutex
	var all, handing []time.Duration
	var group sync.WaitGroup
	b.ResetTimer()
	begin := time.Now()
	for _, token := range s.members {
		group.Add(1)
		go func() {
			defer group.Done()
			if over > 0 {
				time.Sleep(rand.N(over))
			}
			times, last := s.pupil(token)
			mu.Lock()
			defer mu.Unlock()
			all, handing = append(all, times...), append(handing, last)
		}()
	}
	group.Wait()
	took := time.Since(begin)
	b.StopTimer()
	stop()
	b.ReportMetric(ms(handing, 0.50), "ms-hand-in-p50")
	b.ReportMetric(ms(handing, 0.99), "ms-hand-in-p99")
	b.ReportMetric(ms(all, 0.99), "ms-all-p99")
	b.ReportMetric(float64(len(all))/took.Seconds(), "requests/s")
	b.ReportMetric(peak(b, child.Process.Pid), "MB-peak")
	child.Process.Signal(syscall.SIGTERM)
	if err := child.Wait(); err != nil {
		b.Fatal(err)
	}
	s.complete(data, pupils)
}

func ms(list []time.Duration, share float64) float64 {
	slices.Sort(list)
	return float64(list[int(share*float64(len(list)-1))].Microseconds()) / 1000
}

// peak is the most memory that a process had, in megabytes; Linux only.
func peak(b *testing.B, pid int) float64 {
	if runtime.GOOS != "linux" {
		return 0
	}
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		b.Fatal(err)
	}
	m := regexp.MustCompile(`VmHWM:\s+(\d+)`).FindSubmatch(status)
	kb, err := strconv.Atoi(string(m[1]))
	if err != nil {
		b.Fatal(err)
	}
	return float64(kb) / 1024
}

// fill makes a class with a set of three questions, with numbers of their own, and a session for everybody.
func (s *storm) fill(data string, pupils int) {
	ctx, now := s.b.Context(), time.Now()
	st, err := store.Open(ctx, data)
	s.must(err)
	defer st.Close()
	head := account.Person{ID: store.NewID(), Name: "Vera Orlando", Login: "head", Role: account.Head, Made: now}
	by := store.By{Role: account.Head, Who: head.ID, At: now}
	s.must(st.AddPerson(ctx, by, head))
	c := homework.Class{ID: store.NewID(), Name: "Year", Code: account.NewClassCode(), KeepTill: now.AddDate(1, 0, 0)}
	s.must(st.AddClass(ctx, by, c))
	var members []homework.Pupil
	for i := range pupils {
		members = append(members, homework.Pupil{ID: store.NewID(), Class: c.ID, Name: fmt.Sprint("Pupil ", i), Code: strconv.Itoa(i)})
	}
	s.must(st.AddPupils(ctx, by, c.ID, members))
	s.set = homework.Set{ID: store.NewID(), Class: c.ID, Title: "Bridges", Seed: "storm", Show: homework.UsualShow(false)}
	for _, name := range []string{"kayak-rack", "jetty-board", "market-counter"} {
		s.set.Items = append(s.set.Items, homework.Item{Question: "bank:" + name, Text: s.bank(name), Own: true})
	}
	s.must(st.AddSet(ctx, by, s.set))
	numbers, _, err := homework.Choose(&s.set, members, nil)
	s.must(err)
	s.must(st.Give(ctx, by, s.set.ID, numbers))
	for _, m := range members {
		s.members[m.ID] = s.session(st, account.PupilOf, m.ID)
	}
	s.head = s.session(st, account.Head, head.ID)
}

func (s *storm) bank(name string) string {
	text, err := bank.Files.ReadFile(name + ".moments")
	s.must(err)
	return string(text)
}

func (s *storm) session(st *store.Store, role account.Role, who string) string {
	token, session := account.NewSession(role, who, "a benchmark", time.Now())
	s.must(st.StartSession(s.b.Context(), store.By{Role: role, Who: who, At: time.Now()}, session))
	return token
}

// start starts the program and waits for its address.
func (s *storm) start(data string) *exec.Cmd {
	cmd := exec.Command(os.Args[0], "-test.run=^TestServeForStorm$")
	cmd.Env = append(os.Environ(), dataOfChild+"="+data)
	out, err := cmd.StdoutPipe()
	s.must(err)
	cmd.Stderr = os.Stderr
	s.must(cmd.Start())
	s.b.Cleanup(func() { cmd.Process.Kill() })
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if _, address, ok := strings.Cut(lines.Text(), "Steelyard is at "); ok {
			s.url, s.name = address, sign.Cookie(&page.Desk{Host: address})
			go io.Copy(io.Discard, out)
			return cmd
		}
	}
	s.b.Fatal("the program did not start")
	return nil
}

func (s *storm) browser(token string) *http.Client {
	jar, err := cookiejar.New(nil)
	s.must(err)
	u, err := url.Parse(s.url)
	s.must(err)
	jar.SetCookies(u, []*http.Cookie{{Name: s.name, Value: token, Path: "/"}})
	return &http.Client{Jar: jar, Transport: &http.Transport{}, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
}

// watch is the teacher: the live connection stays open, and the table is opened anew at each signal.
func (s *storm) watch(ctx context.Context) {
	c := s.browser(s.head)
	for ctx.Err() == nil {
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, s.url+"/sets/"+s.set.ID+"/live", nil)
		s.must(err)
		answer, err := c.Do(r)
		if err != nil {
			return
		}
		for lines := bufio.NewScanner(answer.Body); lines.Scan(); {
			if strings.HasPrefix(lines.Text(), "data:") {
				s.fetch(c, http.MethodGet, "/sets/"+s.set.ID+"/marks", "", nil)
			}
		}
		answer.Body.Close()
	}
}

// fetch is one request with the time until the whole answer is there.
func (s *storm) fetch(c *http.Client, method, path, kind string, body io.Reader) (string, time.Duration) {
	r, err := http.NewRequest(method, s.url+path, body)
	s.must(err)
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	begin := time.Now()
	answer, err := c.Do(r)
	s.must(err)
	text, err := io.ReadAll(answer.Body)
	s.must(err)
	answer.Body.Close()
	took := time.Since(begin)
	if answer.StatusCode >= 400 {
		s.b.Errorf("%s %s: status %d", method, path, answer.StatusCode)
	}
	return string(text), took
}

var (
	boxes  = regexp.MustCompile(`name="w-([^"]+)"`)
	hidden = regexp.MustCompile(`name="(key|stamp)" value="([^"]+)"`)
)

const form = "application/x-www-form-urlencoded"

// pupil opens the set, has three drafts kept, looks over and hands in.
func (s *storm) pupil(token string) (all []time.Duration, handing time.Duration) {
	c, path := s.browser(token), "/work/"+s.set.ID
	defer c.CloseIdleConnections()
	text, took := s.fetch(c, http.MethodGet, path, "", nil)
	all = append(all, took)
	ids := boxes.FindAllStringSubmatch(text, -1)
	if len(ids) < 6 {
		s.b.Errorf("the page has %d parts, want 6 or more", len(ids))
	}
	for i := range 3 {
		var parts []string
		for k, id := range ids {
			parts = append(parts, fmt.Sprintf(`{"id":%q,"answer":"%d N","working":"moments about Q\n310 × 1.8 + 540 × 0.%d = P × 3.3\nP = %d N","rev":%d}`, id[1], 100+k+i, k, 100+k+i, time.Now().UnixMilli()))
		}
		_, took := s.fetch(c, http.MethodPost, path+"/drafts", "application/json", strings.NewReader(`{"parts":[`+strings.Join(parts, ",")+`]}`))
		all = append(all, took)
	}
	text, took = s.fetch(c, http.MethodGet, path+"/look", "", nil)
	all = append(all, took)
	values := url.Values{}
	for _, m := range hidden.FindAllStringSubmatch(text, -1) {
		values.Set(m[1], m[2])
	}
	_, handing = s.fetch(c, http.MethodPost, path+"/hand-in", form, bytes.NewBufferString(values.Encode()))
	return append(all, handing), handing
}

// complete checks that every hand-in is there, with its parts, and that the database is whole.
func (s *storm) complete(data string, want int) {
	st, err := store.Open(s.b.Context(), data)
	s.must(err)
	defer st.Close()
	n := 0
	for h, err := range st.HandInsOf(s.b.Context(), s.set.ID) {
		s.must(err)
		if len(h.Answers) < 6 {
			s.b.Errorf("a hand-in has %d parts", len(h.Answers))
		}
		n++
	}
	if n != want {
		s.b.Errorf("%d hand-ins are kept, want %d", n, want)
	}
	faults, err := st.Verify(s.b.Context())
	s.must(err)
	if len(faults) > 0 {
		s.b.Error(faults)
	}
}

func (s *storm) must(err error) {
	s.b.Helper()
	if err != nil {
		s.b.Fatal(err)
	}
}
