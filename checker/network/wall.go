package network

import (
	"headroom/checker/resistance"
	"headroom/specs"
	"headroom/specs/catalogue"
)

// WallCompliance is how the wall of a line gives way to a pressure wave, (dA/dp)/A in
// 1/Pa: of a hose by its stretch, of a tube by its wall and material. One whose wall
// or material is not known counts as rigid, so that its surge is not understated.
func WallCompliance(line specs.Part) float64 {
	switch p := line.(type) {
	case *specs.Hose:
		return resistance.HoseCompliance(p.Stretch.SI, p.Bore.SI)
	case *specs.Tube:
		material, known := catalogue.Tube(p.Material.Value)
		if !known || !p.Wall.Given() {
			return 0
		}
		c1 := resistance.ThickWall(p.Bore.SI, p.Wall.SI, material.Poisson, resistance.AnchoredUpstream)
		return resistance.TubeCompliance(p.Bore.SI, p.Wall.SI, material.Modulus, c1)
	}
	return 0
}
