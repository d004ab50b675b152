package content

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
	"io/fs"
	"math"
	"path"
	"regexp"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc/diag"
)

// A pictureUse is a picture on a page, to be looked up when all pages are read.
type pictureUse struct {
	node *ast.Image
	path string
	at   diag.Span
}

// readImage notes a picture and reads its caption, which may hold figures.
func (d *draft) readImage(n *ast.Image) {
	src := d.page.File.Text
	at := d.destination(n, n.Destination, n.Reference)
	if !d.refer(at, n.Reference, n.Destination, n.Title) {
		return
	}
	target := resolve(n.Destination)
	if strings.TrimSpace(Fill(textParts(n, src), nil)) == "" {
		d.list.Warn(at, "alt-text", "this picture has no text for those who cannot see it").
			Hint = "say what it shows: ![the frame from below](" + target + ")"
	}
	if len(n.Title) > 0 && bytes.Contains(n.Title, []byte("{=")) {
		if i, ok := d.titlePlace(n.Destination, n.Title); ok {
			if parts := d.fill(i, i+len(n.Title)); hasFigure(parts) {
				if d.page.Captions == nil {
					d.page.Captions = map[*ast.Image][]FilledPart{}
				}
				for k := range parts {
					if parts[k].Expr < 0 {
						parts[k].Text = resolve([]byte(parts[k].Text))
					}
				}
				d.page.Captions[n] = parts
				d.images = append(d.images, n)
			}
		} else {
			d.list.Add(at, "figure-place", "the caption of this picture stands apart from its address, so its figures are not filled in").
				Hint = "write address and caption on one line: ![…](../pictures/name.png \"…\")"
		}
	}
	switch s := scheme.FindStringSubmatch(target); {
	case s != nil:
		d.list.Add(at, "picture", "a picture must be in the manual, so that it is there without a network").
			Hint = "put it into pictures/ and write ../pictures/name.png"
		return
	case strings.HasPrefix(target, "/"), target == "":
		d.list.Add(at, "picture", "%q is no path to a picture", target).Hint = "write it from the page's folder: ../pictures/name.png"
		return
	}
	name := path.Join(pagesDir, unpercent(target))
	if strings.HasPrefix(name, "..") {
		d.list.Add(at, "picture", "this path leads out of the manual").Hint = "put the picture into pictures/ and write ../pictures/name.png"
		return
	}
	d.pictures = append(d.pictures, pictureUse{n, name, at})
}

// loadPicture reads a picture once, for the first page that shows it.
func (m *Manual) loadPicture(u pictureUse, list *diag.List) {
	if _, seen := m.Pictures[u.path]; seen {
		return
	}
	if !m.mustExist(u.path, u.at, "picture", list) {
		return
	}
	info, err := fs.Stat(m.FS, u.path)
	if err == nil && info.Size() > maxPicture {
		list.Add(u.at, "picture", "%s has %.1f MiB, more than the %d MiB that a page can show", u.path,
			float64(info.Size())/(1<<20), maxPicture>>20).Hint = "make it smaller; 2000 pixels are enough for any screen"
		return
	}
	data, err := fs.ReadFile(m.FS, u.path)
	if err != nil {
		list.Add(u.at, "picture", "%s cannot be read: %s", u.path, plainError(err))
		return
	}
	p := &Picture{Path: u.path, Data: data}
	var c image.Config
	switch strings.ToLower(path.Ext(u.path)) {
	case ".png":
		p.Type = "image/png"
		c, err = png.DecodeConfig(bytes.NewReader(data))
	case ".jpg", ".jpeg":
		p.Type = "image/jpeg"
		c, err = jpeg.DecodeConfig(bytes.NewReader(data))
	case ".gif":
		p.Type = "image/gif"
		c, err = gif.DecodeConfig(bytes.NewReader(data))
	case ".svg":
		p.Type = "image/svg+xml"
		c.Width, c.Height, err = svgSize(data)
	default:
		list.Add(u.at, "picture", "%s is of no kind that pages can show", u.path).Hint = "use .png, .jpg, .gif or .svg"
		return
	}
	if n := c.Width * c.Height; err == nil && p.Type != "image/svg+xml" && (c.Width > maxSide || c.Height > maxSide || n > maxPixels) {
		list.Add(u.at, "picture", "%s has %d × %d pixels, more than a reader's machine should have to hold", u.path, c.Width, c.Height).
			Hint = "make it smaller; 2000 pixels are enough for any screen"
		return
	}
	if err != nil {
		list.Add(u.at, "picture", "%s cannot be read as %s: %s", u.path, p.Type, err).
			Hint = pictureHint(err)
		return
	}
	p.Width, p.Height = c.Width, c.Height
	m.Pictures[u.path] = p
}

