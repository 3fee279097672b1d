"""What stands over each point of the plan of a part file, from the drawn shapes alone: no kernel, no sections in chords.

Each feature gives the heights between which it stands over a point. From these come the area of the plan, the largest circle
inside a through-hole, and the thickness between two features. Lengths are mm. make.py uses it.
"""
import math

import numpy as np
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import polylabel

FAR = 50.0  # how far a cut that is open goes on past the part
NEAR = 1e-10  # material thinner than this is none


def turn_back(x, y, degrees, about=(0, 0)):
    """Points turned clockwise about a centre."""
    a = math.radians(degrees)
    u, v = x - about[0], y - about[1]
    return about[0] + u * math.cos(a) + v * math.sin(a), about[1] - u * math.sin(a) + v * math.cos(a)


def heights(f):
    """The lowest and the highest z of a body."""
    if "ball" in f:
        p = f["ball"]
        return p.get("z", 0) - p["diameter"] / 2, p.get("z", 0) + p["diameter"] / 2
    if "turned" in f:
        ends = [(s["arc"] if isinstance(s, dict) else s)[1] for s in f["turned"]["section"]]
        return min(ends), max(ends)
    return f["from"], f["to"]


def reach(part, c):
    """From where to where a cut goes; the part has one height under each open cut, the whole part's."""
    ends = [heights(b) for b in part["bodies"].values()]
    low, high = min(e[0] for e in ends), max(e[1] for e in ends)
    if "draft" in c or "section" in c:  # drawn from face to face, not past them
        bottom, top = low, high
    else:
        bottom, top = low - FAR, high + FAR
    if c.get("open") == "top":
        bottom = high - c["depth"]
    elif c.get("open") == "bottom":
        top = low + c["depth"]
    return c.get("from", bottom), c.get("to", top)


def corners(p, points):
    """Points given from the middle of a profile, set where it lies."""
    x, y = p.get("at", [0, 0])
    a = math.radians(p.get("turn", 0))
    return [(x + u * math.cos(a) - v * math.sin(a), y + u * math.sin(a) + v * math.cos(a)) for u, v in points]


def outline(f):
    """The corners of a rectangle, hexagon, regular or drawn polygon, counter-clockwise."""
    if "rectangle" in f:
        l, w = f["rectangle"]["length"] / 2, f["rectangle"]["width"] / 2
        return corners(f["rectangle"], [(-l, -w), (l, -w), (l, w), (-l, w)])
    if "hexagon" in f:
        r = f["hexagon"]["across_flats"] / math.sqrt(3)
        return corners(f["hexagon"], [(r * math.cos(i * math.pi / 3), r * math.sin(i * math.pi / 3)) for i in range(6)])
    if "regular" in f:
        p = f["regular"]
        a = math.pi / p["sides"]
        r = p["inscribed"] / 2 / math.cos(a)
        return corners(p, [(r * math.cos(2 * a * i), r * math.sin(2 * a * i)) for i in range(p["sides"])])
    points = f["polygon"]["points"]
    area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, points[1:] + points[:1]))
    return points if area > 0 else points[::-1]


def axis(p):
    """The ends of the middle line of a slot."""
    half = (p["length"] - p["width"]) / 2
    return corners(p, [(-half, 0), (half, 0)])


def inward(f, x, y):
    """How far points lie inside an outline (a convex one, where it has corners), less than 0 outside."""
    if "circle" in f:
        cx, cy = f["circle"].get("at", [0, 0])
        return f["circle"]["diameter"] / 2 - np.hypot(x - cx, y - cy)
    if "slot" in f:
        (ax, ay), (bx, by) = axis(f["slot"])
        t = np.clip(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2), 0, 1)
        return f["slot"]["width"] / 2 - np.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay))
    if "flatted" in f:
        p = f["flatted"]
        u, v = turn_back(x, y, p.get("turn", 0), p.get("at", [0, 0]))
        u, v = u - p.get("at", [0, 0])[0], v - p.get("at", [0, 0])[1]
        least = p["diameter"] / 2 - np.hypot(u, v)
        for i, d in enumerate(p["flats"]):
            least = np.minimum(least, d - u * (-1) ** i)
        return least
    points = outline(f)
    least = np.full(np.shape(x), np.inf)
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1]):
        least = np.minimum(least, ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / math.hypot(bx - ax, by - ay))
    return least


