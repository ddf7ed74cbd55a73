package doc

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// Errors of ReadFile, each of which can be told to a person as it stands.
var (
	ErrFolder  = errors.New("it is a folder")
	ErrSpecial = errors.New("it is not a plain file but a pipe, a device or the like")
)

// ReadFile reads a file of at most so many bytes. Everything that the program
// reads of a disk comes through here: only plain files are opened, since a pipe
// or a device may never end, and nothing is read past the limit.
func ReadFile(fsys fs.FS, name string, most int64) ([]byte, error) {
	info, err := fs.Stat(fsys, name) // before opening: that of a pipe waits for who writes
	if err != nil {
		return nil, Plain(err)
	}
	if err := plainFile(info); err != nil {
		return nil, err
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, Plain(err)
	}
	defer f.Close()
	if info, err = f.Stat(); err != nil {
		return nil, Plain(err)
	}
	if err := plainFile(info); err != nil {
		return nil, err
	}
	if info.Size() > most {
		return nil, tooLarge(most)
	}
	return ReadAll(f, most)
}

// ReadAll reads at most so many bytes of an open stream.
func ReadAll(r io.Reader, most int64) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, Plain(err)
	}
	if int64(len(data)) > most {
		return nil, tooLarge(most)
	}
	return data, nil
}

func plainFile(info fs.FileInfo) error {
	switch {
	case info.IsDir():
		return ErrFolder
	case !info.Mode().IsRegular():
		return ErrSpecial
	}
	return nil
}

func tooLarge(most int64) error {
	size := fmt.Sprintf("%d KB", most>>10)
	if most >= 1<<20 {
		size = fmt.Sprintf("%d MB", most>>20)
	}
	return fmt.Errorf("it has more than %s, the most that is read of such a file", size)
}

// Plain leaves the name out of an error of the file system, whoever tells it names the file.
func Plain(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
