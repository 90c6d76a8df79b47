package jobs

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

const maxFaults = 100 // of one file; more help nobody

// parseTree reads bytes into the root mapping of one YAML document and checks
// everything that does not depend on what the file is: text, one document, no
// anchors, aliases or tags, depth. It returns nil when nothing more can be read.
func parseTree(file string, data []byte) (*yamlNode, Faults) {
	data, fs := clean(file, data)
	if len(fs) > 0 {
		return nil, fs
	}
	var doc, next yamlNode
	dec := newDecoder(data)
	if err := decode(dec, &doc); err != nil {
		if errors.Is(err, io.EOF) {
			return nil, Faults{{file, 1, 1, "file is empty", "begin it with format: 1"}}
		}
		return nil, Faults{syntaxFault(file, data, err)}
	}
	if err := decode(dec, &next); err == nil {
		return nil, Faults{{file, next.Line, next.Column, "a second document begins here", "keep one document a file: take out the line ---"}}
	} else if !errors.Is(err, io.EOF) {
		return nil, Faults{syntaxFault(file, data, err)}
	}
	if len(doc.Content) != 1 || doc.Content[0].Kind != mappingNode {
		return nil, Faults{{file, max(doc.Line, 1), max(doc.Column, 1), "file is not a list of keys and values", "begin it with format: 1"}}
	}
	root := doc.Content[0]
	return root, treeFaults(file, root, 1, nil)
}

// decode reads one document. A panic inside the YAML library is a fault of the
// file for us, never the end of the program.
func decode(dec *yamlDecoder, n *yamlNode) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("yaml: cannot be read: %v", p)
		}
	}()
	return dec.Decode(n)
}

// treeFaults walks a tree for what no file of ours may contain.
func treeFaults(file string, n *yamlNode, depth int, fs Faults) Faults {
	add := func(what, hint string) {
		if len(fs) < maxFaults {
			fs = append(fs, Fault{file, n.Line, n.Column, what, hint})
		}
	}
	if depth > maxDepth {
		add(fmt.Sprintf("nested deeper than %d levels", maxDepth), "take out the extra brackets or indentation")
		return fs
	}
	if n.Kind == aliasNode {
		add("alias "+quote("*"+n.Value), "write the value out; aliases are not used here")
		return fs
	}
	if n.Anchor != "" {
		add("anchor "+quote("&"+n.Anchor), "take it out; anchors are not used here")
	}
	if n.Style&tagged != 0 {
		add("tag "+quote(n.Tag), "take it out; tags are not used here")
	}
	if n.Kind == scalarNode {
		if r, bad := badRune(n.Value); bad {
			add(fmt.Sprintf("control character %U in text %s", r, quote(n.Value)), "a text is one line of printing characters")
		}
	}
	for _, c := range n.Content {
		fs = treeFaults(file, c, depth+1, fs)
	}
	return fs
}

var yamlLine = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)`) })

// syntaxFault names a YAML error in our words, with its line. YAML stops at the
// first one, so faults after it come to light when it is mended.
func syntaxFault(file string, data []byte, err error) Fault {
	m := yamlLine().FindStringSubmatch(strings.ReplaceAll(err.Error(), "\n", " "))
	if m == nil {
		return Fault{file, 0, 0, "file cannot be read as YAML: " + quote(err.Error()), "compare it with a new file of fliptrue new"}
	}
	line, _ := strconv.Atoi(m[1])
	lines := strings.Split(strings.ReplaceAll(strings.ReplaceAll(string(data), "\r\n", "\n"), "\r", "\n"), "\n")
	near := ""
	for i := max(0, line-2); i < min(len(lines), line+1); i++ {
		near += lines[i] + "\n"
	}
	text, hint := yamlWords(m[2], near)
	return Fault{file, line, 0, text, cmp.Or(hint, "mend it and check again; faults after it are not yet seen")}
}

// yamlWords says what YAML complains of in our words, given the lines about the place.
func yamlWords(text, near string) (what, hint string) {
	has := func(s string) bool { return strings.Contains(text, s) }
	switch {
	case strings.Contains(near, "\t"):
		return "tab used for indentation", "indent with spaces"
	case has("did not find expected ',' or"):
		return "a list or a group in brackets is not closed", "look for a missing comma or closing bracket at or before this line"
	case has("did not find expected key"), has("could not find expected ':'"):
		return "a key is not followed by ': '", "write key: value with a space after the colon, and indent it as its neighbours"
	case has("mapping values are not allowed"):
		return "a second ': ' in one value", "put the text in quotes, or begin a new line"
	case has("exceeded max depth"):
		return "nested too deep", "take out the extra brackets or indentation"
	case has("found unexpected end of stream"):
		return "a quote is not closed", "look for a missing quote at or after this line"
	case has("unknown anchor"):
		return "alias used", "write the value out; aliases are not used here"
	}
	return "cannot be read: " + strings.Trim(quote(strings.TrimPrefix(text, "yaml: ")), `"`), ""
}
