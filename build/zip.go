package build

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"strings"
)

// What a packed release may hold. A manual with its pictures stays far below;
// beyond, the file is more likely made to exhaust the reader's memory.
const (
	maxPackedBytes  = 256 << 20 // of the archive, and of its files together once unpacked
	maxPackedFiles  = 20_000
	maxPackedRatio  = 200 // unpacked to packed, of files above minRatioBytes
	minRatioBytes   = 1 << 20
	packedLimitHint = "a release may hold 256 MiB in 20000 files"
)

// openZip returns the files of a zip held in memory. It refuses an archive
// whose names leave it or stand for two files at once, whose entries are
// neither files nor folders, or which is larger than a release may be.
func openZip(data []byte) (fs.FS, error) {
	if len(data) > maxPackedBytes {
		return nil, fmt.Errorf("the zip is too large: %s", packedLimitHint)
	}
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("cannot read the zip: %s", strings.TrimPrefix(err.Error(), "zip: "))
	}
	if len(r.File) > maxPackedFiles {
		return nil, fmt.Errorf("the zip holds %d files: %s", len(r.File), packedLimitHint)
	}
	seen := make(map[string]string, len(r.File))
	var total uint64
	for _, f := range r.File {
		name := strings.TrimSuffix(f.Name, "/")
		switch {
		case !fs.ValidPath(name) || strings.ContainsAny(name, "\\:\x00"):
			return nil, fmt.Errorf("the zip holds a name that is no path inside it: %q", f.Name)
		case seen[strings.ToLower(name)] == name:
			return nil, fmt.Errorf("the zip holds %q twice", name)
		case seen[strings.ToLower(name)] != "":
			return nil, fmt.Errorf("the zip holds %q and %q, which are one file to some computers", seen[strings.ToLower(name)], name)
		case !f.Mode().IsDir() && !f.Mode().IsRegular():
			return nil, fmt.Errorf("the zip holds %q, which is neither a file nor a folder", name)
		case f.UncompressedSize64 > maxPackedBytes-total:
			return nil, fmt.Errorf("the zip unpacks to more than is allowed: %s", packedLimitHint)
		case f.UncompressedSize64 > minRatioBytes && f.UncompressedSize64/maxPackedRatio > f.CompressedSize64:
			return nil, fmt.Errorf("the zip holds %q, which unpacks to more than %d times its size", name, maxPackedRatio)
		}
		seen[strings.ToLower(name)] = name
		total += f.UncompressedSize64
	}
	return r, nil
}

// checkSum compares data with a SHA-256 written in hexadecimal digits.
func checkSum(data []byte, want string) error {
	sum := sha256.Sum256(data)
	if got := hex.EncodeToString(sum[:]); !strings.EqualFold(got, want) {
		return fmt.Errorf("the checksum is %s, not %s", got, want)
	}
	return nil
}
