package sign

import "steelyard/web/page"

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	r := newRoom(d)
	// Where a password or a code is hashed there may be a year group's before it.
	return []page.Route{
		{Pattern: "GET /{$}", For: page.Everyone, Do: r.welcome},
		{Pattern: "GET /sign-in", For: page.Everyone, Do: r.teacherForm},
		{Pattern: "POST /sign-in", For: page.Everyone, Slow: true, Do: r.teacherIn},
		{Pattern: "GET /sign-in/pupil", For: page.Everyone, Do: r.pupilForm},
		{Pattern: "POST /sign-in/pupil", For: page.Everyone, Slow: true, Do: r.pupilIn},
		{Pattern: "POST /sign-out", For: page.SignedIn, Do: r.out},
		{Pattern: "GET /session", For: page.SignedIn, Do: r.left},
		{Pattern: "POST /session", For: page.SignedIn, Do: r.left},
		{Pattern: "GET /first", For: page.Everyone, Do: r.firstForm},
		{Pattern: "POST /first", For: page.Everyone, Slow: true, Do: r.first},
		{Pattern: "GET /kept", For: page.Everyone, Do: r.kept},
		{Pattern: "GET /account", For: page.SignedIn, Do: r.account},
		{Pattern: "POST /account/look", For: page.SignedIn, Do: r.saveLook},
		{Pattern: "POST /account/sessions", For: page.SignedIn, Do: r.endSession},
		{Pattern: "POST /account/name", For: page.Teachers, Do: r.saveName},
		{Pattern: "POST /account/password", For: page.Teachers, Do: r.savePassword},
		{Pattern: "POST /account/passkeys/ask", For: page.Teachers, Do: r.askPasskey},
		{Pattern: "POST /account/passkeys", For: page.Teachers, Do: r.addPasskey},
		{Pattern: "POST /account/passkeys/remove", For: page.Teachers, Do: r.removePasskey},
		{Pattern: "POST /sign-in/passkey/ask", For: page.Everyone, Do: r.askSignIn},
		{Pattern: "POST /sign-in/passkey", For: page.Everyone, Do: r.passkeyIn},
		{Pattern: "GET /people", For: page.Heads, Do: r.people},
		{Pattern: "POST /people", For: page.Heads, Do: r.invite},
		{Pattern: "POST /people/{person}", For: page.Heads, Do: r.savePerson},
		{Pattern: "GET /history", For: page.Heads, Do: r.history},
	}
}
