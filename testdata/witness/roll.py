#!/usr/bin/python3
"""Roll the rider through finished template drawings and judge what the bit removes.

An independent witness for the program's own proof: it shares no code with it and
uses other libraries (ezdxf 0.18.1 reads, shapely 1.8.5 works out the areas; both
are Debian packages).

    roll.py INPUT.json        prints one JSON document; exit 0
    any fault in the input:   one line on standard error; exit 2

INPUT.json, lengths in mm, angles in degrees, counter-clockwise positive:

    {
      "rider_radius": 50.0,         half of what touches the template
      "bit": 3.175,                 width of the slot the bit cuts
      "groove_width": 5.08,
      "kerf": 0.18,                 full width of the burnt line; optional, 0
      "kerf_by": "me",              "me": the drawings are compensated, so the kerf is
                                    undone here; "shop" (default): drawn true
      "layer": "OPENING",           optional
      "walls": [                    one for each panel
        {"dxf": "A-wall.dxf",       relative to INPUT.json's own directory
         "positions": [{"turn_deg": 0, "flip": false}]}
                                    flip: x to -x first, then turned
      ],
      "strands": [                  the ideal groove's centre lines
        {"closed": false,
         "elements": [              in order of travel, each starting where the last ended
           {"kind": "line", "from": [0, 0], "to": [10, 0], "corner": false},
           {"kind": "arc", "center": [10, 5], "radius": 5, "start": 270, "sweep": 90,
            "corner": false}
         ]}                         corner: a corner where this element starts; for the
                                    first one it counts only in a closed strand
      ]
    }

Output:

    {"groove_area", "cut_area",
     "overcut_max",    largest distance from the groove of a place that is cut outside it
     "overcut_area",   this and all that follows without strips thinner than 2 SLIVER
     "uncut_max",      largest distance from the cut of a place in the groove that is left
     "uncut_area",
     "uncut": [{"area", "at": [x, y], "reach"}],   pieces of PIECE_MIN or more, largest first
     "offset_error"}   worst distance of a grown or shrunk boundary from where it belongs

How it judges. The groove G is every smooth run's band of half the groove's width,
ends flat, and at each corner the kite between both arms' bands, where the arms run on
past the corner along their own line or circle. The rider's disc stays in an opening
where the bit's centre lies in the opening shrunk by the rider's radius; the bit cuts
that, grown by its own radius. Overcut is the cut less G, uncut is G less the cut.
When the bit is as wide as the groove the shrunk opening is a bare line, which no
library of areas keeps: overcut is then judged by the opening shrunk by the
difference of the radii, which holds every cut, and uncut by a rider RELIEF smaller.

Kerf by "me" is undone by shrinking the opening that much less: growing by kerf/2 and
shrinking by the rider is the same, but for wood that the kerf would burn away, and a
drawing with such wood is refused.

Accuracy. Everything is built from rectangles and ring sectors with corners on the true
curves, so it is off by little more than CHORD. The library's own buffer() is kept for
trifles: it drops corners in hollows up to a hundredth of the distance deep. Every
grown or shrunk boundary is measured against its definition: the worst is
offset_error, and beyond OFFSET_LIMIT the run fails.
"""

import json
import math
import os
import sys
import warnings

import ezdxf
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Point, Polygon, polygon
from shapely.ops import polylabel, unary_union
from shapely.strtree import STRtree

# STRtree's next version answers otherwise; this script is for 1.8.
warnings.filterwarnings("ignore", message="STRtree will be changed")

# Largest distance (mm) between a true arc and its chords: a five-hundredth of what
# the report is good for.
CHORD = 1e-5
# A grown boundary further (mm) than this from its place makes the run worthless: two of
# them (shrink, grow) stay well under 0.005 mm.
OFFSET_LIMIT = 0.001
# Distances (mm) up to this are the chords' own: CHORD from each step, with room.
NOISE = 1e-4
# How much smaller (mm) the rider is taken when there is no play.
RELIEF = 0.001
# Bit and groove count as equally wide within this (mm), the drawing's own rounding.
NO_PLAY = 1e-6
# Least area (mm2) of a left piece that is listed: a tenth of the fillet that a
# 1 mm bit leaves in one square corner, (1 - pi/4) 0.25 = 0.054.
PIECE_MIN = 0.005
# Strips along the walls thinner than twice this (mm) are the chords' and the drawing's
# rounding, not the template's.
SLIVER = 0.001
# How far (mm) a corner's kite overlaps its arms, so that no hairline opens at the seam.
OVERLAP = 1e-3
# Two ends (mm) that are to meet and don't are a fault of the input (job file's own limit).
MEET = 1e-3
# How far (radians) a fan overlaps its neighbours, for the same reason.
SEAM = 1e-7
# Edges that turn more than this (radians) meet in a corner; chords of arcs turn less, down
# to a radius of 0.2 mm: 2 acos(1 - CHORD / 0.2) = 0.02.
CORNER = 0.02
# Edges of a ring that are measured, where all would take minutes: an area that went astray
# does so over a length.
PROBES = 500
# Edges of a boundary that are looked up as one.
RUN = 16
# Arcs are built in pieces no longer than this (radians), so that none meets itself.
ARC_PIECE = math.radians(100)
# mm in one drawing unit by $INSUNITS (DXF Reference: 0 none, 1 inches, 4 millimetres).
UNIT = {0: 1.0, 1: 25.4, 4: 1.0}


