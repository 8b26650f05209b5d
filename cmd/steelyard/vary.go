package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"strings"

	"steelyard/answer"
	"steelyard/class"
	"steelyard/question"
	"steelyard/sheet"
	"steelyard/slip"
	"steelyard/variant"
)

type varyCommand struct {
	File   string  `arg:"" help:"Question file with vary lines; - reads standard input."`
	Pupils int     `xor:"who" help:"Number of pupils, called by their numbers." placeholder:"N"`
	Class  string  `xor:"who" help:"Class list as CSV: a name to a line, and a code if there is one." placeholder:"FILE"`
	Seed   string  `required:"" help:"Any word. The same question, seed and class give the same numbers, always." placeholder:"WORD"`
	Output string  `short:"o" required:"" help:"Folder to write into; it is made if need be." placeholder:"DIR"`
	Each   bool    `help:"Also write a sheet for each pupil as a file of its own."`
	Exact  int     `enum:"0,2,3" default:"0" help:"Choose numbers whose answers come out exactly in 2 or 3 figures."`
	Paper  string  `enum:"a4,letter" default:"a4" help:"Paper: a4 or letter."`
	Size   float64 `default:"11" help:"Size of the text in points, from 9 to 36."`
	Force  bool    `help:"Write over what other settings have put into the folder."`
}

// Help shows examples.
func (varyCommand) Help() string {
	return `Writes into DIR: questions/CODE.moments for each pupil, sheets.pdf (all in class order), scheme.pdf (everyone's
answers on one page, then the mark scheme), key.csv, and separation.txt, which says which slips the numbers tell
apart. When it is stopped, the same command goes on where it was.

Examples:
  steelyard vary bridge.moments --pupils 30 --seed spring -o set1
  steelyard vary bridge.moments --class 10b.csv --seed spring -o set1 --each`
}

// Run chooses numbers for each pupil and writes the packs.
func (c varyCommand) Run(s streams) error {
	if c.Size < 9 || c.Size > 36 {
		return usage("the text must be from 9 to 36 points; 11 is usual, 18 and 24 are large print")
	}
	q, err := s.read(c.File)
	if err != nil {
		return err
	}
	if faults, _ := answer.Check(q); len(faults) > 0 {
		return s.refuse(faults)
	}
	pupils, err := c.pupils()
	if err != nil {
		return err
	}
	p := pack{streams: s, command: &c, pupils: pupils}
	if err := p.claim(q); err != nil {
		return err
	}
	codes := make([]string, len(pupils))
	for i := range pupils {
		codes[i] = pupils[i].Code
	}
	tell, end := s.waiting("choosing numbers")
	p.result, err = variant.Choose(q, c.Seed, codes, variant.Options{Exact: c.Exact, Progress: tell})
	end()
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := p.write(ctx); err != nil {
		if errors.Is(err, context.Canceled) {
			return fmt.Errorf("stopped; the same command goes on where it was")
		}
		return err
	}
	p.report()
	return nil
}

func (c varyCommand) pupils() ([]class.Pupil, error) {
	switch {
	case c.Class != "":
		f, err := os.Open(c.Class)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, usage("there is no file " + c.Class)
		}
		if err != nil {
			return nil, err
		}
		defer f.Close()
		return class.ReadRoll(f)
	case c.Pupils < 1 || c.Pupils > 2000:
		return nil, usage("say for whom: --pupils with a number from 1 to 2000, or --class with a list")
	}
	return class.Numbered(c.Pupils), nil
}

// A pack is what is written for one class.
type pack struct {
	streams
	command  *varyCommand
	pupils   []class.Pupil
	result   *variant.Result
	items    []sheet.Item
	settings string // of this run, as the folder's file of that name holds them
	stale    bool   // the folder holds files of other settings, which are to be written over
}

func (p *pack) path(name ...string) string {
	return filepath.Join(append([]string{p.command.Output}, name...)...)
}

// claim refuses a folder of other settings. Files of the same settings are whole and right, so they need not be
// written again. Nothing is written yet.
func (p *pack) claim(q *question.Question) error {
	h := sha256.New()
	e := json.NewEncoder(h)
	c := p.command
	if err := e.Encode([]any{q.String(), c.Seed, p.pupils, c.Exact, c.Paper, c.Size, version}); err != nil {
		return err
	}
	p.settings = hex.EncodeToString(h.Sum(nil)) + "\n"
	old, err := os.ReadFile(p.path("settings"))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	}
	p.stale = string(old) != p.settings
	if p.stale && !c.Force {
		return fmt.Errorf("%s holds the numbers of another question, seed, class or program; choose another folder, or give --force to write over it", c.Output)
	}
	return nil
}

// take makes the folder this run's: what other settings left there goes, and the settings are written down.
func (p *pack) take() error {
	if p.stale {
		for _, name := range []string{"questions", "sheets", "sheets.pdf", "scheme.pdf", "key.csv", "separation.txt"} {
			if err := os.RemoveAll(p.path(name)); err != nil {
				return err
			}
		}
	}
	return p.streams.write(p.path("settings"), []byte(p.settings))
}