def middle(a, b, radius, turn, large):
    """The centre of an arc from a to b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    h = math.sqrt(max(0, radius**2 - chord**2 / 4))
    side = 1 if (turn == "ccw") != bool(large) else -1
    return (a[0] + b[0]) / 2 - side * dy / chord * h, (a[1] + b[1]) / 2 + side * dx / chord * h


def section_walls(section):
    """The lines and arcs of a half section: ends, and of an arc its centre, radius and sweep."""
    here = section[0]
    for s in section[1:] + section[:1]:
        to = s["arc"] if isinstance(s, dict) else s
        if isinstance(s, dict):
            c = middle(here, to, s["radius"], s["turn"], s.get("large"))
            first, last = (math.atan2(q[1] - c[1], q[0] - c[0]) for q in (here, to))
            ccw = s["turn"] == "ccw"
            yield here, to, (c, s["radius"], first if ccw else last, (last - first if ccw else first - last) % (2 * math.pi))
        else:
            yield here, to, None
        here = to


def crossings(section, r):
    """The heights at which the walls of a half section cross each radius, in order; infinite where there are no more."""
    found = []
    for a, b, arc in section_walls(section):
        if arc is None:
            if a[0] == b[0]:
                continue
            there = (min(a[0], b[0]) <= r) & (r < max(a[0], b[0]))
            found.append(np.where(there, a[1] + (r - a[0]) / (b[0] - a[0]) * (b[1] - a[1]), np.inf))
            continue
        (cr, cz), radius, first, sweep = arc
        h = np.sqrt(np.maximum(0, radius**2 - (r - cr) ** 2))
        for side in (-1, 1):
            there = (np.abs(r - cr) < radius) & ((np.arctan2(side * h, r - cr) - first) % (2 * math.pi) < sweep)
            found.append(np.where(there, cz + side * h, np.inf))
    return np.sort(np.array(found), axis=0)


def groove(f, z0, z1, x, y):
    """Between which heights a V or round groove stands over points."""
    p = f["rectangle"]
    at = p.get("at", [0, 0])
    u, v = turn_back(x, y, p.get("turn", 0), at)
    u, v = np.abs(u - at[0]), np.abs(v - at[1])
    half, depth = p["width"] / 2, z1 - z0
    if f["section"] == "v":
        deep = depth * (1 - v / half)
    else:
        radius = (half**2 + depth**2) / (2 * depth)
        deep = np.sqrt(np.maximum(0, radius**2 - v**2)) - radius + depth
    there = (u < p["length"] / 2) & (v < half)
    if f["open"] == "top":
        return [(np.where(there, z1 - deep, np.inf), np.where(there, z1 + FAR, -np.inf))]
    return [(np.where(there, z0 - FAR, np.inf), np.where(there, z0 + deep, -np.inf))]


def one(f, z0, z1, x, y):
    """Between which heights the first copy of a feature stands over points: pairs of arrays, low and high."""
    if "turned" in f:
        cx, cy = f["turned"].get("at", [0, 0])
        z = crossings(f["turned"]["section"], np.hypot(x - cx, y - cy))
        return [(low, np.where(np.isfinite(low), high, -np.inf)) for low, high in zip(z[0::2], z[1::2])]
    if "ball" in f:
        p = f["ball"]
        cx, cy = p.get("at", [0, 0])
        square = (x - cx) ** 2 + (y - cy) ** 2
        radius = p["diameter"] / 2
        there = square < radius**2 - p.get("band", 0) ** 2 / 4
        h = np.sqrt(np.maximum(0, radius**2 - square))
        return [(np.where(there, p.get("z", 0) - h, np.inf), np.where(there, p.get("z", 0) + h, -np.inf))]
    if "section" in f:
        return groove(f, z0, z1, x, y)
    d = inward(f, x, y)
    high = z1 - z0
    if f.get("draft", {}).get("angle"):
        high = np.minimum(high, d / math.tan(math.radians(f["draft"]["angle"])))
    if f.get("draft", {}).get("narrows") == "down":
        return [(np.where(d > 0, z1 - high, np.inf), np.where(d > 0, z1, -np.inf))]
    return [(np.where(d > 0, z0, np.inf), np.where(d > 0, z0 + high, -np.inf))]


def copies(f):
    """For each copy of a feature the turn about a centre and the shift that bring the first one there."""
    r = f.get("repeat")
    if not r:
        return [(0, (0, 0), (0, 0))]
    if "step" in r:
        return [(0, (0, 0), (i * r["step"][0], i * r["step"][1])) for i in range(r["count"])]
    over, about = r.get("over", 360), r.get("about", [0, 0])
    return [(i * over / (r["count"] if over == 360 else r["count"] - 1), about, (0, 0)) for i in range(r["count"])]


def columns(f, z0, z1, x, y):
    """Between which heights any copy of a feature stands over points."""
    found = []
    for degrees, about, shift in copies(f):
        u, v = turn_back(x - shift[0], y - shift[1], degrees, about)
        found += one(f, z0, z1, u, v)
    return found


class Stack:
    """A part as the heights of its bodies and cuts over each point."""

    def __init__(self, part):
        """Each body and cut with its lower and upper end."""
        self.bodies = [(b, *(heights(b))) for b in part["bodies"].values()]
        self.cuts = [(c, *reach(part, c)) for c in part.get("cuts", {}).values()]

    def ends(self, x, y):
        """The heights of bodies and of cuts, the cuts in order of their lower ends."""
        bodies = [e for f in self.bodies for e in columns(*f, x, y)]
        cuts = [e for f in self.cuts for e in columns(*f, x, y)]
        if not cuts:
            return bodies, []
        low, high = np.array([c[0] for c in cuts]), np.array([c[1] for c in cuts])
        order = np.argsort(low, axis=0, kind="stable")
        return bodies, list(zip(np.take_along_axis(low, order, 0), np.take_along_axis(high, order, 0)))

    def material(self, x, y):
        """Whether there is material at any height."""
        bodies, cuts = self.ends(x, y)
        found = np.zeros(np.shape(x), bool)
        for low, high in bodies:
            at = low
            for c_low, c_high in cuts:
                at = np.where(c_low <= at + NEAR, np.maximum(at, c_high), at)
            found |= at < high - NEAR
        return found

    def material_at(self, z, x, y):
        """Whether there is material at one height."""
        bodies, cuts = self.ends(x, y)
        solid = np.any([(low < z) & (z < high) for low, high in bodies], axis=0)
        return solid & ~np.any([(low < z) & (z < high) for low, high in cuts] + [np.zeros(np.shape(x), bool)], axis=0)


def edge(inside, a, b):
    """Points on the edge of a region between points inside (a) and outside (b), by halving."""
    for _ in range(46):
        m = (a + b) / 2
        there = inside(m[:, 0], m[:, 1])[:, None]
        a, b = np.where(there, m, a), np.where(there, b, m)
    return (a + b) / 2


def bulges(inside, a, b):
    """The area between chords (the region on their left) and the edge of the region, by ever finer triangles."""
    total, before = 0.0, None
    for depth in range(40):
        chord = b - a
        long = np.hypot(chord[:, 0], chord[:, 1])[:, None]
        out = np.column_stack([chord[:, 1], -chord[:, 0]])
        m = (a + b) / 2
        p, q = m - out, m + out
        sound = (long[:, 0] > 1e-9) & inside(p[:, 0], p[:, 1]) & ~inside(q[:, 0], q[:, 1])
        top = m.copy()
        top[sound] = edge(inside, p[sound], q[sound])
        u, v = top - a, b - a
        triangles = (u[:, 1] * v[:, 0] - u[:, 0] * v[:, 1]) / -2
        if before is None:
            done = np.zeros(len(a), bool)
        else:  # under a parabola both halves together are a quarter of the whole
            pairs = triangles.reshape(2, -1).sum(axis=0)
            done = np.tile(np.abs(pairs - before / 4) < 1e-10, 2)
        done |= ~sound
        total += np.sum(triangles[~done]) + np.sum(triangles[done]) * 4 / 3
        a, top, b, before = a[~done], top[~done], b[~done], triangles[~done]
        if not len(a):
            break
        a, b = np.concatenate([a, top]), np.concatenate([top, b])
    return total


def area(inside, box, step):
    """The area of a region in a box: whole triangles of a net, parts of them, and what bulges over the parts' chords."""
    xs = np.arange(box[0] - 1.618034 * step, box[2] + 2.7 * step, step)
    ys = np.arange(box[1] - 1.414214 * step, box[3] + 2.7 * step, step)
    x, y = np.meshgrid(xs, ys, indexing="ij")
    flags = inside(x.ravel(), y.ravel()).reshape(x.shape)
    total, chords = 0.0, []
    corner = lambda of, i, j: of[i : i - 1 or None, j : j - 1 or None].ravel()  # that corner of all squares
    for three in (((0, 0), (1, 0), (1, 1)), ((0, 0), (1, 1), (0, 1))):
        f = np.array([corner(flags, *c) for c in three])
        points = np.array([np.column_stack([corner(x, *c), corner(y, *c)]) for c in three])
        count = f.sum(axis=0)
        total += np.sum(count == 3) * step**2 / 2
        for k in range(3):  # the corner that differs from the other two
            lone = (f[k] != f[(k + 1) % 3]) & (f[k] != f[(k + 2) % 3])
            p, q, r = (points[(k + n) % 3][lone] for n in range(3))
            within = f[k][lone][:, None]
            a = edge(inside, np.where(within, p, q), np.where(within, q, p))
            b = edge(inside, np.where(within, p, r), np.where(within, r, p))
            u, v = a - p, b - p
            cut_off = (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) / 2
            total += np.sum(np.where(within[:, 0], cut_off, step**2 / 2 - cut_off))
            chords.append((np.where(within, a, b), np.where(within, b, a)))
    return total + bulges(inside, *(np.concatenate([c[i] for c in chords]) for i in range(2)))