class Fault(Exception):
    """The input can't be judged."""


# Curves ---------------------------------------------------------------------


class Line:
    """A straight from p to q."""

    def __init__(self, p, q):
        self.p, self.q = tuple(p), tuple(q)
        self.length = math.dist(p, q)
        if self.length == 0:
            raise Fault(f"zero-length line at {self.p}")
        self.u = ((q[0] - p[0]) / self.length, (q[1] - p[1]) / self.length)

    def points(self):
        return [self.p, self.q]

    def along(self, s):
        return self.p[0] + self.u[0] * s, self.p[1] + self.u[1] * s

    def part(self, s0, s1):
        """The stretch from s0 to s1 (mm from p), which may run on past the ends."""
        return Line(self.along(s0), self.along(s1))

    def bands(self, half):
        """Polygons that make up everything beside the line within half of it."""
        nx, ny = -self.u[1] * half, self.u[0] * half
        (a, b), (c, d) = self.p, self.q
        return [Polygon([(a + nx, b + ny), (a - nx, b - ny), (c - nx, d - ny), (c + nx, d + ny)])]


class Arc:
    """A part of a circle; angles in radians, sweep counter-clockwise positive."""

    def __init__(self, center, radius, start, sweep):
        self.center, self.radius, self.start, self.sweep = center, radius, start, sweep
        self.length = abs(sweep) * radius

    def points(self, radius=None):
        """Points on the true circle, or on another one about the same centre."""
        radius = self.radius if radius is None else radius
        if radius <= 0:
            return [tuple(self.center)]
        n = max(2, math.ceil(abs(self.sweep) / (2 * math.acos(max(0.5, 1 - CHORD / radius)))))
        angles = [self.start + self.sweep * i / n for i in range(n + 1)]
        x, y = self.center
        return [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles]

    def part(self, s0, s1):
        way = math.copysign(1 / self.radius, self.sweep)
        return Arc(self.center, self.radius, self.start + s0 * way, (s1 - s0) * way)

    def bands(self, half):
        n = math.ceil(abs(self.sweep) / ARC_PIECE)
        found = []
        for i in range(n):
            # Pieces overlap, so that no hairline opens between them.
            first = self.length * i / n - (OVERLAP if i > 0 else 0)
            piece = self.part(first, self.length * (i + 1) / n)
            inner = piece.points(max(0.0, self.radius - half))
            found.append(Polygon(piece.points(self.radius + half) + inner[::-1]))
        return found


def disc(at, radius):
    return Polygon(Arc(at, radius, 0, 2 * math.pi).points()[:-1])


def bulge_curve(p, q, bulge):
    """The curve from p to q; bulge = tan(angle / 4) (DXF Reference, group 42)."""
    if bulge == 0:
        return Line(p, q)
    dx, dy = q[0] - p[0], q[1] - p[1]
    # The centre lies off the chord's middle by (1 - bulge^2) / (4 bulge) chords, to
    # the left for a bulge between 0 and 1.
    off = (1 - bulge * bulge) / (4 * bulge)
    center = ((p[0] + q[0]) / 2 - dy * off, (p[1] + q[1]) / 2 + dx * off)
    start = math.atan2(p[1] - center[1], p[0] - center[0])
    return Arc(center, math.dist(p, center), start, 4 * math.atan(bulge))


# Drawings -------------------------------------------------------------------


