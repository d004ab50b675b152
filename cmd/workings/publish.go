package main

import (
	"flag"
	"fmt"

	"workings/build"
	"workings/calc/diag"
)

func runPublish(e env, flags *flag.FlagSet, args []string) int {
	out := flags.String("o", "site", "write the site into `FOLDER`")
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	site, list, err := buildDir(e, folder(pos, 0), build.Options{})
	if err != nil {
		return failed(e, "publish", err)
	}
	report(e.err, list)
	if site == nil {
		fmt.Fprintln(e.err, "nothing was written")
		return exitFound
	}
	if err := site.Write(*out); err != nil {
		return failed(e, "publish", err)
	}
	fmt.Fprintf(e.out, "published %d files into %s\n", len(site.Paths()), *out)
	return exitOK
}

// buildDir builds the manual in a folder. The error says that the folder could
// not be opened; what is wrong with the manual is in the list. The options need
// say no more than is asked for beside that.
func buildDir(e env, dir string, opt build.Options) (*build.Site, diag.List, error) {
	src, closeDir, err := build.OpenDir(dir)
	if err != nil {
		return nil, nil, err
	}
	defer closeDir()
	p := newProgress(e.err)
	defer p.end()
	opt.Tool, opt.Thorough = tool, true
	opt.Progress = func(done, all int) { p.step(done, all, "files") }
	site, list := build.Build(src, opt)
	return site, list, nil
}