// write writes the files, one for each pupil first, and those about all of them last.
func (p *pack) write(ctx context.Context) error {
	if err := p.take(); err != nil {
		return err
	}
	p.items = make([]sheet.Item, len(p.result.Pupils))
	bar := p.progress(len(p.result.Pupils))
	defer bar.end()
	for i := range p.result.Pupils {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := p.pupil(i); err != nil {
			return err
		}
		bar.step()
	}
	o := p.options()
	sets := make([]sheet.Set, len(p.items))
	for i := range p.items {
		sets[i] = p.set(i)
	}
	title := p.items[0].Title
	sheets, err := sheet.Booklet(title, sets, o)
	if err != nil {
		return fmt.Errorf("printing sheets.pdf: %w", err)
	}
	scheme, err := sheet.SchemeWithKey(sheet.Set{Title: title, Code: "Seed " + p.command.Seed, Items: p.items[:1]}, p.key(), o)
	if err != nil {
		return fmt.Errorf("printing scheme.pdf: %w", err)
	}
	table, err := p.table()
	if err != nil {
		return err
	}
	for _, f := range []struct {
		name    string
		content []byte
	}{{"sheets.pdf", sheets}, {"scheme.pdf", scheme}, {"key.csv", table}, {"separation.txt", []byte(p.separation())}} {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := p.streams.write(p.path(f.name), f.content); err != nil {
			return err
		}
	}
	return nil
}

func (p *pack) options() sheet.Options {
	o := sheet.Options{Size: p.command.Size}
	if p.command.Paper == "letter" {
		o.Paper = sheet.Letter
	}
	return o
}

func (p *pack) set(i int) sheet.Set {
	return sheet.Set{
		Title: p.items[i].Title,
		Pupil: p.pupils[i].Name,
		Code:  fmt.Sprintf("%s, seed %s", p.pupils[i].Code, p.command.Seed),
		Items: p.items[i : i+1],
	}
}

// pupil makes one pupil's question and, if asked, their own sheet. What is there already is left as it is.
func (p *pack) pupil(i int) error {
	v := &p.result.Pupils[i]
	it, err := item(v.Question)
	if err != nil {
		return fmt.Errorf("numbers of %s: %w", p.pupils[i].Name, err)
	}
	p.items[i] = it
	name := fileName(p.pupils[i].Code)
	if err := p.once(p.path("questions", name+".moments"), func() ([]byte, error) {
		own := v.Question.Clone()
		own.Vary = nil
		return []byte(own.String()), nil
	}); err != nil {
		return err
	}
	if !p.command.Each {
		return nil
	}
	return p.once(p.path("sheets", name+".pdf"), func() ([]byte, error) { return sheet.Questions(p.set(i), p.options()) })
}

// once writes a file unless it is there.
func (p *pack) once(path string, make func() ([]byte, error)) error {
	if _, err := os.Stat(path); err == nil {
		return nil
	}
	content, err := make()
	if err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	return p.streams.write(path, content)
}

// fileName is a code as the name of a file: letters, digits and hyphens stay.
func fileName(code string) string {
	out := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '_'
	}, code)
	if out != code { // two codes must not meet in one name
		sum := sha256.Sum256([]byte(code))
		out += "-" + hex.EncodeToString(sum[:3])
	}
	return out
}

// report says in a few lines what was done, and what the numbers can't do.
func (p *pack) report() {
	fmt.Fprintf(p.out, "%d pupils, %d sets of numbers examined. Open %s; everyone's answers are in %s.\n",
		len(p.pupils), p.result.Examined, p.path("sheets.pdf"), p.path("scheme.pdf"))
	for _, n := range p.result.TooNarrow {
		fmt.Fprintf(p.err, "the ranges are narrow: %s\n", n.Words)
	}
}

// caseName is how a slip is called in a table.
func caseName(plan *slip.Plan, i int) string { return plan.Cases[i].Name() }

// separation says which slips the numbers tell apart, and which they can't.
func (p *pack) separation() string {
	r := p.result
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nSeed %s, %d pupils. Sets of numbers examined: %d; fit for use: %d.\n\n",
		r.Plan.Question.Title, p.command.Seed, len(r.Pupils), r.Examined, r.Fit)
	fmt.Fprintf(&b, "Slips that can be made here: %d.\n", len(r.Plan.Cases))
	least, most, pairs := 0, 0, 0
	for i := range r.Pupils {
		c := &r.Pupils[i].Certificate
		if i == 0 || c.Apart < least {
			least = c.Apart
		}
		most, pairs = max(most, c.Apart), c.Pairs
	}
	fmt.Fprintf(&b, "Pairs of slips that the answers tell apart: from %d to %d of %d, by pupil.\n", least, most, pairs)
	list := func(head string, lines []string) {
		if len(lines) > 0 {
			fmt.Fprintf(&b, "\n%s\n  %s\n", head, strings.Join(lines, "\n  "))
		}
	}
	var lines []string
	for _, n := range r.Never {
		lines = append(lines, caseName(r.Plan, n.A)+" and "+caseName(r.Plan, n.B))
	}
	list("The same number by nature, whatever the numbers are; only working can tell:", lines)
	lines = nil
	for _, h := range r.NeverSeen {
		lines = append(lines, caseName(r.Plan, h.Case))
	}
	list("Never far from the right answer, whatever the numbers are:", lines)
	lines = nil
	for _, n := range r.TooNarrow {
		lines = append(lines, n.Words)
	}
	list("Not within these ranges:", lines)
	lines = nil
	for i := range r.Pupils {
		for _, u := range r.Pupils[i].Certificate.Unparted {
			if !u.Never {
				lines = append(lines, fmt.Sprintf("%s: %s and %s, %s", p.pupils[i].Name, caseName(r.Plan, u.A), caseName(r.Plan, u.B), u.Why))
			}
		}
	}
	list("For single pupils:", lines)
	return b.String()
}
