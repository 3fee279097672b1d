"""Sloped end faces and face teeth as solids, and ramps in numbers: screw faces, of which the kernel has none.

Tools are built for a body's first copy; make.py takes them from that body alone. A part with ramps is measured without them by the
kernel. What the ramps take is then summed here: over the plan by rings about their axis, and along each line of the plan that has a
wall. Lengths are mm. make.py uses it.
"""
import copy
import math

import gmsh
import numpy as np

import columns
import rims

occ = gmsh.model.occ
NEAR = 1e-7  # how far from a line of the plan its two sides are looked at


def centre(b):
    """The middle of a body's profile."""
    return next((p["at"] for p in b.values() if isinstance(p, dict) and "at" in p), [0, 0])


def support(outline, u):
    """How far an outline reaches back along a direction: the least product of its points with it."""
    least = math.inf
    for e in outline:
        if e[0] == "circle":
            least = min(least, rims.dot(e[1], u) - e[2])
            continue
        least = min(least, rims.dot(e[1], u), rims.dot(e[2], u))
        if e[0] == "arc":
            c, r, sweep = e[3:]
            start = math.atan2(e[1][1] - c[1], e[1][0] - c[0])
            to = (math.atan2(-u[1], -u[0]) - start) * (1 if sweep > 0 else -1) % (2 * math.pi)
            if to < abs(sweep):
                least = min(least, rims.dot(c, u) - r)
    return least


def tilted(b, low, high):
    """All that lies past the tilted plane of a body."""
    t = b["tilt"]
    top = t["face"] == "top"
    a = math.radians(t["toward"])
    u, far = (math.cos(a), math.sin(a)), 300
    # drawn toward x: the highest line of the plane is at x 0
    box = occ.addBox(-far, -far, 0, 2 * far, 2 * far, far)
    occ.rotate([(3, box)], 0, 0, 0, 0, 1, 0, math.radians(t["angle"]))
    if not top:
        occ.mirror([(3, box)], 0, 0, 1, 0)
    occ.rotate([(3, box)], 0, 0, 0, 0, 0, 1, a)
    s = support(rims.sides(b), u)
    if "draft" in b and b["draft"]["narrows"] == ("up" if top else "down"):  # the face is the narrow end, of a circle
        assert "circle" in b
        s += (high - low) * math.tan(math.radians(b["draft"]["angle"]))
    occ.translate([(3, box)], u[0] * s, u[1] * s, high if top else low)
    return [box]


def toothed(b, low, high):
    """The spaces of a body's face teeth; where the body is a round one that ends there, they go on past it."""
    t = b["face_teeth"]
    x, y = centre(b)
    face, down = (high, -1) if t["face"] == "top" else (low, 1)
    h = t["depth"] * math.tan(math.radians(t["angle"] / 2))
    start, end = math.sqrt((t["inner"] / 2) ** 2 - (1.25 * h) ** 2) / 2, t["outer"] / 2
    if "circle" in b and b["circle"]["diameter"] <= t["outer"]:
        end += 1
    over = 0.25  # above the face there is nothing of the body
    out = []
    for k in range(t["count"]):
        section = [(-h * (1 + over), -over * t["depth"]), (h * (1 + over), -over * t["depth"]), (0, t["depth"])]
        tags = [occ.addPoint(x + start, y + v, face + down * d) for v, d in section]
        side = occ.addPlaneSurface([occ.addCurveLoop([occ.addLine(tags[i], tags[(i + 1) % 3]) for i in range(3)])])
        space = next(tag for d, tag in occ.extrude([(2, side)], end - start, 0, 0) if d == 3)
        occ.rotate([(3, space)], x, y, 0, 0, 0, 1, math.radians(t.get("turn", 0) + 360 * k / t["count"]))
        # from the circle of the inner diameter to that of the outer one
        rings = [(3, occ.addCylinder(x, y, low - 1, 0, 0, high - low + 2, t["inner"] / 2))]
        space = occ.cut([(3, space)], rings)[0][0][1]
        rings = [(3, occ.addCylinder(x, y, low - 1, 0, 0, high - low + 2, end))]
        out.append(occ.intersect([(3, space)], rings)[0][0][1])
    return out