def size(b):
    """How far a body reaches from its middle, at most."""
    if "turned" in b:
        walls = section_walls(b["turned"]["section"])
        return max(max(a[0], c[0]) if arc is None else arc[0][0] + arc[1] for a, c, arc in walls)
    if "polygon" in b:
        return max(math.hypot(*q) for q in b["polygon"]["points"])
    p = next(b[k] for k in ("circle", "ball", "flatted", "rectangle", "slot", "hexagon") if k in b)
    return math.hypot(p["length"], p["width"]) / 2 if "length" in p else p.get("diameter", p.get("across_flats", 0) * 1.2) / 2


def plan_box(part):
    """A box round the plan."""
    spread = 0.0
    for b in part["bodies"].values():
        at = next((p["at"] for p in b.values() if isinstance(p, dict) and "at" in p), [0, 0])
        far = max(math.hypot(*shift) + 2 * math.hypot(*about) for _, about, shift in copies(b))
        spread = max(spread, math.hypot(*at) + size(b) + far)
    return -spread, -spread, spread, spread


def plan(part):
    """The area of the plan, and what it may be off by: twice the difference from a net half as fine."""
    s, box = Stack(part), plan_box(part)
    coarse, fine = (area(s.material, box, step) for step in (0.2, 0.1))
    return fine, max(2 * abs(fine - coarse), 1e-6)