def vertices(entity):
    """(x, y, bulge) of a closed LWPOLYLINE or R12 POLYLINE."""
    if entity.dxftype() == "LWPOLYLINE":
        closed, found = entity.closed, [tuple(p) for p in entity.get_points("xyb")]
    elif entity.dxftype() == "POLYLINE" and entity.is_2d_polyline:
        closed = entity.is_closed
        found = [
            (v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0))
            for v in entity.vertices
        ]
    else:
        raise Fault(f"{entity.dxftype()} among the openings")
    if not closed or len(found) < 2:
        raise Fault("an opening is not closed")
    return found


class Opening:
    """A closed contour as drawn: its curves, and the area inside them."""

    def __init__(self, found, unit):
        scaled = [(x * unit, y * unit, bulge) for x, y, bulge in found]
        self.curves = [
            bulge_curve((x, y), (u, v), bulge)
            for (x, y, bulge), (u, v, _) in zip(scaled, scaled[1:] + scaled[:1])
        ]
        self.area = Polygon([p for c in self.curves for p in c.points()[:-1]])
        if not self.area.is_valid or self.area.area == 0:
            raise Fault("an opening crosses itself")


def openings(path, layer):
    """All openings of one wall drawing, as drawn."""
    try:
        drawing = ezdxf.readfile(path)
    except (OSError, ezdxf.DXFError) as err:
        raise Fault(f"{path}: {err}") from err
    unit = UNIT.get(drawing.header.get("$INSUNITS", 0))
    if unit is None:
        raise Fault(f"{path}: units are neither mm nor inches")
    found = [
        Opening(vertices(e), unit) for e in drawing.modelspace() if e.dxf.layer == layer
    ]
    if not found:
        raise Fault(f"{path}: nothing on layer {layer}")
    for i, a in enumerate(found):
        if any(a.area.intersects(b.area) for b in found[i + 1 :]):
            raise Fault(f"{path}: openings touch, overlap or lie in one another")
    return found


# Growing --------------------------------------------------------------------


def pieces(area):
    """The polygons of an area."""
    return [g for g in getattr(area, "geoms", [area]) if isinstance(g, Polygon) and not g.is_empty]


def rings(area):
    """Coordinate lists of all the boundaries of an area."""
    for piece in pieces(area):
        for ring in [piece.exterior, *piece.interiors]:
            yield list(ring.coords)


class Boundary:
    """A boundary that is asked often how far from it a point is."""

    def __init__(self, area):
        lines = [r[i : i + RUN + 1] for r in rings(area) for i in range(0, len(r) - 1, RUN)]
        self.tree = STRtree([LineString(points) for points in lines])

    def distance(self, p):
        at = Point(p)
        return at.distance(self.tree.nearest(at))


class Offsetter:
    """Shrinks and grows, and keeps the worst error found while measuring the results."""

    def __init__(self):
        self.error = 0.0

    def measured(self, result, source, d):
        """The result, once corners and middles of its boundary are found d from the source's:
        all of a ring's, or PROBES of them."""
        near = Boundary(source)
        for ring in rings(result):
            step = math.ceil(len(ring) / PROBES)
            for p, q in list(zip(ring, ring[1:]))[::step]:
                for at in (p, ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)):
                    self.error = max(self.error, abs(near.distance(at) - d))
        if self.error > OFFSET_LIMIT:
            raise Fault(f"a boundary offset by {d} is out by {self.error:.6f} mm")
        return result

    def shrink(self, found, d):
        """Where the centre of a disc of radius d may be within the openings: their area
        less everything within d of a curve or of one of its ends."""
        near = [b for o in found for c in o.curves for b in c.bands(d)]
        near += [disc(c.points()[0], d) for o in found for c in o.curves]
        area = unary_union([o.area for o in found])
        left = area.difference(unary_union(near))
        # Rounding leaves specks where two curves are just out of reach of each other.
        left = unary_union([p for p in pieces(left) if not p.buffer(-CHORD).is_empty])
        # And teeth of a hundred-thousandth where a disc's chords end and a band's begin,
        # whose short edges point anywhere.
        left = left.simplify(CHORD)
        return self.measured(left, area, d)

    def grow(self, area, d):
        """An area of many-cornered polygons, with all places within d of it."""
        parts = pieces(area)
        for piece in pieces(area):
            piece = polygon.orient(piece)
            for ring in [piece.exterior, *piece.interiors]:
                parts += skirt(list(ring.coords)[:-1], d)
        result = unary_union(parts)
        # Hairlines between neighbours of the skirt, of rounding's width.
        result = unary_union([filled(p) for p in pieces(result)])
        return self.measured(result, area, d) if parts else result


def filled(piece):
    """A polygon without the holes that are no wider than twice SLIVER."""
    holes = [h for h in piece.interiors if not Polygon(h).buffer(-SLIVER).is_empty]
    return Polygon(piece.exterior, holes)


