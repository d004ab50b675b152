package content

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"strings"
	"testing"
)

func TestSVGHarm(t *testing.T) {
	for body, want := range map[string]string{
		`<script>x()</script>`:                                         "a script",
		`<g onload="x()"/>`:                                            "the attribute onload",
		`<foreignObject><p/></foreignObject>`:                          "foreign content",
		`<use href="https://example.org/a.svg#x"/>`:                    "the attribute href",
		`<a href="javascript:x()"><path d=""/></a>`:                    "the attribute href",
		`<image href="../other.png"/>`:                                 "the attribute href",
		`<image href="data:image/svg+xml;base64,AAAA"/>`:               "the attribute href",
		`<g style="fill: url(https://example.org/x)"/>`:                "in a style",
		`<g fill="URL( 'https://example.org/x' )"/>`:                   "in a style",
		`<style>@import "https://example.org/x";</style>`:              "imports another",
		`<style>g{fill:u\72l(//example.org)}</style>`:                  "backslash",
		`<style>g{fill:ur<!-- -->l(//example.org)}</style>`:            "in a style",
		`<style>g{fill:ur<![CDATA[l(//example.org)]]></style>`:         "in a style",
		`<style>g{fill:url(//example.org)}</style>`:                    "in a style",
		`<set attributeName="href" to="javascript:x()"/>`:              "an animation",
		`<?xml-stylesheet href="https://example.org/x"?>`:              "instruction",
		strings.Repeat("<g>", 300) + strings.Repeat("</g>", 300):       "nested more than",
		`<g fill="url(#a)"/><use href="#a"/><style>g{}</style>`:        "",
		`<image href="data:image/png;base64,iVBORw0KGgo="/><g id=""/>`: "",
	} {
		_, _, err := svgSize([]byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:on="urn:x" width="3" height="2">` + body + `</svg>`))
		if want == "" && err != nil {
			t.Errorf("%s: %v", body, err)
		}
		if want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: got %v, want an error with %q", body, err, want)
		}
	}
	bomb := `<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg"/>`
	if _, _, err := svgSize([]byte(bomb)); err == nil || !strings.Contains(err.Error(), "entities") {
		t.Errorf("entities: %v", err)
	}
}

// pngHead is the beginning of a PNG of the size given (PNG, third edition,
// section 11.2.1): enough to tell its size, far from the pixels that it claims.
func pngHead(w, h uint32) []byte {
	head := []byte("IHDR")
	head = binary.BigEndian.AppendUint32(head, w)
	head = binary.BigEndian.AppendUint32(head, h)
	head = append(head, 8, 2, 0, 0, 0)
	b := bytes.NewBufferString("\x89PNG\r\n\x1a\n")
	binary.Write(b, binary.BigEndian, uint32(13))
	b.Write(head)
	binary.Write(b, binary.BigEndian, crc32.ChecksumIEEE(head))
	return b.Bytes()
}

func TestPictureBomb(t *testing.T) {
	_, list := testManual(t, map[string]string{
		configName:       "title = \"T\"\nrelease = \"1\"\n",
		"pages/1-t.md":   "# T\n\n![all of it](../pictures/a.png)\n",
		"pictures/a.png": string(pngHead(15_000, 15_000)),
	})
	want := "pages/1-t.md:3:14: error: pictures/a.png has 15000 × 15000 pixels, more than a reader's machine should have to hold [picture]\n" +
		"    ![all of it](../pictures/a.png)\n                 ^^^^^^^^^^^^^^^^^\n  hint: make it smaller; 2000 pixels are enough for any screen"
	if got := strings.TrimSpace(list.Error()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
