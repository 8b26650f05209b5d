package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"steelyard/bank"
)

// Every command's help has examples, and every example does what it says when it is typed as it stands, with the
// README's question as bridge.moments.
func TestExamplesInHelpRun(t *testing.T) {
	bridge, err := os.ReadFile("../../docs/pictures/bridge.moments")
	if err != nil {
		t.Fatal(err)
	}
	ladder, err := bank.Files.ReadFile("library-ladder.moments")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{"lines.txt": "Moments about P:\n3.3 Q = 310*1.8 + 540*0.9\n", "bridge.moments": string(bridge), "ladder.moments": string(ladder), "10b.csv": "name,code\nIlse Hart,h1\nOmar Quist,q7\n"}
	for name, text := range map[string]string{ // two pupils whose numbers are the README's
		"answers.csv": "pupil,part,answer,working\nh1,a,524 N,\nq7,a,425 N,\"850 / 2\"\n", "answers2.csv": "pupil,part,answer\nh1,a,425 N\n",
		"override.csv": "pupil,part,mark,reason\nh1,a,2,the sketch shows it\n", "marks1.csv": "pupil,part,marks,of\nh1,a,2,3\n",
		"set1/key.csv": "code,name\nh1,Ilse Hart\nq7,Omar Quist\n", "set2/key.csv": "code,name\nh1,Ilse Hart\n",
		"set1/questions/h1.moments": string(bridge), "set1/questions/q7.moments": string(bridge), "set2/questions/h1.moments": string(bridge),
	} {
		files[name] = text
	}
	commands := []string{"mark", "report", "solve", "explain", "draw", "print", "tidy", "slips", "check", "vary", "version", "walkthrough",
		"bank", "bank list", "bank show", "bank copy", "bank gallery"}
	// Those that read answers of pupils have their examples followed in their own tests.
	for _, m := range regexp.MustCompile(`(?m)^  ([a-z]+(?: [a-z]+)?)  +[A-Z]`).FindAllStringSubmatch(help(t, nil), -1) {
		if !strings.Contains(help(t, strings.Fields(m[1])), "Examples:\n") {
			t.Errorf("%s --help has no examples", m[1])
		}
	}
	for _, command := range commands {
		_, examples, found := strings.Cut(help(t, strings.Fields(command)), "Examples:\n")
		if !found {
			t.Errorf("%s --help has no examples", command)
			continue
		}
		for _, line := range strings.Split(examples, "\n") {
			example := strings.TrimSpace(line)
			if !strings.HasPrefix(example, "steelyard "+command) {
				continue
			}
			t.Run(example, func(t *testing.T) {
				if strings.Contains(example, "gallery") {
					t.Skip("testdata/bank.txtar makes the gallery")
				}
				if strings.HasPrefix(command, "bank") {
					follow(t, example, nil) // an empty folder: nothing there is written over
				} else {
					follow(t, example, files)
				}
			})
		}
	}
}

// help is what a command prints with --help.
func help(t *testing.T, command []string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(append(command, "--help"), streams{in: strings.NewReader(""), out: &out, err: &errs}); status != done {
		t.Fatalf("%v --help: status %d, %s", command, status, &errs)
	}
	return out.String()
}

// follow types an example in a folder of its own that holds the files, and looks for what it should leave there.
func follow(t *testing.T, example string, files map[string]string) {
	t.Chdir(t.TempDir())
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	typed, from, piped := strings.Cut(example, " < ")
	var args []string
	for _, word := range strings.Fields(typed)[1:] {
		if matches, err := filepath.Glob(word); err == nil && strings.Contains(word, "*") {
			args = append(args, matches...)
		} else {
			args = append(args, word)
		}
	}
	in := ""
	if piped {
		in = files[from]
	}
	var out, errs bytes.Buffer
	if status := run(args, streams{in: strings.NewReader(in), out: &out, err: &errs}); status != done {
		t.Fatalf("status %d: %s", status, &errs)
	}
	for i, word := range args {
		if word != "-o" {
			continue
		}
		if _, err := os.Stat(args[i+1]); err != nil {
			t.Error(err)
		}
		return
	}
	if left, _ := filepath.Glob("*"); out.Len() == 0 && !strings.Contains(example, "check") && !strings.Contains(example, "-w") && len(left) == len(files) {
		t.Error("nothing is printed, and nothing written")
	}
}
