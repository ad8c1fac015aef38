package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// terminal is a real one, in tmux: what a person would see, and the keys that they would press.
type terminal struct {
	t      *testing.T
	socket string
	keys   int // pressed so far
}

// needTmux skips, loudly, where tmux isn't installed; .ci/run installs it.
func needTmux(t *testing.T) {
	if _, err := exec.LookPath("tmux"); err != nil {
		t.Skip("NOT CHECKED in a real terminal: tmux is not installed")
	}
}

// start runs the program in a terminal of cols by rows, in a folder.
func start(t *testing.T, dir string, cols, rows int, env []string, args ...string) *terminal {
	t.Helper()
	sockets, err := os.MkdirTemp("", "rb") // t.TempDir is too long a path for a socket
	if err != nil {
		t.Fatal(err)
	}
	term := &terminal{t: t, socket: filepath.Join(sockets, "s")}
	t.Cleanup(func() {
		_ = exec.Command("tmux", "-S", term.socket, "kill-server").Run()
		_ = os.RemoveAll(sockets)
	})
	command := []string{"-S", term.socket, "-f", "/dev/null", "new-session", "-d", "-c", dir,
		"-x", fmt.Sprint(cols), "-y", fmt.Sprint(rows), "env",
		"TERM=xterm-256color", "LANG=C.UTF-8", "HOME=" + dir, "XDG_CONFIG_HOME=" + dir + "/config", "XDG_STATE_HOME=" + dir + "/state"}
	command = append(command, env...)
	command = append(command, program(t))
	command = append(command, args...)
	if out, err := exec.Command("tmux", command...).CombinedOutput(); err != nil {
		t.Fatalf("tmux: %v\n%s", err, out)
	}
	_ = exec.Command("tmux", "-S", term.socket, "set", "-g", "status", "off", ";", "set", "-g", "remain-on-exit", "on").Run()
	return term
}

var (
	builtOnce sync.Once
	built     string
)

// program is the built program, built once a test binary.
func program(t testing.TB) string {
	t.Helper()
	builtOnce.Do(func() {
		dir, err := os.MkdirTemp("", "roombrief")
		if err != nil {
			t.Fatal(err)
		}
		built = filepath.Join(dir, "roombrief")
		if out, err := exec.Command("go", "build", "-o", built, ".").CombinedOutput(); err != nil {
			t.Fatalf("build: %v\n%s", err, out)
		}
	})
	return built
}

// screen is what stands on the terminal now, without colours.
func (x *terminal) screen() string {
	x.t.Helper()
	out, err := exec.Command("tmux", "-S", x.socket, "capture-pane", "-p").Output()
	if err != nil {
		return ""
	}
	return string(out)
}

// press sends keys by their tmux names: a, Enter, Down, C-z. Each counts.
func (x *terminal) press(keys ...string) *terminal {
	x.t.Helper()
	for _, k := range keys {
		if out, err := exec.Command("tmux", "-S", x.socket, "send-keys", k).CombinedOutput(); err != nil {
			x.t.Fatalf("send %s: %v\n%s", k, err, out)
		}
		x.keys++
	}
	return x
}

// see waits until all texts stand on the screen.
func (x *terminal) see(texts ...string) string {
	x.t.Helper()
	return x.until(fmt.Sprintf("%q", texts), func(s string) bool {
		for _, text := range texts {
			if !strings.Contains(s, text) {
				return false
			}
		}
		return true
	})
}

// until waits for a condition on the screen; a journey never sleeps for luck.
func (x *terminal) until(what string, ok func(string) bool) string {
	x.t.Helper()
	deadline := time.Now().Add(15 * time.Second)
	for {
		s := x.screen()
		if ok(s) {
			return s
		}
		if time.Now().After(deadline) {
			x.t.Fatalf("never saw %s; the screen was\n%s", what, s)
		}
		time.Sleep(15 * time.Millisecond)
	}
}

// gone waits until the program has left.
func (x *terminal) gone() {
	x.t.Helper()
	x.until("the program leave", func(string) bool {
		out, err := exec.Command("tmux", "-S", x.socket, "list-panes", "-F", "#{pane_dead}").Output()
		return err != nil || strings.HasPrefix(string(out), "1")
	})
}

// kill ends the program as a pulled plug would.
func (x *terminal) kill() {
	x.t.Helper()
	out, err := exec.Command("tmux", "-S", x.socket, "list-panes", "-F", "#{pane_pid}").Output()
	if err != nil {
		x.t.Fatal(err)
	}
	if err := exec.Command("kill", "-9", strings.TrimSpace(string(out))).Run(); err != nil {
		x.t.Fatal(err)
	}
	x.gone()
}
