package diag

import "strings"

// Nearest returns the candidate most like name, or "" if none is alike
// enough. Case and underscores do not count; the distance allowed grows with
// the length of the word. Ties go to the candidate that comes first.
func Nearest(name string, candidates []string) string {
	fold := func(s string) []rune { return []rune(strings.ToLower(strings.ReplaceAll(s, "_", ""))) }
	n := fold(name)
	best, bestDist := "", (len(n)+5)/3
	for _, c := range candidates {
		if c == name {
			continue
		}
		if d := distance(n, fold(c), bestDist); d < bestDist {
			best, bestDist = c, d
		}
	}
	return best
}

// distance is the edit distance with neighbouring letters swapped counting
// one (optimal string alignment), or limit when it is at least that.
func distance(a, b []rune, limit int) int {
	if diff := len(a) - len(b); diff >= limit || -diff >= limit {
		return limit
	}
	prev2 := make([]int, len(b)+1)
	prev := make([]int, len(b)+1)
	cur := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return min(prev[len(b)], limit)
}
