package account

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"strings"

	"golang.org/x/crypto/argon2"
)

// letters are what codes are made of: those that look alike are left out (0 O, 1 I L). 31 of them are 4.95 bits each.
const letters = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"

// Lengths of codes, without the hyphens that they are written with.
const (
	classLength      = 6  // 30 bits: names a class, is no secret
	personalLength   = 8  // 40 bits: with the class's, opens one pupil's work
	invitationLength = 24 // 119 bits: more than the 112 from which a plain hash will do (ASVS 6.5.2)
)

// NewClassCode makes the code that names a class: "K7M2QD".
func NewClassCode() string { return random(classLength) }

// NewCode makes a pupil's personal code, as it is printed: "4F7K-29QR". Only its hash is kept; see [Codes].
func NewCode() string { return Grouped(random(personalLength)) }

// NewInvitation makes the code of an invitation, as it is printed, in six groups.
func NewInvitation() string { return Grouped(random(invitationLength)) }

// random picks letters so that each is as likely as any other: bytes that would favour the first ones are passed over.
func random(n int) string {
	out, b := make([]byte, 0, n), make([]byte, 64)
	for len(out) < n {
		rand.Read(b)
		for _, x := range b {
			if int(x) < 256/len(letters)*len(letters) && len(out) < n {
				out = append(out, letters[int(x)%len(letters)])
			}
		}
	}
	return string(out)
}

// Grouped writes a code in groups of four.
func Grouped(code string) string {
	var b strings.Builder
	for i, r := range code {
		if i > 0 && i%4 == 0 {
			b.WriteByte('-')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// ReadCode reads a code as people type it: small letters, spaces, hyphens and dots make no difference. No letter is
// guessed: an O, which no code has, stays an O.
func ReadCode(typed string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9':
			return r
		}
		return -1
	}, typed)
}

// ReadPair reads a class code and a personal code, typed in two places or pasted together in either.
func ReadPair(class, personal string) (string, string) {
	c, p := ReadCode(class), ReadCode(personal)
	if both := c + p; len(both) == classLength+personalLength {
		return both[:classLength], both[classLength:]
	}
	if len(c) == classLength+personalLength { // pasted, and typed once more
		return c[:classLength], c[classLength:]
	}
	if len(p) == classLength+personalLength {
		return p[:classLength], p[classLength:]
	}
	return c, p
}

// Codes hashes pupils' personal codes.
//
// A code is keyed with a secret of the installation (HMAC-SHA256), then hashed with argon2id under a salt that a class
// shares, so that one hash finds the pupil of a try, whoever it is, and a try costs as much for a class that does not
// exist. 40 bits under argon2id remain for whoever has the secret too, for one class at a time. The parameters are the
// OWASP cheat sheet's second row (19 MiB, 2 passes) and not those of passwords: a year group signs in within a minute,
// and two hashes at once stay under 40 MB.
type Codes struct{ secret []byte }

const codeMemory, codePasses = 19456, 2 // KiB

// NewCodes takes the secret, of 32 random bytes.
func NewCodes(secret []byte) *Codes { return &Codes{secret: secret} }

// Hash is what is kept of the personal code of a pupil in a class, whose ID is given.
func (c *Codes) Hash(class, code string) string {
	keyed := hmac.New(sha256.New, c.secret)
	keyed.Write([]byte(class + "\x00" + ReadCode(code)))
	salt := sha256.Sum256([]byte("class " + class))
	places <- struct{}{}
	defer func() { <-places }()
	sum := argon2.IDKey(keyed.Sum(nil), salt[:16], codePasses, codeMemory, 1, 32)
	return base64.RawStdEncoding.EncodeToString(sum)
}

// Find returns the place of the hash in the list, or -1, in a time that does not tell which it was.
func Find(hash string, list []string) int {
	at := -1
	for i, h := range list {
		at = subtle.ConstantTimeSelect(subtle.ConstantTimeCompare([]byte(h), []byte(hash)), i, at)
	}
	return at
}
