package app

import (
	"fmt"
	"strings"

	"go.uber.org/zap"

	"helmcue/internal/pairing"
	"helmcue/internal/phonemsg"
)

// greet tells the person who started the service where the pages are and how a
// phone comes to them.
func (a *App) greet() {
	a.cfg.Say("\nhelmcue is listening. Keep a lookout first; local rules and a licensed instructor's word outrank it.")
	a.cfg.Say(a.voice.sound(a.log))
	if a.sim != nil {
		name := a.sim.name()
		a.cfg.Say(fmt.Sprintf("The simulated boat %s is sailing: no phone is needed to listen.", name))
	}
	host := a.phoneHost()
	a.Invite()
	if a.cfg.Local != "" && a.root != "" {
		a.cfg.Say(fmt.Sprintf("A phone that is paired finds the pages at https://%s:%d too, where its network lets names through.", a.cfg.Local, a.Port()))
	}
	if a.plain != nil && a.root != "" {
		a.cfg.Say(fmt.Sprintf("First time on this phone: http://%s:%d/install (the root's SHA-256 begins %s)", host, portOf(a.plain), a.root))
	}
	a.cfg.Say("Enter prints fresh codes. Ctrl-C ends it and closes the recordings.\n")
}

// Invite prints fresh pairing codes: each is for one phone and a quarter of an hour.
func (a *App) Invite() {
	host := a.phoneHost()
	a.invite(phonemsg.Sailor, a.ownBoat(), "Sailor", host)
	a.invite(phonemsg.Instructor, "", "Instructor", host)
}

func (a *App) invite(role phonemsg.Role, boat, title, host string) {
	code, err := a.keys.NewCode(role, boat)
	if err != nil {
		a.log.Error("no pairing code could be made", zap.Error(err))
		return
	}
	url := pairing.PageURL(host, a.Port(), code)
	a.cfg.Say(fmt.Sprintf("\n%s: %s   (for one phone, %d minutes)", title, url, int(pairing.CodeLife.Minutes())))
	if role != phonemsg.Sailor {
		return
	}
	if qr, err := pairing.QRText(url); err == nil {
		a.cfg.Say(qr)
	}
}

// phoneHost is the address a phone would use: the first that is not this machine
// alone.
func (a *App) phoneHost() string {
	if len(a.names) > 0 {
		return strings.TrimPrefix(a.names[0], "*.")
	}
	hosts := a.hosts()
	for _, h := range hosts {
		if isLANv4(h) {
			return h
		}
	}
	return "localhost"
}
