package expression

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/google/cel-go/cel"
)

// syntaxProblem tells in plain words what the parser complains about first.
func syntaxProblem(text string, e *cel.Error) *Problem {
	at := offsetOf(text, e.Location.Line(), e.Location.Column())
	message := plainWords(text, at, e.Message)
	return &Problem{at, min(1, len(text)-at), message}
}

// offsetOf is the byte offset of a line, from 1, and a column in characters, from 0.
func offsetOf(text string, line, column int) int {
	at := 0
	for ; line > 1; line-- {
		next := strings.IndexByte(text[at:], '\n')
		if next < 0 {
			return at
		}
		at += next + 1
	}
	if line < 1 { // limits are told of no place
		return 0
	}
	for range column {
		if at == len(text) {
			break
		}
		at++
		for at < len(text) && text[at]&0xC0 == 0x80 {
			at++
		}
	}
	return at
}

var quoted = regexp.MustCompile(`input '((?:[^']|'[^ ])*)'|at: '(.*)'`)

// number is a text that ends in a number and perhaps spaces.
var number = regexp.MustCompile(`(^|[^\w.])[0-9][0-9.]*\s*$`)

func plainWords(text string, at int, message string) string {
	token := ""
	if m := quoted.FindStringSubmatch(message); m != nil {
		token = m[1] + m[2]
	}
	switch {
	case strings.Contains(message, "recursion limit") || strings.Contains(message, "recursion depth"):
		return fmt.Sprintf("the expression is nested more than %d levels deep", maxRecursion)
	case strings.Contains(message, "has() macro"):
		return "has takes the name of a fact or limit, such as has(part.bypass)"
	case strings.Contains(message, "invalid int literal") || strings.Contains(message, "invalid double literal") || strings.Contains(message, "invalid uint literal"):
		return "the number here is too large, or not written as 4, 0.25 or 1.5e3"
	case strings.Contains(message, "limit"):
		return "the expression is too large"
	case strings.Contains(message, "'<EOF>'"):
		return "the expression breaks off; something is missing at its end"
	case strings.HasPrefix(token, "'") || strings.HasPrefix(token, `"`):
		return "the quotes that open here are not closed"
	case token == "=" || strings.HasPrefix(token, "= "):
		return "= has no meaning; two values are compared by =="
	case token == "&" || token == "|" || strings.HasPrefix(token, "& ") || strings.HasPrefix(token, "| "):
		return token[:1] + " has no meaning; conditions are joined by && and ||"
	case token == "and" || token == "or" || token == "not":
		return fmt.Sprintf("%s has no meaning; it is written %s", token, map[string]string{"and": "&&", "or": "||", "not": "!"}[token])
	case strings.Contains(message, "reserved identifier"):
		return strings.TrimPrefix(message, "Syntax error: ")
	case strings.Contains(message, ".?") || strings.Contains(message, "[?"):
		return "a ? before a name has no meaning; has(part.bypass) tells whether a fact is known"
	case token != "" && number.MatchString(text[:at]):
		return fmt.Sprintf("%s is not expected behind a number; a quantity is written q('210 bar')", token)
	case token != "" && strings.Contains(message, "token recognition"):
		return fmt.Sprintf("%s has no meaning in an expression", token)
	case token != "":
		return fmt.Sprintf("%s is not expected here; an operator, a bracket or a quote may be missing before it", token)
	}
	return "the expression cannot be read: " + firstLine(strings.TrimPrefix(message, "Syntax error: "))
}
