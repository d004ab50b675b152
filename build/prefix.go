package build

import "workings/content"

// prefixOf is put before the names of an earlier release's files in reports,
// so that a reader finds them.
func prefixOf(r content.ReleaseSource) string {
	switch {
	case r.Folder != "":
		return r.Folder + "/"
	case r.Zip != "":
		return r.Zip + ":"
	case r.Commit != "":
		return r.Commit[:min(12, len(r.Commit))] + ":"
	}
	return r.Tag + ":"
}
