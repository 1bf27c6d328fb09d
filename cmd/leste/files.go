package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// An output is a file to be written.
type output struct {
	name string
	data []byte
}

// writeFolder writes all files into a folder or none: everything is written beside its place and flushed to
// the disk first, then moved. Files of the folder with other names stay as they are.
func writeFolder(folder string, files []output) (err error) {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return writeFailure(folder, err)
	}
	staging, err := os.MkdirTemp(folder, ".leste-")
	if err != nil {
		return writeFailure(folder, err)
	}
	defer func() {
		if e := os.RemoveAll(staging); e != nil && err == nil {
			err = writeFailure(folder, e)
		}
	}()
	for _, f := range files {
		if err := writeFlushed(filepath.Join(staging, f.name), f.data); err != nil {
			return writeFailure(folder, err)
		}
	}
	for _, f := range files {
		if err := os.Rename(filepath.Join(staging, f.name), filepath.Join(folder, f.name)); err != nil {
			return writeFailure(folder, err)
		}
	}
	return nil
}

// canHold says what is wrong with a folder before work is done whose result would go there, and leaves nothing behind in
// it. A folder that does not stand yet is not made.
func canHold(folder string) error {
	for at := filepath.Clean(folder); ; at = filepath.Dir(at) {
		_, err := os.Stat(at)
		if errors.Is(err, fs.ErrNotExist) && at != filepath.Dir(at) {
			continue // a folder above it is where it would be made
		}
		if err != nil {
			return writeFailure(folder, err)
		}
		probe, err := os.MkdirTemp(at, ".leste-")
		if err == nil {
			err = os.Remove(probe)
		}
		if err != nil {
			return writeFailure(folder, err)
		}
		return nil
	}
}

// writeFile writes one file beside its place and moves it there when it is whole.
func writeFile(name string, data []byte) error {
	folder := filepath.Dir(name)
	staging, err := os.MkdirTemp(folder, ".leste-")
	if err != nil {
		return writeFailure(folder, err)
	}
	part := filepath.Join(staging, filepath.Base(name))
	err = writeFlushed(part, data)
	if err == nil {
		err = os.Rename(part, name)
	}
	if err = errors.Join(err, os.RemoveAll(staging)); err != nil {
		return writeFailure(folder, err)
	}
	return nil
}

func writeFlushed(name string, data []byte) (err error) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if _, err := f.Write(data); err != nil {
		return err
	}
	return f.Sync()
}

// writeFailure says whether the user named a wrong folder or the machine let the program down.
func writeFailure(folder string, cause error) error {
	switch {
	case errors.Is(cause, fs.ErrPermission), errors.Is(cause, syscall.EROFS):
		return wrongInput(cause, "%s cannot be written to; name a folder that can with -o", folder)
	case errors.Is(cause, syscall.ENOTDIR), errors.Is(cause, fs.ErrExist):
		return wrongInput(cause, "%s is no folder; name one with -o", folder)
	case errors.Is(cause, syscall.ENOSPC), errors.Is(cause, syscall.EDQUOT):
		return broken(cause, "the disk of %s is full; nothing was changed there", folder)
	}
	return broken(cause, "the files cannot be written to %s", folder)
}

// safeName turns a name of a job into a file name: letters and digits of any script, the rest dashes.
func safeName(name string) string {
	out := []rune{}
	for _, r := range name {
		switch {
		case r >= '0' && r <= '9', r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r > 0x7f && r != 0xfffd:
			out = append(out, r)
		case len(out) > 0 && out[len(out)-1] != '-':
			out = append(out, '-')
		}
	}
	for len(out) > 0 && out[len(out)-1] == '-' {
		out = out[:len(out)-1]
	}
	if len(out) == 0 {
		return "unnamed"
	}
	return string(out[:min(len(out), 80)])
}

// uniqueNames gives each name a file name of its own, in order.
func uniqueNames(names []string) []string {
	used := map[string]bool{}
	out := make([]string, len(names))
	for i, name := range names {
		base := safeName(name)
		out[i] = base
		for n := 2; used[out[i]]; n++ {
			out[i] = fmt.Sprintf("%s-%d", base, n)
		}
		used[out[i]] = true
	}
	return out
}
