package build

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"

	"github.com/klauspost/compress/flate"

	"workings/theme"
)

// Files of a release for readers without a network.
const (
	CopyFile   = "offline.zip" // the release alone, to be unpacked anywhere
	WorkerFile = "offline.js"  // keeps the release in the reader's browser
)

// offlineJobs make what a reader without a network needs of a release, a copy
// in one zip and the script that keeps it in a browser, and then the list of
// the release's files. They are made of all its other files, and come last.
func offlineJobs(t *theme.Theme, site *Site, in *theme.Input, tool Tool) []job {
	dir := in.Release.Dir
	return []job{
		{dir + "/" + WorkerFile, func() ([]byte, error) {
			edition, files, err := editionOf(site, dir)
			if err != nil {
				return nil, err
			}
			return theme.Worker(dir+" "+edition[:shortSum], files)
		}},
		{dir + "/" + CopyFile, func() ([]byte, error) {
			cover, err := coverAlone(t, in, tool)
			if err != nil {
				return nil, err
			}
			return offlineCopy(site, cover, in)
		}},
		{dir + "/" + ListFile, func() ([]byte, error) { return site.checksums(dir) }},
	}
}

// isOffline reports whether a file is made of the others of its release, and
// stands in no copy.
func isOffline(name string) bool {
	dir, base := path.Split(name)
	return strings.Count(dir, "/") == 1 && (base == WorkerFile || base == CopyFile || base == ListFile)
}

// ofRelease lists the files that belong to a release, or to all, but for those
// that are made of them.
func (s *Site) ofRelease(dir string) []string {
	return slices.DeleteFunc(s.Paths(), func(p string) bool {
		return isOffline(p) || !strings.HasPrefix(p, dir+"/") && !strings.HasPrefix(p, assetsDir)
	})
}

