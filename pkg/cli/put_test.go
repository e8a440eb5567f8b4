package cli

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/shop"
)

// snapshot is every file under dir with its text, and every folder.
func snapshot(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		if d.IsDir() {
			found[name+"/"] = ""
			return nil
		}
		data, err := os.ReadFile(path)
		found[name] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func write(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func openRoot(t *testing.T, dir string) *os.Root {
	t.Helper()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	return root
}

// TestMoverTakesBack has every move fail in turn, for want of the fresh file:
// what was there before must be there again, and nothing else.
func TestMoverTakesBack(t *testing.T) {
	files := []shop.File{{Path: "manifest.json"}, {Path: "new/deep/a.dxf"}, {Path: "old/b.dxf"}, {Path: "c.svg"}}
	for missing := range files {
		dir := t.TempDir()
		write(t, dir, map[string]string{
			"manifest.json": "old manifest", "old/b.dxf": "old b", "c.svg": "old c", "stale.svg": "stale", "notes.txt": "mine",
		})
		before := snapshot(t, dir)
		fresh := map[string]string{}
		for i, f := range files {
			if i != missing {
				fresh[filepath.Join("tmp", "new", f.Path)] = "fresh"
			}
		}
		write(t, dir, fresh)
		m := mover{root: openRoot(t, dir), aside: "tmp/old"}
		if err := m.all("tmp/new", files, []string{"stale.svg"}); err == nil {
			t.Fatalf("no error without %s", files[missing].Path)
		}
		if err := m.undo(); err != nil {
			t.Fatal(err)
		}
		if err := os.RemoveAll(filepath.Join(dir, "tmp")); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(before, snapshot(t, dir)); diff != "" {
			t.Errorf("without %s:\n%s", files[missing].Path, diff)
		}
	}
}

func TestPutStaysInside(t *testing.T) {
	for _, path := range []string{"../a.dxf", "/a.dxf", "templates/../../a.dxf", "", ".", "a//b"} {
		dir := t.TempDir()
		out := filepath.Join(dir, "deep", "out")
		_, err := put(out, []shop.File{{Path: "good.svg", Data: []byte("x")}, {Path: path, Data: []byte("x")}})
		if err == nil {
			t.Errorf("%q was written", path)
		}
		if got := snapshot(t, dir); len(got) != 1 {
			t.Errorf("%q: %v is left", path, got)
		}
	}
}

func TestPutNewMakesFoldersAndTakesThemBack(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "a", "b", "out")
	if _, err := put(out, []shop.File{{Path: "x/y.svg", Data: []byte("y")}, {Path: "z.svg", Data: []byte("z")}}); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"./": "", "x/": "", "x/y.svg": "y", "z.svg": "z"}
	if diff := cmp.Diff(want, snapshot(t, out)); diff != "" {
		t.Error(diff)
	}
	// A file can't be a folder as well.
	other := t.TempDir()
	if _, err := put(filepath.Join(other, "a", "out"), []shop.File{{Path: "x"}, {Path: "x/y"}}); err == nil {
		t.Error("no error")
	}
	if got := snapshot(t, other); len(got) != 1 {
		t.Errorf("%v is left", got)
	}
}

// TestEarlierRefusesJunk: a manifest.json of somebody else's makes no file ours.
func TestEarlierRefusesJunk(t *testing.T) {
	for _, text := range []string{"", "null", "[1]", `{"files": [{"path": "a"}]}`, `{"schema": "1"}`, "\xff"} {
		dir := t.TempDir()
		write(t, dir, map[string]string{"manifest.json": text})
		if files, ok := earlier(openRoot(t, dir)); ok || len(files) > 0 {
			t.Errorf("%q: %v", text, files)
		}
	}
	dir := t.TempDir()
	write(t, dir, map[string]string{"manifest.json": `{"schema": 1, "files": [{"path": "../a", "sha256": "x"}, {"path": "b", "sha256": "y"}]}`})
	files, ok := earlier(openRoot(t, dir))
	if diff := cmp.Diff(map[string]string{"b": "y"}, files); !ok || diff != "" {
		t.Error(ok, diff)
	}
}
