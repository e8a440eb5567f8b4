#!/usr/bin/python3
"""Puts a table's sections together in every arrangement and says whether all meets.

An independent witness for tables that come apart: it shares no code with what it judges,
reads the sections' written drawings with ezdxf and their programs with program.py, its
neighbour, lays them side by side, and works with shapely.

    table.py INPUT.json       prints one JSON document; exit 0
    any fault in the input:   one line on standard error; exit 2

INPUT.json, lengths in mm:

    {
      "width": 900,                      of the table
      "groove": 3.28, "bit": 2.4, "depth": 3.0,
      "sections": {"leaf": {
          "length": 420,
          "drawing": "sections/leaf.dxf",      relative to INPUT.json's own directory
          "scale": 1,                          mm of the drawing's unit
          "program": "program/section-leaf.nc", "zero": [0, 0],   in the section
          "crossings": [{"at": [x, y], "over_deg": 30}]}},        which way the upper strand runs
      "layers": {"groove": "OPENING", "centre": "MARK"},
      "arrangements": [[{"section": "leaf", "x": 600, "turned": false}, ...]]
    }

Output:

    {"joints",           how many were looked at, over all arrangements
     "step_max",         of the grooves as drawn: how far their sides are out at a joint
     "program_step_max", the same of what the programs cut
     "overcut_area",     cut within a section's edges beyond its groove grown by 0.01 mm
     "uncut_area",       of the groove within reach of a round bit that no program cuts
     "passed",           pairs of neighbouring crossings along strands, over joints and within sections
     "breaks": [...],    those that don't alternate
     "strands"}          closed strands and strands with ends, over all arrangements
"""

import json
import math
import os
import sys
import warnings

import ezdxf
from ezdxf.math import bulge_to_arc
from program import AT_DEPTH, Follower, swept
from roll import Fault
from shapely.affinity import affine_transform, translate
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

warnings.filterwarnings("ignore", message="STRtree will be changed")

# How far (mm) arcs are flattened off their curve.
CHORD = 0.0005
# A joint is looked at so far (mm) to both sides of it.
BESIDE = 1e-4
# What the issue allows (mm).
STEP = 0.01
# Ends of centre lines and crossings (mm) that are one place.
SAME = 0.02


def loops_area(loops):
    """What closed outlines bound, holes and all: a place is inside an odd number of them."""
    area = Polygon()
    for points in loops:
        area = area.symmetric_difference(Polygon(points).buffer(0))
    return area


def flattened(entity, chord):
    """Points along a polyline, on its true arcs: the library's own path makes Bezier curves of
    them, which are out by 0.03 % of the radius."""
    found = entity.get_points("xyb")
    ends = found[1:] + found[:1] if entity.closed else found[1:]
    points = [] if entity.closed else [found[-1][:2]]
    for (x, y, bulge), (u, v, _) in zip(reversed(found[: len(ends)]), reversed(ends)):
        if bulge:
            center, start, end, radius = bulge_to_arc((x, y), (u, v), bulge)
            sweep = (end - start) % math.tau
            n = max(2, math.ceil(sweep / (2 * math.acos(max(0.5, 1 - chord / radius)))))
            angles = [start + sweep * i / n for i in range(1, n)]
            if bulge > 0:
                angles.reverse()
            points += [(center.x + radius * math.cos(a), center.y + radius * math.sin(a)) for a in angles]
        points.append((x, y))
    return points[::-1]