def tools(b, low, high):
    """What a tilt and face teeth take of the first copy of a body."""
    return (tilted(b, low, high) if "tilt" in b else []) + (toothed(b, low, high) if "face_teeth" in b else [])


def island(c, span):
    """The island of a recess as a feature, and its lower and upper end; an upright one goes on past both."""
    f = dict(c["island"])
    if "draft" in c:
        f["draft"] = {"angle": c["draft"]["angle"], "narrows": "up" if c["open"] == "top" else "down"}
        return (f, *span)
    return (f, span[0] - 1, span[1] + 1)


def slices(bodies, cuts):
    """Upright planes, as points and directions, that make small the faces over which the kernel's sums are off."""
    out = []
    for b in bodies.values():
        if "tilt" in b and ("circle" in b or "slot" in b):
            out += [(*centre(b), 10 + 45 * k) for k in range(4)]
    for face in ("top", "bottom"):
        round_ones = [c for c in cuts.values() if c.get("section") == "round" and c["open"] == face]
        lines = [(c.get("rectangle") or c["slot"], turn) for c in round_ones for turn, _, _ in columns.copies(c)]
        for p, turn in lines if len(lines) > 1 else []:
            a = p.get("turn", 0) + turn
            for k in range(-3, 4):
                off = p["width"] / 2 * math.sin(k * math.pi / 8)
                x, y = columns.turn_back(*p.get("at", [0, 0]), -turn)
                out.append((x - off * math.sin(math.radians(a)), y + off * math.cos(math.radians(a)), a))
    return out


def flat(part):
    """A part without its ramps."""
    out = copy.deepcopy(part)
    for b in out["bodies"].values():
        b.pop("ramp", None)
    return out


def lines(f):
    """The lines of a feature's outline in plan, of all its copies: circles and straight lines."""
    if isinstance(f.get("repeat"), list) or "first" in f.get("repeat", {}):
        raise ValueError("such a repeat is not built beside a ramp")
    out = []
    for degrees, about, shift in columns.copies(f):
        to = lambda p: tuple(a + b for a, b in zip(columns.turn_back(*p, -degrees, about), shift))
        for e in rims.sides(f):
            if e[0] == "arc":
                raise ValueError("an arc beside a ramp is not built")
            out.append(("circle", to(e[1]), e[2]) if e[0] == "circle" else ("line", to(e[1]), to(e[2])))
    return out


def within(outline, x, y):
    """Whether points lie inside a feature, of which the lines of all copies are given."""
    found, odd = np.zeros(np.shape(x), bool), np.zeros(np.shape(x), bool)
    for e in outline:
        if e[0] == "circle":
            found |= np.hypot(x - e[1][0], y - e[1][1]) < e[2]
            continue
        (ax, ay), (bx, by) = e[1:]
        if ay != by:
            odd ^= ((ay > y) != (by > y)) & (x < ax + (y - ay) / (by - ay) * (bx - ax))
    return found | odd


