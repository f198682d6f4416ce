package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"doorwright/document"
)

// Path splits the path of a field as mends write it, such as "runs.W3.cable". The name of a run may have dots of its own:
// one that no document has written yet is named after the places it joins.
func Path(text string) []string {
	parts := strings.Split(text, ".")
	if len(parts) < 3 || parts[0] != "runs" {
		return parts
	}
	end := 2
	for end < len(parts) && !slices.Contains(runFields, parts[end]) {
		end++
	}
	return append([]string{parts[0], strings.Join(parts[1:end], ".")}, parts[end:]...)
}

// runFields are the fields of a run.
var runFields = []string{"from", "to", "cable", "length", "pulled", "carries", "passes"}

// Put writes one value of a document as a person would write it there; an empty one takes the field away. A model stands for
// its device: without one the device goes, and a device that is written as its model alone stays so. It errs where there is
// no such place. Whether the document is right then, Read says.
func Put(tree *document.Tree, path []string, v string) error {
	if ofDevice(path) {
		device := path[:len(path)-1]
		old, err := tree.Get(device...)
		if err != nil {
			return err
		}
		if v == "" {
			return tree.Set("", device...)
		}
		if !strings.Contains(old, ":") {
			_, first := strconv.Atoi(device[len(device)-1])
			if parent, err := tree.Get(device[:len(device)-1]...); first == nil && err == nil && parent == "" {
				return tree.Set("["+v+"]", device[:len(device)-1]...) // the first of a list
			}
			return tree.Set(v, device...)
		}
	}
	if v == "" {
		return tree.Set("", path...)
	}
	text, err := written(path[len(path)-1], v)
	if err != nil {
		return err
	}
	return tree.Set(text, path...)
}

// ofDevice says that a path leads to the model of a device that may be left out: one of a door, or what ends at the board
// of a supply.
func ofDevice(path []string) bool {
	return path[len(path)-1] == "model" && (path[0] == "doors" || path[0] == "supplies" && len(path) > 3)
}

// written is a value as YAML: yes, no and counts bare, lists with or without their brackets, mappings as they are, all else
// as a text, quoted where it must be.
func written(field, v string) (string, error) {
	if field == "fire-rated" || field == "leaves" {
		if v == "yes" || v == "no" || v == "1" || v == "2" {
			return v, nil
		}
		return "", fmt.Errorf("%q is none of the choices", v)
	}
	if strings.HasPrefix(v, "[") || strings.HasPrefix(v, "{") || strings.Contains(v, "\n") {
		return v, nil
	}
	if field == "rules" || field == "released" || field == "latching" {
		return "[" + v + "]", nil
	}
	text, err := document.Print(v)
	return strings.TrimSpace(string(text)), err
}
