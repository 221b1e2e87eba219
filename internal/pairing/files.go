package pairing

import (
	"fmt"
	"os"
	"path/filepath"
)

// writeSecret replaces the file at path as a whole: readable by its owner only,
// on the disk before it takes the name, so that a power cut leaves the old one.
func writeSecret(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*.tmp")
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	defer os.Remove(f.Name()) // fails after the rename, as it should
	err = fill(f, data)
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return nil
}

func fill(f *os.File, data []byte) error {
	defer f.Close()
	if err := f.Chmod(0o600); err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	return f.Close()
}
