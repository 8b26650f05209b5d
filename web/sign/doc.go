// Package sign holds the pages for signing in and out, the first account, invitations, and one's own account.
package sign
