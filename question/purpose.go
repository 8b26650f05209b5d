package question

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// idea reads what the question tests, a sentence for the teacher: idea "the weight is not shared equally".
func (p *parser) idea(first token) {
	if p.q.Idea != "" {
		p.faultTok(first, "the idea is given twice", "a question has one; keep the one that it tests most")
	}
	t, ok := p.quoted("the idea is missing", `write in quotation marks what the question tests: idea "the weight is not shared equally"`)
	if !ok {
		return
	}
	p.q.Idea = oneLine(t.text)
	if p.q.Idea == "" {
		p.faultTok(t, "the idea is empty", "say in a sentence what the question tests, or leave the line out")
	}
	if utf8.RuneCountInString(p.q.Idea) > longestIdea {
		p.faultTok(t, "the idea is too long", "one sentence is enough")
	}
}

// traps reads names of slips of the catalogue, which is not known here: traps equal-shares, middle-of-supports.
func (p *parser) traps(first token) {
	if len(p.q.Traps) > 0 {
		p.faultTok(first, "there are two lines of traps", "name all of them on one line, with commas between")
	}
	for {
		t := p.peek()
		mend := "name slips of the catalogue, with commas between: traps equal-shares, middle-of-supports"
		switch {
		case t.kind == endToken && p.i > 1:
			p.faultTok(p.toks[p.i-1], "nothing follows this comma", "leave it out")
			return
		case t.kind == endToken:
			p.faultTok(t, "the traps are missing", mend)
			return
		case t.kind != wordToken || !isTrap(t.text):
			if fixed := strings.ToLower(t.text); t.kind == wordToken && isTrap(fixed) {
				mend = "write " + fixed
			}
			p.faultTok(t, quote(clip(p.text[t.from:t.to]))+" cannot be the name of a slip", mend)
			p.i = len(p.toks)
			return
		case slices.Contains(p.q.Traps, t.text):
			p.faultTok(t, "the trap "+clip(t.text)+" stands here twice", "name it once")
		case len(p.q.Traps) == mostTraps:
			p.faultTok(t, "there are too many traps", "name those that the question is meant for")
			p.i = len(p.toks)
			return
		default:
			p.q.Traps = append(p.q.Traps, t.text)
		}
		p.i++
		if p.peek().kind == endToken {
			return
		}
		if !p.acceptMark(',') {
			p.faultTok(p.peek(), "a comma is missing between the names of slips", mend)
			p.i = len(p.toks)
			return
		}
	}
}

// isTrap reports whether s can be the name of a slip: small letters, with hyphens between words.
func isTrap(s string) bool {
	for i := range len(s) {
		if hyphen := s[i] == '-'; hyphen && (i == 0 || i == len(s)-1 || s[i-1] == '-') || !hyphen && (s[i] < 'a' || s[i] > 'z') {
			return false
		}
	}
	return s != "" && len(s) <= longestName
}
