package slides

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/show"
)

// Options say how a talk is written.
type Options struct {
	Notes bool // PDF: each slide on a page of its own with the script below it
}

// language is that of all words that steelyard writes.
const language = "en-GB"

// A kind is a kind of file.
type kind struct {
	ending, media string
	write         func(*show.Talk, Options) ([]byte, error)
}

var kinds = []kind{
	{"pdf", "application/pdf", pdfFile},
	{"odp", presentationType, odpFile},
	{"pptx", "application/vnd.openxmlformats-officedocument.presentationml.presentation", pptxFile},
	{"odt", textType, odtFile},
	{"docx", "application/vnd.openxmlformats-officedocument.wordprocessingml.document", docxFile},
}

// Endings are the kinds of file that can be written, by the ending of the name.
func Endings() []string {
	var out []string
	for _, k := range kinds {
		out = append(out, k.ending)
	}
	return out
}

// MediaType is the media type of a kind of file; "" if there is no such kind.
func MediaType(ending string) string {
	if i := find(ending); i >= 0 {
		return kinds[i].media
	}
	return ""
}

// Write writes a talk as a file of the kind that its name's ending says: "odp".
func Write(t *show.Talk, ending string, o Options) ([]byte, error) {
	i := find(ending)
	if i < 0 {
		return nil, fmt.Errorf("%q is no kind of file for slides; there is %s", ending, strings.Join(Endings(), ", "))
	}
	out, err := kinds[i].write(t, o)
	if err != nil {
		return nil, fmt.Errorf("writing %q as %s: %w", t.Title, ending, err)
	}
	return out, nil
}

func find(ending string) int {
	return slices.IndexFunc(kinds, func(k kind) bool { return k.ending == ending })
}
