package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"steelyard/account"
	"steelyard/homework"
	"steelyard/store"
)

// A served program runs as a process of its own.
type served struct {
	*exec.Cmd
	address, code string
	log           *bytes.Buffer
}

var told = regexp.MustCompile(`http://(127\.0\.0\.1:\d+)(?:/first#(\S+))?`)

func serve(t *testing.T, data string) *served {
	t.Helper()
	s := &served{Cmd: exec.Command("steelyard", "serve", "--listen", "127.0.0.1:0", "--data", data), log: &bytes.Buffer{}}
	s.Stderr = s.log
	out, err := s.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Process.Kill(); s.Wait() })
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if m := told.FindStringSubmatch(lines.Text()); m != nil {
			s.address = m[1]
			if s.code = m[2]; s.code != "" {
				break
			}
		}
	}
	if s.address == "" || s.code == "" {
		t.Fatalf("it did not tell where it is: %s", s.log)
	}
	go io.Copy(io.Discard, out)
	return s
}

// Told to stop, the program answers what it has begun to read, writes it, and ends well. What it wrote is there
// afterwards, in a backup and a restore too.
func TestServingFinishesWhatItHasBegun(t *testing.T) {
	data := filepath.Join(t.TempDir(), "data")
	s := serve(t, data)
	form := url.Values{"code": {s.code}, "name": {"Vera Orlando"}, "login": {"vera"}, "password": {"lantern mossy ferry plug"}}.Encode()
	conn, err := net.Dial("tcp", s.address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprintf(conn, "POST /first HTTP/1.1\r\nHost: %s\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: %d\r\n\r\n%s", s.address, len(form), form[:10])
	time.Sleep(200 * time.Millisecond) // it waits for the rest
	if err := s.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	time.Sleep(200 * time.Millisecond)
	if _, err := net.Dial("tcp", s.address); err == nil {
		t.Error("it still takes new connections")
	}
	io.WriteString(conn, form[10:])
	answer, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil || answer.StatusCode != http.StatusSeeOther || answer.Header.Get("Set-Cookie") == "" {
		t.Fatalf("%v %v: %s", answer, err, s.log)
	}
	if err := s.Wait(); err != nil {
		t.Fatalf("it ended with %v: %s", err, s.log)
	}
	for _, secret := range []string{"Vera", "lantern", s.code, "127.0.0.1"} {
		if strings.Contains(s.log.String(), secret) {
			t.Errorf("the log has %q: %s", secret, s.log)
		}
	}
	pupil := addPupil(t, data)
	keeps(t, data, pupil)
}

// addPupil adds a class with a pupil to the data of a program that has ended.
func addPupil(t *testing.T, data string) (id string) {
	t.Helper()
	s, err := store.Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	vera, err := s.PersonByLogin(t.Context(), "vera")
	if err != nil || vera.Role != account.Head {
		t.Fatal("what was answered is not there:", vera, err)
	}
	by := store.By{Role: vera.Role, Who: vera.ID, At: time.Now()}
	c := homework.Class{ID: store.NewID(), Name: "10b", Code: account.NewClassCode(), KeepTill: time.Now().AddDate(1, 0, 0)}
	p := homework.Pupil{ID: store.NewID(), Class: c.ID, Name: "Ilse Hart"}
	if err := s.AddClass(t.Context(), by, c); err != nil {
		t.Fatal(err)
	}
	if err := s.AddPupils(t.Context(), by, c.ID, []homework.Pupil{p}); err != nil {
		t.Fatal(err)
	}
	return p.ID
}

// keeps takes the data through everything that can be done with them on the command line.
func keeps(t *testing.T, data, pupil string) {
	t.Helper()
	in := func(name string) string { return filepath.Join(filepath.Dir(data), name) }
	if err := os.WriteFile(in("phrase"), []byte("gravel otter teapot\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	must := func(want int, says string, args ...string) {
		t.Helper()
		var out, errs bytes.Buffer
		if got := run(args, streams{in: strings.NewReader(""), out: &out, err: &errs}); got != want || !strings.Contains(out.String()+errs.String(), says) {
			t.Errorf("%v: status %d, %s%s", args, got, &out, &errs)
		}
	}
	must(done, "all is as it should be", "verify", "--data", data)
	must(done, "written", "backup", "--data", data, "-o", in("sealed.backup"), "--passphrase", in("phrase"))
	must(done, "written", "export-pupil", pupil, "--data", data, "-o", in("pupil.zip"))
	must(refused, "no pupil", "export-pupil", "nobody", "--data", data, "-o", in("nobody.zip"))
	must(refused, "would erase Ilse Hart", "erase-pupil", pupil, "--data", data)
	must(done, "erased", "erase-pupil", pupil, "--data", data, "--yes")
	must(refused, "sealed", "restore", in("sealed.backup"), "--data", in("again"))
	must(done, "restored", "restore", in("sealed.backup"), "--data", in("again"), "--passphrase", in("phrase"), "--erased", filepath.Join(data, "backups", "erased.txt"))
	must(refused, "not empty", "restore", in("sealed.backup"), "--data", in("again"), "--passphrase", in("phrase"))
	must(refused, "no pupil", "export-pupil", pupil, "--data", in("again"), "-o", in("again.zip"))
	must(done, "all is as it should be", "verify", "--data", in("again"))
	must(refused, "holds no data", "verify", "--data", in("nowhere"))
	if b, err := os.ReadFile(in("sealed.backup")); err != nil || bytes.Contains(b, []byte("Ilse")) {
		t.Error("the sealed backup can be read", err)
	}
	if made, _ := filepath.Glob(filepath.Join(data, "backups", "steelyard-*.backup")); len(made) != 1 {
		t.Error("the daily backup is not there:", made)
	}
}

// Where another program listens already, the message says what to do.
func TestServingWhereAnotherListens(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	out, err := exec.Command("steelyard", "serve", "--data", t.TempDir(), "--listen", l.Addr().String()).CombinedOutput()
	if err == nil || !strings.Contains(string(out), "another program listens at "+l.Addr().String()) {
		t.Errorf("it says %q (%v)", out, err)
	}
}
