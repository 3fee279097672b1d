"""Rims and feet of the part files as solids: a section is swept along each side of an outline, and turned about each of its arcs.

Sections lie in a plane of u and d: u is how far a point lies from the outline, toward the material of a rim or the open side of a
foot; d is how far it lies from the end face or floor. At u 0 and d 0 wall and face would meet. `lean` is how far the wall goes
along u for each mm of d. Lengths are mm. make.py uses it.
"""
import math

import gmsh

import columns

occ = gmsh.model.occ
SEAM = 0.6  # where a ring begins, away from the axes on which parts are alike
OVER = 0.05  # how far a section goes on past a wall or face, so that none coincide


def square_to(a, b):
    """The direction from a to b, and the one to the left of it."""
    long = math.dist(a, b)
    t = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
    return t, (-t[1], t[0])


def dot(a, b):
    """The product of two directions in plan."""
    return a[0] * b[0] + a[1] * b[1]


def chain(points, radii):
    """The sides of a polygon, counter-clockwise, with a radius or 0 at each corner."""
    n = len(points)
    sides = [square_to(points[i], points[(i + 1) % n]) for i in range(n)]
    ends = []
    for i in range(n):  # where the sides before and after a corner end, and what lies between
        (t0, n0), (t1, n1) = sides[i - 1], sides[i]
        turn = math.atan2(dot(t1, n0), dot(t1, t0))
        p, r = points[i], radii[i]
        if r <= 1e-12:
            ends.append((p, p, None))
            continue
        back = r * math.tan(abs(turn) / 2)
        a, b = (p[0] - t0[0] * back, p[1] - t0[1] * back), (p[0] + t1[0] * back, p[1] + t1[1] * back)
        s = math.copysign(r, turn)
        ends.append((a, b, ("arc", a, b, (a[0] + n0[0] * s, a[1] + n0[1] * s), r, turn)))
    out = []
    for i in range(n):
        if ends[i][2]:
            out.append(ends[i][2])
        out.append(("line", ends[i][1], ends[(i + 1) % n][0]))
    return out


def corner_radii(p, count):
    """The radius at each corner of a profile."""
    c = p.get("corner", 0)
    return list(c) if isinstance(c, list) else [c] * count


def chained_path(p):
    """The sides of a path, counter-clockwise."""
    at, out = tuple(p["start"]), []
    for s in list(p["steps"]) + [{"line": p["start"]}]:
        to = tuple(s.get("line") or s["arc"])
        if math.dist(at, to) < 1e-9:
            continue
        if "line" in s:
            out.append(("line", at, to))
        else:
            c = columns.middle(at, to, s["radius"], s["turn"], s.get("large"))
            a, b = (math.atan2(q[1] - c[1], q[0] - c[0]) for q in (at, to))
            sweep = (b - a) % (2 * math.pi) if s["turn"] == "ccw" else -((a - b) % (2 * math.pi))
            out.append(("arc", at, to, c, s["radius"], sweep))
        at = to
    area = 0.0
    for e in out:
        area += (e[1][0] * e[2][1] - e[2][0] * e[1][1]) / 2
        if e[0] == "arc":
            area += e[4] ** 2 * (e[5] - math.sin(e[5])) / 2
    if area > 0:
        return out
    back = [(e[0], e[2], e[1]) + ((e[3], e[4], -e[5]) if e[0] == "arc" else ()) for e in reversed(out)]
    return back


def sides(f, by=0.0):
    """The outline of the first copy of a feature as drawn, moved inward by a length: a list of its sides, or one circle."""
    if "circle" in f:
        return [("circle", tuple(f["circle"].get("at", [0, 0])), f["circle"]["diameter"] / 2 - by)]
    if "slot" in f:
        (ax, ay), (bx, by_) = columns.axis(f["slot"])
        r = f["slot"]["width"] / 2 - by
        t, n = square_to((ax, ay), (bx, by_))
        at = lambda x, y, s: (x + s * n[0] * r, y + s * n[1] * r)
        return [
            ("line", at(ax, ay, -1), at(bx, by_, -1)),
            ("arc", at(bx, by_, -1), at(bx, by_, 1), (bx, by_), r, math.pi),
            ("line", at(bx, by_, 1), at(ax, ay, 1)),
            ("arc", at(ax, ay, 1), at(ax, ay, -1), (ax, ay), r, math.pi),
        ]
    if "path" in f:
        if by:
            raise ValueError("a path is not moved")
        return chained_path(f["path"])
    p = next(f[k] for k in ("rectangle", "hexagon", "regular", "polygon") if k in f)
    points = [tuple(q) for q in columns.outline(f)]
    radii = corner_radii(p, len(points))
    if "polygon" in f and list(points[0]) != list(p["points"][0]):
        radii = radii[::-1]
    if by:
        n = len(points)
        for i in range(n):
            (t0, n0), (t1, _) = square_to(points[i - 1], points[i]), square_to(points[i], points[(i + 1) % n])
            radii[i] = max(0, radii[i] - (by if dot(t1, n0) > 0 else -by)) if radii[i] else 0
        points = columns.shrunk(points, by)
    return chain(points, radii)


