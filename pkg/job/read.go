package job

import "strapwork/pkg/diag"

// Read reads a job file.
func Read(file string, data []byte) (*Job, diag.Findings) {
	return nil, nil
}
