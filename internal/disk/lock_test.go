package disk

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func TestALockIsExclusiveAndLeavesNoFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lock")
	first, err := lockFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := lockFile(path); !errors.Is(err, ErrLocked) {
		t.Errorf("the second lock gave %v", err)
	}
	if err := first.Unlock(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the lock's file is still there: %v", err)
	}
	again, err := lockFile(path)
	if err != nil {
		t.Fatalf("the lock was not let go: %v", err)
	}
	if err := again.Unlock(); err != nil {
		t.Error(err)
	}
}

// A file that its holder has removed, and another run made anew, is no longer
// the lock: whoever still holds it must not think it is.
func TestARemovedLockIsNoLock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lock")
	old, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer old.Close()
	if !samePlace(old, path) {
		t.Error("a file is not found where it lies")
	}
	if err := os.Rename(path, path+".gone"); err != nil {
		t.Skipf("open files cannot be moved here: %v", err)
	}
	if samePlace(old, path) {
		t.Error("a file that is gone is found")
	}
	anew, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer anew.Close()
	if samePlace(old, path) {
		t.Error("another file of the same name is taken for the lock")
	}
}