def rays(inside, centre, count):
    """The first points outside a region along rays from a point inside."""
    angles = (np.arange(count) + 0.5) * 2 * math.pi / count
    u = np.column_stack([np.cos(angles), np.sin(angles)])
    centre, near, far = np.array(centre), np.zeros(count), np.full(count, np.nan)
    for step in range(1, 4000):
        open_ = np.isnan(far)
        if not open_.any():
            break
        t = step * 0.05
        p = centre + t * u[open_]
        there = inside(p[:, 0], p[:, 1])
        near[open_] = np.where(there, t, near[open_])
        far[np.flatnonzero(open_)[~there]] = t
    if np.isnan(far).any():
        raise ValueError("the hole has no end")
    return edge(inside, centre + near[:, None] * u, centre + far[:, None] * u)


def ways(points, distances, centre, step):
    """Directions to try: sixteen all round, and those that keep two near stretches of the edge equally far."""
    found = [(math.cos(k * math.pi / 8), math.sin(k * math.pi / 8)) for k in range(16)]
    least = (distances <= np.roll(distances, 1)) & (distances < np.roll(distances, -1)) & (distances < distances.min() + 4 * step)
    near = [(points[i] - centre) / distances[i] for i in np.flatnonzero(least)[:8]]
    for i, u in enumerate(near):
        for v in near[:i] + [-u]:
            d = u - v
            long = math.hypot(*d)
            if long > 1e-6:
                found += [(-d[1] / long, d[0] / long), (d[1] / long, -d[0] / long)]
    return found