// editionOf names what a browser keeps of a release by the checksum of it all,
// and lists the files with the beginnings of their own, by their paths from
// the release's folder.
func editionOf(site *Site, dir string) (sum string, files map[string]string, err error) {
	files = map[string]string{}
	all := sha256.New()
	for _, p := range site.ofRelease(dir) {
		rel, own := strings.CutPrefix(p, dir+"/")
		if !own {
			rel = "../" + p
		}
		f, err := site.made(p)
		if err != nil {
			return "", nil, err
		}
		one := f.checksum()
		fmt.Fprintf(all, "%x  %s\n", one, rel)
		files[rel] = hex.EncodeToString(one[:8])
	}
	return hex.EncodeToString(all.Sum(nil)), files, nil
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
	own := map[string]*file{"index.html": {path: "index.html", copy: in.Release.Dir, make: func() ([]byte, error) { return cover, nil }}}
	for _, p := range site.ofRelease(in.Release.Dir) {
		own[p] = site.files[p]
	}
	paths := slices.Sorted(maps.Keys(own))
	packed, errs := make([]packedFile, len(paths)), make([]error, len(paths))
	inParallel(len(paths), func(i int) {
		f := own[paths[i]]
		if errs[i] = f.done(); errs[i] == nil {
			packed[i] = f.pack()
		}
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	// The list of the release, then that of it all.
	for _, folder := range []string{in.Release.Dir + "/", ""} {
		var list bytes.Buffer
		for i, p := range paths {
			if rel, ok := strings.CutPrefix(p, folder); ok {
				fmt.Fprintf(&list, "%x  %s\n", packed[i].sum, rel)
			}
		}
		at, _ := slices.BinarySearch(paths, folder+ListFile)
		paths = slices.Insert(paths, at, folder+ListFile)
		packed = slices.Insert(packed, at, deflate(sha256.Sum256(list.Bytes()), list.Bytes()))
	}
	const head = 200 // a file's entry and its line in the directory, without its name in both
	size, top := 0, theme.FileName(in)+"/"
	for i, p := range paths {
		size += len(packed[i].data) + 2*len(top+p) + head
	}
	var b bytes.Buffer
	b.Grow(size)
	w := zip.NewWriter(&b)
	for i, p := range paths {
		f, err := w.CreateRaw(&zip.FileHeader{
			Name: top + p, Method: packed[i].method, ModifiedDate: firstDay,
			CRC32: packed[i].crc, UncompressedSize64: packed[i].size, CompressedSize64: uint64(len(packed[i].data)),
		})
		if err != nil {
			return nil, err
		}
		if _, err := f.Write(packed[i].data); err != nil {
			return nil, err
		}
		packed[i].data = nil
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// A packedFile is a file as it goes into a zip.
type packedFile struct {
	data   []byte
	method uint16
	size   uint64
	crc    uint32
	sum    [sha256.Size]byte // of what is unpacked
}

func sumOf(parts [][]byte) (sum [sha256.Size]byte) {
	h := sha256.New()
	for _, part := range parts {
		h.Write(part)
	}
	h.Sum(sum[:0])
	return sum
}

// deflate packs a file with this checksum, given in parts, as fast as it goes: a
// copy is made with every publishing and fetched now and then. What does not get
// smaller, such as pictures, is stored.
func deflate(sum [sha256.Size]byte, parts ...[]byte) packedFile {
	d := deflaters.Get().(*deflater)
	defer deflaters.Put(d)
	d.b.Reset()
	d.w.Reset(&d.b)
	p := packedFile{method: zip.Deflate, sum: sum}
	for _, part := range parts {
		d.w.Write(part) // into a buffer, which never fails
		p.crc = crc32.Update(p.crc, crc32.IEEETable, part)
		p.size += uint64(len(part))
	}
	d.w.Close()
	switch {
	case uint64(d.b.Len()) < p.size:
		p.data = bytes.Clone(d.b.Bytes())
	case len(parts) == 1:
		p.data, p.method = parts[0], zip.Store
	default:
		p.data, p.method = bytes.Join(parts, nil), zip.Store
	}
	return p
}

// A deflater packs into a buffer of its own. They are kept from file to file.
type deflater struct {
	w *flate.Writer
	b bytes.Buffer
}

var deflaters = sync.Pool{New: func() any {
	w, _ := flate.NewWriter(nil, flate.BestSpeed) // fails for another level only
	return &deflater{w: w}
}}

// withoutOffer takes the offer of a copy out of the cover of a release.
func withoutOffer(page []byte) []byte {
	before, rest, ok := bytes.Cut(page, []byte(`<p class="offline">`))
	_, after, ends := bytes.Cut(rest, []byte("</p>\n"))
	if !ok || !ends {
		return page
	}
	return slices.Concat(before, after)
}

// unlink makes text of the links of a sheet that lead out of its release: what
// is left works alone. It gives the sheet in parts.
func unlink(page []byte, dir string) (parts [][]byte) {
	const mark = `href="../`
	put := func(part []byte) { parts = append(parts, part) }
	for from := 0; ; {
		i := bytes.Index(page[from:], []byte(mark))
		if i < 0 {
			put(page)
			return parts
		}
		i += from
		target := page[i+len(mark):]
		start, end := bytes.LastIndexByte(page[:i], '<'), i+bytes.IndexByte(page[i:], '>')
		length := bytes.IndexByte(target, '"')
		tag := string(page[start:i])
		stays := false
		for _, s := range []string{assetsDir, "index.html", dir + "/"} {
			stays = stays || bytes.HasPrefix(target, []byte(s))
		}
		switch {
		case stays || !strings.HasPrefix(tag, "<a ") && !strings.HasPrefix(tag, "<link "):
			from = end + 1
			continue
		case strings.HasPrefix(tag, "<link "):
			put(page[:start])
			page = bytes.TrimPrefix(page[end+1:], []byte("\n"))
		default:
			// Links cannot stand in links, so the next end is that of this one.
			stop := end + bytes.Index(page[end:], []byte("</a>"))
			put(page[:start])
			put([]byte(strings.TrimRight("<span"+tag[len("<a"):], " ")))
			put(target[length+1 : end-i-len(mark)+1])
			put(page[end+1 : stop])
			put([]byte("</span>"))
			page = page[stop+len("</a>"):]
		}
		from = 0
	}
}
