// Package account is who may sign in and how: teachers with passwords and passkeys, pupils with codes,
// sessions, invitations, and how guessing is slowed. It stores nothing.
//
// Sources: OWASP ASVS 5.0.0; OWASP Password Storage and Session Management cheat sheets;
// NIST SP 800-63B-4 (passwords).
package account
