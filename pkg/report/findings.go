package report

import "strapwork/pkg/diag"

func newFindings(found diag.Findings) []findingJSON {
	list := make([]findingJSON, 0, len(found))
	for _, f := range found {
		out := findingJSON{
			Rule: f.Rule, Severity: f.Severity.String(), Message: f.Message, Hint: f.Hint,
			File: baseName(f.Pos.File), Line: max(0, f.Pos.Line), Col: max(0, f.Pos.Col), Key: f.Key, Cures: f.Cures, weight: f.Severity,
		}
		if f.HasAt {
			out.At = &xy{num(f.At[0]), num(f.At[1])}
		}
		for _, p := range f.Also {
			out.Also = append(out.Also, xy{num(p[0]), num(p[1])})
		}
		list = append(list, out)
	}
	return list
}
