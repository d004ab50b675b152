package build

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"workings/theme"
)

// Files of a release for readers without a network.
const (
	CopyFile   = "offline.zip" // the release alone, to be unpacked anywhere
	WorkerFile = "offline.js"  // keeps the release in the reader's browser
)

// addOffline adds to a site what a reader without a network needs of a
// release: a copy in one zip, and the script that keeps it in a browser. All
// other files of the release must be there.
func addOffline(site *Site, t *theme.Theme, in *theme.Input, opt Options) error {
	dir := in.Release.Dir
	edition, files := editionOf(site, dir)
	worker, err := theme.Worker(dir+" "+edition[:shortSum], files)
	if err != nil {
		return err
	}
	cover, err := coverAlone(t, in, opt.Tool)
	if err != nil {
		return err
	}
	packed, err := opt.Cache.copy(fmt.Sprintf("%s %s %x", dir, edition, sha256.Sum256(cover)), func() ([]byte, error) {
		return offlineCopy(site, cover, in)
	})
	if err != nil {
		return err
	}
	if err := site.add(dir+"/"+WorkerFile, worker); err != nil {
		return err
	}
	return site.add(dir+"/"+CopyFile, packed)
}

// ofRelease reports whether a file belongs to a release, or to all.
func ofRelease(path, dir string) bool {
	return strings.HasPrefix(path, dir+"/") || strings.HasPrefix(path, "assets/")
}

// editionOf names what a browser keeps of a release by the checksum of it all,
// and lists the files with the beginnings of their own, by their paths from
// the release's folder.
func editionOf(site *Site, dir string) (sum string, files map[string]string) {
	files = map[string]string{}
	all := sha256.New()
	for _, p := range site.Paths() {
		if !ofRelease(p, dir) {
			continue
		}
		rel, own := strings.CutPrefix(p, dir+"/")
		if !own {
			rel = "../" + p
		}
		one := sha256.Sum256(site.files[p])
		fmt.Fprintf(all, "%x  %s\n", one, rel)
		files[rel] = hex.EncodeToString(one[:8])
	}
	return hex.EncodeToString(all.Sum(nil)), files
}

// coverAlone is the cover of a site that holds nothing but one release.
func coverAlone(t *theme.Theme, in *theme.Input, tool Tool) ([]byte, error) {
	alone := *in.Site
	alone.Releases = []*theme.Release{in.Release}
	alone.Feed = false // the copy has none
	return t.Cover(&alone, tool.String())
}

// offlineCopy packs a release into a zip that holds nothing of other releases
// and leads to none, with a cover of its own.
func offlineCopy(site *Site, cover []byte, in *theme.Input) ([]byte, error) {
	own := &Site{}
	if err := own.add("index.html", cover); err != nil {
		return nil, err
	}
	for _, p := range site.Paths() {
		if !ofRelease(p, in.Release.Dir) {
			continue
		}
		data := site.files[p]
		if strings.HasSuffix(p, ".html") {
			data = unlink(data, in.Release.Dir)
		}
		if err := own.add(p, data); err != nil {
			return nil, err
		}
	}
	top := theme.FileName(in) + "/"
	if err := own.add(in.Release.Dir+"/"+ListFile, own.checksums(in.Release.Dir)); err != nil {
		return nil, err
	}
	if err := own.add(ListFile, own.checksums("")); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, p := range own.Paths() {
		f, err := w.CreateHeader(&zip.FileHeader{Name: top + p, Method: zip.Deflate, ModifiedDate: firstDay})
		if err != nil {
			return nil, err
		}
		if _, err := f.Write(own.files[p]); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// unlink makes text of the links of a sheet that lead out of its release, and
// takes out the offer of a copy: what is left works alone.
func unlink(page []byte, dir string) []byte {
	const mark = `href="../`
	var out bytes.Buffer
	for {
		i := bytes.Index(page, []byte(mark))
		if i < 0 {
			break
		}
		target := page[i+len(mark):]
		start, end := bytes.LastIndexByte(page[:i], '<'), i+bytes.IndexByte(page[i:], '>')
		length := bytes.IndexByte(target, '"')
		tag := string(page[start:i])
		stays := false
		for _, s := range []string{"assets/", "index.html", dir + "/"} {
			stays = stays || bytes.HasPrefix(target, []byte(s))
		}
		switch {
		case stays || !strings.HasPrefix(tag, "<a ") && !strings.HasPrefix(tag, "<link "):
			out.Write(page[:end+1])
			page = page[end+1:]
		case strings.HasPrefix(tag, "<link "):
			out.Write(page[:start])
			page = bytes.TrimPrefix(page[end+1:], []byte("\n"))
		default:
			// Links cannot stand in links, so the next end is that of this one.
			stop := end + bytes.Index(page[end:], []byte("</a>"))
			out.Write(page[:start])
			out.WriteString(strings.TrimRight("<span"+tag[len("<a"):], " "))
			out.Write(target[length+1 : end-i-len(mark)+1])
			out.Write(page[end+1 : stop])
			out.WriteString("</span>")
			page = page[stop+len("</a>"):]
		}
	}
	out.Write(page)
	text := out.Bytes()
	const offer = `<p class="offline">`
	if i := bytes.Index(text, []byte(offer)); i >= 0 {
		if n := bytes.Index(text[i:], []byte("</p>\n")); n >= 0 {
			text = append(text[:i:i], text[i+n+len("</p>\n"):]...)
		}
	}
	return text
}