var svgLength = regexp.MustCompile(`^\s*([0-9]*\.?[0-9]+(?:[eE][+-]?[0-9]+)?)\s*(px|pt|pc|mm|cm|in|)\s*$`)

// svgUnits are the absolute units of length in CSS pixels (CSS Values and
// Units Level 3, section 6.2).
var svgUnits = map[string]float64{"": 1, "px": 1, "pt": 96. / 72, "pc": 16, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96}

// svgSize reads a drawing to its end and returns its size in pixels: from width
// and height, else from the viewBox, else 0.
func svgSize(data []byte) (w, h int, err error) {
	dec := xml.NewDecoder(bytes.NewReader(data))
	dec.CharsetReader = func(charset string, _ io.Reader) (io.Reader, error) {
		return nil, errors.New("its character set is " + charset + ", not UTF-8")
	}
	root, style, depth := false, false, 0
	var sheet strings.Builder // text of the style sheet that is being read
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			if !root {
				return 0, 0, errors.New("it holds no drawing")
			}
			return w, h, nil
		}
		if err != nil {
			return 0, 0, err
		}
		if err := svgHarmIn(tok); err != nil {
			return 0, 0, &harmError{err}
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			switch t := tok.(type) {
			case xml.EndElement:
				depth--
				if err := sheetHarm(sheet.String()); err != nil {
					return 0, 0, &harmError{err}
				}
				sheet.Reset()
				style = false
			case xml.CharData:
				if style { // in pieces, where a comment or a quoted section parts them
					sheet.Write(t)
				}
			}
			continue
		}
		if depth++; depth > maxSVGDepth {
			return 0, 0, fmt.Errorf("its elements are nested more than %d deep", maxSVGDepth)
		}
		style = strings.EqualFold(e.Name.Local, "style")
		if !root {
			root = true
			if e.Name.Local != "svg" {
				return 0, 0, errors.New("its root element is " + e.Name.Local + ", not svg")
			}
			w, h = rootSize(e)
		}
		if err := svgHarm(e); err != nil {
			return 0, 0, &harmError{err}
		}
	}
}

func rootSize(e xml.StartElement) (w, h int) {
	attr := map[string]string{}
	for _, a := range e.Attr {
		attr[a.Name.Local] = a.Value
	}
	length := func(s string) float64 {
		mm := svgLength.FindStringSubmatch(s)
		if mm == nil {
			return 0
		}
		v, err := strconv.ParseFloat(mm[1], 64)
		if err != nil {
			return 0
		}
		return v * svgUnits[mm[2]]
	}
	fw, fh := length(attr["width"]), length(attr["height"])
	if fw == 0 || fh == 0 {
		box := strings.FieldsFunc(attr["viewBox"], func(r rune) bool { return r == ' ' || r == ',' || r == '\t' || r == '\n' })
		if len(box) == 4 {
			bw, bh := length(box[2]), length(box[3])
			switch {
			case bw <= 0 || bh <= 0:
			case fw > 0:
				fh = fw * bh / bw
			case fh > 0:
				fw = fh * bw / bh
			default:
				fw, fh = bw, bh
			}
		}
	}
	if !(fw > 0 && fh > 0 && fw < 1e6 && fh < 1e6) {
		return 0, 0
	}
	return int(math.Round(fw)), int(math.Round(fh))
}

func pictureHint(err error) string {
	if harm := (*harmError)(nil); errors.As(err, &harm) {
		return "save it as a plain drawing, without anything that runs or is loaded"
	}
	return "save it again, with the ending that fits what is in it"
}
