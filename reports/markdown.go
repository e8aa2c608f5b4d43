package reports

import "strings"

// plainMarkdown makes text safe to stand in a line or a table's cell of Markdown: what
// has a meaning there, and what would mention people or close a tag, is put out of force.
func plainMarkdown(text string) string {
	var out strings.Builder
	for _, r := range text {
		switch r {
		case '\\', '`', '*', '_', '[', ']', '#', '|', '~', '$':
			out.WriteByte('\\')
			out.WriteRune(r)
		case '<':
			out.WriteString("&lt;")
		case '>':
			out.WriteString("&gt;")
		case '&':
			out.WriteString("&amp;")
		case '@':
			out.WriteString("@\u200b") // a space of no width: no one is called
		case '\n', '\r', '\t':
			out.WriteByte(' ')
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}

// code puts text into a code span of Markdown.
func code(text string) string {
	text = strings.NewReplacer("`", "'", "\n", " ", "\r", " ", "|", "\\|").Replace(text)
	return "`" + text + "`"
}

// row is a row of a Markdown table, its cells made safe already.
func row(cells ...string) string { return "| " + strings.Join(cells, " | ") + " |\n" }