class Section:
    def __init__(self, name, spec, job, base):
        self.name, self.length = name, spec["length"]
        self.crossings = [(c["at"][0], c["at"][1], math.radians(c["over_deg"])) for c in spec["crossings"]]
        doc = ezdxf.readfile(os.path.join(base, spec["drawing"]))
        scale, loops, self.lines = spec.get("scale", 1), [], []
        for e in doc.modelspace().query("LWPOLYLINE"):
            points = [(x * scale, y * scale) for x, y in flattened(e, CHORD / scale)]
            if e.dxf.layer == job["layers"]["groove"] and e.closed:
                loops.append(points)
            elif e.dxf.layer == job["layers"]["centre"]:
                self.lines.append((points, bool(e.closed)))
        if not loops and self.crossings:
            raise Fault(f"no groove is drawn in {spec['drawing']}")
        self.groove = loops_area(loops)
        self.cut = self.follow(spec, job, base) if spec.get("program") else None

    def follow(self, spec, job, base):
        follower = Follower()
        with open(os.path.join(base, spec["program"]), encoding="ascii") as file:
            for line in file:
                follower.block(line)
        full = [m for m in follower.moves if max(m[3], m[4]) <= -job["depth"] + AT_DEPTH]
        below = [m for m in follower.moves if min(m[3], m[4]) < 0]
        self.all = translate(swept(below, job["bit"] / 2), *spec["zero"])
        return translate(swept(full, job["bit"] / 2), *spec["zero"])


def sides(area, x, width):
    """Where a line across the table at x goes in and out of an area, from the front."""
    hit = area.intersection(LineString([(x, -1.0), (x, width + 1)]))
    parts = getattr(hit, "geoms", [hit])
    found = sorted((p.bounds[1], p.bounds[3]) for p in parts if p.length > 0)
    return [y for pair in found for y in pair]


def step(a, b, what):
    if len(a) != len(b):
        raise Fault(f"{what}: {len(a) // 2} grooves meet {len(b) // 2}")
    return max((abs(p - q) for p, q in zip(a, b)), default=0.0)


class Assembly:
    """One arrangement, in its own coordinates."""

    def __init__(self, sections, places, width):
        self.parts = []
        for p in places:
            s = sections[p["section"]]
            move = [1, 0, 0, 1, p["x"], 0]
            if p.get("turned"):
                move = [-1, 0, 0, -1, p["x"] + s.length, width]
            self.parts.append((s, move, p["x"], bool(p.get("turned"))))
        self.width = width

    def steps(self, of):
        """How far sides are out at each joint."""
        for (a, ma, xa, _), (b, mb, xb, _) in zip(self.parts, self.parts[1:]):
            joint = xa + a.length
            if abs(joint - xb) > 1e-6:
                raise Fault(f"{a.name} ends at {joint}, {b.name} begins at {xb}")
            left = sides(affine_transform(of(a), ma), joint - BESIDE, self.width)
            right = sides(affine_transform(of(b), mb), joint + BESIDE, self.width)
            yield step(left, right, f"between {a.name} and {b.name}")

    def strands(self):
        """All centre lines, joined where their ends meet: points and whether closed."""
        chains = []
        for s, m, _, _ in self.parts:
            for points, closed in s.lines:
                moved = [(m[0] * x + m[1] * y + m[4], m[2] * x + m[3] * y + m[5]) for x, y in points]
                if closed and moved[0] != moved[-1]:
                    moved.append(moved[0])
                chains.append((moved, closed))
        open_, done = [c for c, closed in chains if not closed], [(c, True) for c, closed in chains if closed]
        while open_:
            chain = open_.pop()
            grew = True
            while grew:
                grew = False
                for i, other in enumerate(open_):
                    for a, b in ((chain, other), (chain[::-1], other), (chain, other[::-1]), (chain[::-1], other[::-1])):
                        if math.dist(a[-1], b[0]) < SAME:
                            chain, grew = a + b, True
                            break
                    if grew:
                        open_.pop(i)
                        break
            closed = math.dist(chain[0], chain[-1]) < SAME and len(chain) > 2
            done.append((chain, closed))
        return done

    def crossings(self):
        for s, m, _, turned in self.parts:
            for x, y, over in s.crossings:
                yield m[0] * x + m[1] * y + m[4], m[2] * x + m[3] * y + m[5], over

    def walk(self):
        """Visits of every strand, in order: [(at, over)], and whether it is closed."""
        for points, closed in self.strands():
            line = LineString(points)
            visits = []
            for x, y, over in self.crossings():
                for s in passes(line, (x, y)):
                    visits.append((s, (x, y), is_over(line, s, over)))
            visits.sort()
            yield [(at, over) for _, at, over in visits], closed


