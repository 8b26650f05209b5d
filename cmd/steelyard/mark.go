package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"steelyard/class"
	"steelyard/homework"
	"steelyard/mark"
	"steelyard/report"
	"steelyard/sheet"
	"steelyard/slip"
)

type markCommand struct {
	Key       string   `arg:"" help:"Question file, if the numbers are the same for all; or the folder that vary has written."`
	Answers   string   `arg:"" help:"Table of answers as CSV, with the columns pupil, part, answer, working; - reads standard input."`
	Output    string   `short:"o" help:"Write the marks as CSV too." placeholder:"FILE"`
	JSON      bool     `name:"json" xor:"show" help:"Print JSON: lines, verdicts, marks and reasons."`
	Explain   string   `xor:"show" help:"Show for one pupil, line by line, why." placeholder:"PUPIL"`
	Feedback  []string `sep:"none" help:"Write feedback for each pupil as .pdf, a page each, or .html; give it twice for both." placeholder:"FILE"`
	Solutions bool     `help:"Put the worked solution after each pupil's feedback."`
	Override  string   `help:"Your own decisions as CSV, with the columns pupil, part, mark, reason. They win over the marker." placeholder:"FILE"`
	Policy    string   `help:"How to mark where practice differs, a rule to a line, such as: unit needed: no." placeholder:"FILE"`
	Paper     string   `enum:"a4,letter" default:"a4" help:"Paper of the feedback: a4 or letter."`
	Size      float64  `default:"11" help:"Size of its text in points, from 9 to 36."`
}

// Help shows examples.
func (markCommand) Help() string {
	return `Prints a line for each pupil, then what asks for you. A mark with "?" waits for you; one with "*" is your decision.
What a pupil's work suggests is a hint, never a verdict: ask the pupil.

Examples:
  steelyard mark bridge.moments answers.csv
  steelyard mark set1 answers.csv -o marks.csv --feedback feedback.pdf --feedback feedback.html
  steelyard mark set1 answers.csv --explain h1
  steelyard mark set1 answers.csv --override override.csv`
}

// Run marks a class.
func (c markCommand) Run(s streams) error {
	if !(c.Size >= 9 && c.Size <= 36) { // NaN too
		return usage("the text must be from 9 to 36 points; 11 is usual, 18 and 24 are large print")
	}
	for _, name := range c.Feedback {
		if err := reportName(name); err != nil {
			return err
		}
	}
	m, err := s.mark(handIn{c.Key, c.Answers, c.Override, c.Policy})
	if err != nil {
		return err
	}
	// Everything is made before anything is written.
	var files []madeFile
	if c.Output != "" {
		table, err := class.MarksCSV(m.results)
		if err != nil {
			return err
		}
		files = append(files, madeFile{c.Output, table})
	}
	if len(c.Feedback) > 0 {
		reports, err := m.feedback(c.Solutions)
		if err != nil {
			return err
		}
		made, err := makeReports(c.Feedback, m.question.Title+": feedback", reports, paper(c.Paper, c.Size))
		if err != nil {
			return err
		}
		files = append(files, made...)
	}
	shown, err := c.show(m)
	if err != nil {
		return err
	}
	for _, f := range files {
		if err := s.write(f.name, f.content); err != nil {
			return err
		}
	}
	_, err = s.out.Write(shown)
	return err
}

// show is what is printed.
func (c *markCommand) show(m *markedClass) ([]byte, error) {
	switch {
	case c.JSON:
		return m.json()
	case c.Explain != "":
		for i := range m.results {
			if r := &m.results[i]; r.Code == c.Explain || r.Name == c.Explain {
				return m.explain(i)
			}
		}
		return nil, usage(fmt.Sprintf("%s has nothing of %q", c.Answers, c.Explain))
	case c.Output == "-":
		return nil, nil
	}
	return []byte(m.summary()), nil
}

// A madeFile is a file that is ready to be written.
type madeFile struct {
	name    string
	content []byte
}

// reportName refuses a name that is neither of a PDF nor of a page.
func reportName(name string) error {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".pdf", ".html":
		return nil
	}
	return usage(fmt.Sprintf("it is written as .pdf or .html; %s is no such name", name))
}

// makeReports makes reports in the kinds that the files' names say.
func makeReports(names []string, title string, reports []sheet.Report, o sheet.Options) ([]madeFile, error) {
	var files []madeFile
	for _, name := range names {
		write := sheet.Reports
		if strings.EqualFold(filepath.Ext(name), ".html") {
			write = func(title string, reports []sheet.Report, o sheet.Options) ([]byte, error) {
				return sheet.ReportsHTML(title, reports, o.Language)
			}
		}
		content, err := write(title, reports, o)
		if err != nil {
			return nil, fmt.Errorf("making %s: %w", name, err)
		}
		files = append(files, madeFile{name, content})
	}
	return files, nil
}

func paper(name string, size float64) sheet.Options {
	o := sheet.Options{Size: size}
	if name == "letter" {
		o.Paper = sheet.Letter
	}
	return o
}

