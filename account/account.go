package account

import "time"

// A Role says what somebody may do. A head of department is a teacher too.
type Role string

const (
	Visitor Role = ""
	PupilOf Role = "pupil"
	Teacher Role = "teacher"
	Head    Role = "head"
)

// A Person is a teacher's account.
type Person struct {
	ID    string
	Name  string // as pupils see it
	Login string // folded to lower case
	Hash  string // of the password, as a PHC string
	Role  Role   // Teacher or Head
	Made  time.Time
	Ended time.Time // closed since; zero: open
	Keys  []Passkey
}

// A Passkey is a public key credential of a teacher.
type Passkey struct {
	ID     string // base64url of the credential's identifier
	Record string // JSON of the credential
	Label  string
	Made   time.Time
}

// A Session is a signed-in browser.
type Session struct {
	Hash  string // SHA-256 of the token, hex; the token itself is never stored
	Role  Role
	Who   string // ID of the teacher or pupil
	Label string // what kind of browser, to tell one's sessions apart
	Made  time.Time
	Seen  time.Time
	Ends  time.Time // at the latest
}

// An Invitation lets one person make an account, once.
type Invitation struct {
	Hash string // SHA-256 of the code
	Role Role
	Ends time.Time
	By   string // who invites; "" for the very first teacher
}
