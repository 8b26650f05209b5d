package web_test

import (
	"bufio"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/bank"
	"steelyard/homework"
	"steelyard/store"
	"steelyard/web/page"
	"steelyard/web/sign"
)

// Killed in the middle of a class that hands in, the program loses nothing that it has acknowledged, keeps nothing
// twice, and its database is whole. STEELYARD_FULL=1 kills it 200 times.
func TestKilledWhileAClassHandsIn(t *testing.T) {
	rounds := 5
	if os.Getenv("STEELYARD_FULL") == "1" {
		rounds = 200
	}
	program := filepath.Join(t.TempDir(), "steelyard")
	if out, err := exec.Command("go", "build", "-o", program, "steelyard/cmd/steelyard").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	k := &killing{t: t, program: program, data: t.TempDir()}
	k.fill(12)
	// The moment of the kill wanders over the storm, from its beginning to its end.
	for i := range rounds {
		k.round(time.Duration(10+(i*37)%250) * time.Millisecond)
	}
	t.Logf("%d kills, %d acknowledged hand-ins", rounds, k.acknowledged)
	if k.acknowledged == 0 {
		t.Error("no hand-in was acknowledged before a kill, so nothing was tried")
	}
}

type killing struct {
	t             *testing.T
	program, data string
	class         homework.Class
	members       []homework.Pupil
	head          account.Person
	acknowledged  int
}

func (k *killing) by() store.By { return store.By{Role: account.Head, Who: k.head.ID, At: time.Now()} }

func (k *killing) open() *store.Store {
	s, err := store.Open(k.t.Context(), k.data)
	must(k.t, err)
	return s
}

func (k *killing) fill(pupils int) {
	s, now := k.open(), time.Now()
	defer s.Close()
	k.head = account.Person{ID: store.NewID(), Name: "Vera Orlando", Login: "head", Role: account.Head, Made: now}
	must(k.t, s.AddPerson(k.t.Context(), k.by(), k.head))
	k.class = homework.Class{ID: store.NewID(), Name: "Year", Code: account.NewClassCode(), KeepTill: now.AddDate(1, 0, 0)}
	must(k.t, s.AddClass(k.t.Context(), k.by(), k.class))
	for i := range pupils {
		k.members = append(k.members, homework.Pupil{ID: store.NewID(), Class: k.class.ID, Name: fmt.Sprint("Pupil ", i), Code: strconv.Itoa(i)})
	}
	must(k.t, s.AddPupils(k.t.Context(), k.by(), k.class.ID, k.members))
}

// A handed is what one pupil was told: whether the hand-in was acknowledged, with the answer that they typed.
type handed struct {
	pupil, answer string
	yes           bool
}

func (k *killing) round(after time.Duration) {
	s := k.open()
	set := homework.Set{ID: store.NewID(), Class: k.class.ID, Title: "Bridges", Seed: "kill", Show: homework.UsualShow(false)}
	text, err := bank.Files.ReadFile("kayak-rack.moments")
	must(k.t, err)
	set.Items = []homework.Item{{Question: "bank:kayak-rack", Text: string(text)}}
	must(k.t, s.AddSet(k.t.Context(), k.by(), set))
	must(k.t, s.Give(k.t.Context(), k.by(), set.ID, nil))
	tokens := map[string]string{}
	for _, m := range k.members {
		token, session := account.NewSession(account.PupilOf, m.ID, "a test", time.Now())
		must(k.t, s.StartSession(k.t.Context(), k.by(), session))
		tokens[m.ID] = token
	}
	must(k.t, s.Close())

	cmd, at := k.start()
	told := make(chan handed, len(tokens))
	var group sync.WaitGroup
	for i, m := range k.members {
		group.Add(1)
		go func() {
			defer group.Done()
			time.Sleep(time.Duration(i) * 20 * time.Millisecond) // so that a kill finds some handing in
			told <- handIn(at, tokens[m.ID], set.ID, m.ID)
		}()
	}
	time.Sleep(after)
	must(k.t, cmd.Process.Kill())
	cmd.Wait()
	group.Wait()
	close(told)
	k.check(set.ID, told)
}