class Ramps:
    """The ramps of one body, seen from above or below, with what stands and what is cut at their heights."""

    def __init__(self, part, spans, name):
        """Sorts out what lies beside the ramps; it must reach over all their height or over none of it."""
        b = part["bodies"][name]
        r = b["ramp"]
        self.top = r["face"] == "top"
        self.face = b["to"] if self.top else b["from"]
        self.at, self.rise, self.count = centre(b), r["rise"], r.get("count", 1)
        x, y = self.at
        self.start = math.radians(r["start_angle"])
        self.span = math.radians(r["end_angle"] - r["start_angle"])
        self.inner, self.outer = r["inner"] / 2, r.get("outer", 1000) / 2
        self.pitch = 2 * math.pi / self.count
        low, high = sorted((self.face, self.face - self.rise if self.top else self.face + self.rise))
        ends = {n: columns.heights(o) for n, o in part["bodies"].items()}
        self.own = lines(b)
        self.others = [lines(o) for n, o in part["bodies"].items() if n != name and self.beside(ends[n], low, high)]
        self.cuts = [lines(c) for n, c in part.get("cuts", {}).items() if self.beside(spans[n], low, high)]
        self.curves = list(dict.fromkeys(e for o in [self.own] + self.others + self.cuts for e in o))
        rings = [("circle", tuple(self.at), r) for r in (self.inner, self.outer) if r < 400]
        self.curves += [e for e in rings if e not in self.curves]
        rays = [a + k * self.pitch for k in range(self.count) for a in (self.start, self.start + self.span)]
        for a in sorted({round(a % (2 * math.pi), 9): a for a in rays}.values()):  # one, where a ramp starts at another's end
            u = (math.cos(a), math.sin(a))
            self.curves.append(("line", *((x + u[0] * s, y + u[1] * s) for s in (self.inner, min(self.outer, 200)))))

    @staticmethod
    def beside(ends, low, high):
        """Whether a feature stands beside the ramps; one that does so in part is not built."""
        over = min(ends[1], high) - max(ends[0], low)
        if 1e-9 < over < high - low - 1e-9:
            raise ValueError("a feature ends within the height of a ramp")
        return over > 1e-9

    def part_of(self, x, y):
        """How far along its ramp each point of the plan lies, 0 to 1; NaN where there is none."""
        a = np.arctan2(y - self.at[1], x - self.at[0]) - self.start
        a = (a if self.span > 0 else -a) % self.pitch
        r = np.hypot(x - self.at[0], y - self.at[1])
        return np.where((a < abs(self.span)) & (r > self.inner) & (r < self.outer), a / abs(self.span), np.nan)

    def depth(self, x, y):
        """How deep the ramps are over points of the plan: 0 where material is left alone, NaN where there is none."""
        deep = np.nan_to_num(self.rise * (1 - self.part_of(x, y)))
        own, other = within(self.own, x, y), np.zeros(np.shape(x), bool)
        for o in self.others:
            other |= within(o, x, y)
        deep = np.where(other, 0.0, deep)
        void = ~(own | other)
        for c in self.cuts:
            void |= within(c, x, y)
        return np.where(void, np.nan, deep)

    def sides_of(self, at, s, far=1):
        """How deep the ramps are beside places along a line of the plan, on both its sides."""
        (x, y), (nx, ny) = at(s)
        return [self.depth(x + k * far * NEAR * nx, y + k * far * NEAR * ny) for k in (1, -1)]

    def kind(self, at, s):
        """What lies on both sides of a line of the plan: void, material, or which of the ramps."""
        (x, y), (nx, ny) = at(s)
        found = []
        for k, d in zip((1, -1), self.sides_of(at, s)):
            a = np.arctan2(y + k * NEAR * ny - self.at[1], x + k * NEAR * nx - self.at[0]) - self.start
            which = np.floor((a if self.span > 0 else -a) % (2 * math.pi) / self.pitch)
            found.append(np.where(np.isnan(d), 0, np.where(d > 0, 2 + which, 1)))
        return found[0] + 100 * found[1]

    def change(self, at, s):
        """By how much the wall at places along a line grows: the depths on the line follow from those at two distances from it."""
        a, b = (2 * p - q for p, q in zip(self.sides_of(at, s), self.sides_of(at, s, 2)))
        return np.where(np.isnan(a) != np.isnan(b), -np.fmax(a, b), np.nan_to_num(np.abs(a - b)))

    def walls(self, nodes):
        """By how much the walls grow: along each line of the plan where the ramps are deeper on one side, or end a wall sooner."""
        total, knots = 0.0, np.linspace(0, 1, 4001) + 1e-9
        g, weights = np.polynomial.legendre.leggauss(nodes)
        for e in self.curves:
            at, long = along(e)
            kinds, breaks = self.kind(at, knots), [0.0]
            for i in np.nonzero(kinds[1:] != kinds[:-1])[0]:
                low, high = knots[i], knots[i + 1]
                for _ in range(60):
                    mid = (low + high) / 2
                    low, high = (mid, high) if self.kind(at, np.array([mid]))[0] == kinds[i] else (low, mid)
                breaks.append(high)
            for low, high in zip(breaks, breaks[1:] + [1.0]):
                if high - low > 1e-7:
                    s = (low + high) / 2 + (high - low) / 2 * g
                    total += long * (high - low) / 2 * np.sum(weights * self.change(at, s))
        return total

    def turns(self, r):
        """The stretches of angle, at a distance from the axis, in which the ramps take material."""
        x0, y0 = self.at
        found = [self.start + k * self.pitch for k in range(self.count)]
        found += [a + self.span for a in found]
        for e in self.curves:
            if e[0] == "circle":
                d = math.dist(e[1], self.at)
                if d > 1e-9 and abs(e[2] - r) < d < e[2] + r:
                    toward = math.atan2(e[1][1] - y0, e[1][0] - x0)
                    half = math.acos((d * d + r * r - e[2] ** 2) / (2 * d * r))
                    found += [toward - half, toward + half]
                continue
            t, n = rims.square_to(e[1], e[2])
            off = rims.dot((e[1][0] - x0, e[1][1] - y0), n)
            if abs(off) < r and abs(off) > 1e-9:
                toward = math.atan2(n[1], n[0])
                half = math.acos(off / r)
                found += [toward - half, toward + half]
        found = np.sort(np.array(found) % (2 * math.pi))
        found = np.append(found, found[0] + 2 * math.pi)
        for a, b in zip(found, found[1:]):
            m = (a + b) / 2
            if b - a > 1e-13 and self.depth(np.array([x0 + r * math.cos(m)]), np.array([y0 + r * math.sin(m)]))[0] > 0:
                yield a, b

    def taken(self, nodes):
        """Volume, its moments, and by how much the face grows."""
        ends = {self.inner, self.outer}
        for e in self.curves:
            if e[0] == "circle":
                d = math.dist(e[1], self.at)
                ends |= {abs(d - e[2]), d + e[2]}
                continue
            _, n = rims.square_to(e[1], e[2])
            ends |= {abs(rims.dot((e[1][0] - self.at[0], e[1][1] - self.at[1]), n)), math.dist(e[1], self.at), math.dist(e[2], self.at)}
        for i, e in enumerate(self.curves):
            ends |= {math.dist(p, self.at) for o in self.curves[:i] for p in meets(e, o)}
        far = max(math.dist(e[1], self.at) + (e[2] if e[0] == "circle" else 0) for e in self.own)
        ends = sorted({round(r, 10) for r in ends if self.inner <= r <= min(self.outer, far)})
        g, weights = np.polynomial.legendre.leggauss(nodes)
        total, slope = np.zeros(5), self.rise / abs(self.span)
        for low, high in zip(ends, ends[1:]):
            for p, w in zip((g + 1) * math.pi / 2, weights * math.pi / 2):
                r = (low + high) / 2 - (high - low) / 2 * math.cos(p)
                dr = w * (high - low) / 2 * math.sin(p)
                for a, b in self.turns(r):
                    t = (a + b) / 2 + (b - a) / 2 * g
                    dt = weights * (b - a) / 2
                    x, y = self.at[0] + r * np.cos(t), self.at[1] + r * np.sin(t)
                    deep = self.depth(x, y)
                    mid = self.face - deep / 2 if self.top else self.face + deep / 2
                    part = np.array([deep, deep * x, deep * y, deep * mid, np.full(len(t), math.hypot(1, slope / r) - 1)])
                    total += r * dr * (part @ dt)
        return total


