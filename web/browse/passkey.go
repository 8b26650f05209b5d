package browse

import (
	"github.com/chromedp/cdproto/webauthn"
)

// KeepPasskeys gives the tab a device within the computer that keeps passkeys, whose owner is always there.
func (tab *Tab) KeepPasskeys() {
	tab.t.Helper()
	call(tab, webauthn.Enable, webauthn.EnableParams{})
	call(tab, webauthn.AddVirtualAuthenticator, webauthn.AddVirtualAuthenticatorParams{Options: &webauthn.VirtualAuthenticatorOptions{
		Protocol: webauthn.AuthenticatorProtocolCtap2, Transport: webauthn.AuthenticatorTransportInternal, HasResidentKey: true,
		HasUserVerification: true, IsUserVerified: true, AutomaticPresenceSimulation: true}})
}
