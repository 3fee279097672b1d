#!/usr/bin/python3
"""Builds the solids of the part files beside it with a general-purpose solid kernel, and writes what it measures.

Run with Debian's python3-gmsh, python3-yaml, python3-shapely and python3-numpy:  /usr/bin/python3 make.py > solids.json
A folder may be given: make.py whole > whole/solids.json measures the parts with rims, feet and work after pressing, and
make.py faces > faces/solids.json those with islands, tilted faces, face teeth and ramps.
It knows nothing of corerod's own geometry: prisms, fillets and booleans of the kernel, one after another. All faces are planes,
cylinders, cones, spheres and tori: the kernel's volume under splines is off by up to 8e-3 of itself.

A part is measured as pressed, and under `finished` as finished, where something is made after pressing, a face has stock or there
are features across the axis. rims.py builds the rims and feet, faces.py what slopes the end faces of bodies.

asked.json names the parts in which slopes meet. For them columns.py measures besides, from the drawn shapes: `plan`, the area of
the plan; `through`, the diameter of the largest circle that is void at every height in the hole about the given point; `wall`,
the least thickness in plan between two features (`wall_between`) over the heights at which both are there, 0 where the one runs
out into the other. Each has its tolerance. All is in mm, whatever the part is drawn in.
"""
import glob
import json
import math
import os
import sys

import gmsh
import numpy as np
import yaml
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

import columns
import faces
import rims

occ = gmsh.model.occ


class Plain(yaml.SafeLoader):
    """Reads `on` as a name, not as true."""


Plain.yaml_implicit_resolvers = {k: v for k, v in yaml.SafeLoader.yaml_implicit_resolvers.items() if k not in "oOnNyY"}


def polygon(points, low, high):
    """The prism over a polygon."""
    tags = [occ.addPoint(x, y, low) for x, y in points]
    lines = [occ.addLine(tags[i], tags[(i + 1) % len(tags)]) for i in range(len(tags))]
    face = occ.addPlaneSurface([occ.addCurveLoop(lines)])
    return next(t for d, t in occ.extrude([(2, face)], 0, 0, high - low) if d == 3)


def rounded(volume, radius, corners):
    """The prism with its upright edges at the corners rounded."""
    if not radius:
        return volume
    occ.synchronize()
    edges = []
    for _, e in gmsh.model.getBoundary([(3, volume)], combined=False, oriented=False, recursive=False):
        for _, c in gmsh.model.getBoundary([(2, e)], combined=False, oriented=False):
            x0, y0, z0, x1, y1, z1 = gmsh.model.getBoundingBox(1, abs(c))
            upright = z1 - z0 > 1e-3 and x1 - x0 < 1e-3 and y1 - y0 < 1e-3
            if upright and any(math.hypot((x0 + x1) / 2 - x, (y0 + y1) / 2 - y) < 1e-3 for x, y in corners):
                edges.append(abs(c))
    edges = sorted(set(edges))
    return occ.fillet([volume], edges, [radius])[0][1]


def turned(p, degrees, about=(0, 0)):
    """A point turned counter-clockwise about a centre."""
    a = math.radians(degrees)
    x, y = p[0] - about[0], p[1] - about[1]
    return (about[0] + x * math.cos(a) - y * math.sin(a), about[1] + x * math.sin(a) + y * math.cos(a))


def rectangle(p, low, high):
    """The prism over a rectangle."""
    x, y = p.get("at", [0, 0])
    l, w = p["length"] / 2, p["width"] / 2
    points = [turned((x + a, y + b), p.get("turn", 0), (x, y)) for a, b in ((-l, -w), (l, -w), (l, w), (-l, w))]
    return rounded(polygon(points, low, high), p.get("corner", 0), points)


def cylinder(x, y, radius, low, high):
    """The upright cylinder about a point."""
    return occ.addCylinder(x, y, low, 0, 0, high - low, radius)


def joined(tags):
    """Solids made one."""
    out, _ = occ.fuse([(3, tags[0])], [(3, t) for t in tags[1:]])
    return out[0][1]


def slot(p, low, high):
    """The prism over a slot."""
    x, y = p.get("at", [0, 0])
    r, half = p["width"] / 2, (p["length"] - p["width"]) / 2
    a, b = (turned((x + s * half, y), p.get("turn", 0), (x, y)) for s in (-1, 1))
    bar = rectangle({"length": 2 * half, "width": 2 * r, "at": [x, y], "turn": p.get("turn", 0)}, low, high)
    return joined([bar, cylinder(*a, r, low, high), cylinder(*b, r, low, high)])


def hexagon(p, low, high):
    """The prism over a hexagon."""
    x, y = p.get("at", [0, 0])
    r = p["across_flats"] / math.sqrt(3)
    angles = [math.radians(60 * i + p.get("turn", 0)) for i in range(6)]
    points = [(x + r * math.cos(a), y + r * math.sin(a)) for a in angles]
    return polygon(points, low, high)


def flatted(p, low, high):
    """The prism over a circle with flats."""
    x, y = p.get("at", [0, 0])
    body = cylinder(x, y, p["diameter"] / 2, low, high)
    for i, d in enumerate(p["flats"]):
        at = turned((x + d + 50, y), p.get("turn", 0) + 180 * i, (x, y))
        off = rectangle({"length": 100, "width": 100, "at": at, "turn": p.get("turn", 0)}, low - 1, high + 1)
        body = occ.cut([(3, body)], [(3, off)])[0][0][1]
    return body


def centre(a, b, radius, turn, large):
    """The centre of an arc from a to b."""
    mx, my = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    h = math.sqrt(max(0, radius**2 - chord**2 / 4))
    side = 1 if (turn == "ccw") != bool(large) else -1
    return mx - side * dy / chord * h, my + side * dx / chord * h


