package reports

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"net/url"
	"strings"

	"headroom/rules"
	"headroom/specs"
)

type sarifResult struct {
	Rule         string             `json:"ruleId"`
	Index        int                `json:"ruleIndex"`
	Kind         string             `json:"kind"`
	Level        string             `json:"level"`
	Rank         *number            `json:"rank,omitempty"`
	Message      sarifText          `json:"message"`
	Locations    []sarifLocation    `json:"locations"`
	Related      []sarifLocation    `json:"relatedLocations,omitempty"`
	Fingerprints map[string]string  `json:"partialFingerprints"`
	Suppressions []sarifSuppression `json:"suppressions"`
	Properties   sarifBag           `json:"properties"`
}

// A sarifSuppression is a concession, which stands outside of what it is about.
type sarifSuppression struct {
	Kind          string `json:"kind"`
	Status        string `json:"status"`
	Justification string `json:"justification"`
}

type sarifBag struct {
	Grade    string      `json:"grade"`
	Subject  jsonSubject `json:"subject"`
	Measure  *jsonValue  `json:"measure,omitempty"`
	Limit    *jsonLimit  `json:"limit,omitempty"`
	Margin   *jsonValue  `json:"margin,omitempty"`
	Headroom *number     `json:"headroom,omitempty"`
	Missing  []string    `json:"missing,omitempty"`
}

type sarifLocation struct {
	ID       *int           `json:"id,omitempty"`
	Physical sarifPhysical  `json:"physicalLocation"`
	Logical  []sarifLogical `json:"logicalLocations,omitempty"`
	Message  *sarifText     `json:"message,omitempty"`
}

type sarifPhysical struct {
	Artifact sarifArtifactAt `json:"artifactLocation"`
	Region   sarifRegion     `json:"region"`
}

type sarifArtifactAt struct {
	URI   string `json:"uri"`
	Base  string `json:"uriBaseId"`
	Index *int   `json:"index,omitempty"`
}

type sarifRegion struct {
	StartLine   int        `json:"startLine"`
	StartColumn int        `json:"startColumn"`
	EndLine     int        `json:"endLine"`
	EndColumn   int        `json:"endColumn"`
	Snippet     *sarifText `json:"snippet,omitempty"`
}

// A sarifLogical is what a result is about, as the spec names it.
type sarifLogical struct {
	Name string `json:"name"`
	Full string `json:"fullyQualifiedName,omitempty"`
	Kind string `json:"kind"`
}

type sarifArtifact struct {
	Location sarifArtifactAt   `json:"location"`
	Length   int               `json:"length"`
	Hashes   map[string]string `json:"hashes,omitempty"`
	MIMEType string            `json:"mimeType"`
	Encoding string            `json:"encoding"`
	Roles    []string          `json:"roles"`
}

// sarifFiles are the files that results point into, in the order in which they were met.
type sarifFiles struct {
	at  map[string]int
	all []sarifArtifact
}

// of is the place of a file among all.
func (s *sarifFiles) of(f *sarifForm, r *rules.Result, file string) (path string, index int) {
	path = f.options.path(r, file)
	if i, known := s.at[path]; known {
		return path, i
	}
	a := sarifArtifact{Location: sarifArtifactAt{URI: pathURI(path), Base: sarifRoot}, Length: -1, MIMEType: "application/yaml", Encoding: "UTF-8", Roles: []string{"userSpecifiedConfiguration"}}
	if !r.Other && file == r.Circuit.File {
		a.Roles = []string{"analysisTarget"}
	}
	if text := textOf(r, file); text != nil {
		sum := sha256.Sum256(text)
		a.Length, a.Hashes = len(text), map[string]string{"sha-256": hex.EncodeToString(sum[:])}
	}
	s.at[path] = len(s.all)
	s.all = append(s.all, a)
	return path, s.at[path]
}

// pathURI is a relative path as a URI reference: its first segment may hold no colon
// that could be taken for a scheme's (RFC 3986, 4.2).
func pathURI(path string) string { return (&url.URL{Path: path}).String() }

// sarifFingerprint is the name under which our own fingerprint stands.
const sarifFingerprint = "headroomFinding/v1"

