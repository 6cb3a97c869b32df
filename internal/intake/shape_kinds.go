package intake

import "driftreach/internal/format"

func pointLike(k format.ShapeKind) bool {
	switch k {
	case format.PointShape, format.MultiPointShape, format.PolygonShape, format.MultiPolygonShape:
		return true
	}
	return false
}

func lineLike(k format.ShapeKind) bool { return k == format.LineShape || k == format.MultiLineShape }

func areaLike(k format.ShapeKind) bool {
	return k == format.PolygonShape || k == format.MultiPolygonShape
}

func workLike(k format.ShapeKind) bool { return k != format.NoShape && k != format.OtherShape }
