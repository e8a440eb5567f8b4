"""Strands and the bands beside them: what pieces.py cuts.

A strand is some arms, smooth runs between its corners. A place on it has a station, mm
along its centre line from its start, and an offset d, mm to the left of its travel; a
parallel keeps its offset, and at a corner ends where it meets the next arm's. A strip
between two parallels is taken in chunks, polygons short enough not to meet themselves.
"""

import math
from bisect import bisect_right
from functools import cached_property

from roll import Arc, Fault, element_curve
from shapely.geometry import LineString, Polygon
from shapely.ops import polygonize, unary_union

# Turn (radians) of a chunk: many of them, one after another, don't meet themselves, and
# little is cut where only the end of a long arc lies under something.
CHUNK = math.radians(20)
# Mitres are followed at so many places across a strip.
ACROSS = 8
# Stations (mm) nearer than this are one: ten times what the chords make of a slanting end.
TIE = 1e-3
# Pieces (mm long) under this are splinters, as the list's own rules say.
SPLINTER = 0.02
# The parallels of a corner meet to this (mm), or not at all.
MET = 1e-6


def curvature(curve):
    """1/R, positive where the curve turns left."""
    return math.copysign(1 / curve.radius, curve.sweep) if isinstance(curve, Arc) else 0.0


def radius_at(curve, d):
    """The radius of an arc's parallel d to its left."""
    return curve.radius * (1 - curvature(curve) * d)


def heading(curve, s):
    """The direction (radians) at s mm from the curve's start, or past its ends."""
    k = curvature(curve)
    if k == 0:
        return math.atan2(curve.u[1], curve.u[0])
    return curve.start + s * k + math.copysign(math.pi / 2, k)


def place(curve, s, d):
    """The point d to the left of the curve s mm from its start."""
    k = curvature(curve)
    if k == 0:
        (x, y), (u, v) = curve.along(s), curve.u
        return x - v * d, y + u * d
    (x, y), angle, radius = curve.center, curve.start + s * k, radius_at(curve, d)
    return x + radius * math.cos(angle), y + radius * math.sin(angle)


def chart(curve, p):
    """A point's place along the curve, and how far to its left it is."""
    k = curvature(curve)
    if k == 0:
        x, y = p[0] - curve.p[0], p[1] - curve.p[1]
        return x * curve.u[0] + y * curve.u[1], y * curve.u[0] - x * curve.u[1]
    x, y = p[0] - curve.center[0], p[1] - curve.center[1]
    # The angle nearest to the arc's middle.
    middle = curve.start + curve.sweep / 2
    turn = math.remainder(math.atan2(y, x) - middle, 2 * math.pi) + curve.sweep / 2
    return turn / k, (1 - math.hypot(x, y) / curve.radius) / k


def turn_between(a, b):
    return math.remainder(heading(b, 0) - heading(a, a.length), 2 * math.pi)


class Arm:
    """A smooth run of a strand. Stations are the strand's, and go on past its length."""

    def __init__(self, curves, begin):
        self.curves, self.at = curves, [begin]
        for c in curves:
            self.at.append(self.at[-1] + c.length)
        # A joint may turn by a little: there the parallels meet before or past it.
        self.turns = [0.0, *(turn_between(a, b) for a, b in zip(curves, curves[1:])), 0.0]
        self.corners = [None, None]
        self.ring, self.stops = False, None

    @property
    def begin(self):
        return self.at[0]

    @property
    def end(self):
        return self.at[-1]

    def limit(self, end, d):
        """The station where the parallel at d begins (end 0) or ends (1)."""
        corner = self.corners[end]
        return (self.begin, self.end)[end] if corner is None else corner.meet(d)[1 - end]

    def index(self, s):
        """The curve at a station, or the one whose continuation is."""
        return min(max(bisect_right(self.at, s) - 1, 0), len(self.curves) - 1)

    def trim(self, joint, curve, d):
        """How much of a curve its parallel at d loses at a joint."""
        return d * math.tan(self.turns[joint] / 2) / (1 - curvature(curve) * d)

    def spans(self, d, a, b):
        """(curve, from, to) of the parallel at d between two stations, places on the curves."""
        # A trim may reach over a station.
        for i in range(max(self.index(a) - 1, 0), min(self.index(b) + 2, len(self.curves))):
            c, low, high = self.curves[i], self.at[i], self.at[i + 1]
            first, last = low + self.trim(i, c, d), high - self.trim(i + 1, c, d)
            s0 = max(a, first) if i > 0 else a
            s1 = min(b, last) if i < len(self.curves) - 1 else b
            if s1 > s0:
                yield c, s0 - low, s1 - low

    def line(self, d, a, b):
        """Points of the parallel at d from one station to another."""
        found = []
        for c, s0, s1 in self.spans(d, a, b):
            if isinstance(c, Arc):
                points = c.part(s0, s1).points(radius_at(c, d))
            else:
                points = [place(c, s0, d), place(c, s1, d)]
            found += points[1:] if found else points
        return found

    def side(self, d, a, b):
        """Points of the parallel between two stations, ending in the mitres' own points."""
        found = self.line(d, a, b)
        for end, at in ((0, a), (1, b)):
            corner = self.corners[end]
            if found and corner is not None and at == self.limit(end, d):
                found[-end] = corner.meet(d)[2]
        return found

    def length(self, d, a, b):
        return sum((s1 - s0) * (1 - curvature(c) * d) for c, s0, s1 in self.spans(d, a, b))

    def bend(self, d, a, b):
        """The least radius between two stations; 0 for straight, or for bends no longer than
        a splinter."""
        spans = self.spans(d, a, b)
        radii = [radius_at(c, d) for c, s0, s1 in spans if s1 - s0 > SPLINTER and isinstance(c, Arc)]
        return min(radii, default=0.0)

    def point(self, d, s):
        i = self.index(s)
        return place(self.curves[i], s - self.at[i], d)

    def heading(self, s):
        i = self.index(s)
        return heading(self.curves[i], s - self.at[i])

    def chart(self, p, a, b):
        """Station and offset of a point that lies between two stations, or little beyond."""
        best = None
        for i in range(self.index(a), self.index(b) + 1):
            s, d = chart(self.curves[i], p)
            low = -math.inf if i == 0 else 0
            high = math.inf if i == len(self.curves) - 1 else self.curves[i].length
            out = max(low - s, s - high, 0)
            if best is None or out < best[0]:
                best = out, self.at[i] + s, d
        return best[1:]

    def grid(self):
        """Stations that part the arm into chunks: off its joints, and turning by little."""
        if self.stops is not None:
            return self.stops
        self.stops = stops = []
        for i, c in enumerate(self.curves):
            n = max(2, 2 * math.ceil(abs(curvature(c)) * c.length / CHUNK / 2))
            stops += [self.at[i] + c.length * j / n for j in range(1, n)]
        return stops


