package blank

import (
	"errors"
	"math"

	"corerod/parts/plane"
)

// Section is the section of the part at one height.
type Section struct {
	Overlay *plane.Overlay
	Walls   []int  // by figure: the wall that it is a section of
	Solid   []bool // by cell
}

// SectionHeight is the height of the section that slab k shows, mm: of the lower and the upper half of a stretch with slopes the
// station at its end.
func (s *Shape) SectionHeight(k int) float64 {
	switch s.Half(k) {
	case -1:
		return s.Low(k)
	case 1:
		return s.High(k)
	}
	return mid(s.Low(k), s.High(k))
}

// Inscribes tells whether a circle about a point of the overlay lies in the material of the section at a height, or in its void, and comes
// up to the boundary.
func (s *Shape) Inscribes(p plane.Point, radius, z float64, void bool) bool {
	r := s.SectionAt(z)
	if r == nil {
		return false
	}
	d := r.Distance(p)
	return d >= radius-plane.Near && d <= radius+10*plane.Near && (radius <= 10*plane.Near || r.Contains(p) != void)
}

// SectionAt is the section at a height between two stations; its pieces are owned by walls. It is nil where there is nothing.
func (s *Shape) SectionAt(z float64) *plane.Region {
	s.lock.Lock()
	defer s.lock.Unlock()
	r, known := s.materials[z]
	if !known {
		if x, err := s.sectionAt(z); err == nil && x != nil {
			r = s.regionOf(x)
		}
		s.materials[z] = r
	}
	return r
}

// regionOf is the material of a section, each piece of its boundary owned by the wall that makes it.
func (s *Shape) regionOf(x *Section) *plane.Region {
	return x.Overlay.Region(func(c int) bool { return x.Solid[c] }, func(e, in, out int) int {
		own := -1
		for _, f := range x.Overlay.Edges[e].Figures { // of a cut that takes the void out, else of the body that ends there
			w := x.Walls[f]
			cut := s.walls[w].feature >= s.bodies
			if own < 0 || cut && s.walls[own].feature < s.bodies {
				own = w
			}
		}
		return own
	})
}

// Middle is the section half way between the two stations that slab k, a lower half, lies between, and its height; its pieces are owned
// by walls. It is nil where there is nothing.
func (s *Shape) Middle(k int) (r *plane.Region, z float64) {
	return s.slabs[k].middle, mid(s.Low(k), s.High(k))
}

// ClosedHalfWay tells of each cell of the section half way, which pieces of its region have on their other side, whether it is void
// and closed in plan.
func (s *Shape) ClosedHalfWay(k int) []bool { return s.slabs[k].closed }

// VoidHalfWay tells of each cell of that section which of the voids of slab k, one of the two halves, it lies in; -1 where that has none
// of it.
func (s *Shape) VoidHalfWay(k int) []int { return s.slabs[k].halfWay }

// WallFeature is the feature of a wall.
func (s *Shape) WallFeature(wall int) int { return s.walls[wall].feature }

// SameWallCopy tells whether two walls are of one copy of a feature.
func (s *Shape) SameWallCopy(a, b int) bool {
	return s.walls[a].feature == s.walls[b].feature && s.walls[a].copy == s.walls[b].copy
}

// SideOfWall is the side of a wall that a point lies on at a height; it is sought from another side on.
func (s *Shape) SideOfWall(wall int, on plane.Point, z float64, from Side) Side {
	w := &s.walls[wall]
	first := 0
	if from.w == w {
		first = from.i
	}
	best, least := 0, math.Inf(1)
	for k := range w.drawn {
		i := (first + k/2) % len(w.drawn)
		if k%2 == 1 { // to and fro
			i = (first + len(w.drawn) - (k+1)/2) % len(w.drawn)
		}
		if c, ok := w.sideAt(i, z); ok {
			if d := c.Off(on); d < least {
				best, least = i, d
			}
			if least <= plane.Near/10 {
				break
			}
		}
	}
	return Side{w, best}
}

// sectionAt is the section at a height between two stations. Outlines that lie a few nanometres apart just there are overlaid a
// nanometre higher or lower. It is nil where there is nothing.
func (s *Shape) sectionAt(z float64) (x *Section, err error) {
	for _, off := range [5]float64{0, 1, -1, 7, -7} {
		if x, err = s.sectionOnce(z + off*SameHeight); !errors.Is(err, plane.ErrTooClose) {
			break
		}
	}
	return x, err
}

// outlinesAt are the outlines at a height, with the walls that they are of.
func (s *Shape) outlinesAt(z float64) (loops []plane.Loop, walls []int, err error) {
	for n := range s.walls {
		w := &s.walls[n]
		if z <= w.low || z >= w.high {
			continue
		}
		l, err := w.section(z)
		if err != nil {
			return nil, nil, err
		}
		if len(l) > 0 {
			loops, walls = append(loops, l), append(walls, n)
		}
	}
	return loops, walls, nil
}

func (s *Shape) sectionOnce(z float64) (*Section, error) {
	loops, walls, err := s.outlinesAt(z)
	if err != nil || len(loops) == 0 {
		return nil, err
	}
	x := &Section{Walls: walls}
	o, err := plane.Lay(loops)
	if err != nil {
		return nil, err
	}
	x.Overlay, x.Solid = o, make([]bool, len(o.Cells))
	for c := range o.Cells {
		body, cut := false, false
		count := map[int]int{}
		o.Cells[c].Inside.Each(func(i int) {
			f := s.walls[x.Walls[i]].feature
			body, cut = body || f < s.bodies, cut || f >= s.bodies
			count[f]++
		})
		x.Solid[c] = body && !cut || !s.simple() && s.leaves(func(feature int) int { return count[feature] })
	}
	return x, nil
}

// BaseOf is the height of the lower end of the copy that a figure is of.
func (s *Shape) BaseOf(i int) float64 { return s.walls[s.outlines[i].wall].base }
