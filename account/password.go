package account

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/subtle"
	_ "embed"
	"encoding/base64"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
	"golang.org/x/text/unicode/norm"
)

// What a password's hash costs: the OWASP cheat sheet's first row.
const memory, passes, lanes = 47104, 1, 1 // KiB

// PasswordLength is the least number of characters (NIST SP 800-63B-4, where a password is the only factor), and the
// most, which only keeps somebody from sending a book.
const PasswordLength, PasswordMost = 15, 256

// places are for the hashes at work: each takes up to 46 MiB, so that more at once would cost more memory than a
// laptop has to spare, and no less time.
var places = make(chan struct{}, 2)

//go:embed blocklist.txt
var blocklist string

// blocked are words and runs that many passwords are made of. The list is our own, from memory of what lists of
// leaked passwords have in common; it is short, because fifteen characters already keep nearly all of those out.
var blocked = strings.Fields(blocklist)

func longestFirst(a, b string) int { return len(b) - len(a) }

// CheckPassword says in plain words why a password should not be taken; "" if nothing is wrong with it. There are no
// rules about kinds of characters. Own are words to be kept out of it: the login, the name.
func CheckPassword(password string, own ...string) string {
	p := norm.NFC.String(password)
	switch n := utf8.RuneCountInString(p); {
	case n < PasswordLength:
		return fmt.Sprintf("%d characters are too few; take at least %d, for example four words that have nothing to do with each other", n, PasswordLength)
	case n > PasswordMost:
		return fmt.Sprintf("take at most %d characters", PasswordMost)
	}
	bare := fold(p)
	if repeats(bare) {
		return "it repeats itself; take something that cannot be guessed from its beginning"
	}
	rest := bare
	words := slices.Concat(ownWords(own), blocked)
	slices.SortStableFunc(words, longestFirst)
	for _, word := range words {
		rest = strings.ReplaceAll(rest, word, "")
	}
	if utf8.RuneCountInString(rest) < 8 {
		return "it is made of words that are tried first (your name, the program's, much used ones); add words of your own"
	}
	return ""
}

// fold leaves letters and digits, in lower case.
func fold(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

func ownWords(own []string) (words []string) {
	for _, o := range own {
		for _, w := range strings.FieldsFunc(norm.NFC.String(o), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
			if w = fold(w); utf8.RuneCountInString(w) >= 3 {
				words = append(words, w)
			}
		}
	}
	return words
}

// repeats says whether s is a piece of at most six characters over and over.
func repeats(s string) bool {
	r := []rune(s)
	for n := 1; n <= 6 && n < len(r); n++ {
		i := n
		for i < len(r) && r[i] == r[i-n] {
			i++
		}
		if i == len(r) {
			return true
		}
	}
	return len(r) == 0
}

// HashPassword makes the PHC string of a password. It waits for its turn, or until ctx ends.
func HashPassword(ctx context.Context, password string) (string, error) {
	salt := make([]byte, 16)
	rand.Read(salt)
	sum, err := derive(ctx, password, salt, passes, memory, lanes, 32)
	if err != nil {
		return "", err
	}
	b64 := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, memory, passes, lanes, b64.EncodeToString(salt), b64.EncodeToString(sum)), nil
}

// MatchPassword says whether the password is that of the hash, and whether it should be hashed anew because hashes
// cost more today. An empty hash matches nothing, and takes as long.
func MatchPassword(ctx context.Context, hash, password string) (match, rehash bool, err error) {
	h, err := readHash(hash)
	if hash == "" {
		h, err = phc{memory: memory, passes: passes, lanes: lanes, salt: make([]byte, 16), sum: make([]byte, 32)}, nil
	}
	if err != nil {
		return false, false, err
	}
	sum, err := derive(ctx, password, h.salt, h.passes, h.memory, h.lanes, uint32(len(h.sum)))
	if err != nil {
		return false, false, err
	}
	match = subtle.ConstantTimeCompare(sum, h.sum) == 1 && hash != ""
	return match, match && (h.memory < memory || h.memory == memory && h.passes < passes), nil
}

func derive(ctx context.Context, password string, salt []byte, passes, memory uint32, lanes uint8, length uint32) ([]byte, error) {
	select {
	case places <- struct{}{}:
		defer func() { <-places }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	return argon2.IDKey([]byte(norm.NFC.String(password)), salt, passes, memory, lanes, length), nil
}

// A phc is an argon2id hash as the password hashing competition's string format writes it.
type phc struct {
	memory, passes uint32
	lanes          uint8
	salt, sum      []byte
}

var errHash = errors.New("not an argon2id hash")

func readHash(s string) (h phc, err error) {
	parts := strings.Split(s, "$")
	if len(parts) != 6 || parts[1] != "argon2id" || parts[2] != fmt.Sprintf("v=%d", argon2.Version) {
		return h, errHash
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &h.memory, &h.passes, &h.lanes); err != nil {
		return h, errHash
	}
	// Bounds, so that a damaged database cannot ask for all of the memory.
	if h.memory < 8 || h.memory > 1<<20 || h.passes < 1 || h.passes > 64 || h.lanes < 1 {
		return h, errHash
	}
	salt, err1 := base64.RawStdEncoding.DecodeString(parts[4])
	sum, err2 := base64.RawStdEncoding.DecodeString(parts[5])
	if err1 != nil || err2 != nil || len(salt) < 8 || len(sum) < 16 || len(sum) > 64 || bytes.Equal(sum, make([]byte, len(sum))) {
		return h, errHash
	}
	h.salt, h.sum = salt, sum
	return h, nil
}