def curve_loop(outline, z):
    """An outline as a loop of curves at a height."""
    if outline[0][0] == "circle":
        (x, y), r = outline[0][1:]
        return occ.addCurveLoop([occ.addCircle(x, y, z, r)])
    tags = [occ.addPoint(*e[1], z) for e in outline]
    curves = []
    for i, e in enumerate(outline):
        a, b = tags[i], tags[(i + 1) % len(tags)]
        if e[0] == "line":
            curves.append(occ.addLine(a, b))
            continue
        c, half = e[3], e[5] / 2
        u, v = e[1][0] - c[0], e[1][1] - c[1]
        mid = (c[0] + u * math.cos(half) - v * math.sin(half), c[1] + u * math.sin(half) + v * math.cos(half))
        middle, m = occ.addPoint(*c, z), occ.addPoint(*mid, z)
        curves += [occ.addCircleArc(a, middle, m), occ.addCircleArc(m, middle, b)]
    return occ.addCurveLoop(curves)


def prism(outline, low, high):
    """The prism over an outline."""
    face = occ.addPlaneSurface([curve_loop(outline, low)])
    return next(t for d, t in occ.extrude([(2, face)], 0, 0, high - low) if d == 3)


def section(edge, lean=0.0, past=OVER):
    """The section of a rim or foot: its first point, then lines to points and arcs to points about a centre."""
    if "chamfer" in edge:
        c = edge["chamfer"]
        slope = math.radians(90 - c["slope"] if c.get("slope_from") == "axis" else c["slope"])
        flat = c.get("flat", 0)
        wide, rise = flat + c["width"], c["width"] * math.tan(slope)
        if flat:
            low, turning = (flat, rise), rise
            if lean * rise > flat:
                raise ValueError("the wall is past the flat")
        else:
            turning = wide / (lean + 1 / math.tan(slope))
            low = (lean * turning, turning)
        left = min(0, lean * turning) - past
        return [(left, -OVER), ("line", (wide, -OVER)), ("line", (wide, 0)), ("line", low), ("line", (left, low[1]))]
    r = edge["round"]["radius"]
    n = math.hypot(lean, 1)
    t = r / math.tan(math.acos(lean / n) / 2)
    low = (t * lean / n, t / n)
    left = min(0, low[0]) - past
    return [(left, -OVER), ("line", (t, -OVER)), ("line", (t, 0)), ("arc", low, (t, r)), ("line", (left, low[1]))]


def reach(shape):
    """The least and the greatest u of a section."""
    us = [shape[0][0]] + [s[1][0] for s in shape[1:]]
    return min(us), max(us)


def face(shape, place):
    """A section as a face in space; `place` gives the point in space of u and d."""
    first = at = occ.addPoint(*place(*shape[0]))
    curves = []
    for s in shape[1:]:
        to = occ.addPoint(*place(*s[1]))
        curves.append(occ.addLine(at, to) if s[0] == "line" else occ.addCircleArc(at, occ.addPoint(*place(*s[2])), to))
        at = to
    curves.append(occ.addLine(at, first))
    return occ.addPlaneSurface([occ.addCurveLoop(curves)])


def swept(shape, a, b, n, z, up, ends):
    """A section swept along a side, from one end to the other; ends say how much longer it is at each u, from point to point."""
    t, _ = square_to(a, b)
    long = math.dist(a, b)
    place = lambda back: lambda u, d: (a[0] + n[0] * u - t[0] * back, a[1] + n[1] * u - t[1] * back, z + up * d)
    extra = max(abs(k) for end in ends for _, k in end)
    if extra < 1e-12:
        made = occ.extrude([(2, face(shape, place(0)))], t[0] * long, t[1] * long, 0)
        return next(tag for d, tag in made if d == 3)
    extra += 1
    made = occ.extrude([(2, face(shape, place(extra)))], t[0] * (long + 2 * extra), t[1] * (long + 2 * extra), 0)
    bar = next(tag for d, tag in made if d == 3)
    plan = [(-k, u) for u, k in ends[0]] + [(long + k, u) for u, k in reversed(ends[1])]
    points = [(a[0] + t[0] * s + n[0] * u, a[1] + t[1] * s + n[1] * u) for s, u in plan]
    area = sum(p[0] * q[1] - p[1] * q[0] for p, q in zip(points, points[1:] + points[:1]))
    points = points if area > 0 else points[::-1]
    hold = prism([("line", p, q) for p, q in zip(points, points[1:] + points[:1])], z - 60, z + 60)
    out, _ = occ.intersect([(3, bar)], [(3, hold)])
    return out[0][1]


