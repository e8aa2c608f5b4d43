package reports

import (
	"fmt"

	"headroom/rules"
)

// This file tells what packs of one's own changed of other packs' rules: a rule that
// does not judge, or judges more mildly, is no secret.

type packChange struct {
	Rule    string `json:"rule"`
	Change  string `json:"change"` // off, or regraded
	From    string `json:"from"`   // its grade before
	To      string `json:"to,omitempty"`
	Pack    string `json:"pack"`
	Because string `json:"because"`
}

// packChanges lists what the packs of a rulebook changed, in their order.
func packChanges(b *rules.Rulebook) (all []packChange) {
	if b == nil {
		return nil
	}
	for _, s := range b.SwitchedOff {
		all = append(all, packChange{Rule: s.Rule.ID, Change: "off", From: s.Rule.Grade.String(), Pack: s.Pack, Because: s.Because})
	}
	for _, r := range b.Regraded {
		if b.Rule(r.Rule.ID) != nil {
			all = append(all, packChange{Rule: r.Rule.ID, Change: "regraded", From: r.Was.String(), To: r.Rule.Grade.String(), Pack: r.Pack, Because: r.Because})
		}
	}
	return all
}

func (c packChange) text() string {
	if c.Change == "off" {
		return fmt.Sprintf("pack %s switches off %s (%s): %s", c.Pack, c.Rule, c.From, c.Because)
	}
	return fmt.Sprintf("pack %s grades %s %s instead of %s: %s", c.Pack, c.Rule, c.To, c.From, c.Because)
}
