package build

// StripsPath is the path of the list of the strips' pieces.
const StripsPath = "strips.csv"

// listStrips makes the list of the strips' pieces an output.
func (w *writer) listStrips() {
	w.Files = append(w.Files, File{Path: StripsPath, Kind: CSV, Role: "strips", Data: w.List.CSV()})
}
