package jobs

import (
	"bytes"

	"gopkg.in/yaml.v3"
)

// The one place that knows the YAML module: its nodes with line, column and style, and
// its decoder. Everything else reads trees of these.
type (
	yamlNode    = yaml.Node
	yamlDecoder = yaml.Decoder
)

const (
	aliasNode    = yaml.AliasNode
	mappingNode  = yaml.MappingNode
	scalarNode   = yaml.ScalarNode
	sequenceNode = yaml.SequenceNode

	flowStyle    = yaml.FlowStyle
	doubleQuoted = yaml.DoubleQuotedStyle
	singleQuoted = yaml.SingleQuotedStyle
	tagged       = yaml.TaggedStyle
)

// newDecoder reads the documents of a stream one after the other.
func newDecoder(data []byte) *yamlDecoder { return yaml.NewDecoder(bytes.NewReader(data)) }