class Corner:
    """Where the parallels of two arms meet."""

    def __init__(self, before, after):
        self.before, self.after, self.known = before, after, {}
        self.xy = before.curves[-1].points()[-1]

    def meet(self, d):
        """(station on the arm before, station on the one after, the place)."""
        if d not in self.known:
            self.known[d] = self.polished(d, *self.rough(d)) if d != 0 else (self.before.end, self.after.begin, self.xy)
        return self.known[d]

    def rough(self, d):
        reach = 3 * abs(d)
        while reach < 100 * abs(d):
            one = self.before.line(d, self.before.end - reach, self.before.end + self.bounded(self.before.curves[-1], reach))
            two = self.after.line(d, self.after.begin - self.bounded(self.after.curves[0], reach), self.after.begin + reach)
            common = LineString(one).intersection(LineString(two))
            points = [p for g in getattr(common, "geoms", [common]) for p in g.coords]
            if points:
                p = min(points, key=lambda p: math.dist(p, self.xy))
                return (self.before.chart(p, self.before.end - reach, self.before.end)[0],
                        self.after.chart(p, self.after.begin, self.after.begin + reach)[0])  # fmt: skip
            reach *= 3
        raise Fault(f"the sides don't meet at the corner at {self.xy}")

    @staticmethod
    def bounded(curve, reach):
        return min(reach, 3 * curve.radius) if isinstance(curve, Arc) else reach

    def polished(self, d, a, b):
        """Newton's method on both stations; where it stays on its curves it ends at once."""
        for _ in range(4):
            (x, y), (u, v) = self.before.point(d, a), self.after.point(d, b)
            p, q = self.before.heading(a), self.after.heading(b)
            f = 1 - curvature(self.before.curves[self.before.index(a)]) * d
            g = 1 - curvature(self.after.curves[self.after.index(b)]) * d
            sine = math.sin(q - p)
            dx, dy = u - x, v - y
            a += (dx * math.sin(q) - dy * math.cos(q)) / sine / f
            b += (dx * math.sin(p) - dy * math.cos(p)) / sine / g
        (x, y), (u, v) = self.before.point(d, a), self.after.point(d, b)
        if math.hypot(u - x, v - y) > MET:
            raise Fault(f"the sides' meeting at the corner at {self.xy} is not found")
        return a, b, (x, y)


