package quiet_test

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"

	_ "example.org/roombrief/tui/quiet"
)

// TestMain is also the program that the test runs on a terminal that answers nothing.
func TestMain(m *testing.M) {
	if os.Getenv("QUIET_CHILD") != "" {
		_, err := os.Stdout.WriteString("ready " + tea.KeyMsg{Type: tea.KeyEnter}.String())
		if err != nil {
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func TestNothingIsAskedOfTheTerminal(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), "QUIET_CHILD=1", "TERM=xterm-256color", "COLORTERM=truecolor")
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Skip("no pseudo-terminal here: ", err)
	}
	defer tty.Close()
	var out bytes.Buffer
	_, _ = io.Copy(&out, tty) // ends with an error when the child has gone
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	if got := out.String(); !strings.HasPrefix(got, "ready enter") {
		t.Errorf("before anything was drawn, the terminal was sent %q", got)
	}
}
