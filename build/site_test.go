package build

import "testing"

func TestSiteClash(t *testing.T) {
	for _, c := range []struct {
		paths []string
		want  bool
	}{
		{[]string{"a.html", "b.html", "1.0/a.html"}, false},
		{[]string{"a.html", "A.html"}, true},
		{[]string{"1.0/a", "1.0/a/b"}, true},
		{[]string{"x/y/Z/q", "x/y/z"}, true},
		{[]string{"x/y.z/q", "x/y"}, false},
	} {
		var s Site
		for _, p := range c.paths {
			if err := s.add(p, nil); err != nil {
				t.Fatal(err)
			}
		}
		if a, b, got := s.clash(); got != c.want {
			t.Errorf("%q: clash %v (%q, %q)", c.paths, got, a, b)
		}
	}
	var s Site
	for _, p := range []string{"../a", "/a", "", ".", "a//b"} {
		if s.add(p, nil) == nil {
			t.Errorf("%q was added", p)
		}
	}
	if s.add("a", nil) != nil || s.add("a", nil) == nil {
		t.Error("a path can be added twice")
	}
}

func TestChecksums(t *testing.T) {
	var s Site
	s.add("1.0/b.txt", []byte("abc"))
	s.add("1.0/a/c.txt", nil)
	s.add("2.0/a.txt", nil)
	// FIPS 180-4 example for "abc"; the SHA-256 of nothing is NIST's.
	want := "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  a/c.txt\n" +
		"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  b.txt\n"
	list, err := s.checksums("1.0")
	if got := string(list); got != want || err != nil {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}