def path(p, low, high):
    """The prism over a path of lines and arcs."""
    at, curves, first = p["start"], [], occ.addPoint(*p["start"], low)
    start, tag = list(p["start"]), first
    for s in p["steps"]:
        to = s.get("line") or s["arc"]
        closes = math.dist(to, start) < 1e-9
        end = first if closes else occ.addPoint(*to, low)
        if "line" in s:
            curves.append(occ.addLine(tag, end))
        else:
            c = centre(at, to, s["radius"], s["turn"], s.get("large"))
            a0, a1 = math.atan2(at[1] - c[1], at[0] - c[0]), math.atan2(to[1] - c[1], to[0] - c[0])
            sweep = (a1 - a0) % (2 * math.pi) if s["turn"] == "ccw" else -((a0 - a1) % (2 * math.pi))
            mid = occ.addPoint(c[0] + s["radius"] * math.cos(a0 + sweep / 2), c[1] + s["radius"] * math.sin(a0 + sweep / 2), low)
            middle = occ.addPoint(*c, low)
            curves += [occ.addCircleArc(tag, middle, mid), occ.addCircleArc(mid, middle, end)]
        at, tag = to, end
    if tag != first:
        curves.append(occ.addLine(tag, first))
    face = occ.addPlaneSurface([occ.addCurveLoop(curves)])
    return next(t for d, t in occ.extrude([(2, face)], 0, 0, high - low) if d == 3)


def frustum(x, y, low, r0, high, r1):
    """The cone between two radii, or a cylinder."""
    return occ.addCone(x, y, low, 0, 0, high - low, r0, r1) if r1 != r0 else cylinder(x, y, r0, low, high)


def loft(low_points, low, high_points, high):
    """The solid between two polygons of as many points, face by face, each a plane."""
    n = len(low_points)
    ends = [[occ.addPoint(x, y, z) for x, y in points] for points, z in ((low_points, low), (high_points, high))]
    rings = [[occ.addLine(tags[i], tags[(i + 1) % n]) for i in range(n)] for tags in ends]
    ups = [occ.addLine(a, b) for a, b in zip(*ends)]
    faces = [occ.addPlaneSurface([occ.addCurveLoop(r)]) for r in rings]
    for i in range(n):
        faces.append(occ.addPlaneSurface([occ.addCurveLoop([rings[0][i], ups[(i + 1) % n], -rings[1][i], -ups[i]])]))
    return occ.addVolume([occ.addSurfaceLoop(faces, sewing=True)])


def drafted_slot(p, low, low_wide, high, high_wide):
    """A drafted slot: two cones and the bar between them, whose half widths are given at both ends."""
    (ax, ay), (bx, by) = columns.axis(p)
    long = math.hypot(bx - ax, by - ay)
    u, v = (by - ay) / long, -(bx - ax) / long
    beside = lambda w: [(ax + u * w, ay + v * w), (bx + u * w, by + v * w), (bx - u * w, by - v * w), (ax - u * w, ay - v * w)]
    bars = [beside(w) for w in (low_wide, high_wide)]
    cones = [frustum(x, y, low, low_wide, high, high_wide) for x, y in ((ax, ay), (bx, by))]
    return joined([loft(bars[0], low, bars[1], high)] + cones)


def drafted_round(core, low, r0, high, r1):
    """A drafted polygon with rounded corners: a prism over their centres, cones about them and a bar along each side."""
    parts = [polygon(core, low, high)]
    for a, b in zip(core, core[1:] + core[:1]):
        _, (u, v) = rims.square_to(a, b)
        bar = lambda r: [(a[0] - u * r, a[1] - v * r), (b[0] - u * r, b[1] - v * r), b, a]
        parts += [frustum(*a, low, r0, high, r1), loft(bar(r0), low, bar(r1), high)]
    return joined(parts)


def drafted(f, low, high):
    """A drafted disc, slot, rectangle, hexagon or polygon without re-entrant corners, from its wide end to its narrow one."""
    up = f["draft"]["narrows"] == "up"
    lean = math.tan(math.radians(f["draft"]["angle"])) * (high - low)
    if "circle" in f:
        x, y = f["circle"].get("at", [0, 0])
        r = f["circle"]["diameter"] / 2
        return frustum(x, y, low, r if up else r - lean, high, r - lean if up else r)
    if "slot" in f:
        r = f["slot"]["width"] / 2
        return drafted_slot(f["slot"], low, r if up else r - lean, high, r - lean if up else r)
    wide = columns.outline(f)
    narrow = columns.shrunk(wide, lean)
    r = next(f[k] for k in ("rectangle", "hexagon", "regular", "polygon") if k in f).get("corner", 0)
    if r:
        return drafted_round(columns.shrunk(wide, r), *((low, r, high, r - lean) if up else (low, r - lean, high, r)))
    return loft(wide if up else narrow, low, narrow if up else wide, high)


def revolved(p):
    """A half section turned about its axis."""
    x, y = p.get("at", [0, 0])
    first = p["section"][0]
    start = at = occ.addPoint(x + first[0], y, first[1])
    here, curves = first, []
    for s in p["section"][1:] + [first]:
        to = s["arc"] if isinstance(s, dict) else s
        if to is first and len(curves) > 1:
            end = start
        else:
            end = occ.addPoint(x + to[0], y, to[1])
        if isinstance(s, dict):
            c = centre(here, to, s["radius"], s["turn"], s.get("large"))
            curves.append(occ.addCircleArc(at, occ.addPoint(x + c[0], y, c[1]), end))
        else:
            curves.append(occ.addLine(at, end))
        here, at = to, end
    face = occ.addPlaneSurface([occ.addCurveLoop(curves)])
    return next(t for d, t in occ.revolve([(2, face)], x, y, 0, 0, 0, 1, 2 * math.pi) if d == 3)


