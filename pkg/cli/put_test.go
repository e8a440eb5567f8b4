package cli

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/build"
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

// never is when put is to stop.
func never() bool { return false }

// old is what an earlier build left in a folder, and a person.
func old(t *testing.T, dir string) {
	t.Helper()
	_, err := put(dir, []build.File{
		{Path: "old/b.dxf", Data: []byte("old b")},
		{Path: "c.svg", Data: []byte("old c")},
		{Path: "gone/stale.svg", Data: []byte("stale")},
		manifest("old/b.dxf", "old b", "c.svg", "old c", "gone/stale.svg", "stale"),
	}, never)
	if err != nil {
		t.Fatal(err)
	}
	write(t, dir, map[string]string{"notes.txt": "mine"})
}

// manifest lists files, given as paths and texts.
func manifest(pairs ...string) build.File {
	text := `{"schema": 1, "files": [`
	for i := 0; i < len(pairs); i += 2 {
		if i > 0 {
			text += ","
		}
		text += `{"path": "` + pairs[i] + `", "sha256": "` + sum([]byte(pairs[i+1])) + `"}`
	}
	return build.File{Path: "manifest.json", Data: []byte(text + "]}")}
}

// fresh is what the next build writes.
func fresh() []build.File {
	return []build.File{
		manifest("new/deep/a.dxf", "a", "old/b.dxf", "b", "c.svg", "c"),
		{Path: "new/deep/a.dxf", Data: []byte("a")},
		{Path: "old/b.dxf", Data: []byte("b")},
		{Path: "c.svg", Data: []byte("c")},
	}
}

// TestPutTakesBack interrupts put at every step in turn: what was there before
// must be there again, and nothing else.
func TestPutTakesBack(t *testing.T) {
	for n := range 1000 {
		dir := t.TempDir()
		old(t, dir)
		before := snapshot(t, dir)
		steps := 0
		_, err := put(dir, fresh(), func() bool { steps++; return steps > n })
		if err == nil {
			if n < 9 { // four files written, the journal, five files moved
				t.Errorf("put was done in %d steps", n)
			}
			return
		}
		if !errors.Is(err, errInterrupted) {
			t.Fatal(err)
		}
		if diff := cmp.Diff(before, snapshot(t, dir)); diff != "" {
			t.Errorf("interrupted at step %d:\n%s", n, diff)
		}
	}
	t.Error("there is no end of steps")
}

// died is that the process would have ended.
type died struct{}

// dieAt runs do as if the process ended at the n-th operation on files; it
// reports whether there were fewer.
func dieAt(n int, do func()) (survived bool) {
	defer func() {
		operation = func() {}
		if r := recover(); r != nil {
			if _, ok := r.(died); !ok {
				panic(r)
			}
		}
	}()
	operation = func() {
		if n--; n < 0 {
			panic(died{})
		}
	}
	do()
	return true
}

// TestPutIsRepaired ends put at every operation, and then what repairs it at every
// one of its own: in the end the folder is as before or as after, and repairing
// says so when anything had been moved.
func TestPutIsRepaired(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	dir := t.TempDir()
	old(t, dir)
	before := snapshot(t, dir)
	if _, err := put(dir, fresh(), never); err != nil {
		t.Fatal(err)
	}
	after := snapshot(t, dir)
	for n, survived := 0, false; !survived; n++ {
		for again, mendedAll := 0, false; !mendedAll; again += 11 {
			dir := t.TempDir()
			old(t, dir)
			survived = dieAt(n, func() { _, _ = put(dir, fresh(), never) })
			shown := snapshot(t, dir)
			var did repaired
			mendedAll = dieAt(again, func() { did, _ = repairFolder(dir) })
			if !mendedAll {
				var err error
				if did, err = repairFolder(dir); err != nil {
					t.Fatal(err)
				}
			}
			got := snapshot(t, dir)
			if !cmp.Equal(got, before) && !cmp.Equal(got, after) {
				t.Fatalf("ended at %d and %d:\n%s", n, again, cmp.Diff(after, got))
			}
			if mendedAll && again == 0 && len(shown) > len(visible(shown)) {
				t.Fatal("repairing does nothing that could be interrupted")
			}
			whole := cmp.Equal(visible(shown), visible(before)) || cmp.Equal(visible(shown), visible(after))
			if mendedAll && !whole && did == nothingToRepair {
				t.Errorf("ended at %d: the folder was mixed, and nothing is said", n)
			}
			if survived {
				break
			}
		}
	}
}

