package content

import (
	"encoding/xml"
	"errors"
	"fmt"
	"regexp"
	"strings"
)

// What a picture may ask of the machine that shows it.
const (
	maxSide     = 20_000     // pixels of width or height
	maxPixels   = 50_000_000 // 200 MB once it is unpacked
	maxSVGDepth = 256
)

// svgActive are the elements of SVG 2 that run, load or embed something else,
// in lower case. Drawings need none of them.
var svgActive = map[string]string{
	"script": "a script", "foreignobject": "foreign content", "iframe": "a frame", "object": "an object",
	"embed": "an object", "audio": "sound", "video": "a film", "handler": "a script", "listener": "a script",
	"animate": "an animation", "set": "an animation", "animatetransform": "an animation", "animatemotion": "an animation",
}

// A harmError says what a drawing holds that it must not.
type harmError struct{ error }

// svgHarm says why an element of a drawing is refused. A drawing is opened by
// itself too, where no page keeps it from running what it holds.
func svgHarm(e xml.StartElement) error {
	if what, active := svgActive[strings.ToLower(e.Name.Local)]; active {
		return fmt.Errorf("it holds %s", what)
	}
	for _, a := range e.Attr {
		name := strings.ToLower(a.Name.Local)
		value := strings.TrimSpace(a.Value)
		switch {
		case a.Name.Space == "xmlns" || name == "xmlns":
		case strings.HasPrefix(name, "on"):
			return fmt.Errorf("it holds a script, in the attribute %s", a.Name.Local)
		case name == "href" || name == "src":
			if !inDrawing(value) {
				return fmt.Errorf("it refers to something outside, in the attribute %s", a.Name.Local)
			}
		case a.Name.Space == "http://www.w3.org/XML/1998/namespace" && name == "base":
			return errors.New("it refers to something outside, in the attribute xml:base")
		case a.Name.Space == "": // what belongs to the program that drew it does nothing
			if err := cssHarm(value); err != nil {
				return err
			}
		}
	}
	return nil
}

var svgData = regexp.MustCompile(`^data:image/(png|jpeg|gif);base64,[A-Za-z0-9+/=\s]*$`)

// inDrawing reports whether a reference stays in the drawing: a place in it,
// or a picture of pixels that it holds.
func inDrawing(ref string) bool {
	return ref == "" || strings.HasPrefix(ref, "#") || svgData.MatchString(ref)
}

// cssURL is what loads in a style. An escape could hide it, so a style with a
// backslash is refused too.
var cssURL = regexp.MustCompile(`(?i)(?:url|src|image|image-set)\s*\(\s*["']?\s*([^"')\s]*)`)

func cssHarm(text string) error {
	if strings.Contains(text, `\`) {
		return errors.New("a style in it hides something behind a backslash")
	}
	for _, m := range cssURL.FindAllStringSubmatch(text, -1) {
		if !inDrawing(m[1]) {
			return fmt.Errorf("it refers to something outside, in a style: %s", m[0])
		}
	}
	return nil
}

// sheetHarm says why a style sheet in a drawing is refused.
func sheetHarm(text string) error {
	if strings.Contains(strings.ToLower(text), "@import") {
		return errors.New("its style sheet imports another")
	}
	return cssHarm(text)
}

// svgHarmIn looks at what stands around the drawing: definitions of entities,
// and instructions to other programs.
func svgHarmIn(tok xml.Token) error {
	switch t := tok.(type) {
	case xml.Directive:
		if strings.Contains(strings.ToUpper(string(t)), "<!ENTITY") || strings.Contains(string(t), "[") {
			return errors.New("it defines entities")
		}
	case xml.ProcInst:
		if t.Target != "xml" {
			return fmt.Errorf("it holds an instruction to other programs, %s", t.Target)
		}
	}
	return nil
}
