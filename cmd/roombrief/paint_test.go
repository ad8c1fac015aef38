package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// queries are what a program may ask a terminal: colours, cursor, size, names, modes, keys. An answer that
// never comes would hold up whoever waits for it.
var queries = regexp.MustCompile(`\x1b\](4;[0-9]+|1[0-9]);\?|\x1b\[[?>=]?[0-9;]*[cn]|\x1b\[1[4-8]t|\x1b\[>[0-9]*q|\x1b\[\?[0-9]+\$p|\x1b\[\?u|\x1bP[+$]q`)

// mute is a terminal that answers nothing.
type mute struct {
	tty *os.File
	cmd *exec.Cmd
}

// onMute starts the built program on a terminal that answers nothing.
func onMute(t testing.TB, dir string, args ...string) *mute {
	t.Helper()
	cmd := exec.Command(program(t), args...)
	cmd.Dir = dir
	cmd.Env = []string{"TERM=xterm-256color", "COLORTERM=truecolor", "LANG=C.UTF-8", "HOME=" + dir,
		"XDG_CONFIG_HOME=" + dir + "/config", "XDG_STATE_HOME=" + dir + "/state"}
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 40, Cols: 120})
	if err != nil {
		t.Skip("NOT CHECKED: no pseudo-terminal here: ", err)
	}
	return &mute{tty, cmd}
}

// until reads what the program draws up to a text of its first page.
func (m *mute) until(text string) ([]byte, error) {
	var got []byte
	piece := make([]byte, 32<<10)
	for !bytes.Contains(got, []byte(text)) {
		n, err := m.tty.Read(piece)
		got = append(got, piece[:n]...)
		if err != nil {
			return got, fmt.Errorf("the first page never came: %w", err)
		}
	}
	return got, nil
}

// end stops the program and answers the processor time that it took.
func (m *mute) end() time.Duration {
	_ = m.cmd.Process.Signal(syscall.SIGTERM)
	_, _ = io.Copy(io.Discard, m.tty) // ends with an error when the program has gone
	_ = m.cmd.Wait()
	_ = m.tty.Close()
	return m.cmd.ProcessState.UserTime() + m.cmd.ProcessState.SystemTime()
}

// firstPages are what stands on the first page, with no file and with one.
var firstPages = []struct {
	name, text string
	args       []string
}{
	{"no-file", "A new home", nil},
	{"alder-row", "answered", []string{"alder-row.yaml"}},
}

func TestTheFirstPageAsksNothingOfTheTerminal(t *testing.T) {
	for _, c := range firstPages {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			if err := copyHomes(dir); err != nil {
				t.Fatal(err)
			}
			m := onMute(t, dir, c.args...)
			watch := time.AfterFunc(time.Minute, func() { _ = m.cmd.Process.Kill() })
			defer watch.Stop()
			got, err := m.until(c.text)
			m.end()
			if err != nil {
				t.Fatalf("%v; it drew %q", err, got)
			}
			if asked := queries.Find(got); asked != nil {
				t.Errorf("before its first page it asked %q", asked)
			}
		})
	}
}

// The pattern knows the questions that are commonly put, and leaves alone what only sets something.
func TestQueries(t *testing.T) {
	for _, asks := range []string{"\x1b]11;?\a", "\x1b]10;?\x1b\\", "\x1b]4;1;?\a", "\x1b[6n", "\x1b[?6n", "\x1b[c", "\x1b[>0c", "\x1b[=c", "\x1b[18t", "\x1b[>q", "\x1b[?2026$p", "\x1b[?u", "\x1bP+q5443\x1b\\"} {
		if !queries.MatchString(asks) {
			t.Errorf("%q is a question", asks)
		}
	}
	for _, sets := range []string{"\x1b[?1049h", "\x1b[?25l", "\x1b[?2004h", "\x1b[1;31m", "\x1b[2J", "\x1b[?1002h\x1b[?1006h", "\x1b]0;title\a", "\x1b[2K\x1b[1;40H"} {
		if queries.MatchString(sets) {
			t.Errorf("%q is no question", sets)
		}
	}
}

// BenchmarkFirstPaint is the whole program, from its start to the first page on a terminal that answers
// nothing; cpu-ms is what it took of the processor until it had left again, planning included.
func BenchmarkFirstPaint(b *testing.B) {
	for _, c := range firstPages {
		b.Run(c.name, func(b *testing.B) {
			dir := b.TempDir()
			if err := copyHomes(dir); err != nil {
				b.Fatal(err)
			}
			program(b)
			var paints []time.Duration
			var cpu time.Duration
			for b.Loop() {
				start := time.Now()
				m := onMute(b, dir, c.args...)
				if _, err := m.until(c.text); err != nil {
					b.Fatal(err)
				}
				paints = append(paints, time.Since(start))
				cpu += m.end()
			}
			slices.Sort(paints)
			b.ReportMetric(float64(paints[len(paints)/2].Microseconds())/1000, "p50-ms")
			b.ReportMetric(float64(cpu.Microseconds())/1000/float64(len(paints)), "cpu-ms")
		})
	}
}

// BenchmarkCommand is a whole run of the built program on Alder Row.
func BenchmarkCommand(b *testing.B) {
	dir := b.TempDir()
	if err := copyHomes(dir); err != nil {
		b.Fatal(err)
	}
	for _, args := range [][]string{
		{"--version"}, {"check", "alder-row.yaml"}, {"bill", "alder-row.yaml"}, {"rules", "alder-row.yaml"},
		{"handover", "alder-row.yaml", "-o", filepath.Join(dir, "papers")},
	} {
		b.Run(args[0], func(b *testing.B) {
			var cpu time.Duration
			runs := 0
			for b.Loop() {
				cmd := exec.Command(program(b), args...)
				cmd.Dir = dir
				if out, err := cmd.CombinedOutput(); err != nil && cmd.ProcessState.ExitCode() != heed {
					b.Fatalf("%v\n%s", err, out)
				}
				cpu += cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
				runs++
			}
			b.ReportMetric(float64(cpu.Microseconds())/1000/float64(runs), "cpu-ms")
		})
	}
}
