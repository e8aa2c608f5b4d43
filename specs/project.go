package specs

// A Project is the project file headroom.yaml: what holds for all specs below it.
type Project struct {
	File          string
	Specs         []Text          `key:"specs" opt:"yes" doc:"globs of spec files, relative to this file"`
	Packs         []Text          `key:"packs" opt:"yes" doc:"rule packs, relative to this file"`
	FailAt        Text            `key:"fail_at" oneof:"critical|major|minor|observation|never" opt:"yes" doc:"grade from which a run fails"`
	Limits        *Setting        `key:"limits" opt:"yes" doc:"acceptance limits for all specs"`
	Concessions   []Concession    `key:"concessions" opt:"yes" doc:"accepted findings"`
	NotApplicable []NotApplicable `key:"not_applicable" opt:"yes" doc:"critical rules that need not be assessed, with the reason"`
	Problems      []Problem
	Source        []byte
}

// NotApplicable says why a rule need not be assessed.
type NotApplicable struct {
	At      Span
	Rule    Text `key:"rule" form:"rule" eg:"store.isolation" doc:"the rule's id"`
	Subject Text `key:"subject" opt:"yes" doc:"name of the subject; all when left out"`
	Because Text `key:"because" eg:"the store is too small to hurt" doc:"why it does not apply"`
}