def ball(p):
    """A ball, cut back to a cylinder where it has a band."""
    x, y = p.get("at", [0, 0])
    r, z = p["diameter"] / 2, p.get("z", 0)
    s = occ.addSphere(x, y, z, r)
    if p.get("band"):
        belt = cylinder(x, y, math.sqrt(r**2 - p["band"] ** 2 / 4), z - r, z + r)
        s = occ.intersect([(3, s)], [(3, belt)])[0][0][1]
    return s


def v_groove(f, low, high):
    """A groove with a V or round section, open at its upper or lower end."""
    p, depth = f.get("rectangle") or f["slot"], high - low  # of a slot the ends lie outside the part
    x, y = p.get("at", [0, 0])
    l, w = p["length"] / 2, p["width"] / 2
    wide, deep, inward = (high, low, -1) if f["open"] == "top" else (low, high, 1)
    if f["section"] == "round":
        radius = (w**2 + depth**2) / (2 * depth)
        t = occ.addCylinder(x - l, y, deep - inward * radius, 2 * l, 0, 0, radius)
    else:
        tags = [occ.addPoint(x - l, y - w, wide), occ.addPoint(x - l, y + w, wide), occ.addPoint(x - l, y, deep)]
        face = occ.addPlaneSurface([occ.addCurveLoop([occ.addLine(tags[i], tags[(i + 1) % 3]) for i in range(3)])])
        t = next(t for d, t in occ.extrude([(2, face)], 2 * l, 0, 0) if d == 3)
    occ.rotate([(3, t)], x, y, 0, 0, 0, 1, math.radians(p.get("turn", 0)))
    return t


def solid(f, low, high):
    """The first copy of a feature between two heights."""
    if "turned" in f:
        return revolved(f["turned"])
    if "ball" in f:
        return ball(f["ball"])
    if "draft" in f:
        return drafted(f, low, high)
    if "section" in f:
        return v_groove(f, low, high)
    for key, build in {
        "circle": lambda p: cylinder(*p.get("at", [0, 0]), p["diameter"] / 2, low, high),
        "rectangle": lambda p: rectangle(p, low, high)
        if not isinstance(p.get("corner"), list)
        else rims.prism(rims.sides(f), low, high),
        "slot": lambda p: slot(p, low, high),
        "hexagon": lambda p: hexagon(p, low, high),
        "flatted": lambda p: flatted(p, low, high),
        "regular": lambda p: polygon(columns.outline(f), low, high),
        "polygon": lambda p: rounded(polygon(p["points"], low, high), p.get("corner", 0), p["points"])
        if not isinstance(p.get("corner"), list)
        else rims.prism(rims.sides(f), low, high),
        "path": lambda p: path(p, low, high),
    }.items():
        if key in f:
            return build(f[key])
    raise ValueError(f)


def anchor(f):
    """Where a profile lies."""
    p = next((f[k] for k in ("circle", "rectangle", "slot", "hexagon", "regular", "flatted", "turned", "ball") if k in f), {})
    return p.get("at", [0, 0])


def placings(f):
    """How each copy of a feature is placed: moves (degrees, about, turn, shift), one after another."""
    patterns = f.get("repeat", [])
    out = [[]]
    for r in patterns if isinstance(patterns, list) else [patterns]:
        moves = []
        for i in range(r["count"]):
            if "step" in r:
                moves.append((0, (0, 0), True, (i * r["step"][0], i * r["step"][1])))
            else:
                over = r.get("over", 360)
                angle = r.get("first", 0) + i * over / (r["count"] if over == 360 else r["count"] - 1)
                moves.append((angle, r.get("about", [0, 0]), r.get("turn", True), (0, 0)))
        out = [before + [m] for m in moves for before in out]
    return out


def placed(tags, f, moves):
    """Solids drawn for the first copy, moved to where another lies."""
    at = anchor(f)
    for angle, about, turn, shift in moves:
        if turn and angle:
            occ.rotate([(3, t) for t in tags], *about, 0, 0, 0, 1, math.radians(angle))
        b = turned(at, angle, about)
        if not turn:
            shift = (b[0] - at[0], b[1] - at[1])
        if shift != (0, 0):
            occ.translate([(3, t) for t in tags], *shift, 0)
        at = (b[0] + shift[0], b[1] + shift[1]) if turn else b
    return tags


def each(f, build):
    """The solids that a function builds for the first copy, for all copies."""
    return [t for moves in placings(f) for t in placed(build(), f, moves)]


