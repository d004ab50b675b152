// Package build turns a manual and its earlier releases into a site in memory,
// and writes a site into a folder whole or not at all.
package build
