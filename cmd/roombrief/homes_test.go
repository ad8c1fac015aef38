package main

import (
	"os"
	"path/filepath"

	"example.org/roombrief/fixtures"
)

// copyHomes puts the example homes into a folder, as the start screen would.
func copyHomes(dir string) error {
	for _, h := range fixtures.Homes() {
		if err := os.WriteFile(filepath.Join(dir, h.File), h.Source, 0o644); err != nil {
			return err
		}
	}
	return nil
}