def meets(a, b):
    """The points in which two lines of the plan meet, straight ones drawn on past their ends."""
    if a[0] == "line" and b[0] == "line":
        (t, n), (u, _) = rims.square_to(*a[1:]), rims.square_to(*b[1:])
        across = rims.dot(u, n)
        if abs(across) < 1e-9:
            return []
        s = rims.dot((a[1][0] - b[1][0], a[1][1] - b[1][1]), n) / across
        return [(b[1][0] + u[0] * s, b[1][1] + u[1] * s)]
    if a[0] == "line":
        a, b = b, a
    (x, y), r = a[1:]
    if b[0] == "line":
        _, n = rims.square_to(*b[1:])
        off = rims.dot((b[1][0] - x, b[1][1] - y), n)
    else:  # both circles: they meet on a line square to that between their centres
        d = math.dist(a[1], b[1])
        if d < 1e-9:
            return []
        n = ((b[1][0] - x) / d, (b[1][1] - y) / d)
        off = (d * d + r * r - b[2] ** 2) / (2 * d)
    if abs(off) >= r:
        return []
    half = math.sqrt(r * r - off * off)
    return [(x + n[0] * off - s * n[1] * half, y + n[1] * off + s * n[0] * half) for s in (1, -1)]


def along(e):
    """A line of the plan: its points and the directions square to it, for places 0 to 1 along it, and its length."""
    if e[0] == "circle":
        (x, y), r = e[1:]
        point = lambda s: (
            (x + r * np.cos(2 * math.pi * s), y + r * np.sin(2 * math.pi * s)),
            (np.cos(2 * math.pi * s), np.sin(2 * math.pi * s)),
        )
        return point, 2 * math.pi * r
    a, b = e[1:]
    _, n = rims.square_to(a, b)
    return lambda s: ((a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s), n), math.dist(a, b)


