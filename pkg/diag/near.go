package diag

import "unicode/utf8"

// Nearest returns the word of the list that got was most likely meant to be,
// or "" if none is close: the least number of letters put in, left out,
// replaced or swapped with a neighbour (the optimal string alignment distance,
// after Damerau, CACM 7, 1964), at most a third of the word's letters but
// at least one. Of words equally near the first counts.
func Nearest(got string, words []string) string {
	const longest = 64 // nobody's word; keeps the table small whatever is typed
	if len(got) > longest {
		return ""
	}
	best, bestDist := "", max(1, (utf8.RuneCountInString(got)+1)/3)+1
	for _, w := range words {
		if d := distance([]rune(got), []rune(w)); d < bestDist && d < utf8.RuneCountInString(w) {
			best, bestDist = w, d
		}
	}
	return best
}

// distance is the optimal string alignment distance between a and b.
func distance(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			replace := rows[i-1][j-1]
			if a[i-1] != b[j-1] {
				replace++
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, replace)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(a)][len(b)]
}
