package heights

import "strapwork/pkg/internal/made"

func paramsOf(j made.Job) Params {
	return Params{Router: j.Router, Template: j.Template, Depth: j.Inlay.Depth, Board: j.Board}
}