def turning(last, edge):
    """The angle from one edge's direction to the next one's."""
    (a, b), (c, d) = last.u, edge.u
    return math.atan2(a * d - b * c, a * c + b * d)


def skirt(ring, d):
    """What growing by d adds outside a ring that has its area on the left: a hem along
    each smooth run of edges, a fan at each corner where the area is convex."""
    edges = [Line(p, q) for p, q in zip(ring, ring[1:] + ring[:1]) if p != q]
    turns = [turning(last, edge) for last, edge in zip(edges[-1:] + edges[:-1], edges)]
    parts = []
    for edge, last, turn in zip(edges, edges[-1:] + edges[:-1], turns):
        if turn > CORNER:
            start = math.atan2(-last.u[0], last.u[1]) - SEAM
            parts.append(Polygon([edge.p, *Arc(edge.p, d, start, turn + 2 * SEAM).points()]))
    i = 0
    while i < len(edges):
        j, sum_of_turns = i + 1, 0.0
        while j < len(edges) and abs(turns[j]) <= CORNER and abs(sum_of_turns) < ARC_PIECE:
            sum_of_turns += turns[j]
            j += 1
        # One edge more, so that neighbouring runs overlap, unless a corner parts them.
        more = j + 1 if j < len(edges) and abs(turns[j]) <= CORNER else j
        parts += hem(edges[i:more], d)
        i = j
    if abs(turns[0]) <= CORNER:
        parts += hem([edges[-1], edges[0]], d)
    return parts


def hem(edges, d):
    """The strip of width d on the right of a smooth run of edges."""
    first, last = edges[0], edges[-1]
    outer = [(first.p[0] + first.u[1] * d, first.p[1] - first.u[0] * d)]
    for a, b in zip(edges, edges[1:]):
        # Where the shifted edges meet: off the true place by d turn^2 / 8 at most.
        scale = d / (1 + a.u[0] * b.u[0] + a.u[1] * b.u[1])
        outer.append((b.p[0] + (a.u[1] + b.u[1]) * scale, b.p[1] - (a.u[0] + b.u[0]) * scale))
    outer.append((last.q[0] + last.u[1] * d, last.q[1] - last.u[0] * d))
    whole = Polygon([e.p for e in edges] + [last.q] + outer[::-1])
    if whole.is_valid or len(edges) == 1:
        return [whole]
    # The run bends to the right tighter than d: its halves may not.
    half = len(edges) // 2
    return hem(edges[:half], d) + hem(edges[half:], d)


# The ideal groove -----------------------------------------------------------


def element_curve(e):
    if e["kind"] == "line":
        return Line(e["from"], e["to"])
    if e["kind"] == "arc":
        return Arc(e["center"], e["radius"], math.radians(e["start"]), math.radians(e["sweep"]))
    raise Fault(f"element of kind {e['kind']}")


def kite(before, after, half):
    """The mitre at the corner between two curves: what both arms' bands, run on past the
    corner along their own lines or circles, have in common there."""
    at = Point(after.points()[0])
    # 4 groove widths: beyond that the program refuses the corner. Less than half a turn.
    reach = [min(8 * half, 3 * getattr(c, "radius", math.inf)) for c in (before, after)]
    ahead = before.part(before.length - OVERLAP, before.length + reach[0])
    behind = after.part(-reach[1], OVERLAP)
    common = unary_union(ahead.bands(half)).intersection(unary_union(behind.bands(half)))
    return [p for p in pieces(common) if p.distance(at) < OVERLAP]


def strand_areas(strand, half):
    """The bands of a strand's elements and the kites at its corners."""
    elements, closed = strand["elements"], strand["closed"]
    curves = [element_curve(e) for e in elements]
    areas = []
    for i, curve in enumerate(curves):
        joined = i > 0 or closed
        if joined and math.dist(curves[i - 1].points()[-1], curve.points()[0]) > MEET:
            raise Fault(f"elements don't meet at {curve.points()[0]}")
        corner = joined and elements[i].get("corner", False)
        if corner:
            areas += kite(curves[i - 1], curve, half)
        elif joined:
            # Across a smooth joint, so that no hairline opens there.
            areas += curve.part(-OVERLAP, OVERLAP).bands(half)
            last = curves[i - 1]
            areas += last.part(last.length - OVERLAP, last.length + OVERLAP).bands(half)
        areas += curve.bands(half)
    return areas


