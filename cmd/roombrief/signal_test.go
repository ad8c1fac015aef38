//go:build unix

package main

import (
	"bytes"
	"os/exec"
	"syscall"
	"testing"
	"time"
)

// Whatever it is at, the program ends soon when it is told to: also where it waits for input that never comes.
func TestTheProgramEndsWhenToldTo(t *testing.T) {
	for _, sign := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP} {
		cmd := exec.Command(program(t), "check", "-")
		var fault bytes.Buffer
		cmd.Stderr = &fault
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		defer in.Close()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := in.Write(bytes.Repeat([]byte("# more than a pipe holds\n"), 10_000)); err != nil { // it has begun to read
			t.Fatal(err)
		}
		if err := cmd.Process.Signal(sign); err != nil {
			t.Fatal(err)
		}
		late := time.AfterFunc(30*time.Second, func() { _ = cmd.Process.Kill() })
		_ = cmd.Wait() // the status is looked at below
		if late.Stop(); cmd.ProcessState.ExitCode() != badCall || fault.String() != "roombrief: "+stopped+"\n" {
			t.Errorf("after %v: status %d, says %q", sign, cmd.ProcessState.ExitCode(), fault.String())
		}
	}
}
