package question

import (
	"go/ast"
	goparser "go/parser"
	gotoken "go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Every word that the parser takes stands in docs/notation.md, and every example there is read.
func TestNotationIsDocumented(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "docs", "notation.md"))
	if err != nil {
		t.Fatal(err)
	}
	words := map[string]bool{}
	for _, w := range strings.FieldsFunc(string(b), func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') }) {
		words[w] = true
	}
	keywords := append(append([]string{}, statements...), attributes...)
	keywords = append(append(keywords, kindWords()...), asks...)
	keywords = append(append(append(keywords, bodyClauses...), pieceClauses...), supportClauses...)
	keywords = append(keywords, taken(t)...)
	if len(keywords) < 150 {
		t.Errorf("only %d keywords were found", len(keywords))
	}
	for _, k := range keywords {
		for _, w := range strings.Fields(k) {
			if !words[w] {
				t.Errorf("docs/notation.md does not mention %q", w)
			}
		}
	}
}

// taken returns the words in calls of accept, wants and is.
func taken(t *testing.T) (words []string) {
	files, _ := filepath.Glob("*.go")
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := goparser.ParseFile(gotoken.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			s, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			args := call.Args
			switch s.Sel.Name {
			case "accept", "is":
			case "wants":
				args = args[:1]
			default:
				return true
			}
			for _, a := range args {
				if lit, ok := a.(*ast.BasicLit); ok && lit.Kind == gotoken.STRING {
					w, _ := strconv.Unquote(lit.Value)
					words = append(words, w)
				}
			}
			return true
		})
	}
	return words
}

// The whole example of docs/notation.md is read without a fault, and so is every line of its tables
// that begins with the first word of a statement, in an arrangement that has what it names.
func TestNotationExamplesAreRead(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "docs", "notation.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, whole, _ := strings.Cut(string(b), "```moments\n")
	whole, rest, _ := strings.Cut(whole, "```")
	q := mustParse(t, "notation.md", whole)
	if got := q.String(); got != whole {
		t.Errorf("the example is not in the standard form:\n%s", got)
	}
	examples := 0
	for l := range strings.SplitSeq(rest, "\n") {
		for i, code := range strings.Split(l, "`") {
			first, _, more := strings.Cut(code, " ")
			if i%2 == 0 || !more || strings.Contains(code, "…") || strings.HasSuffix(code, ":") || !slices.Contains(statements, first) {
				continue
			}
			if bare := first == "given" || first == "vary" || first == "level" || first == "g" || first == "question"; !bare && !strings.Contains(code, ":") {
				continue // a clause that begins with the same word
			}
			examples++
			if faults := readAlone(code); len(faults) > 0 {
				t.Errorf("%s\n%s", code, faults.Shown())
			}
		}
	}
	_, asked, _ := strings.Cut(rest, "| after `find` ")
	asked, _, _ = strings.Cut(asked, "The words of")
	for i, code := range strings.Split(asked, "`") {
		if i%2 == 1 && !strings.HasPrefix(code, "…") {
			if part, ok := strings.CutPrefix(code, "about "); ok {
				code = "total moment about " + part
			}
			examples++
			if faults := readAlone("part a: find " + code); len(faults) > 0 {
				t.Errorf("%s\n%s", code, faults.Shown())
			}
		}
	}
	if examples < 75 {
		t.Errorf("only %d examples were found", examples)
	}
}

// readAlone reads one statement without the checks that need the others.
func readAlone(code string) Faults {
	p := &parser{q: &Question{File: "example"}, titled: !strings.HasPrefix(code, "question")}
	if owner, ok := strings.CutPrefix(code, "piece "); ok {
		_, owner, _ = strings.Cut(owner, " of ")
		owner, _, _ = strings.Cut(owner, ":")
		code = "body " + owner + ": frame\n" + code
	}
	p.lines(code)
	return p.faults
}
