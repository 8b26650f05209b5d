package sign

import (
	"context"
	"time"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/page"
)

// Invite makes an invitation and returns its link. The code stands behind "#", which browsers send to nobody, so that
// it gets into no log.
func Invite(ctx context.Context, d *page.Desk, by store.By, role account.Role, ends time.Time) (link string, err error) {
	code := account.NewInvitation()
	err = d.Store.Invite(ctx, by, account.Invitation{Hash: account.HashToken(account.ReadCode(code)), Role: role, Ends: ends, By: by.Who})
	return d.Host + "/first#" + code, err
}