class Strand:
    def __init__(self, given):
        self.name, self.closed = given["name"], given["closed"]
        curves = [element_curve(e) for e in given["elements"]]
        n = len(curves)
        self.length = sum(c.length for c in curves)
        offsets = [sum(c.length for c in curves[:i]) for i in range(n)]
        stops = [i for i in range(n) if given["elements"][i].get("corner") and (i > 0 or self.closed)]
        self.arms = []
        if self.closed and not stops:
            arm = Arm(curves * 4, -self.length)
            arm.ring = True
            self.arms = [arm]
            return
        if not self.closed:
            stops = [0, *stops, n]
        else:
            stops.append(stops[0] + n)
        for i, j in zip(stops, stops[1:]):
            begin = offsets[i % n] + (self.length if i >= n else 0)
            self.arms.append(Arm([curves[k % n] for k in range(i, j)], begin))
        after = self.arms[1:] + (self.arms[:1] if self.closed else [])
        for one, two in zip(self.arms, after):
            one.corners[1] = two.corners[0] = Corner(one, two)

    def laps(self):
        return (-self.length, 0, self.length) if self.closed else (0,)

    def window(self, half, s, reach):
        """The band within reach of a station, and its ends."""
        a, b = s - reach, s + reach
        return self.band(half, *((a, b) if self.closed else (max(a, 0), min(b, self.length))))

    def parts(self, a, b):
        """(arm, from, to) of all arms between two stations."""
        for arm in self.arms:
            for lap in (0,) if arm.ring else self.laps():
                low, high = max(a + lap, arm.begin), min(b + lap, arm.end)
                if low < high:
                    yield arm, low, high

    def band(self, half, a, b):
        """The area of the strand's whole lay-up between two stations, or little more, and
        its ends but for the strand's own."""
        areas, ends = [], []
        for arm, low, high in self.parts(a, b):
            found = chunks(arm, half, -half, low, high)
            areas += [c.area for c in found]
            for end, chunk, asked, own in ((0, found[0], low, arm.begin), (1, found[-1], high, arm.end)):
                # An arm that is there up to a corner goes on in the next one.
                if asked != own or (arm.corners[end] and not self.goes_on(arm, end, a, b)):
                    ends.append(LineString(chunk.ends[end]))
        return unary_union(areas), ends

    def goes_on(self, arm, end, a, b):
        after = self.arms[(self.arms.index(arm) + 2 * end - 1) % len(self.arms)]
        at = (after.end, after.begin)[end]
        return any(part is after and at in (low, high) for part, low, high in self.parts(a, b))


class Chunk:
    """A strip between two stations of an arm."""

    def __init__(self, arm, left, right, a, b):
        self.arm, self.left, self.right, self.a, self.b = arm, left, right, a, b
        self.mitred = [s == own and corner is not None
                       for s, own, corner in zip((a, b), (arm.begin, arm.end), arm.corners)]  # fmt: skip
        self.ends = [self.across(end) for end in (0, 1)]
        # Two mitres may meet within the strip.
        self.whole = all(self.low(d) < self.high(d) for d in (left, right))

    def across(self, end):
        """Points of an end, from the left side to the right one."""
        if not self.mitred[end]:
            return [self.arm.point(d, (self.a, self.b)[end]) for d in (self.left, self.right)]
        steps = [self.left + (self.right - self.left) * i / ACROSS for i in range(ACROSS + 1)]
        return [self.arm.corners[end].meet(d)[2] for d in steps]

    @cached_property
    def area(self):
        left, right = (self.arm.side(d, self.low(d), self.high(d)) for d in (self.left, self.right))
        ring = left[1:-1] + self.ends[1] + right[-2:0:-1] + self.ends[0][::-1]
        return Polygon(ring) if self.whole else tip(ring)

    def low(self, d):
        return self.arm.limit(0, d) if self.a == self.arm.begin else self.a

    def high(self, d):
        return self.arm.limit(1, d) if self.b == self.arm.end else self.b


def tip(ring):
    """Of a ring that crosses itself what it runs round clockwise, as it should: from the left
    side back along the right one."""
    lines = unary_union(LineString([*ring, ring[0]]))
    return unary_union([p for p in polygonize(lines) if winding(ring, p.representative_point()) < 0])


def winding(ring, p):
    total = 0.0
    for (a, b), (c, d) in zip(ring, ring[1:] + ring[:1]):
        a, b, c, d = a - p.x, b - p.y, c - p.x, d - p.y
        total += math.atan2(a * d - b * c, a * c + b * d)
    return round(total / (2 * math.pi))


def clear(arm, left, right):
    """The stations between which no mitre shortens a strip; the first above the second
    where the mitres of both ends reach into one another."""
    low = max(arm.begin, *(arm.limit(0, d) for d in (left, right)))
    high = min(arm.end, *(arm.limit(1, d) for d in (left, right)))
    return low, high


def unparted(arm, left, right, a, b):
    """Two stations moved apart so that they part no mitre."""
    low, high = clear(arm, left, right)
    if low >= high:
        return arm.begin, arm.end
    return arm.begin if a < low else min(a, high), arm.end if b > high else max(b, low)


def chunks(arm, left, right, a, b):
    """The chunks from one station to another; no mitre is parted."""
    low, high = clear(arm, left, right)
    a, b = unparted(arm, left, right, a, b)
    stops = [a, *(s for s in arm.grid() if max(a, low) + TIE < s < min(b, high) - TIE), b]
    return [Chunk(arm, left, right, s, t) for s, t in zip(stops, stops[1:])]