func (f *sarifForm) finding(r *rules.Result, a *rules.Assessment) sarifResult {
	tells := assessmentJSON(a)
	out := sarifResult{
		Rule: a.Rule.ID, Index: f.rules.index(a.Rule, true), Kind: "fail", Level: sarifLevels[a.Grade], Rank: sarifRank(a.Headroom),
		Message: sarifText{Text: sarifSentence(aboutSubject(a.Subject) + a.Message)}, Locations: []sarifLocation{f.location(r, a.At, a.Path, a.Subject)},
		Fingerprints: map[string]string{sarifFingerprint: a.ID}, Suppressions: []sarifSuppression{},
		Properties: sarifBag{Grade: a.Grade.String(), Subject: tells.Subject, Measure: tells.Measure, Limit: tells.Limit, Margin: tells.Margin, Headroom: tells.Headroom},
	}
	for _, s := range a.Working {
		if s.Origin == nil || s.Origin.At.Line == 0 || s.Origin.At.File == "" {
			continue
		}
		id := len(out.Related)
		at := f.location(r, s.Origin.At, "", rules.Subject{})
		at.ID, at.Message = &id, &sarifText{Text: sarifSentence(stepText(s))}
		out.Related = append(out.Related, at)
	}
	if c := a.Conceded; c != nil {
		out.Suppressions = append(out.Suppressions, sarifSuppression{"external", "accepted", "conceded " + concededText(c)})
	}
	return out
}

// aboutSubject names the subject of a message; a problem of a file names its own.
func aboutSubject(s rules.Subject) string {
	if s.Kind == "problem" || s.String() == "" {
		return ""
	}
	return s.String() + ": "
}

// notAssessed is the rule that had too little to go by: the standard's kind open. One
// that the project file excuses does not apply.
func (f *sarifForm) notAssessed(r *rules.Result, u *rules.Unassessed) sarifResult {
	kind, text := "open", "not assessed, for want of "+strings.Join(u.Missing, ", ")
	if u.Excused != "" {
		kind, text = "notApplicable", "does not apply: "+u.Excused
	}
	return sarifResult{
		Rule: u.Rule.ID, Index: f.rules.index(u.Rule, true), Kind: kind, Level: "none",
		Message: sarifText{Text: sarifSentence(aboutSubject(u.Subject) + text)}, Locations: []sarifLocation{f.location(r, u.At, "", u.Subject)},
		Fingerprints: map[string]string{sarifFingerprint: unassessedID(r, u)}, Suppressions: []sarifSuppression{},
		Properties: sarifBag{Grade: u.Rule.Grade.String(), Subject: subjectJSON(u.Subject), Missing: u.Missing},
	}
}

// unassessedID is the fingerprint of what was not assessed: of circuit, rule and subject.
func unassessedID(r *rules.Result, u *rules.Unassessed) string {
	sum := sha256.Sum256([]byte(strings.Join([]string{r.Circuit.Name.Value, u.Rule.ID, u.Subject.Kind, u.Subject.Name, u.Subject.Case}, "\x00")))
	return hex.EncodeToString(sum[:8])
}

// sarifRank is the importance of a finding from 0 to 100, of its headroom h: a reserve
// that is whole gives 0, a limit that is just reached 50, and beyond it rank rises
// towards 100: 50·(1 − h) where the limit holds, 50 + 50·|h|/(1 + |h|) where it does
// not. A rule without reserve has none.
func sarifRank(headroom *float64) *number {
	if headroom == nil || math.IsNaN(*headroom) {
		return nil
	}
	h := math.Min(*headroom, 1)
	rank := 50 * (1 - h)
	if h < 0 {
		rank = 50 + 50*h/(h-1)
	}
	if math.IsInf(h, -1) {
		rank = 100
	}
	out := number(math.Round(10*rank) / 10)
	return &out
}

// location is a span of a file in the units of the standard.
func (f *sarifForm) location(r *rules.Result, at specs.Span, path string, s rules.Subject) sarifLocation {
	if at.File == "" {
		at.File = r.Circuit.File
	}
	file, index := f.files.of(f, r, at.File)
	out := sarifLocation{Physical: sarifPhysical{
		Artifact: sarifArtifactAt{URI: pathURI(file), Base: sarifRoot, Index: &index},
		Region:   sarifRegionOf(textOf(r, at.File), at),
	}}
	if name := s.String(); name != "" && s.Kind != "problem" {
		out.Logical = []sarifLogical{{Name: name, Full: path, Kind: s.Kind}}
	}
	return out
}

// sarifRegionOf counts columns in UTF-16 code units. A text that is not known is taken
// to hold none that are two units wide before the place.
func sarifRegionOf(text []byte, at specs.Span) sarifRegion {
	line, column := max(1, at.Line), max(1, at.Column)
	endLine := max(line, at.EndLine)
	endColumn := max(1, at.EndColumn)
	if endLine == line {
		endColumn = max(column, endColumn)
	}
	out := sarifRegion{line, utf16Column(lineOf(text, line), column), endLine, utf16Column(lineOf(text, endLine), endColumn), nil}
	if piece := pieceOf(text, at); piece != "" {
		out.Snippet = &sarifText{Text: piece}
	}
	return out
}