// visible leaves the desk out of a snapshot.
func visible(files map[string]string) map[string]string {
	shown := map[string]string{}
	for name, text := range files {
		if !strings.HasPrefix(name, deskName) {
			shown[name] = text
		}
	}
	return shown
}

// TestMendMovesBack: where part of what was to come in is lost, all goes back.
func TestMendMovesBack(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	back := 0
	for n, survived := 0, false; !survived; n++ {
		dir := t.TempDir()
		old(t, dir)
		before := snapshot(t, dir)
		survived = dieAt(n, func() { _, _ = put(dir, fresh(), never) })
		if os.Remove(filepath.Join(dir, newPath, "manifest.json")) != nil {
			continue // not written yet, or moved in
		}
		did, err := repairFolder(dir)
		if err != nil {
			t.Fatal(err)
		}
		if did == movedBack {
			back++
		}
		if diff := cmp.Diff(before, snapshot(t, dir)); diff != "" {
			t.Errorf("ended at %d:\n%s", n, diff)
		}
	}
	if back < 5 {
		t.Errorf("%d were moved back", back)
	}
}

// TestMendSparesStrangers: a file that a person put where one was to be moved in
// isn't lost; what to do is said, and once it is moved away the folder is repaired.
func TestMendSparesStrangers(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	spared := 0
	for n, survived := 0, false; !survived; n++ {
		dir := t.TempDir()
		old(t, dir)
		survived = dieAt(n, func() { _, _ = put(dir, fresh(), never) })
		_, staged := os.Stat(filepath.Join(dir, newPath, "c.svg"))
		_, planned := os.Stat(filepath.Join(dir, journalPath))
		if staged != nil || planned != nil {
			continue
		}
		write(t, dir, map[string]string{"c.svg": "a person's"})
		var foreign foreignError
		if _, err := repairFolder(dir); !errors.As(err, &foreign) || foreign.path != "c.svg" {
			t.Fatalf("ended at %d: %v", n, err)
		}
		if got := snapshot(t, dir)["c.svg"]; got != "a person's" {
			t.Fatalf("ended at %d: c.svg is %q", n, got)
		}
		spared++
		if err := os.Remove(filepath.Join(dir, "c.svg")); err != nil {
			t.Fatal(err)
		}
		if did, err := repairFolder(dir); err != nil || did != movedOn || snapshot(t, dir)["c.svg"] != "c" {
			t.Errorf("ended at %d: %v, %v", n, did, err)
		}
	}
	if spared < 2 {
		t.Errorf("%d were spared", spared)
	}
}

// TestOneBuildAtATime: who holds the desk keeps others out, and nobody else.
func TestOneBuildAtATime(t *testing.T) {
	dir := t.TempDir()
	old(t, dir)
	before := snapshot(t, dir)
	d, err := openDesk(openRoot(t, dir))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := put(dir, fresh(), never); !errors.Is(err, errBusy) {
		t.Errorf("put: %v", err)
	}
	if _, err := repairFolder(dir); !errors.Is(err, errBusy) {
		t.Errorf("repairing: %v", err)
	}
	if err := d.close(); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, snapshot(t, dir)); diff != "" {
		t.Error(diff)
	}
	if _, err := put(dir, fresh(), never); err != nil {
		t.Error(err)
	}
}

func TestPutStaysInside(t *testing.T) {
	for _, path := range []string{"../a.dxf", "/a.dxf", "templates/../../a.dxf", "", ".", "a//b"} {
		dir := t.TempDir()
		out := filepath.Join(dir, "deep", "out")
		_, err := put(out, []build.File{{Path: "good.svg", Data: []byte("x")}, {Path: path, Data: []byte("x")}}, never)
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
	if _, err := put(out, []build.File{{Path: "x/y.svg", Data: []byte("y")}, {Path: "z.svg", Data: []byte("z")}}, never); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"./": "", "x/": "", "x/y.svg": "y", "z.svg": "z"}
	if diff := cmp.Diff(want, snapshot(t, out)); diff != "" {
		t.Error(diff)
	}
	// A file can't be a folder as well.
	other := t.TempDir()
	if _, err := put(filepath.Join(other, "a", "out"), []build.File{{Path: "x"}, {Path: "x/y"}}, never); err == nil {
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
