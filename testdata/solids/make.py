#!/usr/bin/python3
"""Builds the solids of the part files beside it with a general-purpose solid kernel, and writes what it measures.

Run with Debian's python3-gmsh, python3-yaml, python3-shapely and python3-numpy:  /usr/bin/python3 make.py > solids.json
It knows nothing of corerod's own geometry: prisms, fillets and booleans of the kernel, one after another. All faces are planes,
cylinders, cones, spheres and tori: the kernel's volume under splines is off by up to 8e-3 of itself.

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
import yaml

import columns

occ = gmsh.model.occ


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
    p, depth = f["rectangle"], high - low
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
        "rectangle": lambda p: rectangle(p, low, high),
        "slot": lambda p: slot(p, low, high),
        "hexagon": lambda p: hexagon(p, low, high),
        "flatted": lambda p: flatted(p, low, high),
        "polygon": lambda p: rounded(polygon(p["points"], low, high), p.get("corner", 0), p["points"]),
        "path": lambda p: path(p, low, high),
    }.items():
        if key in f:
            return build(f[key])
    raise ValueError(f)


def anchor(f):
    """Where a profile lies."""
    p = next(iter(f[k] for k in ("circle", "rectangle", "slot", "hexagon", "flatted") if k in f))
    return p.get("at", [0, 0])


def copies(f, low, high):
    """All copies of a feature."""
    r = f.get("repeat")
    if not r:
        return [solid(f, low, high)]
    out = []
    for i in range(r["count"]):
        t = solid(f, low, high)
        if "step" in r:
            occ.translate([(3, t)], i * r["step"][0], i * r["step"][1], 0)
        else:
            over = r.get("over", 360)
            angle = i * over / (r["count"] if over == 360 else r["count"] - 1)
            about = r.get("about", [0, 0])
            if r.get("turn", True):
                occ.rotate([(3, t)], *about, 0, 0, 0, 1, math.radians(angle))
            else:
                a = anchor(f)
                b = turned(a, angle, about)
                occ.translate([(3, t)], b[0] - a[0], b[1] - a[1], 0)
        out.append(t)
    return out


def in_mm(value, key=""):
    """A part's tree with all lengths in mm."""
    if isinstance(value, dict):
        return {k: in_mm(v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [in_mm(v, key) for v in value]
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    return value * 25.4 if number and key not in ("angle", "turn", "over", "count") else value


def measure(part):
    """Volume, surface and centroid of a part, by the kernel."""
    gmsh.model.add("part")
    bodies, cuts = part["bodies"], part.get("cuts", {})
    stock = [t for b in bodies.values() for t in copies(b, b.get("from"), b.get("to"))]
    whole = joined(stock) if len(stock) > 1 else stock[0]
    tools = []
    for c in cuts.values():
        low, high = columns.reach(part, c)
        if "open" in c and "draft" not in c and "section" not in c:  # past the face, which it is open to
            low, high = (low, high + 1) if c["open"] == "top" else (low - 1, high)
        tools += copies(c, low, high)
    out = [(3, whole)]
    if tools:
        out, _ = occ.cut(out, [(3, t) for t in tools])
    occ.synchronize()
    if len(out) != 1:
        raise ValueError("the part falls into pieces")
    faces = gmsh.model.getBoundary(out, combined=True, oriented=False)
    result = {
        "volume": occ.getMass(*out[0]),
        "surface": sum(occ.getMass(d, t) for d, t in faces),
        "centroid": list(occ.getCenterOfMass(*out[0])),
    }
    gmsh.model.remove()
    return result


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
        faces = gmsh.model.getBoundary([(3, tag)], combined=True, oriented=False)
        found = sum(occ.getMass(d, t) for d, t in faces)
        if abs(occ.getMass(3, tag) / volume - 1) > 1e-9 or abs(found / surface - 1) > 1e-9:
            sys.exit(f"the kernel has {occ.getMass(3, tag)} and {found} for {volume} and {surface}")
    gmsh.model.remove()


def slopes(part, ask):
    """What is measured besides of a part in which slopes meet."""
    found = dict(zip(("plan", "plan_tolerance"), columns.plan(part)))
    if "through" in ask:
        found.update(zip(("through", "through_tolerance"), columns.through(part, ask["through"])))
    if "wall" in ask:
        found.update(zip(("wall", "wall_tolerance"), columns.wall(part, ask["wall"])), wall_between=sorted(ask["wall"]))
    return found


def main():
    """Measures all part files of the folder."""
    gmsh.initialize()
    gmsh.option.setNumber("General.Terminal", 0)
    gmsh.option.setNumber("Geometry.Tolerance", 1e-8)
    check_kernel()
    folder = os.path.dirname(os.path.abspath(__file__))
    with open(os.path.join(folder, "asked.json")) as f:
        asked = json.load(f)
    found = {}
    for name in sorted(glob.glob(os.path.join(folder, "*.yaml"))):
        with open(name) as f:
            part = yaml.safe_load(f)
        if part["units"] == "in":
            part = in_mm(part)
        try:
            found[part["part"]] = measure(part)
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
