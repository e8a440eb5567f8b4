package cli_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain makes this test binary stand in for the program in scripts.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"strapwork": run,
	})
}

// TestScripts runs testdata/script, one file for each thing that a person may
// want or get wrong. Beside testscript's own commands a script has
//
//	exits STATUS [within DURATION] PROGRAM ARGS...   runs it; the exit status must be STATUS
//	edit FILE OLD NEW [OLD NEW]...                   replaces text that occurs once
//	append FILE MORE                                 adds MORE's text to FILE
//	json FILE PATH [VALUE]                           FILE is one JSON document with VALUE, or anything, at PATH
//	same DIR1 DIR2                                   both hold the same files with the same bytes
//	junk FILE MEBIBYTES                              writes bytes that are no text
//
// PATH is keys and indexes with points between, "len" for a list's length. $JOBS
// is the folder of the jobs in testdata, $LONG too long a name. No script may leave a temporary
// folder behind.
func TestScripts(t *testing.T) {
	jobs, err := filepath.Abs("../../testdata/jobs")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("JOBS", jobs)
			env.Setenv("LONG", strings.Repeat("n", 300)) // longer than any system's names
			env.Defer(func() { noTemporary(t, env.WorkDir) })
			return nil
		},
		Condition: func(name string) (bool, error) {
			if name == "root" {
				return os.Getuid() == 0, nil
			}
			return false, fmt.Errorf("unknown condition %q", name)
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits": exits, "edit": edit, "append": appendFile, "json": jsonCommand, "same": same, "junk": junk,
		},
	})
}

// noTemporary fails the test if a folder that builds write to first is left.
func noTemporary(t *testing.T, dir string) {
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasPrefix(d.Name(), ".strapwork") {
			t.Errorf("%s is left behind", path)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

func use(ts *testscript.TestScript, neg, ok bool, usage string) {
	if neg || !ok {
		ts.Fatalf("usage: %s", usage)
	}
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	const usage = "exits STATUS [within DURATION] PROGRAM ARGS..."
	use(ts, neg, len(args) >= 2, usage)
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	args = args[1:]
	limit := time.Minute
	if args[0] == "within" {
		use(ts, neg, len(args) >= 3, usage)
		limit, err = time.ParseDuration(args[1])
		ts.Check(err)
		args = args[2:]
	}
	began := time.Now()
	err = ts.Exec(args[0], args[1:]...)
	took := time.Since(began)
	got := 0
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d\n%s", got, want, ts.ReadFile("stderr"))
	}
	if took > limit {
		ts.Fatalf("took %v, more than %v", took, limit)
	}
}

func edit(ts *testscript.TestScript, neg bool, args []string) {
	use(ts, neg, len(args) >= 3 && len(args)%2 == 1, "edit FILE OLD NEW [OLD NEW]...")
	text := ts.ReadFile(args[0])
	for i := 1; i < len(args); i += 2 {
		if n := strings.Count(text, args[i]); n != 1 {
			ts.Fatalf("%q occurs %d times in %s", args[i], n, args[0])
		}
		text = strings.Replace(text, args[i], args[i+1], 1)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o666))
}

func appendFile(ts *testscript.TestScript, neg bool, args []string) {
	use(ts, neg, len(args) == 2, "append FILE MORE")
	text := ts.ReadFile(args[0]) + ts.ReadFile(args[1])
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o666))
}

func jsonCommand(ts *testscript.TestScript, neg bool, args []string) {
	use(ts, neg, len(args) == 2 || len(args) == 3, "json FILE PATH [VALUE]")
	in := json.NewDecoder(strings.NewReader(ts.ReadFile(args[0])))
	var doc any
	ts.Check(in.Decode(&doc))
	if in.More() {
		ts.Fatalf("%s holds more than one document", args[0])
	}
	v, err := lookUp(doc, strings.Split(args[1], "."))
	if err != nil {
		ts.Fatalf("%s: %v", args[1], err)
	}
	if len(args) < 3 {
		return
	}
	text, isText := v.(string)
	if !isText {
		data, err := json.Marshal(v)
		ts.Check(err)
		text = string(data)
	}
	if text != args[2] {
		ts.Fatalf("%s is %s, not %s", args[1], text, args[2])
	}
}

func lookUp(v any, path []string) (any, error) {
	for _, key := range path {
		switch x := v.(type) {
		case map[string]any:
			field, ok := x[key]
			if !ok {
				return nil, fmt.Errorf("there is no %q", key)
			}
			v = field
		case []any:
			if key == "len" {
				return len(x), nil
			}
			i, err := strconv.Atoi(key)
			if err != nil || i < 0 || i >= len(x) {
				return nil, fmt.Errorf("there is no %q among %d", key, len(x))
			}
			v = x[i]
		default:
			return nil, fmt.Errorf("%q is looked for in %v", key, v)
		}
	}
	return v, nil
}

func same(ts *testscript.TestScript, neg bool, args []string) {
	use(ts, neg, len(args) == 2, "same DIR1 DIR2")
	a, b := tree(ts, args[0]), tree(ts, args[1])
	for name, data := range a {
		if other, ok := b[name]; !ok || !bytes.Equal(data, other) {
			ts.Fatalf("%s is not the same in %s and %s", name, args[0], args[1])
		}
	}
	if len(a) != len(b) || len(a) == 0 {
		ts.Fatalf("%d files in %s, %d in %s", len(a), args[0], len(b), args[1])
	}
}

func tree(ts *testscript.TestScript, dir string) map[string][]byte {
	files := map[string][]byte{}
	root := ts.MkAbs(dir)
	ts.Check(filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		files[name], err = os.ReadFile(path)
		return err
	}))
	return files
}

func junk(ts *testscript.TestScript, neg bool, args []string) {
	use(ts, neg, len(args) == 2, "junk FILE MEBIBYTES")
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	data := make([]byte, n<<20)
	state := uint32(1)
	for i := range data { // xorshift32 (Marsaglia 2003)
		state ^= state << 13
		state ^= state >> 17
		state ^= state << 5
		data[i] = byte(state)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o666))
}
