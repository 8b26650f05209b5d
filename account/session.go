package account

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"strings"
	"time"
)

// Idle is how long a session lasts without use; Longest how long it lasts at all.
func Idle(r Role) time.Duration {
	if r == PupilOf {
		return 2 * time.Hour
	}
	return 30 * time.Minute
}

func Longest(r Role) time.Duration {
	if r == PupilOf {
		return 8 * time.Hour
	}
	return 12 * time.Hour
}

// NewSession makes a session and the token that its browser keeps.
func NewSession(role Role, who, label string, now time.Time) (token string, s Session) {
	b := make([]byte, 32)
	rand.Read(b)
	token = base64.RawURLEncoding.EncodeToString(b)
	return token, Session{Hash: HashToken(token), Role: role, Who: who, Label: label, Made: now, Seen: now, Ends: now.Add(Longest(role))}
}

// HashToken is what is kept of a token or of an invitation's code, which both are too long to be guessed.
func HashToken(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// Live says whether a session still holds.
func (s Session) Live(now time.Time) bool {
	return now.Before(s.Ends) && now.Sub(s.Seen) < Idle(s.Role)
}

// Left is how long a session still lasts if nothing is done.
func (s Session) Left(now time.Time) time.Duration {
	return max(0, min(s.Ends.Sub(now), s.Seen.Add(Idle(s.Role)).Sub(now)))
}

// Browser tells in a word or two what kind of browser is used, so that one can tell one's sessions apart. No more
// of what it says about itself is kept.
func Browser(agent string) string {
	pick := func(names ...string) string {
		for i := 0; i < len(names); i += 2 {
			if strings.Contains(agent, names[i]) {
				return names[i+1]
			}
		}
		return ""
	}
	browser := pick("Edg/", "Edge", "OPR/", "Opera", "Firefox/", "Firefox", "Chrome/", "Chrome", "Safari/", "Safari")
	system := pick("Android", "Android", "iPhone", "iPhone", "iPad", "iPad", "CrOS", "a Chromebook", "Windows", "Windows", "Mac OS", "a Mac", "Linux", "Linux")
	switch {
	case browser == "" && system == "":
		return "a browser"
	case browser == "":
		return "a browser on " + system
	case system == "":
		return browser
	}
	return browser + " on " + system
}