def in_mm(value, key=""):
    """A part's tree with all lengths in mm."""
    if isinstance(value, dict):
        return {k: in_mm(v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [in_mm(v, key) for v in value]
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    no_length = ("angle", "turn", "over", "count", "first", "slope", "toward", "density", "quantity", "start_angle", "end_angle", "sides")
    return value * 25.4 if number and key not in no_length else value


def cut_off(solids, tools):
    """Solids less others. The others may be none."""
    if not tools or not solids:
        return solids
    common, _ = occ.intersect([(3, t) for t in solids], [(3, t) for t in tools], removeObject=False, removeTool=False)
    shared = sum(occ.getMass(d, t) for d, t in common if d == 3)
    before = sum(occ.getMass(3, t) for t in solids)
    out, _ = occ.cut([(3, t) for t in solids], [(3, t) for t in tools])
    after = sum(occ.getMass(d, t) for d, t in out if d == 3)
    if abs(before - after - shared) > 2e-5 * before:  # rims of cross holes are coarse before they are sliced
        raise ValueError(f"the kernel fails: {before} less {shared} is not {after}")
    return [t for d, t in out if d == 3]


def kept_in(solids, holds):
    """What of solids lies in any of others."""
    if not solids or not holds:
        return []
    out, _ = occ.intersect([(3, t) for t in solids], [(3, t) for t in holds])
    return [t for d, t in out if d == 3]


def united(tags):
    """Solids made one, each held against the volume that it adds."""
    whole = tags[0]
    for t in tags[1:]:
        both = occ.getMass(3, whole) + occ.getMass(3, t)
        common, _ = occ.intersect([(3, whole)], [(3, t)], removeObject=False, removeTool=False)
        both -= sum(occ.getMass(d, c) for d, c in common if d == 3)
        out, _ = occ.fuse([(3, whole)], [(3, t)])
        if len(out) != 1:
            raise ValueError("the bodies do not touch in their order")
        whole = out[0][1]
        after = sum(occ.getMass(d, c) for d, c in out if d == 3)
        if abs(both - after) > 2e-5 * both:
            raise ValueError(f"the kernel fails: {both} together is not {after}")
    return whole


class Drawn:
    """A part with the heights of all its features, as pressed or finished."""

    def __init__(self, part, finished):
        """Leaves out what is made later, and adds the stock, where the part is as pressed."""
        self.finished = finished
        later = lambda f: not finished and f.get("made_by", "pressing") != "pressing"
        self.bodies = part["bodies"]
        self.cuts = {n: c for n, c in part.get("cuts", {}).items() if not later(c)}
        self.edges = [e for e in part.get("edges", {}).values() if e["of"] in self.bodies or e["of"] in self.cuts]
        self.blends = list(part.get("blends", {}).values())
        self.marks = [m for m in part.get("marks", {}).values() if not later(m)]
        self.sides = list(part.get("sides", {}).values()) if finished else []
        self.drawn = {n: columns.heights(b) for n, b in self.bodies.items()}
        self.whole = {n: self.with_stock(n) for n in self.bodies}
        self.spans = {n: self.span(c) for n, c in self.cuts.items()}

    def with_stock(self, name):
        """The lower and upper end of a body with its stock."""
        low, high = self.drawn[name]
        stock = {} if self.finished else self.bodies[name].get("face_stock", {})
        return low - stock.get("bottom", 0), high + stock.get("top", 0)

    def span(self, c):
        """From where to where a cut goes; an open one counts from the drawn face of the bodies under it, and goes on past it."""
        if "turned" in c or "ball" in c:
            return columns.heights(c)
        low, high = min(e[0] for e in self.drawn.values()), max(e[1] for e in self.drawn.values())
        under = [self.drawn[n] for n, b in self.bodies.items() if plan_of(b).intersection(plan_of(c)).area > 1e-6]
        if under:
            low, high = min(e[0] for e in under), max(e[1] for e in under)
        drawn_between = "draft" in c or "section" in c
        past = 0 if drawn_between else columns.FAR
        bottom, top = low - past, high + past
        if c.get("open") == "top":
            bottom, top = high - c["depth"], high + past
        elif c.get("open") == "bottom":
            bottom, top = low - past, low + c["depth"]
        return c.get("from", bottom), c.get("to", top)


def plan_of(f):
    """About where a feature lies in plan, all its copies."""
    if "turned" in f or "ball" in f:
        p = f.get("turned") or f["ball"]
        low, high = columns.heights(f)
        r = p["diameter"] / 2 if "ball" in f else max((s["arc"] if isinstance(s, dict) else s)[0] for s in p["section"])
        one = Point(anchor(f)).buffer(r)
    elif "flatted" in f:
        one = Point(anchor(f)).buffer(f["flatted"]["diameter"] / 2)
    else:
        points = []
        for e in rims.sides(f):
            if e[0] == "circle":
                one = Point(e[1]).buffer(e[2])
                break
            points.append(e[1])
            if e[0] == "arc":
                (x, y), r, sweep = e[3:]
                start = math.atan2(e[1][1] - y, e[1][0] - x)
                angles = [start + sweep * k / 9 for k in range(1, 9)]
                points += [(x + r * math.cos(a), y + r * math.sin(a)) for a in angles]
        else:
            one = Polygon(points)
    out = []
    for moves in placings(f):
        at, this = anchor(f), one
        for angle, about, turn, shift in moves:
            b = turned(at, angle, about)
            this = rotate(this, angle, origin=tuple(about)) if turn else translate(this, b[0] - at[0], b[1] - at[1])
            this = translate(this, *shift)
            at = (b[0] + shift[0], b[1] + shift[1])
        out.append(this)
    return unary_union(out)


def lean_to(f, span, z):
    """How far inward the wall of a drafted feature lies at a height."""
    if "draft" not in f:
        return 0.0
    far = z - span[0] if f["draft"]["narrows"] == "up" else span[1] - z
    return math.tan(math.radians(f["draft"]["angle"])) * far


def plug(f, span, z, low, high, past=1):
    """Upright solids over all copies of a feature, as wide as it is close above (1) or below (-1) a height."""
    if "turned" in f or "ball" in f:
        if "ball" in f:
            inner, outer = 0, columns.shape(f, *span, z)[1]
        else:
            inner, outer = (round(r, 4) for r in columns.turned_radii(f["turned"]["section"], z + 1e-7 * past))

        def build():
            """The cylinder or tube of the first copy."""
            t = cylinder(*anchor(f), outer, low, high)
            return cut_off([t], [cylinder(*anchor(f), inner, low, high)]) if inner else [t]

        return each(f, build)
    if "flatted" in f:
        return each(f, lambda: [flatted(f["flatted"], low, high)])
    outline = rims.sides(f, lean_to(f, span, z))
    return each(f, lambda: [rims.prism(outline, low, high)])


def rim(f, span, edge, z, inside, up):
    """The solids of a rim or foot of all copies of a feature at a height; inside or outside its outline, up (1) or down (-1)."""
    side = 1 if inside else -1
    if "turned" in f:
        return each(f, lambda: turned_rim(f["turned"], edge, z, side, up))
    if "flatted" in f:
        return each(f, lambda: rims.flatted_ring(f["flatted"], edge, side, z, up))
    lean = 0.0
    if "draft" in f:  # going on from the face, the wall leans inward or outward
        inward = math.tan(math.radians(f["draft"]["angle"])) * (1 if (f["draft"]["narrows"] == "up") == (up > 0) else -1)
        lean = side * inward
    outline = rims.sides(f, lean_to(f, span, z))
    shape = rims.section(edge, lean)
    return each(f, lambda: rims.ring(outline, shape, side, z, up))


def turned_rim(p, edge, z, side, up):
    """The rims of a turned feature at a face: of each wall that ends there, and of each wall of a cut that crosses the face."""
    x, y = p.get("at", [0, 0])
    points = [tuple(s["arc"]) if isinstance(s, dict) else tuple(s) for s in p["section"]]
    ends, n = [], len(points)  # radius, the wall's far end, and on which side of it the face lies: inward is 1
    for i in range(n):
        a, b, c, before = points[i], points[(i + 1) % n], points[(i + 2) % n], points[i - 1]
        if abs(a[1] - z) < 1e-9 and abs(b[1] - z) < 1e-9:
            for end, beyond, other in ((a, before, b), (b, c, a)):
                if end[0] > 0 and (beyond[1] - z) * up > 0:
                    ends.append((end[0], beyond, 1 if other[0] < end[0] else -1))
        elif side < 0 and a[0] + b[0] > 0 and (a[1] - z) * (b[1] - z) < -1e-9:
            far = a if (a[1] - z) * up > 0 else b
            ends.append((a[0] + (z - a[1]) / (b[1] - a[1]) * (b[0] - a[0]), far, 1))
    out = []
    for radius, far, k in ends:
        lean = -(far[0] - radius) * k * side / abs(far[1] - z)
        out.append(rims.spun(rims.section(edge, lean), (x, y), radius, -k * side, z, up, rims.SEAM, 2 * math.pi))
    return out


def flats_of(f, span, top):
    """The heights of the flat faces of a feature that look up or down."""
    if "turned" not in f:
        return [span[top]]
    points = [tuple(s["arc"]) if isinstance(s, dict) else tuple(s) for s in f["turned"]["section"]]
    heights = set()
    for a, b in zip(points, points[1:] + points[:1]):
        if abs(a[1] - b[1]) < 1e-9 and a != b:
            at = columns.crossings(f["turned"]["section"], np.array([(a[0] + b[0]) / 2]))[:, 0]
            above = sum(1 for h in at if a[1] + 1e-7 < h < math.inf) % 2 == 1
            if above != top:
                heights.add(a[1])
    return sorted(heights)


def body(d, name):
    """The solids of a body, with its rims."""
    b = d.bodies[name]
    low, high = d.whole[name]
    own = each(b, lambda: cut_off([solid(b, low, high)], faces.tools(b, low, high)))
    for e in d.edges:
        if e["of"] != name or "face" not in e:
            continue
        top = e["face"] == "top"
        if d.drawn[name][top] != d.whole[name][top]:
            raise ValueError("a rim at a face with stock")
        for z in flats_of(b, d.drawn[name], top):
            tools = rim(b, d.drawn[name], e, z, True, -1 if top else 1)
            own = cut_off(own, cut_off(tools, standing(d, z, top, name, depth(tools, z))))
    return own


def depth(solids, z):
    """How far solids reach from a height."""
    found = [occ.getBoundingBox(3, t) for t in solids]
    return max(max(b[5] - z, z - b[2]) for b in found)


def standing(d, z, top, but=None, deep=None):
    """Plugs of the bodies that go on past an end face; not of those that fill again, as deep, what is taken of another there."""
    out = []
    for n, b in d.bodies.items():
        low, high = d.whole[n]
        if n == but or not (low <= z + 1e-9 and high > z + 1e-9 if top else high >= z - 1e-9 and low < z - 1e-9):
            continue
        upright = not {"turned", "ball"} & set(b) and ("draft" not in b or (b["draft"]["narrows"] == "up") == top)
        if deep is None or not upright or (low > z - deep if top else high < z + deep):
            out += plug(b, d.whole[n], z, z - 20, z + 20, 1 if top else -1)
    return out


def feet(d, name, edge):
    """The solids of a body's foot: on each face that is set back from one of its ends."""
    b, (low, high) = d.bodies[name], d.drawn[name]
    out, done = [], set()
    for n, (other_low, other_high) in d.drawn.items():
        if n == name:
            continue
        if low - 1e-9 <= other_high < high - 1e-9 and (other_high, 1) not in done:
            done.add((other_high, 1))
            out += rim(b, (low, high), edge, other_high, False, 1)
        if low + 1e-9 < other_low <= high + 1e-9 and (other_low, -1) not in done:
            done.add((other_low, -1))
            out += rim(b, (low, high), edge, other_low, False, -1)
    return out


def recess(c, span):
    """The first copy of a cut, less its island."""
    return cut_off([solid(c, *span)], [solid(*faces.island(c, span))] if "island" in c else [])


def cut_tools(d, name):
    """The solids of a cut, with its foot and with its rims at all end faces that it opens to."""
    c, span = d.cuts[name], d.spans[name]
    own, wider = each(c, lambda: recess(c, span)), []
    for e in d.edges:
        if e["of"] != name:
            continue
        if e.get("at") == "foot":
            up = 1 if c["open"] == "top" else -1
            floor = span[0] if up > 0 else span[1]
            own = cut_off(own, rim(c, span, e, floor, True, up))
            continue
        top = e["face"] == "top"
        up = -1 if top else 1
        for z in sorted({z for n, b in d.bodies.items() for z in flats_of(b, d.drawn[n], top)}):
            if not (span[0] - 1e-9 <= z <= span[1] + 1e-9) or abs(span[not top] - z) < 1e-9:
                continue
            if any(d.drawn[n][top] == z != d.whole[n][top] for n in d.bodies if plan_of(d.bodies[n]).intersects(plan_of(c))):
                raise ValueError("a rim at a face with stock")
            beside = [n for n, o in d.cuts.items() if n != name and o.get("open") == e["face"]]
            shallow = [t for n in beside for t in plug(d.cuts[n], d.spans[n], z, z - 20, z + 20)]
            wider += cut_off(rim(c, span, e, z, False, up), standing(d, z, top) + shallow)
        for n, o in d.cuts.items():
            if n == name or o.get("open") != e["face"] or "section" in o:
                continue
            z = d.spans[n][not top]
            if span[0] + 1e-9 < z < span[1] - 1e-9 and plan_of(o).intersects(plan_of(c)):
                wider += kept_in(rim(c, span, e, z, False, up), plug(o, d.spans[n], z, z - 20, z + 20))
    return own + wider


def blended(whole, features, radius):
    """A solid with the upright edges rounded at which the outlines of two features meet."""
    occ.synchronize()
    edges = []
    for _, s in gmsh.model.getBoundary([(3, whole)], combined=False, oriented=False):
        for _, c in gmsh.model.getBoundary([(2, s)], combined=False, oriented=False):
            x0, y0, z0, x1, y1, z1 = gmsh.model.getBoundingBox(1, abs(c))
            if z1 - z0 > 1e-3 and x1 - x0 < 1e-3 and y1 - y0 < 1e-3:
                if all(on_outline(f, (x0 + x1) / 2, (y0 + y1) / 2) for f in features):
                    edges.append(abs(c))
    if not edges:
        raise ValueError("a blend finds no corner")
    return occ.fillet([whole], sorted(set(edges)), [radius])[0][1]


def on_outline(f, x, y):
    """Whether a point lies on the outline of any copy of a feature."""
    for moves in placings(f):
        p = (x, y)
        for angle, about, _, shift in reversed(moves):
            p = turned((p[0] - shift[0], p[1] - shift[1]), -angle, about)
        if "flatted" in f:
            raise ValueError("a blend with a circle with flats is not built")
        for e in rims.sides(f):
            if e[0] == "circle":
                near = abs(math.dist(p, e[1]) - e[2])
            elif e[0] == "line":
                near = LineString([e[1], e[2]]).distance(Point(p))
            else:
                near = abs(math.dist(p, e[3]) - e[4])
            if near < 1e-4:
                return True
    return False


def across(d, s):
    """The solid that a feature across the axis takes away."""
    f = d.bodies.get(s["in"]) or d.cuts[s["in"]]
    x, y = anchor(f)
    if "hole" in s:
        h = s["hole"]
        a = math.radians(h["toward"])
        u, v, far = math.cos(a), math.sin(a), 200
        back = far if h.get("through") else 0
        return [occ.addCylinder(x - u * back, y - v * back, h["z"], u * (far + back), v * (far + back), 0, h["diameter"] / 2)]
    if "flat" in s:
        h = s["flat"]
        t = rectangle({"length": 200, "width": 400, "at": [x + h["distance"] + 100, y]}, h["z"], d.drawn[s["in"]][1])
        occ.rotate([(3, t)], x, y, 0, 0, 0, 1, math.radians(h["toward"]))
        return [t]
    if "groove" in s:
        g = s["groove"]
        low, high = g["z"] - g["width"] / 2, g["z"] + g["width"] / 2
        if s["in"] in d.cuts:
            return each(f, lambda: [rims.prism(rims.sides(f, -g["depth"]), low, high)])
        within = lambda: [rims.prism(rims.sides(f, g["depth"]), low - 1, high + 1)]
        return each(f, lambda: cut_off([rims.prism(rims.sides(f), low, high)], within()))
    return []


def mark_solid(d, m):
    """The box of a mark, at each of its places."""
    name, face = m["on"].rsplit(".", 1)
    x, y, length, width = m["box"]
    z = d.drawn[name][face == "top"]
    high = m.get("raised") or m["recessed"]
    up = (face == "top") == ("raised" in m)
    box = {"length": length, "width": width, "at": [x, y]}
    return each({**m, "rectangle": box}, lambda: [rectangle(box, *((z, z + high) if up else (z - high, z)))])


def build(part, finished):
    """The solid of a part, as pressed or finished; the numbers of its pieces."""
    d = Drawn(part, finished)
    stock = [t for n in d.bodies for t in body(d, n)]
    whole = stock[0] if len(stock) == 1 else united(stock) if d.edges else joined(stock)
    for b in d.blends:
        if all(n in d.bodies for n in b["of"]):
            whole = blended(whole, [d.bodies[n] for n in b["of"]], b["radius"])
    more = [t for e in d.edges if e.get("at") == "foot" and e["of"] in d.bodies for t in feet(d, e["of"], e)]
    more += [t for m in d.marks if "raised" in m for t in mark_solid(d, m)]
    if more:
        whole = united([whole] + more)
    out = cut_off([whole], [t for n in d.cuts for t in cut_tools(d, n)])
    for b in d.blends:
        if not all(n in d.bodies for n in b["of"]) and all(n in d.bodies or n in d.cuts for n in b["of"]):
            out = [blended(out[0], [d.bodies.get(n) or d.cuts[n] for n in b["of"]], b["radius"])]
    out = cut_off(out, [t for m in d.marks if "recessed" in m for t in mark_solid(d, m)])
    for s in d.sides:
        out = cut_off(out, across(d, s))
    return out


def upright_plane(x, y, degrees):
    """A large upright face through a point of the plan."""
    t = occ.addRectangle(-300, -300, 0, 600, 600)
    occ.rotate([(2, t)], 0, 0, 0, 1, 0, 0, math.pi / 2)
    occ.rotate([(2, t)], 0, 0, 0, 0, 0, 1, math.radians(degrees))
    occ.translate([(2, t)], x, y, 0)
    return t


def sliced(out, d):
    """A solid in slices about each cross hole: the kernel's sums over a face are off by up to 1e-5 where such a hole ends.

    So are they, by up to 2e-6, where round grooves of one face cross or a round wall ends at a tilted plane.
    """
    planes = [upright_plane(*p) for p in faces.slices(d.bodies, d.cuts)]
    for s in d.sides:
        if "hole" not in s:
            continue
        h = s["hole"]
        x, y = anchor(d.bodies.get(s["in"]) or d.cuts[s["in"]])
        planes += [upright_plane(x, y, h["toward"] + turn) for turn in (0, 90)]
        for k in range(-7, 8):
            planes.append(occ.addRectangle(-300, -300, h["z"] + h["diameter"] / 2 * math.sin(k * math.pi / 16), 600, 600))
    if not planes:
        return out
    pieces, _ = occ.fragment([(3, t) for t in out], [(2, t) for t in planes])
    return [t for d, t in pieces if d == 3]


def measured(part, finished):
    """Volume, surface and centroid of a part, by the kernel; what ramps take is summed."""
    if any("ramp" in b for b in part["bodies"].values()):
        return faces.ramped(part, Drawn(part, finished).spans, measured(faces.flat(part), finished))
    gmsh.model.add("part")
    try:
        out = build(part, finished)
        if len(out) != 1:
            raise ValueError("the part falls into pieces")
        out = sliced(out, Drawn(part, finished))
        occ.synchronize()
        shell = gmsh.model.getBoundary([(3, t) for t in out], combined=True, oriented=False)
        volumes = [occ.getMass(3, t) for t in out]
        centres = [occ.getCenterOfMass(3, t) for t in out]
        whole = sum(volumes)
        return {
            "volume": whole,
            "surface": sum(occ.getMass(d, t) for d, t in shell),
            "centroid": [sum(v * c[i] for v, c in zip(volumes, centres)) / whole for i in range(3)],
        }
    finally:
        gmsh.model.remove()


def measure(part):
    """Volume, surface and centroid of a part as pressed."""
    return measured(part, False)


def measure_finished(part):
    """Volume, surface and centroid of a part as finished."""
    return measured(part, True)


def after_pressing(part):
    """Whether the finished part is another than the pressed one."""
    made = list(part.get("cuts", {}).values()) + list(part.get("marks", {}).values())
    later = any(f.get("made_by", "pressing") != "pressing" for f in made)
    return later or bool(part.get("sides")) or any("face_stock" in b for b in part["bodies"].values())


def near(found, wanted, what, within=1e-9):
    """Ends the run where a figure is off."""
    if abs(found / wanted - 1) > within:
        sys.exit(f"{what}: the kernel has {found} for {wanted}")


def check_rims():
    """Holds rims and feet against what is known of turned sections, of mitres and of cross holes."""
    disc = {"bodies": {"disc": {"circle": {"diameter": 20}, "from": 0, "to": 8}}}
    with_edge = lambda part, e: {**part, "edges": {"rim": e}}
    # a chamfer with a flat: the section is a rectangle and a triangle, turned about the axis
    w, f, h = 1.0, 0.3, math.tan(math.radians(30))
    gone = 2 * math.pi * (f * h * (10 - f / 2) + w * h / 2 * (10 - f - w / 3))
    cone = math.pi * (10 - f + 10 - f - w) * math.hypot(w, h)
    area = math.pi * (100 - (10 - f) ** 2) + cone + math.pi * (10 - f - w) ** 2 + math.pi * 100 + 20 * math.pi * (8 - h)
    got = measure(with_edge(disc, {"of": "disc", "face": "top", "chamfer": {"width": w, "slope": 30, "flat": f}}))
    near(got["volume"], 800 * math.pi - gone, "a chamfered disc")
    near(got["surface"], area, "a chamfered disc")
    # a round: the section is a square less a quarter circle, whose centroid is known
    r = 1.5
    section, quarter = r * r * (1 - math.pi / 4), math.pi * r * r / 4
    back = (r**3 / 2 - quarter * (r - 4 * r / (3 * math.pi))) / section  # from the corner
    got = measure(with_edge(disc, {"of": "disc", "face": "bottom", "round": {"radius": r}}))
    near(got["volume"], 800 * math.pi - 2 * math.pi * section * (10 - back), "a rounded disc")
    bend = 2 * math.pi * (math.pi / 2 * r) * (10 - r + 2 * r / math.pi)
    near(got["surface"], math.pi * (100 + (10 - r) ** 2) + 20 * math.pi * (8 - r) + bend, "a rounded disc")
    # its foot on a plate
    plate, hub = {"circle": {"diameter": 40}, "from": 0, "to": 4}, {"circle": {"diameter": 20}, "from": 0, "to": 8}
    stepped = {"bodies": {"plate": plate, "hub": hub}}
    got = measure(with_edge(stepped, {"of": "hub", "at": "foot", "round": {"radius": r}}))
    near(got["volume"], 1600 * math.pi + 400 * math.pi + 2 * math.pi * section * (10 + back), "a foot")
    # a block with mitred rims: a section is swept along each side, less the corners, which are pyramids
    block = {"bodies": {"block": {"rectangle": {"length": 20, "width": 12}, "from": 0, "to": 8}}}
    got = measure(with_edge(block, {"of": "block", "face": "top", "chamfer": {"width": 1, "slope": 45}}))
    near(got["volume"], 20 * 12 * 7 + (20 * 12 + 18 * 10 + 4 * 19 * 11) / 6, "a chamfered block")
    got = measure(with_edge(block, {"of": "block", "face": "top", "round": {"radius": 2}}))
    layer = 240 * 2 - 64 * (2 - math.pi / 2) * 2 + 4 * 4 * (2 * (1 - math.pi / 2) + 4 / 3)  # of 240 - 64 g + 4 g^2, g = 2 (1 - cos)
    near(got["volume"], 240 * 6 + layer, "a rounded block")
    # a radius of the outline that runs out to a mitre: a cone, and above it a block's rim
    small = {"bodies": {"block": {"rectangle": {"length": 20, "width": 12, "corner": 0.5}, "from": 0, "to": 8}}}
    got = measure(with_edge(small, {"of": "block", "face": "top", "chamfer": {"width": 1, "slope": 45}}))
    sharp = 20 * 12 * 7 + (20 * 12 + 18 * 10 + 4 * 19 * 11) / 6
    near(got["volume"], sharp - (4 - math.pi) * (0.25 * 7 + 0.5**3 / 3), "a corner radius that runs out")
    # a cross hole through a bar, whose rim the kernel only comes near: what it takes is a sum over the hole's circle
    big, small_r, count = 8.0, 2.5, 400
    long = lambda k: 2 * math.sqrt(big**2 - (small_r * math.sin(2 * math.pi * k / count)) ** 2)
    step = 2 * math.pi / count
    cosine = lambda k: (small_r * math.cos(step * k)) ** 2
    gone = sum(cosine(k) * long(k) for k in range(count)) * step
    wall = sum(small_r * long(k) for k in range(count)) * step
    patch = 4 * sum(cosine(k) * big / long(k) for k in range(count)) * step
    bar = {"bodies": {"bar": {"circle": {"diameter": 16}, "from": 0, "to": 24}}}
    pin = {"hole": {"diameter": 5, "toward": 20, "z": 15, "through": True}, "in": "bar"}
    got = measure_finished({**bar, "sides": {"pin": pin}})
    near(got["volume"], 64 * math.pi * 24 - gone, "a cross hole", 2e-8)
    near(got["surface"], 128 * math.pi + 16 * math.pi * 24 - patch + wall, "a cross hole", 2e-8)
    # half of it in a square bar
    bar = {"bodies": {"bar": {"rectangle": {"length": 10, "width": 10}, "from": 0, "to": 20}}}
    got = measure_finished({**bar, "sides": {"hole": {"hole": {"diameter": 4, "toward": 0, "z": 9}, "in": "bar"}}})
    near(got["volume"], 2000 - 4 * math.pi * 5, "a cross hole")


def check_kernel():
    """Holds the kernel against a cone, a ball and a pyramid's stump, whose volumes and surfaces are known."""
    gmsh.model.add("known")
    square = lambda w: [(-w, -w), (w, -w), (w, w), (-w, w)]
    known = {
        occ.addCone(1, 2, 3, 0, 0, 4, 3, 0): (12 * math.pi, 24 * math.pi),
        occ.addSphere(40, 2, 3, 5): (500 * math.pi / 3, 100 * math.pi),
        loft(square(5), 0, square(3), 4): (4 / 3 * (100 + 36 + 60), 136 + 4 * 8 * math.sqrt(20)),
    }
    occ.synchronize()
    for tag, (volume, surface) in known.items():
        shell = gmsh.model.getBoundary([(3, tag)], combined=True, oriented=False)
        found = sum(occ.getMass(d, t) for d, t in shell)
        if abs(occ.getMass(3, tag) / volume - 1) > 1e-9 or abs(found / surface - 1) > 1e-9:
            sys.exit(f"the kernel has {occ.getMass(3, tag)} and {found} for {volume} and {surface}")
    gmsh.model.remove()
    check_rims()
    faces.check_faces(measure, near)


def slopes(part, ask):
    """What is measured besides of a part in which slopes meet."""
    found = dict(zip(("plan", "plan_tolerance"), columns.plan(part)))
    if "through" in ask:
        found.update(zip(("through", "through_tolerance"), columns.through(part, ask["through"])))
    if "wall" in ask:
        found.update(zip(("wall", "wall_tolerance"), columns.wall(part, ask["wall"])), wall_between=sorted(ask["wall"]))
    return found


def main():
    """Measures all part files of the folder beside it, or of a folder that is given."""
    gmsh.initialize()
    gmsh.option.setNumber("General.Terminal", 0)
    gmsh.option.setNumber("Geometry.Tolerance", 1e-8)
    check_kernel()
    folder = sys.argv[1] if len(sys.argv) > 1 else os.path.dirname(os.path.abspath(__file__))
    asked = {}
    if os.path.exists(os.path.join(folder, "asked.json")):
        with open(os.path.join(folder, "asked.json")) as f:
            asked = json.load(f)
    found = {}
    for name in sorted(glob.glob(os.path.join(folder, "*.yaml"))):
        with open(name) as f:
            part = yaml.load(f, Plain)
        if part["units"] == "in":
            part = in_mm(part)
        try:
            found[part["part"]] = measure(part)
            if after_pressing(part):
                found[part["part"]]["finished"] = measure_finished(part)
            if part["part"] in asked:
                found[part["part"]].update(slopes(part, asked[part["part"]]))
        except Exception as e:  # the name is needed to find the fault
            sys.exit(f"{part['part']}: {e}")
    version = gmsh.option.getString("General.Version")
    gmsh.finalize()
    json.dump({"made_by": f"make.py, gmsh {version} with the Open CASCADE kernel", "parts": found}, sys.stdout, indent=1, sort_keys=True)
    print()


if __name__ == "__main__":
    main()