def largest(points, centre, step):
    """The largest circle clear of the points of an edge, in order: its radius and centre, by ever shorter steps."""
    clear = lambda c: np.hypot(points[:, 0] - c[0], points[:, 1] - c[1])
    centre = np.array(centre)
    distances = clear(centre)
    while step > 1e-9:
        tries = [centre + step * np.array(w) for w in ways(points, distances, centre, step)]
        found = [clear(t) for t in tries]
        k = int(np.argmax([f.min() for f in found]))
        if found[k].min() > distances.min():
            distances, centre = found[k], tries[k]
        else:
            step /= 2
    return distances.min(), centre


def through(part, at):
    """The diameter of the largest circle that is void at every height in the hole about a point, and its tolerance."""
    s = Stack(part)
    void = lambda x, y: ~s.material(x, y)
    if not void(np.array([at[0]]), np.array([at[1]]))[0]:
        raise ValueError("there is material at the point of the through-hole")
    middle_of = lambda p: polylabel(Polygon(p), 1e-2).coords[0]
    centre = middle_of(rays(void, at, 720))
    coarse, _ = largest(rays(void, centre, 3600), centre, 1e-2)
    fine, _ = largest(rays(void, centre, 7200), centre, 1e-2)
    return 2 * fine, max(4 * abs(fine - coarse), 2e-6)


def half_width(f, z0, z1, z):
    """How wide a groove is from its middle at a height."""
    half, depth = f["rectangle"]["width"] / 2, z1 - z0
    up = z - z0 if f["open"] == "top" else z1 - z
    if f["section"] == "v":
        return half * up / depth
    radius = (half**2 + depth**2) / (2 * depth)
    return math.sqrt(max(0, radius**2 - (radius - up) ** 2))


def turned_radii(section, z):
    """The least and the greatest radius of a turned half section at a height."""
    found = []
    for a, b, arc in section_walls(section):
        if not min(a[1], b[1]) <= z <= max(a[1], b[1]):
            continue
        if arc is None:
            found += [a[0], b[0]] if a[1] == b[1] else [a[0] + (z - a[1]) / (b[1] - a[1]) * (b[0] - a[0])]
            continue
        (cr, cz), radius, first, sweep = arc
        h = math.sqrt(max(0, radius**2 - (z - cz) ** 2))
        found += [cr + s * h for s in (-1, 1) if (math.atan2(z - cz, s * h) - first + 1e-9) % (2 * math.pi) <= sweep + 2e-9]
    return min(found), max(found)


def shape(f, z0, z1, z):
    """The section of the first copy at a height: a middle (a point, line or polygon), the width about it, a hole's radius."""
    if "turned" in f:
        inner, outer = turned_radii(f["turned"]["section"], z)
        return Point(f["turned"].get("at", [0, 0])), outer, inner
    if "ball" in f:
        p = f["ball"]
        square = min((p["diameter"] ** 2) / 4 - (z - p.get("z", 0)) ** 2, (p["diameter"] ** 2 - p.get("band", 0) ** 2) / 4)
        return Point(p.get("at", [0, 0])), math.sqrt(max(0, square)), 0
    if "section" in f:
        p, half = f["rectangle"], half_width(f, z0, z1, z)
        l = p["length"] / 2
        ends = [(-l, -half), (l, -half), (l, half), (-l, half)]
        return (Polygon(corners(p, ends)) if half > 0 else LineString(corners(p, [(-l, 0), (l, 0)]))), 0, 0
    lean = 0
    if "draft" in f:
        lean = math.tan(math.radians(f["draft"]["angle"])) * (z - z0 if f["draft"]["narrows"] == "up" else z1 - z)
    if "circle" in f:
        return Point(f["circle"].get("at", [0, 0])), f["circle"]["diameter"] / 2 - lean, 0
    if "slot" in f:
        return LineString(axis(f["slot"])), f["slot"]["width"] / 2 - lean, 0
    return Polygon(shrunk(outline(f), lean)), 0, 0