def passes(line, at, near=SAME):
    """How far along a line it passes a place: once, or twice where it crosses itself."""
    disc = Point(at).buffer(0.5)
    hit = line.intersection(disc)
    found = []
    for part in getattr(hit, "geoms", [hit]):
        if part.length > 0 and part.distance(Point(at)) < near:
            found.append(line.project(part.interpolate(part.project(Point(at)))) if line.is_simple else None)
    if None not in found:
        return found
    # A line that crosses itself is measured along its own points.
    found, run = [], 0.0
    for p, q in zip(line.coords, line.coords[1:]):
        length = math.dist(p, q)
        if length > 0:
            t = max(0.0, min(1.0, ((at[0] - p[0]) * (q[0] - p[0]) + (at[1] - p[1]) * (q[1] - p[1])) / length**2))
            foot = (p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]))
            s = run + t * length
            if math.dist(foot, at) < near and not (found and s - found[-1] < 0.5):
                found.append(s)
        run += length
    if len(found) > 1 and math.dist(line.coords[0], line.coords[-1]) < SAME and found[0] + run - found[-1] < 0.5:
        found.pop()
    return found


def is_over(line, s, over):
    """Whether the line runs as the upper strand does, there."""
    a, b = line.interpolate(max(0, s - 0.05)), line.interpolate(min(line.length, s + 0.05))
    along = math.atan2(b.y - a.y, b.x - a.x)
    off = math.remainder(along - over, math.pi)
    return abs(off) < math.radians(5)


def judge(job, base):
    sections = {n: Section(n, s, job, base) for n, s in job["sections"].items()}
    out = {"joints": 0, "step_max": 0.0, "program_step_max": 0.0, "overcut_area": 0.0, "uncut_area": 0.0, "passed": 0, "breaks": [], "strands": 0}
    for s in sections.values():
        if s.cut is None:
            continue
        board = box(0, 0, s.length, job["width"])
        out["overcut_area"] += s.all.intersection(board).difference(s.groove.buffer(STEP)).area
        # What a round bit can reach, but for a hair.
        reach = s.groove.buffer(job["groove"]).buffer(-job["groove"]).intersection(s.groove)
        reach = reach.buffer(-job["bit"] / 2 + STEP).buffer(job["bit"] / 2 - 2 * STEP)
        near = unary_union([box(x - 20, 0, x + 20, job["width"]) for x in (0, s.length)])
        out["uncut_area"] += reach.difference(s.cut).area + s.groove.buffer(-STEP).intersection(near).difference(s.cut).area
    for places in job["arrangements"]:
        top = Assembly(sections, places, job["width"])
        for d in top.steps(lambda s: s.groove):
            out["joints"] += 1
            out["step_max"] = max(out["step_max"], d)
        if all(s.cut is not None for s in sections.values()):
            for d in top.steps(lambda s: s.cut):
                out["program_step_max"] = max(out["program_step_max"], d)
        for visits, closed in top.walk():
            out["strands"] += 1
            pairs = list(zip(visits, visits[1:]))
            if closed and len(visits) > 1:
                pairs.append((visits[-1], visits[0]))
            for (p, a), (q, b) in pairs:
                out["passed"] += 1
                if a == b:
                    out["breaks"].append({"from": p, "to": q, "arrangement": [x["section"] for x in places]})
    return out


def main(args):
    if len(args) != 1:
        raise Fault("usage: table.py INPUT.json")
    with open(args[0], encoding="utf-8") as file:
        job = json.load(file)
    json.dump(judge(job, os.path.dirname(os.path.abspath(args[0]))), sys.stdout, indent=2, allow_nan=False)
    print()


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except (Fault, OSError, ValueError, KeyError, TypeError) as err:
        print(f"table: {type(err).__name__}: {err}", file=sys.stderr)
        sys.exit(2)
