package film

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"syscall"
)

// bind has a command, with whatever it starts, end when its context does, and when this program is killed. What it gives is to
// be called once the command has ended: the system takes the thread that started it for its parent, so that has to stay.
func bind(c *exec.Cmd) (loosen func()) {
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
	c.Cancel = func() error {
		if err := syscall.Kill(-c.Process.Pid, syscall.SIGKILL); !errors.Is(err, syscall.ESRCH) {
			return err
		}
		return os.ErrProcessDone
	}
	runtime.LockOSThread()
	return runtime.UnlockOSThread
}

// hold keeps a folder from others until the file is closed, or this program has ended. The error is errHeld if somebody else
// has it; with wait there is none such, for it waits.
func hold(folder string, wait bool) (*os.File, error) {
	f, err := os.Open(folder)
	if err != nil {
		return nil, err
	}
	how := syscall.LOCK_EX
	if !wait {
		how |= syscall.LOCK_NB
	}
	for err = syscall.EINTR; errors.Is(err, syscall.EINTR); {
		err = syscall.Flock(int(f.Fd()), how)
	}
	if errors.Is(err, syscall.EWOULDBLOCK) {
		err = errHeld
	}
	if err != nil {
		f.Close()
		return nil, fmt.Errorf("locking %s: %w", folder, err)
	}
	return f, nil
}
