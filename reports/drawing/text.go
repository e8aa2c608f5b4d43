package drawing

import (
	"encoding/xml"
	"strings"
	"unicode/utf8"
)

// Distances of lines and names, in pixels and characters.
const (
	lineHeight = 16.0
	nameWidth  = 15 // characters of a name before it is broken
)

// A face is how letters are set; sizes are those of drawing.css.
type face struct {
	size float64 // in pixels
	bold bool
}

// The faces of a picture.
var (
	titleFace = face{17, true}
	subFace   = face{13, false}
	nameFace  = face{14, true}
	markFace  = face{13, false}
	nodeFace  = face{12, false}
	portFace  = face{8, false}
)

// advance is how wide the characters from space to tilde are in DejaVu Sans, the first
// and broadest face of drawing.css, and in its bold, in thousandths of the size: the
// advance widths of the fonts' own tables (version 2.37). A narrower face leaves room.
var advance = [2][95]int{
	{318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
		636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
		1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
		603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
		500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
		635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838},
	{348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365,
		696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580,
		1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995, 837, 850,
		733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500,
		500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687,
		716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838},
}

// other is the width taken for all further characters, which titles alone have.
const other = 1100

// widthOf is how wide a text is in a face.
func widthOf(text string, f face) float64 {
	row := &advance[0]
	if f.bold {
		row = &advance[1]
	}
	sum := 0
	for _, r := range text {
		switch {
		case r >= ' ' && r <= '~':
			sum += row[r-' ']
		case r == '−':
			sum += row['+'-' ']
		default:
			sum += other
		}
	}
	return float64(sum) * f.size / 1000
}

// broken breaks a name into lines at its hyphens, or anywhere in a word that is too long.
func broken(name string) []string {
	var lines []string
	line := ""
	flush := func() {
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
	}
	for _, word := range strings.SplitAfter(name, "-") {
		for utf8.RuneCountInString(word) > nameWidth {
			flush()
			runes := []rune(word)
			lines = append(lines, string(runes[:nameWidth]))
			word = string(runes[nameWidth:])
		}
		if utf8.RuneCountInString(line)+utf8.RuneCountInString(word) > nameWidth {
			flush()
		}
		line += word
	}
	flush()
	return lines
}

// escape makes a text fit for XML: what XML cannot hold becomes U+FFFD.
func escape(text string) string {
	var out strings.Builder
	_ = xml.EscapeText(&out, []byte(text)) // a Builder takes all
	return out.String()
}
