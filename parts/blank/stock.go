package blank

import (
	"fmt"
	"math"

	"corerod/parts"
)

// addStock lets bodies stand out by what is ground off their faces, and cuts that open to such a face go on through it.
func (s *Shape) addStock() {
	low, high := s.low, s.high
	ground := map[float64]float64{} // by the drawn height of a face: where it is as pressed
	for i := range s.walls[:s.bodyWalls()] {
		w := &s.walls[i]
		f := s.features[w.feature]
		if k := f.Stock; k.Top > 0 && math.Abs(w.high-f.Extent.To) <= SameHeight {
			ground[f.Extent.To], w.high = f.Extent.To+k.Top, f.Extent.To+k.Top
		}
		if k := f.Stock; k.Bottom > 0 && math.Abs(w.low-f.Extent.From) <= SameHeight {
			ground[f.Extent.From], w.low = f.Extent.From-k.Bottom, f.Extent.From-k.Bottom
		}
		s.low, s.high = math.Min(s.low, w.low), math.Max(s.high, w.high)
	}
	for i := range s.walls {
		w := &s.walls[i]
		if w.feature < s.bodies && !s.isIsland(w.feature) {
			continue
		}
		for z, to := range ground {
			if to > z && math.Abs(w.high-z) <= SameHeight {
				w.high = to
			}
			if to < z && math.Abs(w.low-z) <= SameHeight {
				w.low = to
			}
		}
		if s.features[w.feature].Extent.Open == "" || w.feature < s.bodies {
			continue
		}
		if math.Abs(w.high-high) <= SameHeight {
			w.high = s.high
		}
		if math.Abs(w.low-low) <= SameHeight {
			w.low = s.low
		}
	}
}

// stockAt is what is ground off an end face at a height, mm; 0 where nothing is.
func (s *Shape) stockAt(side string, z float64) float64 {
	for _, f := range s.features[:s.bodies] {
		switch {
		case side == "top" && math.Abs(f.Extent.To+f.Stock.Top-z) <= SameHeight && f.Stock.Top > 0:
			return f.Stock.Top
		case side == "bottom" && math.Abs(f.Extent.From-f.Stock.Bottom-z) <= SameHeight && f.Stock.Bottom > 0:
			return f.Stock.Bottom
		}
	}
	return 0
}

// EdgeAsPressed is an edge of an end face at a height as pressed: through the stock on that, where it can go on through it.
func (s *Shape) EdgeAsPressed(e *parts.Edge, side string, z float64) *parts.Edge {
	if pressed, err := throughStock(e, s.stockAt(side, z)); err == nil {
		return pressed
	}
	return e
}

// throughStock is an edge as pressed on a face of which some stock is ground off: a chamfer goes on as far as that face, so that it is as
// drawn once the stock is off.
func throughStock(e *parts.Edge, stock float64) (*parts.Edge, error) {
	if stock == 0 {
		return e, nil
	}
	if e.Chamfer == nil {
		return nil, fmt.Errorf("%.4g mm are ground off the face, and a round does not go on past it; give it a chamfer, or leave the "+
			"stock out", stock)
	}
	x, c := *e, *e.Chamfer
	c.Width += stock / math.Tan(c.Slope*math.Pi/180)
	x.Chamfer = &c
	return &x, nil
}