def ramped(part, spans, without):
    """The figures of a part with ramps, from those of the part without them; twice, with ever more places, which must agree."""
    sums = []
    for nodes in (28, 40):
        volume, surface = without["volume"], without["surface"]
        moments = [volume * c for c in without["centroid"]]
        for name, b in part["bodies"].items():
            if "ramp" in b:
                r = Ramps(part, spans, name)
                gone = r.taken(nodes)
                volume -= gone[0]
                moments = [m - g for m, g in zip(moments, gone[1:4])]
                surface += gone[4] + r.walls(nodes)
        sums.append([volume, surface] + [m / volume for m in moments])
    if any(abs(a - b) > 1e-9 * max(1, abs(b)) for a, b in zip(*sums)):
        raise ValueError(f"the sums over a ramp do not settle: {sums}")
    volume, surface, *centroid = (float(v) for v in sums[1])
    return {"volume": volume, "surface": surface, "centroid": centroid}


def check_faces(measure, near):
    """Holds tilts, face teeth, islands and ramps against figures known in closed form."""
    disc = {"circle": {"diameter": 30}, "from": 0, "to": 10}
    # a disc under a tilted plane: at its middle it is as high as on the average, and its wall is
    t = math.tan(math.radians(8))
    got = measure({"bodies": {"disc": {**disc, "tilt": {"face": "top", "angle": 8, "toward": 25}}}})
    mean, plan = 10 - 15 * t, 225 * math.pi
    near(got["volume"], plan * mean, "a tilted disc")
    near(got["surface"], plan * (1 + math.hypot(1, t)) + 30 * math.pi * mean, "a tilted disc")
    near(got["centroid"][2], (mean**2 / 2 + t * t * 225 / 8) / mean, "a tilted disc")
    # a block, tilted at its lower face: a trapezium, 20 long and 12 wide
    block = {"rectangle": {"length": 20, "width": 12}, "from": 0, "to": 8, "tilt": {"face": "bottom", "angle": 5, "toward": 180}}
    t = math.tan(math.radians(5))
    got = measure({"bodies": {"block": block}})
    near(got["volume"], 240 * (8 - 10 * t), "a tilted block")
    near(got["surface"], 240 * (1 + math.hypot(1, t)) + 12 * (16 - 20 * t) + 40 * (8 - 10 * t), "a tilted block")
    near(got["centroid"][0], 20 * 20 * t / 12 / (8 - 10 * t), "a tilted block")
    # blind face teeth: each space is a V between two circles, with ends upright on them
    teeth = {"face": "top", "count": 7, "depth": 1.5, "angle": 70, "inner": 12, "outer": 24}
    h = 1.5 * math.tan(math.radians(35))
    edge = lambda r: math.sqrt(r * r - h * h)
    under = lambda r: 3 * ((h * edge(r) + r * r * math.asin(h / r)) / 2 - (r**3 - edge(r) ** 3) / (3 * h))
    over = lambda r: h * edge(r) + r * r * math.asin(h / r)
    ends = lambda r: 3 * r * (math.asin(h / r) - (r - edge(r)) / h)
    got = measure({"bodies": {"disc": {**disc, "face_teeth": teeth}}})
    near(got["volume"], plan * 10 - 7 * (under(12) - under(6)), "face teeth")
    more = 7 * ((over(12) - over(6)) * (math.hypot(h, 1.5) / h - 1) + ends(12) + ends(6))
    near(got["surface"], 2 * plan + 300 * math.pi + more, "face teeth")
    # a drafted recess and island, both round: two cones
    t = math.tan(math.radians(10))
    pocket = {"circle": {"diameter": 20}, "open": "top", "depth": 4, "draft": {"angle": 10, "narrows": "down"}}
    pocket["island"] = {"circle": {"diameter": 8, "at": [1, 0]}}
    got = measure({"bodies": {"disc": disc}, "cuts": {"pocket": pocket}})
    stump = lambda a, b: math.pi * 4 / 3 * (a * a + a * b + b * b)
    wall = lambda a, b: math.pi * (a + b) * math.hypot(a - b, 4)
    p, i = (10, 10 - 4 * t), (4, 4 - 4 * t)
    near(got["volume"], plan * 10 - stump(*p) + stump(*i), "an island")
    flats = 2 * plan - math.pi * (p[0] ** 2 - p[1] ** 2) - math.pi * (i[0] ** 2 - i[1] ** 2)
    near(got["surface"], flats + 300 * math.pi + wall(*p) + wall(*i), "an island")
    # ramps between two circles within a disc: a sector of a ring at half the rise, and the area of a screw face
    a, b, span, rise = 5.0, 12.0, math.radians(100), 2.0
    ramp = {"face": "top", "start_angle": 0, "end_angle": 100, "rise": rise, "inner": 2 * a, "outer": 2 * b, "count": 3}
    got = measure({"bodies": {"disc": {**disc, "ramp": ramp}}})
    near(got["volume"], plan * 10 - 3 * span * (b * b - a * a) / 2 * rise / 2, "ramps")
    k = rise / span
    arc = lambda r: (r * math.hypot(r, k) + k * k * math.asinh(r / k)) / 2
    more = 3 * (span * (arc(b) - arc(a)) - span * (b * b - a * a) / 2 + rise * (b - a) + rise / 2 * span * (a + b))
    near(got["surface"], 2 * plan + 300 * math.pi + more, "ramps")
    taken = 3 * span * (b * b - a * a) / 2 * (rise / 2 * 10 - rise**2 / 6)
    near(got["centroid"][2], (plan * 50 - taken) / got["volume"], "ramps")
    # one ramp that runs out of a ring's inside and outside: along x its moment is known too
    ring = {"disc": {**disc, "ramp": {**ramp, "count": 1, "inner": 4, "outer": 40}}}
    got = measure({"bodies": ring, "cuts": {"bore": {"circle": {"diameter": 10}}}})
    a, b = 5.0, 15.0
    near(got["volume"], (plan - 25 * math.pi) * 10 - span * (b * b - a * a) / 2 * rise / 2, "a ramp")
    more = span * (arc(b) - arc(a)) - span * (b * b - a * a) / 2 + rise * (b - a) - rise / 2 * span * (a + b)
    near(got["surface"], 2 * (plan - 25 * math.pi) + 400 * math.pi + more, "a ramp")
    near(got["centroid"][0] * got["volume"], -(b**3 - a**3) / 3 * rise * (1 - math.cos(span)) / span, "a ramp")
