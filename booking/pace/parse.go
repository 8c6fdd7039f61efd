package pace

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
)

// maxFile is the size of a described visit we read; more is a wrong file.
const maxFile = 1 << 20

// Example is a visit described as ParseJob reads it, for help texts.
const Example = `{
  "mobs": [
    {"species": "sheep", "class": "ewe", "head": 240, "services": ["drench", "foot-check"]},
    {"species": "sheep", "class": "lamb", "head": 180, "services": ["weigh", "sort"], "gates": 3,
     "lots": [{"head": 100, "size": 2}, {"head": 80, "size": 3}]}
  ],
  "setting": {"surface": "firm", "lights": false, "power": true, "helper": true, "hygiene": 0},
  "rig": {"mount": "trailer", "side_tilt": true, "lead_up_places": 10, "powered_gates": 3},
  "crew": {"people": 1, "pusher": true}
}
`

// ParseJob reads a described visit and checks it. The error is an *Error that
// names the field. Unknown fields are refused, so that a slip of the keyboard
// does not change an estimate unseen.
func ParseJob(data []byte) (Job, error) {
	if len(data) > maxFile {
		return Job{}, bad("", "The file is larger than 1 MiB; a described visit is far smaller.")
	}
	var j Job
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&j); err != nil {
		return Job{}, explain(err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return Job{}, bad("", "The file goes on after the visit; give one visit in a file.")
	}
	if err := j.check(); err != nil {
		return Job{}, err
	}
	return j, nil
}

// explain turns a decoding error into a sentence.
func explain(err error) *Error {
	var kind *json.UnmarshalTypeError
	var syntax *json.SyntaxError
	switch {
	case errors.Is(err, io.EOF):
		return bad("", "The file is empty; give a visit as a JSON object.")
	case errors.Is(err, io.ErrUnexpectedEOF):
		return bad("", "The file ends in the middle of the visit; a bracket or brace is missing.")
	case errors.As(err, &kind) && kind.Field == "":
		return bad("", "A visit is a JSON object in braces, not %s.", article(kind.Value))
	case errors.As(err, &kind):
		return bad(kind.Field, "This takes %s, not %s.", wanted(kind.Type.Kind().String()), article(kind.Value))
	case errors.As(err, &syntax):
		return bad("", "The file is not JSON near byte %d.", syntax.Offset)
	}
	if name, found := strings.CutPrefix(err.Error(), "json: unknown field "); found {
		name = strings.Trim(name, `"`)
		return bad(name, "There is no field %s; see the help for the fields a visit has.", quoted(name))
	}
	return bad("", "The file cannot be read as a visit.")
}

// article says what was found: "a number" for "number 1e9".
func article(found string) string {
	word, rest, _ := strings.Cut(found, " ")
	switch word {
	case "bool":
		return "true or false"
	case "string":
		return "a text"
	case "object", "array":
		return "an " + word
	}
	if rest != "" {
		return "the number " + quoted(rest)
	}
	return "a number"
}

func wanted(kind string) string {
	switch kind {
	case "int":
		return "a whole number of sensible size"
	case "bool":
		return "true or false"
	case "string":
		return "a text"
	case "slice":
		return "a list in square brackets"
	}
	return "an object in braces"
}
