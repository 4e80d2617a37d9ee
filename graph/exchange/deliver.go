package exchange

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"telltale/graph/files"
)

// ErrExists is the error of a file that would be overwritten without leave.
var ErrExists = errors.New("is there already")

// WriteFile lets write fill the file at path. What it writes goes to a file beside
// it first, which takes the name only when all is written: a file that is there is
// whole. A file that is there already is overwritten only if force is set;
// otherwise the error is ErrExists.
func WriteFile(path string, force bool, write func(io.Writer) error) error {
	if err := free(path, force); err != nil {
		return err
	}
	temp, err := fill(path, write)
	if err != nil {
		return err
	}
	if err := os.Rename(temp, path); err != nil {
		_ = os.Remove(temp)
		return fmt.Errorf("writing %s: %w", path, cause(err))
	}
	return nil
}

// free tells whether a file may be written at path.
func free(path string, force bool) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("writing %s: %w", path, cause(err))
	case !info.Mode().IsRegular():
		return fmt.Errorf("writing %s: it is no file", path)
	case !force:
		return fmt.Errorf("writing %s: it %w: give --force to overwrite it", path, ErrExists)
	}
	return nil
}

// fill writes a file beside path and gives its name.
func fill(path string, write func(io.Writer) error) (temp string, err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return "", fmt.Errorf("writing %s: %w", path, cause(err))
	}
	defer func() {
		if err != nil {
			_ = f.Close()
			_ = os.Remove(f.Name())
		}
	}()
	if err := write(f); err != nil {
		return "", err
	}
	if err := errors.Join(f.Chmod(0o644), f.Sync(), f.Close()); err != nil {
		return "", fmt.Errorf("writing %s: %w", path, cause(err))
	}
	return f.Name(), nil
}

// cause takes the path out of a file error, which is told already.
func cause(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}

// WriteTo writes the files below dir, which is made if it is not there. No file
// takes its name before all are written. Those that are there already are
// overwritten only if force is set; otherwise the error is ErrExists and nothing is
// written.
func (f Files) WriteTo(dir string, force bool) error {
	names := f.Names()
	for _, name := range names {
		if err := free(filepath.Join(dir, filepath.FromSlash(name)), force); err != nil {
			return err
		}
	}
	var temps []string
	defer func() {
		for _, t := range temps {
			_ = os.Remove(t) // those that have their name by now are not there
		}
	}()
	for _, name := range names {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return fmt.Errorf("making the folder %s: %w", filepath.Dir(path), cause(err))
		}
		temp, err := fill(path, func(w io.Writer) error {
			_, err := w.Write(f[name])
			return err
		})
		if err != nil {
			return err
		}
		temps = append(temps, temp)
	}
	for i, name := range names {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.Rename(temps[i], path); err != nil {
			return fmt.Errorf("writing %s: %w", path, cause(err))
		}
	}
	return nil
}

// WriteWhole is WriteTo for a data folder that is to hold these files and no
// others. Files that would be read along with them are an error: whoever put them
// there has to take them away.
func (f Files) WriteWhole(dir string, force bool) error {
	if _, err := os.Stat(dir); err == nil {
		there, err := files.Names(os.DirFS(dir))
		if err != nil {
			return fmt.Errorf("looking into %s: %w", dir, cause(err))
		}
		for _, name := range there {
			if _, ours := f[name]; ours {
				continue
			}
			if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(name))); err == nil {
				return fmt.Errorf("%s holds %s, which would be read together with what is written: take it away, or name another folder", dir, name)
			}
		}
	}
	return f.WriteTo(dir, force)
}
