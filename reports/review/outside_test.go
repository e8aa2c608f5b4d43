//go:build outside

package review

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"headroom/reports"
)

// inBrowser opens pages in Chromium, by Node with playwright-core and axe-core below
// NODE_PATH, and returns what is wrong with them.
func inBrowser(t *testing.T, files ...string) (faults string, ok bool) {
	t.Helper()
	browser, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("node", append([]string{"testdata/page.cjs", browser}, files...)...).CombinedOutput()
	return string(out), err == nil
}

func written(t *testing.T, name string, html []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, html, 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// The pages of the demos are without fault in a browser, on screens and on paper.
func TestOutsidePages(t *testing.T) {
	var files []string
	for _, r := range demos(t) {
		files = append(files, written(t, strings.TrimSuffix(r.Circuit.File, ".yaml")+".html", page(t, reports.Run{}, r)))
	}
	if faults, ok := inBrowser(t, files...); !ok {
		t.Error(faults)
	}
}

// The examination sees what is wrong with a page.
func TestOutsideSeesFaults(t *testing.T) {
	html := string(page(t, reports.Run{}, judged(t, press)))
	bad := strings.NewReplacer(
		`<main>`, `<main><img src="https://example.invalid/x.png"/><p style="color:#999;background:#fff;width:2000px;font-size:6px">pale and wide</p>`,
		`font-size: 13.5px`, `font-size: 9px`,
	).Replace(html)
	faults, ok := inBrowser(t, written(t, "bad.html", []byte(bad)))
	for _, want := range []string{"console:", "wider than the screen", "serious color-contrast", "critical image-alt", "too small on paper: pale", "too small on paper: 1.0"} {
		if ok || !strings.Contains(faults, want) {
			t.Errorf("not seen: %s\n%s", want, faults)
		}
	}
}
