package reports

import "testing"

// Quiet text tells findings, and what weakens them: no verdict, no list, no caution.
func TestQuietTextExactly(t *testing.T) {
	run := Run{Today: "2026-11-25", Skipped: 2, Notices: []string{"a remark"}}
	expect(t, "quiet.txt", told(t, "text", Options{Quiet: true}, run, clean(), broken(), partial(), unreadable()))
	if out := told(t, "text", Options{Quiet: true}, Run{Today: "2026-11-25", Skipped: 2}, clean(), clean()); len(out) > 0 {
		t.Errorf("of nothing found it says:\n%s", out)
	}
}
