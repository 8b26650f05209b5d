package store_test

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib"

	"steelyard/store/storetest"
)

// A server is a PostgreSQL of the tests' own, on loopback, with its files in a folder that goes afterwards. It syncs
// to the disk, as in earnest.
type server struct {
	bin, dir, port string
	as             *syscall.SysProcAttr // who runs it: PostgreSQL refuses to be run by root
	cmd            *exec.Cmd
	schemas        atomic.Int64
}

var (
	shared  = sync.OnceValues(newServer)
	started atomic.Bool
)

func TestMain(m *testing.M) {
	if len(os.Args) == 4 && os.Args[1] == "storm" {
		os.Exit(storm(os.Args[2], os.Args[3]))
	}
	status := m.Run()
	if started.Load() {
		if s, err := shared(); err == nil && s != nil {
			s.remove()
		}
	}
	os.Exit(status)
}

// postgres is the shared server. Without PostgreSQL's programs the test is skipped, but not in CI.
func postgres(t testing.TB) *server {
	t.Helper()
	started.Store(true)
	s, err := shared()
	if err != nil {
		t.Fatal(err)
	}
	return orSkip(t, s)
}

func orSkip(t testing.TB, s *server) *server {
	t.Helper()
	if s == nil && os.Getenv("CI") != "" {
		t.Fatal("PostgreSQL's programs are missing: install the package postgresql")
	}
	if s == nil {
		t.Skip("PostgreSQL's programs are missing: install the package postgresql to run this test")
	}
	return s
}

func TestPostgreSQL(t *testing.T) {
	s := postgres(t)
	storetest.Run(t, func(t *testing.T) string { return s.fresh(t) })
}

// newServer is nil where PostgreSQL is not installed.
func newServer() (*server, error) {
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if len(found) == 0 {
		return nil, nil
	}
	slices.Sort(found)
	s := &server{bin: filepath.Dir(found[len(found)-1])}
	dir, err := os.MkdirTemp("", "steelyard-postgres-")
	if err != nil {
		return nil, err
	}
	s.dir = dir
	if os.Geteuid() == 0 {
		if err := s.asNobody(); err != nil {
			return nil, err
		}
	}
	if s.port, err = freePort(); err != nil {
		return nil, err
	}
	if out, err := s.run("initdb", "-D", filepath.Join(dir, "data"), "-U", "tester", "--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8").CombinedOutput(); err != nil {
		return nil, fmt.Errorf("initdb: %w: %s", err, out)
	}
	return s, s.start()
}

func (s *server) asNobody() error {
	u, err := user.Lookup("postgres")
	if err != nil {
		if u, err = user.Lookup("nobody"); err != nil {
			return err
		}
	}
	uid, _ := strconv.Atoi(u.Uid)
	gid, _ := strconv.Atoi(u.Gid)
	s.as = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}
	return os.Chown(s.dir, uid, gid)
}

// freePort is none of those that the system gives to clients: one that tries to reach a server which is down could be given
// the server's own, and keep it.
func freePort() (port string, err error) {
	for range 50 {
		port = strconv.Itoa(15000 + rand.IntN(15000))
		l, err := net.Listen("tcp", "127.0.0.1:"+port)
		if err == nil {
			return port, l.Close()
		}
	}
	return "", errors.New("no port is free")
}

func (s *server) run(program string, args ...string) *exec.Cmd {
	c := exec.Command(filepath.Join(s.bin, program), args...)
	c.SysProcAttr, c.Dir = s.as, s.dir
	return c
}

// start runs the server until it answers. After a kill it may find that a process of the one before still lives, and ends itself.
func (s *server) start() error {
	for range 200 {
		s.cmd = s.run("postgres", "-D", filepath.Join(s.dir, "data"), "-p", s.port, "-c", "listen_addresses=127.0.0.1", "-c", "unix_socket_directories=",
			"-c", "fsync=on", "-c", "max_connections=200", "-c", "log_min_messages=panic")
		if err := s.cmd.Start(); err != nil {
			return err
		}
		if s.answers() {
			return nil
		}
		s.stop(syscall.SIGQUIT)
		time.Sleep(100 * time.Millisecond)
	}
	return fmt.Errorf("PostgreSQL does not answer on port %s", s.port)
}

// answers waits until the server does, or has ended.
func (s *server) answers() bool {
	pid := strconv.Itoa(s.cmd.Process.Pid)
	for range 200 {
		if s.run("pg_isready", "-q", "-h", "127.0.0.1", "-p", s.port).Run() == nil {
			return true
		}
		stat, err := os.ReadFile("/proc/" + pid + "/stat")
		if err != nil || strings.Contains(string(stat), ") Z ") {
			return false
		}
		time.Sleep(20 * time.Millisecond)
	}
	return false
}

// stop ends the server with one of its signals: SIGINT is a fast shutdown, SIGQUIT an immediate one.
func (s *server) stop(how syscall.Signal) error {
	if err := s.cmd.Process.Signal(how); err != nil {
		return err
	}
	s.cmd.Wait()
	return nil
}

// kill ends all processes of the server at once, as a power failure would.
func (s *server) kill() {
	pid := s.cmd.Process.Pid
	children, _ := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	s.cmd.Process.Kill()
	for _, c := range strings.Fields(string(children)) {
		if n, err := strconv.Atoi(c); err == nil {
			syscall.Kill(n, syscall.SIGKILL)
		}
	}
	s.cmd.Wait()
}

func (s *server) remove() {
	s.stop(syscall.SIGINT)
	os.RemoveAll(s.dir)
}

func (s *server) address(schema string) string {
	return fmt.Sprintf("postgres://tester@127.0.0.1:%s/postgres?sslmode=disable&search_path=%s", s.port, schema)
}

// fresh makes a schema of its own for a test, which goes afterwards.
func (s *server) fresh(t testing.TB) string {
	t.Helper()
	name := fmt.Sprintf("t%d", s.schemas.Add(1))
	s.sql(t, "CREATE SCHEMA "+name)
	t.Cleanup(func() { s.sql(t, "DROP SCHEMA "+name+" CASCADE") })
	return s.address(name)
}

func (s *server) sql(t testing.TB, statement string) {
	t.Helper()
	db, err := sql.Open("pgx", s.address("public"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.ExecContext(context.Background(), strings.TrimSpace(statement)); err != nil {
		t.Fatal(err)
	}
}