def groove(strands, width):
    areas = [a for s in strands for a in strand_areas(s, width / 2)]
    if not areas:
        raise Fault("no strands")
    return unary_union([filled(p) for p in pieces(unary_union(areas))])


# The verdict ----------------------------------------------------------------


def placed(area, position):
    """An area moved with its panel: mirrored x to -x if flipped, then turned, then shifted."""
    turn = math.radians(position["turn_deg"])
    c, s = math.cos(turn), math.sin(turn)
    m = -1.0 if position.get("flip") else 1.0
    dx, dy = position.get("shift", [0, 0])
    return affine_transform(area, [c * m, -s, s * m, c, dx, dy])


def kerf_undone(found, kerf):
    """Half the kerf, once it is sure that the openings grown by it lose no wood edge."""
    for opening in found:
        burnt = opening.area.buffer(kerf / 2).buffer(-kerf / 2).difference(opening.area)
        if without_slivers(burnt).area > 0:
            raise Fault(f"the kerf burns wood away at {burnt.representative_point().wkt}")
    return kerf / 2


def cuts(job, base, offsetter):
    """What every set-up together removes: (judged for overcut, judged for uncut)."""
    rider, bit = job["rider_radius"], job["bit"] / 2
    no_play = abs(job["groove_width"] - job["bit"]) < NO_PLAY
    over, under = [], []
    for wall in job["walls"]:
        found = openings(os.path.join(base, wall["dxf"]), job.get("layer", "OPENING"))
        by_me = job.get("kerf_by") == "me" and job.get("kerf", 0) > 0
        free = rider - (kerf_undone(found, job["kerf"]) if by_me else 0)
        reach = offsetter.shrink(found, free - (RELIEF if no_play else 0))
        cut = offsetter.grow(reach, bit)
        most = offsetter.shrink(found, free - bit) if no_play else cut
        for position in wall["positions"]:
            under.append(placed(cut, position))
            over.append(placed(most, position))
    return unary_union(over), unary_union(under)


def without_slivers(area):
    """The parts of an area that are wider than 2 SLIVER, their corners kept."""
    thinned = area.buffer(-SLIVER, join_style=2)
    return thinned.buffer(SLIVER, join_style=2).intersection(area)


def farthest(area, other):
    """Largest distance of a place in an area from the other area, 0 for less than NOISE.
    The area's corners tell, unless a piece fills a hole of the other: then its middle does."""
    if other.is_empty:
        return math.inf if not area.is_empty else 0.0
    far = pieces(area.difference(other.buffer(NOISE, resolution=4)))
    # What is not in the other area is as far from it as from its boundary.
    near = Boundary(other) if far else None
    worst = 0.0
    for piece in far:
        depth = max(near.distance(p) for ring in rings(piece) for p in ring)
        if depth < MEET and piece.area > PIECE_MIN:
            depth = polylabel(piece, MEET).distance(other)
        worst = max(worst, depth)
    return worst


def verdict(ideal, most, cut):
    """What is cut (at most, and surely) held against the ideal groove."""
    over = most.difference(ideal)
    left = without_slivers(ideal.difference(cut))
    found = sorted((p for p in pieces(left) if p.area >= PIECE_MIN), key=lambda p: -p.area)
    return {
        "groove_area": ideal.area,
        "cut_area": cut.area,
        "overcut_max": farthest(over, ideal),
        "overcut_area": without_slivers(over).area,
        "uncut_max": farthest(left, cut),
        "uncut_area": left.area,
        "uncut": [
            {"area": p.area, "at": list(p.representative_point().coords[0]), "reach": farthest(p, cut)}
            for p in found
        ],
    }


def judge(job, base):
    offsetter = Offsetter()
    ideal = groove(job["strands"], job["groove_width"])
    most, cut = cuts(job, base, offsetter)
    return {**verdict(ideal, most, cut), "offset_error": offsetter.error}


def main(args):
    if len(args) != 1:
        raise Fault("usage: roll.py INPUT.json")
    with open(args[0], encoding="utf-8") as file:
        job = json.load(file)
    result = judge(job, os.path.dirname(os.path.abspath(args[0])))
    # JSON has no infinity: nothing cut at all is null.
    result = {k: None if v == math.inf else v for k, v in result.items()}
    for piece in result["uncut"]:
        piece["reach"] = None if piece["reach"] == math.inf else piece["reach"]
    json.dump(result, sys.stdout, indent=2, allow_nan=False)
    print()


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except (Fault, OSError, ValueError, KeyError, TypeError) as err:
        print(f"roll: {type(err).__name__}: {err}", file=sys.stderr)
        sys.exit(2)
