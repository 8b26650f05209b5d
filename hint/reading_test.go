package hint

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"testing"

	"steelyard/mark"
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

// A pupil of 14 reads a ladder of the first level, one of 16 the others. A single sentence is a short sample, so that
// one long word weighs much: it may be four grades harder than a ladder, and no longer than most. A name from the question
// itself (a label) is the question's word, not ours, and counts as a word of one syllable.
func TestTheWordsOfALadderSuitItsReaders(t *testing.T) {
	const longest = 25                                                         // words: common practice for plain English, no source
	most := map[string]float64{"14-16": 6, "16-18": 7, "first year": 7, "": 7} // ages 11 and 12: some years in hand
	hardest, sentences := map[string]float64{}, map[string]float64{}
	for name, k := range keys(t) {
		for i := range k.Question.Parts {
			ladder, err := Working(k, k.Question.Parts[i].Name, "")
			if err != nil {
				t.Fatal(err)
			}
			at, level := name+" ("+k.Question.Parts[i].Name+")", k.Question.Level
			var all strings.Builder
			for _, h := range ladder {
				said := solution.SayText(h.Say)
				all.WriteString(said + " ")
				for _, one := range strings.SplitAfter(bare(said, k), ". ") {
					g := grade(one)
					sentences[one] = g
					if n := len(strings.Fields(one)); g > most[level]+4 || n > longest {
						t.Errorf("%s, level %s, rung %d: grade %.1f, %d words: %s", at, level, h.Rung, g, n, one)
					}
				}
			}
			g := grade(all.String())
			hardest[level] = max(hardest[level], g)
			if g > most[level] {
				t.Errorf("%s, level %s: grade %.1f, more than %.0f:\n%s", at, level, g, most[level], all.String())
			}
		}
	}
	t.Log("hardest ladder of each level:", hardest)
	worst := slices.SortedFunc(maps.Keys(sentences), func(a, b string) int { return cmp.Compare(sentences[b], sentences[a]) })
	for _, s := range worst[:20] {
		t.Logf("%.1f %s", sentences[s], s)
	}
}

// bare is a sentence with the names that the question gives its things made short.
func bare(said string, k *mark.Key) string {
	list := called(k)
	slices.SortFunc(list, func(a, b string) int { return len(b) - len(a) })
	for _, label := range list {
		if len(label) > 3 {
			said = strings.ReplaceAll(said, label, "thing")
		}
	}
	return said
}
