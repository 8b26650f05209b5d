package hint

import (
	"strings"
	"testing"

	"steelyard/solution"
)

// grade is the grade of the United States' schools at which a text can be read: 0.39 words a sentence, 11.8 syllables
// a word, less 15.59; a pupil's age is about five more.
//
// Source: J. P. Kincaid, R. P. Fishburne, R. L. Rogers, B. S. Chissom, "Derivation of new readability formulas", U.S.
// Naval Technical Training, Research Branch Report 8-75 (1975); formula from memory. Syllables are counted as groups of
// vowels, a silent e at the end left out: common practice, no source.
func grade(text string) float64 {
	sentences, syllables := 0, 0
	words := strings.FieldsFunc(text, func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '\'') })
	for _, r := range text {
		if strings.ContainsRune(".?!", r) {
			sentences++
		}
	}
	for _, w := range words {
		syllables += count(strings.ToLower(w))
	}
	n := float64(max(len(words), 1))
	return 0.39*n/float64(max(sentences, 1)) + 11.8*float64(syllables)/n - 15.59
}

func count(word string) int {
	n, vowel := 0, false
	for i := range len(word) {
		is := strings.IndexByte("aeiouy", word[i]) >= 0
		if is && !vowel {
			n++
		}
		vowel = is
	}
	if strings.HasSuffix(word, "e") && !strings.HasSuffix(word, "le") && n > 1 {
		n--
	}
	return max(n, 1)
}

// A pupil of 14 reads a ladder of the first level, one of 16 the others.
func TestTheWordsOfALadderSuitItsReaders(t *testing.T) {
	most := map[string]float64{"14-16": 8, "16-18": 9, "first year": 9, "": 9} // ages 13 and 14: a year or two in hand
	hardest := map[string]float64{}
	for name, k := range keys(t) {
		for i := range k.Question.Parts {
			ladder, err := Working(k, k.Question.Parts[i].Name, "")
			if err != nil {
				t.Fatal(err)
			}
			var all strings.Builder
			for _, h := range ladder {
				all.WriteString(solution.SayText(h.Say) + " ")
			}
			g, level := grade(all.String()), k.Question.Level
			hardest[level] = max(hardest[level], g)
			if g > most[level] {
				t.Errorf("%s (%s), level %s: grade %.1f, more than %.0f:\n%s", name, k.Question.Parts[i].Name, level, g, most[level], all.String())
			}
		}
	}
	t.Log("hardest of each level:", hardest)
}