// summary is the table of marks with what asks for the teacher.
func (m *markedClass) summary() string {
	var b strings.Builder
	total := 0
	for _, p := range m.parts {
		total += m.worth[p]
	}
	fmt.Fprintf(&b, "%s: %s, %s\n\n", m.question.Title, counted(len(m.results), "pupil"), counted(total, "mark"))
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprint(w, "pupil")
	for _, p := range m.parts {
		fmt.Fprintf(w, "\t(%s)/%d", p, m.worth[p])
	}
	fmt.Fprint(w, "\tall\tworking suggests\n")
	for i := range m.results {
		r := &m.results[i]
		fmt.Fprint(w, r.Name)
		for k := range r.Parts {
			p := &r.Parts[k]
			sign := ""
			switch {
			case p.Override != nil:
				sign = "*"
			case p.AskTeacher:
				sign = "?"
			}
			fmt.Fprintf(w, "\t%d%s", p.Score(), sign)
		}
		marks, of := r.Marks()
		fmt.Fprintf(w, "\t%d/%d\t%s\n", marks, of, suggests(r))
	}
	w.Flush()
	out := trimLines(b.String())
	if list := report.Asking(m.results); len(list) > 0 {
		out += "\nFor you to look at:\n  " + strings.Join(list, "\n  ") + "\n"
	}
	if list := report.Decided(m.results); len(list) > 0 {
		out += "\nDecided by you:\n  " + strings.Join(list, "\n  ") + "\n"
	}
	return out
}

// trimLines takes blanks off the ends of lines.
func trimLines(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// suggests says what a pupil's work suggests, in few words; "" where nothing is wrong.
func suggests(r *class.Result) string {
	marks, of := r.Marks()
	if marks == of {
		return ""
	}
	return mark.Tell(r.Suspects)
}

// explain says line by line why a pupil has the marks.
func (m *markedClass) explain(i int) ([]byte, error) {
	var b strings.Builder
	r := &m.results[i]
	marks, of := r.Marks()
	fmt.Fprintf(&b, "%s: %d of %d\n", r.Name, marks, of)
	for k := range r.Parts {
		p := &r.Parts[k]
		fmt.Fprintf(&b, "\n(%s) %d of %d\n", p.Part, p.Score(), p.Of)
		for n := range p.Lines {
			l := &p.Lines[n]
			fmt.Fprintf(&b, "    %s\n        %s\n", l.Line.Text, said(l))
		}
		if p.Answer.Verdict != mark.NoAnswer {
			fmt.Fprintf(&b, "    answer: %s\n        %s\n", p.Answer.Read.Text, answerSaid(&p.Answer))
		}
		for _, why := range p.Why {
			fmt.Fprintf(&b, "  - %s\n", why)
		}
		if o := p.Override; o != nil {
			fmt.Fprintf(&b, "  - decided by you: %d, where the marker gave %d: %s\n", o.Mark, p.Marks, o.Reason)
		}
		if class.Asked(p) {
			fmt.Fprintf(&b, "  - for you to look at\n")
		}
	}
	named := false
	for _, s := range r.Suspects {
		row := slip.Named(s.Name)
		if row == nil || s.Probability < 0.05 {
			continue
		}
		if !named {
			fmt.Fprintf(&b, "\nWhat the work suggests (a hint, never a verdict):\n")
			named = true
		}
		of := ""
		if s.Of != "" {
			of = ": " + s.Of
		}
		fmt.Fprintf(&b, "  %s  %s%s\n", report.HowSure(s.Probability), row.Title, of)
		for _, e := range s.Evidence {
			fmt.Fprintf(&b, "        %s\n", e)
		}
		fmt.Fprintf(&b, "        ask: %s\n", row.Ask)
	}
	if marks == of || len(r.Suspects) == 0 || r.Suspects[0].Probability >= 0.9 { // little is open
		return []byte(b.String()), nil
	}
	bank, err := homework.OpenShelf(m.question)
	if err != nil {
		return nil, err
	}
	name, settles, err := bank.Next(r.Suspects, homework.StillOpen(r.Suspects))
	if err == nil && name != "" {
		fmt.Fprintf(&b, "\nOf the bank's questions, %s would tell most: expected to settle %.0f %% of what is open.\n", name, 100*settles)
	}
	return []byte(b.String()), err
}

var verdicts = [...]string{mark.NotRead: "not read", mark.Right: "right", mark.Carried: "right for the earlier value", mark.Wrong: "wrong", mark.Statement: "words"}

func said(l *mark.Judged) string {
	words := verdicts[l.Verdict]
	for _, more := range []string{l.Means, l.Off} {
		if more != "" {
			words += ": " + more
		}
	}
	if s := slip.Named(l.Slip); s != nil {
		words += " (fits “" + s.Title + "”)"
	}
	return words
}

var answerVerdicts = [...]string{
	mark.NoAnswer: "none", mark.AnswerNotRead: "not read", mark.AnswerRight: "right", mark.AnswerCarried: "right for the earlier value",
	mark.AnswerWrong: "wrong", mark.AnswerUnit: "the number is right, the unit isn't", mark.AnswerFigures: "right, to too few figures",
}

func answerSaid(a *mark.JudgedAnswer) string {
	if a.Note == "" {
		return answerVerdicts[a.Verdict]
	}
	return answerVerdicts[a.Verdict] + ": " + a.Note
}
