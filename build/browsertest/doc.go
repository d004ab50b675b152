// Package browsertest tries published sites in real browsers: what a builder
// does with a manual, from a disk and from a server.
package browsertest