def spun(shape, centre, radius, sign, z, up, start, sweep):
    """A section turned about an upright axis; its radius is that of the outline plus or minus u."""
    e = (math.cos(start), math.sin(start))
    place = lambda u, d: (centre[0] + e[0] * (radius + sign * u), centre[1] + e[1] * (radius + sign * u), z + up * d)
    f = face(shape, place)
    least, most = reach(shape)
    if sign < 0 and most > radius + 1e-12:  # no farther than the axis
        box = [(least - 1, -50), ("line", (radius, -50)), ("line", (radius, 50)), ("line", (least - 1, 50))]
        f = occ.intersect([(2, f)], [(2, face(box, place))])[0][0][1]
    made = occ.revolve([(2, f)], *centre, 0, 0, 0, 1, sweep)
    return next(tag for d, tag in made if d == 3)


def end_of(own, other, beyond, side, span, at_start):
    """How much longer a section is at one end of a line, as points of u and length; `beyond` is the side after the other."""
    least, most = span
    t, n = square_to(own[1], own[2])
    n = (side * n[0], side * n[1])
    out = (-t[0], -t[1]) if at_start else t
    if other[0] == "line":
        _, m = square_to(other[1], other[2])
        m = (side * m[0], side * m[1])
        k = dot(out, m) / (1 + dot(n, m))
        if abs(dot(t, m)) < 1e-9:
            return [(least, 0), (most, 0)]
        return [(least, k * least), (most, k * most)]
    joint = own[1] if at_start else own[2]
    spoke = (joint[0] - other[3][0], joint[1] - other[3][1])
    if abs(dot(spoke, t)) > 1e-6:
        raise ValueError("a side meets an arc at an angle")
    shrinks = (other[5] > 0) == (side > 0)
    if not shrinks or most <= other[4]:
        return [(least, 0), (most, 0)]
    _, m = square_to(beyond[1], beyond[2])
    m = (side * m[0], side * m[1])
    k = dot(out, m) / (1 + dot(n, m))
    return [(least, 0), (other[4], 0), (most, k * (most - other[4]))]


def ring(outline, shape, side, z, up):
    """The solids of a rim or foot along an outline: inside it (1) or outside it (-1), from a height upward or downward."""
    if outline[0][0] == "circle":
        centre, r = outline[0][1:]
        return [spun(shape, centre, r, -side, z, up, SEAM, 2 * math.pi)]
    out, span, count = [], reach(shape), len(outline)
    for i, e in enumerate(outline):
        before, after = outline[i - 1], outline[(i + 1) % count]
        if e[0] == "line":
            _, n = square_to(e[1], e[2])
            ends = [
                end_of(e, before, outline[i - 2], side, span, True),
                end_of(e, after, outline[(i + 2) % count], side, span, False),
            ]
            out.append(swept(shape, e[1], e[2], (side * n[0], side * n[1]), z, up, ends))
            continue
        c, r, sweep = e[3:]
        start = math.atan2(e[1][1] - c[1], e[1][0] - c[0])
        out.append(spun(shape, c, r, -side if sweep > 0 else side, z, up, start, sweep))
    return out


def flatted_ring(p, edge, side, z, up):
    """The same round a circle with flats: what any of its sides has inside it, what all of them have outside it."""
    x, y = p.get("at", [0, 0])
    r = p["diameter"] / 2
    past = OVER if side > 0 else r
    shape = section(edge, 0.0, past)
    disc = spun(shape, (x, y), r, -side, z, up, SEAM, 2 * math.pi)
    bars = []
    for i, d in enumerate(p["flats"]):
        a = math.radians(p.get("turn", 0) + 360 * i / len(p["flats"]))
        n = (math.cos(a), math.sin(a))
        t, half = (-n[1], n[0]), r + 10
        shape = section(edge, 0.0, past if side > 0 else r + d + 10)
        ends = [(x + n[0] * d - t[0] * half, y + n[1] * d - t[1] * half), (x + n[0] * d + t[0] * half, y + n[1] * d + t[1] * half)]
        bars.append(swept(shape, *ends, (-side * n[0], -side * n[1]), z, up, [[(0, 0)], [(0, 0)]]))
    if side > 0:
        return [disc] + bars
    for bar in bars:
        disc = occ.intersect([(3, disc)], [(3, bar)])[0][0][1]
    return [disc]
