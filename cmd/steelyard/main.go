// Command steelyard turns a question file about bodies in equilibrium into forces, reasoned
// solutions, drawings and printed sheets.
//
// Exit status: 0 done; 1 the question has an error, or has no answer of the kind asked; 2 wrong use.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/alecthomas/kong"

	"steelyard/workbench"
)

// version is set when the program is built.
var version = "development"

// Exit statuses.
const (
	done    = 0
	refused = 1
	misused = 2
)

// errRefused ends a command whose reasons have been printed.
var errRefused = errors.New("refused")

// streams are what a command reads from and writes to.
type streams struct {
	in       io.Reader
	out, err io.Writer
	source   map[string]string // the question files read, by name, to show the lines that faults stand on
}

type commands struct {
	Solve   solveCommand       `cmd:"" help:"Find the forces, and the answer to every part."`
	Explain explainCommand     `cmd:"" help:"Work a question out step by step, about any pivot."`
	Draw    drawCommand        `cmd:"" help:"Draw the arrangement, its forces, or the moments about a pivot."`
	Print   printCommand       `cmd:"" help:"Print a question sheet, a mark scheme or worked solutions as PDF."`
	Slides  slidesCommand      `cmd:"" help:"Write the explanation step by step as slides or as a document, to show, to print or to change."`
	Walk    walkthroughCommand `cmd:"" name:"walkthrough" help:"Explain a question as a film: a page that plays offline, captions, transcript, MP4, WebM."`
	Tidy    tidyCommand        `cmd:"" help:"Write a question file in the standard form."`
	Slips   slipsCommand       `cmd:"" help:"List the slips that a pupil could make, and the wrong answers that they lead to."`
	Check   checkCommand       `cmd:"" help:"Say what is wrong with a question file, and what is doubtful."`
	Bank    bankCommand        `cmd:"" help:"Questions ready for use: list, show, copy, or write all out."`
	Vary    varyCommand        `cmd:"" help:"Give each pupil numbers of their own: questions, packs, key."`
	Mark    markCommand        `cmd:"" help:"Mark answers and working: marks with reasons, feedback for each pupil."`
	Report  reportCommand      `cmd:"" help:"Draw the picture of a class from its answers: marks, parts, slips, groups to teach again."`
	Serve   serveCommand       `cmd:"" help:"Serve teachers and pupils in their browsers."`
	Backup  backupCommand      `cmd:"" help:"Write a copy of all data of \"steelyard serve\", while it serves."`
	Restore restoreCommand     `cmd:"" help:"Make the data anew from a backup."`
	Verify  verifyCommand      `cmd:"" help:"Check the data: nothing lost, nothing damaged."`
	Export  exportPupilCommand `cmd:"" name:"export-pupil" help:"Write all that is kept of a pupil as one zip."`
	Erase   erasePupilCommand  `cmd:"" name:"erase-pupil" help:"Erase a pupil and all that is theirs."`
	Version versionCommand     `cmd:"" help:"Print the version."`
}

const description = `Steelyard serves teachers who set, explain and mark problems about bodies in equilibrium.
A question file (FILE.moments) describes one arrangement; "-" or no file reads standard input.
Results are for teaching, never for building.

Exit status: 0 done; 1 the question has an error or no answer of the kind asked; 2 wrong use.`

func main() {
	os.Exit(run(os.Args[1:], streams{in: os.Stdin, out: os.Stdout, err: os.Stderr}))
}

// run is the whole program; it returns the exit status.
func run(args []string, s streams) (status int) {
	s.source = map[string]string{}
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(s.err, "steelyard: a fault of the program itself, not of your question: %v\n"+
				"please keep the question file and report it\n", r)
			status = refused
		}
	}()
	var c commands
	exited := -1
	parser, err := kong.New(&c,
		kong.Name("steelyard"),
		kong.Description(description),
		kong.Writers(s.out, s.err),
		kong.Exit(func(code int) { exited = code; panic(leave{}) }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}),
		kong.Bind(s),
		kong.Vars{"kinds": strings.Join(workbench.Kinds, ", "), "data": ownFolder()},
	)
	if err != nil {
		fmt.Fprintln(s.err, "steelyard:", err)
		return misused
	}
	ctx, err := parse(parser, args)
	if exited >= 0 {
		return exited
	}
	if err != nil {
		fmt.Fprintf(s.err, "steelyard: %v\n", err)
		fmt.Fprintln(s.err, `run "steelyard --help", or "steelyard COMMAND --help", to see what there is`)
		return misused
	}
	switch err := ctx.Run(s); {
	case err == nil:
		return done
	case errors.Is(err, errRefused):
		return refused
	case errors.As(err, new(usage)):
		fmt.Fprintln(s.err, "steelyard:", err)
		return misused
	default:
		fmt.Fprintln(s.err, "steelyard:", err)
		return refused
	}
}

// leave unwinds out of the parser once help has been printed.
type leave struct{}

func parse(parser *kong.Kong, args []string) (ctx *kong.Context, err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(leave); !ok {
				panic(r)
			}
		}
	}()
	if len(args) == 0 {
		args = []string{"--help"}
	}
	return parser.Parse(args)
}

// usage is a wrong use of a command that the parser could not see.
type usage string

func (u usage) Error() string { return string(u) }

type versionCommand struct{}

// Help shows an example.
func (versionCommand) Help() string {
	return `Examples:
  steelyard version`
}

// Run prints the version.
func (versionCommand) Run(s streams) error {
	_, err := fmt.Fprintln(s.out, "steelyard", version)
	return err
}