def shrunk(points, by):
    """A polygon with its sides moved inward."""
    lines = []
    for (ax, ay), (bx, by_) in zip(points, points[1:] + points[:1]):
        n = (-(by_ - ay), bx - ax)
        long = math.hypot(*n)
        lines.append((n[0] / long, n[1] / long, (n[0] * ax + n[1] * ay) / long + by))
    found = []
    for (a, b, c), (d, e, f) in zip(lines[-1:] + lines[:-1], lines):
        found.append(((c * e - b * f) / (a * e - b * d), (a * f - c * d) / (a * e - b * d)))
    return found


def placed(f, s):
    """A section of the first copy as it stands in each copy."""
    return [(translate(rotate(s[0], d, origin=tuple(about)), *shift), s[1], s[2]) for d, about, shift in copies(f)]


def vertices(core):
    """The corners of a middle."""
    return list(core.exterior.coords) if core.geom_type == "Polygon" else list(core.coords)


def apart(a, b):
    """How far two voids are apart; one may lie in the hole of a ring. Less than 0 where they overlap."""
    best = a[0].distance(b[0]) - a[1] - b[1]
    for ring, other in ((a, b), (b, a)):
        if ring[2] > 0 and ring[0].geom_type == "Point":
            best = max(best, ring[2] - max(Point(v).distance(ring[0]) for v in vertices(other[0])) - other[1])
    return best


def within(a, body):
    """How far a void lies inside a body's outline. Less than 0 where it crosses it."""
    core, wide, _ = a
    if body[0].geom_type == "Point":
        return body[1] - max(Point(v).distance(body[0]) for v in vertices(core)) - wide
    if body[0].geom_type == "LineString":
        return body[1] - max(Point(v).distance(body[0]) for v in vertices(core)) - wide
    if not body[0].contains(core):
        return -1.0
    return core.distance(body[0].exterior) - wide


def wall(part, names):
    """The least thickness in plan between two named features over the heights at which both are there, and its tolerance."""
    drawn = {**part["bodies"], **part.get("cuts", {})}
    spans = {n: heights(f) if n in part["bodies"] or "turned" in f or "ball" in f else reach(part, f) for n, f in drawn.items()}
    a, b = sorted(names, key=lambda n: n in part["bodies"])
    ends = [heights(f) for f in part["bodies"].values()]
    low = max(spans[a][0], spans[b][0], min(e[0] for e in ends))
    high = min(spans[a][1], spans[b][1], max(e[1] for e in ends))

    def gap(z):
        """The thickness at one height."""
        first, second = (placed(drawn[n], shape(drawn[n], *spans[n], z)) for n in (a, b))
        if b in part["bodies"]:
            return min(within(p, q) for p in first for q in second)
        return min(apart(p, q) for i, p in enumerate(first) for j, q in enumerate(second) if a != b or i < j)

    zs = np.linspace(low, high, 801)
    gaps = np.array([gap(z) for z in zs])
    if (gaps <= 1e-9).any() and (gaps > 0).any():  # it runs out to nothing where they meet
        return 0.0, 1e-9
    if not (gaps > 0).all():
        raise ValueError("the two are nowhere apart")
    k = int(np.argmin(gaps))
    left, right = zs[max(0, k - 1)], zs[min(800, k + 1)]
    for _ in range(80):
        m, n = left + (right - left) / 3, right - (right - left) / 3
        left, right = (left, n) if gap(m) < gap(n) else (m, right)
    return float(min(gaps[k], gap((left + right) / 2))), 1e-8
