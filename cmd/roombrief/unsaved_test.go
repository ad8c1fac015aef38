package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/roombrief/model/store"
)

// What a notebook that was cut off left unsaved outlives commands that change the file without offering it.
func TestUnsavedWorkOutlivesCommands(t *testing.T) {
	dir := t.TempDir()
	home, list := filepath.Join(dir, "home.yaml"), filepath.Join(dir, "list.csv")
	for path, body := range map[string]string{home: "roombrief: 1\n", list: "part,price,currency\ndoor-zigbee,9.00,EUR\n"} {
		if err := os.WriteFile(path, []byte(body), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, err := store.Open(home)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Keep([]byte("roombrief: 1\nhome: {name: Unsaved}\n")); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"interview", home, "--plain"}, {"parts", "import", list, "--for", home, "--rate", "EUR=1", "--in", "GBP"}} {
		var out, fault bytes.Buffer
		code := run(context.Background(), process{args: args, in: strings.NewReader("\n\n"), out: &out, err: &fault, env: func(string) string { return "" }})
		if code != badCall || !strings.Contains(fault.String(), "has unsaved work") {
			t.Errorf("%s: status %d, says %q", args[0], code, fault.String())
		}
		if d, ok := f.Recover(); !ok || !strings.Contains(string(d.Body), "Unsaved") {
			t.Errorf("%s: the unsaved work is gone", args[0])
		}
	}
}