// start starts the program and waits for its address.
func (k *killing) start() (*exec.Cmd, string) {
	cmd := exec.Command(k.program, "serve", "--data", k.data, "--listen", "127.0.0.1:0", "--no-backups")
	out, err := cmd.StdoutPipe()
	must(k.t, err)
	must(k.t, cmd.Start())
	k.t.Cleanup(func() { cmd.Process.Kill() })
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if _, at, ok := strings.Cut(lines.Text(), "Steelyard is at "); ok {
			go io.Copy(io.Discard, out)
			return cmd, at
		}
	}
	k.t.Fatal("the program did not start")
	return nil, ""
}

// handIn types one answer and hands in; the answer of every request may fail, since the program is killed meanwhile.
func handIn(at, token, set, pupil string) (h handed) {
	h = handed{pupil: pupil, answer: fmt.Sprint(len(pupil), token[:4], " N")}
	jar, err := cookiejar.New(nil)
	if err != nil {
		return h
	}
	u, err := url.Parse(at)
	if err != nil {
		return h
	}
	jar.SetCookies(u, []*http.Cookie{{Name: sign.Cookie(&page.Desk{Host: at}), Value: token, Path: "/"}})
	c := &http.Client{Jar: jar, Transport: &http.Transport{}, Timeout: 20 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	defer c.CloseIdleConnections()
	ask := func(method, path, kind, body string) (string, int) {
		r, err := http.NewRequest(method, at+path, strings.NewReader(body))
		if err != nil {
			return "", 0
		}
		r.Header.Set("Content-Type", kind)
		answer, err := c.Do(r)
		if err != nil {
			return "", 0
		}
		defer answer.Body.Close()
		text, err := io.ReadAll(answer.Body)
		if err != nil {
			return "", 0
		}
		return string(text), answer.StatusCode
	}
	work := "/work/" + set
	text, _ := ask(http.MethodGet, work, "", "")
	var parts []string
	for _, id := range boxes.FindAllStringSubmatch(text, -1) {
		parts = append(parts, fmt.Sprintf(`{"id":%q,"answer":%q,"working":"P = 1","rev":1}`, id[1], h.answer))
	}
	if _, status := ask(http.MethodPost, work+"/drafts", "application/json", `{"parts":[`+strings.Join(parts, ",")+`]}`); status >= 400 || status == 0 {
		return h
	}
	text, _ = ask(http.MethodGet, work+"/look", "", "")
	values := url.Values{}
	for _, m := range hidden.FindAllStringSubmatch(text, -1) {
		values.Set(m[1], m[2])
	}
	for range 2 { // sent twice, as by an impatient finger
		_, got := ask(http.MethodPost, work+"/hand-in", form, values.Encode())
		h.yes = h.yes || got == http.StatusSeeOther
	}
	return h
}

func (k *killing) check(set string, told <-chan handed) {
	k.t.Helper()
	s := k.open()
	defer s.Close()
	for h := range told {
		list, err := s.HandInsBy(k.t.Context(), set, h.pupil)
		must(k.t, err)
		if len(list) > 1 {
			k.t.Errorf("a hand-in is kept %d times", len(list))
		}
		if !h.yes {
			continue
		}
		k.acknowledged++
		if len(list) == 0 {
			k.t.Error("an acknowledged hand-in is lost")
			continue
		}
		for _, a := range list[0].Answers {
			if a.Answer != h.answer {
				k.t.Errorf("the answer %q was handed in, %q is kept", h.answer, a.Answer)
			}
		}
	}
	k.t.Log(k.acknowledged, "acknowledged so far")
	faults, err := s.Verify(k.t.Context())
	must(k.t, err)
	if len(faults) > 0 {
		k.t.Error(faults)
	}
}
