package store

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The test program is its own second program: with this variable set it does one job instead of testing.
const jobVar = "ROOMBRIEF_STORE_JOB"

func TestMain(m *testing.M) {
	job, path, _ := strings.Cut(os.Getenv(jobVar), " ")
	switch job {
	case "":
		os.Exit(m.Run())
	case "save":
		saveForever(path)
	case "hold":
		hold(path)
	}
}

func child(t *testing.T, job string) (*exec.Cmd, *bufio.Reader) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), jobVar+"="+job)
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	return cmd, bufio.NewReader(out)
}

// version is a body that can be told whole from half.
func version(n int) []byte {
	line := fmt.Sprintf("version: %d\n", n)
	return []byte(strings.Repeat(line, 20_000))
}

func saveForever(path string) {
	f, err := Open(path)
	for n := 1; err == nil; n++ {
		if err = f.Keep(version(n)); err == nil {
			err = f.Save(version(n))
		}
		fmt.Println(n)
	}
	fmt.Println("error", err)
	os.Exit(1)
}

func TestKilledWhileSaving(t *testing.T) {
	path := filepath.Join(t.TempDir(), "home.yaml")
	for round := range 12 {
		put(t, path, string(version(0)))
		cmd, out := child(t, "save "+path)
		if line, err := out.ReadString('\n'); err != nil || line != "1\n" {
			t.Fatalf("the child says %q: %v", line, err)
		}
		// Killed between saves, or while one is seen to be under way.
		mark := []string{"", ".home.yaml" + tempMark, "..home.yaml.draft" + tempMark}[round%3]
		await(t, func() bool {
			return slices.ContainsFunc(names(t, filepath.Dir(path)), func(name string) bool { return strings.HasPrefix(name, mark) })
		})
		if err := cmd.Process.Signal(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		_ = cmd.Wait()
		body, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var n int
		if _, err := fmt.Sscanf(string(body), "version: %d", &n); err != nil || !bytes.Equal(body, version(n)) || n < 1 {
			t.Fatalf("round %d: %d bytes of version %d: %v", round, len(body), n, err)
		}
		f := reopen(t, path)
		if d, ok := f.Recover(); ok {
			var kept int
			if _, err := fmt.Sscanf(string(d.Body), "version: %d", &kept); err != nil || !bytes.Equal(d.Body, version(kept)) || kept < n {
				t.Fatalf("round %d: a draft of version %d beside version %d: %v", round, kept, n, err)
			}
		}
		if err := f.Lock(); err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(f.Save(version(99)), f.Close()); err != nil {
			t.Fatal(err)
		}
		if got := names(t, filepath.Dir(path)); len(got) != 1 {
			t.Fatalf("round %d: left behind: %v", round, got)
		}
	}
}

// await waits for what another program does, for as long as any test may take.
func await(t *testing.T, seen func() bool) {
	t.Helper()
	for end := time.Now().Add(time.Minute); !seen(); {
		if time.Now().After(end) {
			t.Fatal("it never came")
		}
	}
}

func hold(path string) {
	f, err := Open(path)
	if err == nil {
		f.Clock = time.Now
		err = f.Lock()
	}
	fmt.Println(err)
	_, _ = bufio.NewReader(os.Stdin).ReadByte() // until killed
	select {}
}

func TestLockedByAnotherProgram(t *testing.T) {
	f, path := place(t, "a: 1\n")
	cmd, out := child(t, "hold "+path)
	if line, err := out.ReadString('\n'); err != nil || line != "<nil>\n" {
		t.Fatalf("the child says %q: %v", line, err)
	}
	err := f.Lock()
	if !errors.Is(err, ErrLocked) || CodeOf(err) != Locked || !strings.Contains(err.Error(), fmt.Sprintf("process %d on ", cmd.Process.Pid)) {
		t.Fatalf("%v", err)
	}
	if string(f.Bytes()) != "a: 1\n" {
		t.Error("a locked file can't be read")
	}
	if err := cmd.Process.Signal(syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	_ = cmd.Wait()
	if err := errors.Join(f.Lock(), f.Lock(), f.Close(), f.Close()); err != nil {
		t.Fatalf("after a kill: %v", err)
	}
	if got := names(t, filepath.Dir(path)); len(got) != 1 {
		t.Errorf("left behind: %v", got)
	}
}

func TestLockWithinOneProgram(t *testing.T) {
	f, path := place(t, "a: 1\n")
	link := filepath.Join(t.TempDir(), "link.yaml")
	if err := errors.Join(os.Symlink(path, link), f.Lock()); err != nil {
		t.Fatal(err)
	}
	g := reopen(t, link)
	if err := g.Lock(); !errors.Is(err, ErrLocked) {
		t.Errorf("one file under two names: %v", err)
	}
	if err := errors.Join(f.Close(), g.Lock(), g.Close()); err != nil {
		t.Error(err)
	}
}

// asNobody runs the test again as a user of no rights where it runs as root, whom no permission stops, and reports whether it did.
func asNobody(t *testing.T) bool {
	t.Helper()
	if os.Geteuid() != 0 {
		return false
	}
	const nobody = 65534
	dir, err := os.MkdirTemp("", "store") // not t.TempDir, which only root may pass through
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	program, err := os.ReadFile(os.Args[0])
	if err == nil {
		err = errors.Join(os.Chmod(dir, 0o777), os.WriteFile(filepath.Join(dir, "test"), program, 0o755))
	}
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(filepath.Join(dir, "test"), "-test.run", "^"+t.Name()+"$", "-test.v")
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "TMPDIR="+dir, "HOME="+dir)
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	if out, err := cmd.CombinedOutput(); err != nil || !bytes.Contains(out, []byte("--- PASS: "+t.Name())) {
		t.Errorf("as nobody: %v\n%s", err, out)
	}
	return true
}

func TestLockInStateFolder(t *testing.T) {
	if asNobody(t) {
		return
	}
	f, path := place(t, "a: 1\n")
	dir := filepath.Dir(path)
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.Chmod(dir, 0o755) })
	if err := f.Lock(); CodeOf(err) != ReadOnly || !strings.Contains(err.Error(), "its folder can't be written") {
		t.Errorf("nowhere to lock: %v", err)
	}
	f.StateDir = t.TempDir()
	g := reopen(t, path)
	g.StateDir = f.StateDir
	if err := f.Lock(); err != nil {
		t.Fatal(err)
	}
	if err := g.Lock(); !errors.Is(err, ErrLocked) {
		t.Errorf("%v", err)
	}
	if err := f.Save([]byte("b: 1\n")); CodeOf(err) != ReadOnly {
		t.Errorf("%v", err)
	}
	holds(t, path, "a: 1\n")
	if err := f.Close(); err != nil {
		t.Error(err)
	}
}

func TestOpenRefusesAPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(path); CodeOf(err) != NotAFile || !strings.Contains(err.Error(), "is a pipe") {
		t.Errorf("%v", err)
	}
	if err := WriteWhole(path, nil); CodeOf(err) != NotAFile {
		t.Errorf("%v", err)
	}
}

// What became a pipe while it was open is said to be one; to read it would wait for ever.
func TestAFileThatBecameAPipeIsLeftAlone(t *testing.T) {
	f, path := place(t, "old\n")
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	for name, save := range map[string]func() error{
		"the same": func() error { return f.Save([]byte("old\n")) },
		"other":    func() error { return f.Save([]byte("new\n")) },
	} {
		done := make(chan error, 1)
		go func() { done <- save() }()
		select {
		case err := <-done:
			if CodeOf(err) != NotAFile {
				t.Errorf("%s: %v", name, err)
			}
		case <-time.After(10 * time.Second):
			t.Fatalf("%s: the save hangs", name)
		}
	}
}

// sealed asks of each file that it is private by the time something is written to it.
type sealed struct {
	disk
	t *testing.T
}

type sealedSink struct {
	sink
	t    *testing.T
	path string
}

func (d sealed) Create(path string) (sink, error) {
	out, err := d.disk.Create(path)
	return sealedSink{out, d.t, path}, err
}

func (s sealedSink) Write(b []byte) (int, error) {
	if info, err := os.Stat(s.path); err != nil || info.Mode().Perm() != 0o600 {
		s.t.Errorf("others can read what is being written: %v %v", info.Mode(), err)
	}
	return s.sink.Write(b)
}

func TestAPrivateFileIsPrivateWhileItIsSaved(t *testing.T) {
	f, path := place(t, "old\n")
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	f.disk = sealed{realDisk{}, t}
	if err := errors.Join(f.Keep([]byte("draft\n")), f.Save([]byte("new\n"))); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "new\n")
}

func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no small disk to be had here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, 0) })
	path := filepath.Join(dir, "home.yaml")
	put(t, path, "old\n")
	f := reopen(t, path)
	err := f.Save(bytes.Repeat([]byte("x"), 200_000))
	if CodeOf(err) != Full || !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("%v", err)
	}
	holds(t, path, "old\n")
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("left behind: %v", got)
	}
	if err := f.Save([]byte("new\n")); err != nil {
		t.Errorf("after making room: %v", err)
	}
	holds(t, path, "new\n")
}

func TestReadOnlyDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no small disk to be had here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, 0) })
	path := filepath.Join(dir, "home.yaml")
	put(t, path, "old\n")
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skipf("it can't be made read-only: %v", err)
	}
	f := reopen(t, path)
	f.StateDir = filepath.Join(t.TempDir(), "state")
	for what, err := range map[string]error{"Writable": f.Writable(), "Save": f.Save([]byte("new\n")), "WriteWhole": WriteWhole(filepath.Join(dir, "x"), nil)} {
		if CodeOf(err) != ReadOnly {
			t.Errorf("%s: %v", what, err)
		}
	}
	if err := f.Keep([]byte("edited\n")); err != nil {
		t.Error(err)
	}
	if d, ok := f.Recover(); !ok || string(d.Body) != "edited\n" {
		t.Errorf("%+v %v", d, ok)
	}
	if err := f.Lock(); err != nil {
		t.Error(err)
	}
	g := reopen(t, path)
	g.StateDir = f.StateDir
	if err := g.Lock(); !errors.Is(err, ErrLocked) {
		t.Errorf("%v", err)
	}
	if err := errors.Join(f.Close(), g.Lock(), g.Close(), f.Discard()); err != nil {
		t.Error(err)
	}
}

func TestAListThatNobodyMayReadIsUnreadable(t *testing.T) {
	if asNobody(t) {
		return
	}
	path := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(path, []byte("part,price\n"), 0); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadList(path); CodeOf(err) != Unreadable {
		t.Errorf("no permission: %v", err)
	}
}
