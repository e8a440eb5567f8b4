#!/usr/bin/python3
"""Cut every strip by the bands above it, and hold a list of pieces to what is left.

An independent witness for the list of pieces, strips.csv: it shares no code with the
program, and works in areas (shapely 1.8.5) where the program follows lines.

    pieces.py INPUT.json...   prints a JSON document for each; exit 0, also when they disagree
    any fault in the input:   one line on standard error; exit 2

INPUT.json, lengths in mm, stations along a strand's centre line from its start:

    {
      "strands": [...],             as roll.py takes them, each with its "name" in the list; on a
                                    table with its "section" there, and between which joints its
                                    strips are laid: "span": [x or null, x or null]
      "crossings": [
        {"at": [x, y],
         "upper": {"strand": 0, "s": 10.5}, "lower": {"strand": 1, "s": 20.25}}
      ],
      "tees": [                     a strand that ends on another's middle, which is above it
        {"at": [x, y],
         "upper": {"strand": 0, "s": 10.5}, "lower": {"strand": 1, "s": 0}}
      ],
      "strips": [{"material": "holly", "thickness": 1.2}],
                                    the lay-up, left to right along the strand, centred on it
      "laid": "strips",             or "sandwich": the lay-up is cut as one, its strip is 0
                                    (where it is more than one)
      "csv": "strips.csv"           the list to judge, relative to INPUT.json; optional
    }

Output:

    {"pieces": [{"strand", "strip", "left", "middle", "right", "bend",
                 "ends": [{"kind", "deg", "gap"}]}],
     "odd"                   pieces that lack a side, or have one in several parts: of these
                             only the lengths are judged
     "shared"                covers that run into those of another crossing of the same two
                             strands: each is taken to have what is nearer to it
     "rows", "length_error", "angle_error",      what the list has, and its worst
     "faults": ["piece 3: ..."]}                 disagreements

How it cuts. A strand's band is taken in short chunks between its parallels, mitred where
the parallels of both arms meet. What an upper strand covers at a crossing is what the
bands of both whole lay-ups, near the crossing, have in common with it: that one place, and
no other where the two come near. Each strip's chunks less those places fall into parts;
parts that touch across a chunk's end are one piece. A piece is measured on its left
side, its middle and its right side; its ends' angles are those of the chord from the
right side's end to the left one's, against the middle's direction at its own end.

Accuracy. Curves are taken as chords that leave them by CHORD (roll.py); lengths are
worked out from stations. At an angle of 10 degrees an end is off by some 0.0001 mm.
"""

import csv
import json
import math
import os
import sys

from bands import SPLINTER, TIE, Strand, chunks
from roll import Fault, pieces as polygons
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

# How far (mm) inside a side it is measured: outside of what the chords leave of it.
INSET = 3e-5
# How much wider (mm) the lower strand is taken, so that nothing is left along its sides.
WIDER = 0.001
# The least sine of two strands that is taken for the first guess of what they cover.
SHALLOW = 0.05
# A straight cut gapes by more than this (mm): the list's own rule for a cope.
COPE = 0.05
# Gaps (mm) so near to COPE may be either kind.
UNSURE = 0.002
# What is asked of the list: mm, and degrees.
LENGTH, ANGLE = 0.01, 0.05


# Covers ---------------------------------------------------------------------


class Cover:
    """What the upper strand covers of the lower one at a crossing or tee."""

    def __init__(self, strands, half, given, others):
        self.lower, self.s = given["lower"]["strand"], given["lower"]["s"]
        low, up = strands[self.lower], strands[given["upper"]["strand"]]
        u, at = given["upper"]["s"], Point(given["at"])
        angle = direction(low, self.s) - direction(up, u)
        reach = 1.5 * half * (1 + abs(math.cos(angle))) / max(abs(math.sin(angle)), SHALLOW)
        most = max(strand.length / (2 if strand.closed else 1) for strand in (low, up))
        if low is up:
            # Half of the way between the two passages: beyond it every place is both.
            way = abs(self.s - u)
            most = min(way, low.length - way if low.closed else way) / 2
            reach = min(reach, most)
        while True:
            one = low.window(half + WIDER, self.s, reach)
            two = up.window(half, u, reach)
            self.area = at_place(one[0].intersection(two[0]), at)
            if self.area.distance(at) > TIE:
                raise Fault(f"the strands' bands don't meet at {given['at']}")
            if reach >= most or all(e.distance(self.area) > 1e-6 for e in one[1] + two[1]):
                break
            reach = min(2 * reach, most)
        self.reach = reach
        joined = [o["at"] for o in others if self.area.distance(Point(o["at"])) < TIE]
        self.shared = len(joined) > 0
        for other in joined:
            self.area = at_place(self.area.intersection(nearer(given["at"], other)), at)

    def lies_over(self, chunk, strand):
        """Whether a chunk of its lower strand comes near."""
        return any(self.s + lap - self.reach < chunk.b and self.s + lap + self.reach > chunk.a for lap in strand.laps())


class Beyond:
    """What lies beyond the joints of a strand's section."""

    def __init__(self, strand, s, span):
        self.lower, self.s, self.shared, self.span = strand, s, False, span
        far = 1e5
        low, high = span
        boxes = [] if low is None else [Polygon([(low, -far), (low, far), (low - far, far), (low - far, -far)])]
        boxes += [] if high is None else [Polygon([(high, -far), (high, far), (high + far, far), (high + far, -far)])]
        self.area = unary_union(boxes)

    def lies_over(self, chunk, _):
        # A chunk strays from its ends by no more than it is long.
        near, (low, high) = chunk.b - chunk.a + 1, self.span
        along = [x for end in chunk.ends for x, _ in end]
        return low is not None and min(along) < low + near or high is not None and max(along) > high - near


def at_place(area, at):
    """Of the parts of an area the one at a place."""
    return min(polygons(area), key=lambda p: p.distance(at))


def nearer(p, q):
    """All that is nearer to p than to q."""
    far = 1e5 / math.dist(p, q)
    (x, y), u, v = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2), (p[0] - q[0]) * far, (p[1] - q[1]) * far
    return Polygon([(x - v, y + u), (x - v + u, y + u + v), (x + v + u, y - u + v), (x + v, y - u)])


def direction(strand, s):
    """The direction at a station."""
    for arm in strand.arms:
        for lap in strand.laps():
            if arm.begin <= s + lap <= arm.end:
                return arm.heading(s + lap)
    raise Fault(f"no station {s} on strand {strand.name}")


# Pieces ---------------------------------------------------------------------


class Part:
    """What is left of a chunk in one place; all of it where no area is given."""

    def __init__(self, chunk, area=None):
        self.chunk, self.whole, self.known = chunk, area is None, area

    @property
    def area(self):
        return self.chunk.area if self.whole else self.known

    def corners(self):
        """(station, offset, place, end) of its corners that may be an end's; the end is 0 or
        1, or None where it isn't known."""
        arm, chunk = self.chunk.arm, self.chunk
        if self.whole:
            return [(*arm.chart(p, chunk.a, chunk.b), p, end) for end in (0, 1) for p in chunk.ends[end]]
        ring = [(*arm.chart(p, chunk.a, chunk.b), p) for p in orient(self.known, -1).exterior.coords[:-1]]
        # Clockwise the left side leads to the end ahead, and the right one to that behind.
        sides = [1 if chunk.left - d < INSET else 0 if d - chunk.right < INSET else None for _, d, _ in ring]
        found, n = [], len(ring)
        for i, corner in enumerate(ring):
            before = next((sides[i - k] for k in range(n) if sides[i - k] is not None), None)
            after = next((sides[(i + k) % n] for k in range(n) if sides[(i + k) % n] is not None), None)
            found.append((*corner, before if after != before else None))
        return found

    def border(self, end):
        """Where it lies on a chunk's end, as fractions of the way across."""
        if self.chunk.mitred[end]:
            return []
        if self.whole:
            return [[0, 1]]
        (x, y), (u, v) = self.chunk.ends[end]
        dx, dy, length = u - x, v - y, math.dist((x, y), (u, v))
        ring = [(((p - x) * dy - (q - y) * dx) / length, ((p - x) * dx + (q - y) * dy) / length**2)
                for p, q in self.known.exterior.coords]  # fmt: skip
        return [sorted((s, t)) for (far, s), (off, t) in zip(ring, ring[1:]) if max(abs(far), abs(off)) < 1e-8]


def joins(one, two):
    """Whether two parts of neighbouring chunks touch along more than a point."""
    return any(min(b, d) - max(a, c) > 1e-6 for a, b in one.border(1) for c, d in two.border(0))


def split(arm, left, right, covers, strand):
    """The pieces of a strip along an arm, each a list of parts."""
    begin, end = arm.begin, arm.end
    if arm.ring:
        begin = covers[0].s
        end = begin + strand.length
    groups = []
    last = []
    for chunk in chunks(arm, left, right, begin, end):
        over = [c.area for c in covers if c.lies_over(chunk, strand)]
        if over or not chunk.whole:
            parts = [Part(chunk, p) for p in polygons(chunk.area.difference(unary_union(over)))]
        else:
            parts = [Part(chunk)]
        for part in parts:
            touching = [g for g in groups if any(p in last and joins(p, part) for p in g)]
            groups = [g for g in groups if g not in touching]
            groups.append([p for g in touching for p in g] + [part])
        last = parts
    return [g for g in groups if sum(p.area.area for p in g) / (left - right) >= SPLINTER]


def seen(arm, parts, d, left, right):
    """The stations between which the parallel at d lies in a piece."""
    inset = min(max(d, right + INSET), left - INSET)
    found = []
    for p in parts:
        a, b = p.chunk.low(inset), p.chunk.high(inset)
        if b - a < TIE / 10:
            continue
        if p.whole:
            found.append([p.chunk.low(d), p.chunk.high(d)])
            continue
        common = LineString(arm.line(inset, a, b)).intersection(p.area)
        for g in getattr(common, "geoms", [common]):
            if isinstance(g, LineString) and g.length > TIE / 10:
                ends = sorted(arm.chart(q, p.chunk.a, p.chunk.b)[0] for q in (g.coords[0], g.coords[-1]))
                found.append([p.chunk.low(d) if ends[0] - a < 1e-7 else ends[0],
                              p.chunk.high(d) if b - ends[1] < 1e-7 else ends[1]])  # fmt: skip
    merged = []
    for a, b in sorted(found):
        if merged and a - merged[-1][1] < TIE / 10:
            merged[-1][1] = max(b, merged[-1][1])
        else:
            merged.append([a, b])
    return merged


def measured(arm, strip, parts, span=(None, None)):
    """A piece as the list has it, with the station where it begins."""
    left, right = strip["left"], strip["right"]
    offsets = left, (left + right) / 2, right
    spans = [seen(arm, parts, d, left, right) for d in offsets]
    lengths = [sum(arm.length(d, a, b) for a, b in s) for d, s in zip(offsets, spans)]
    out = {"strip": strip["number"], "left": lengths[0], "middle": lengths[1], "right": lengths[2]}
    corners = [(s, d, p, part, end) for part in parts for s, d, p, end in part.corners()]
    out["from"] = min(c[0] for c in corners)
    out["odd"] = any(len(s) != 1 for s in spans)
    if not spans[1]:
        out["bend"], out["ends"] = None, [{"kind": "odd", "deg": None, "gap": 0.0}] * 2
        return out
    out["bend"] = arm.bend(offsets[1], spans[1][0][0], spans[1][-1][1])
    # A side that is missing ends where the piece comes nearest to it.
    missing = [max(corners, key=lambda c: c[1])[2], None, min(corners, key=lambda c: c[1])[2]]
    chords = []
    for end in (0, 1):
        at = [arm.point(d, s[-end][end]) if s else m for d, s, m in zip(offsets, spans, missing)]
        chords.append((at[2], at[0]))
    out["ends"] = []
    for end, chord in enumerate(chords):
        s = [x[-end][end] if x else None for x in spans]
        own = [abs(t - arm.limit(end, d)) < TIE for t, d in zip(s, offsets) if t is not None]
        if all(own):
            kind = "free" if arm.corners[end] is None else "mitre"
        else:
            kind = "mixed" if any(own) else "butt"
        (x, y), (u, v) = chord
        if any(j is not None and max(abs(x - j), abs(u - j)) < TIE for j in span):
            kind = "joint"
        deg = math.degrees(math.remainder(math.atan2(v - y, u - x) - arm.heading(s[1]), 2 * math.pi))
        out["ends"].append({"kind": kind, "deg": deg, "gap": gap(chords, end, corners, offsets)})
    return out


def gap(chords, end, corners, offsets):
    """How wide a gap a straight cut along an end's chord leaves: how far the end strays from
    the chord to both sides together."""
    low = high = 0.0
    (x, y), (u, v) = chords[end]
    length = math.dist((x, y), (u, v)) or 1.0
    for s, d, p, part, belongs in corners:
        if min(offsets[0] - d, d - offsets[2]) < INSET:
            continue  # on a side
        chunk = part.chunk
        if any(not m and abs(s - t) < 1e-7 for m, t in zip(chunk.mitred, (chunk.a, chunk.b))):
            continue  # on a chunk's end
        if belongs is None:
            far = [LineString(c).distance(Point(p)) if c[0] != c[1] else math.dist(c[0], p) for c in chords]
            belongs = int(far[1] < far[0])
        if belongs == end:
            off = ((p[0] - x) * (v - y) - (p[1] - y) * (u - x)) / length
            low, high = min(low, off), max(high, off)
    return high - low


def ring_piece(arm, strip, strand):
    """A whole ring, which is joined to itself."""
    left, right = strip["left"], strip["right"]
    end = {"kind": "square", "deg": 90.0, "gap": 0.0}
    lengths = [arm.length(d, 0, strand.length) for d in (left, (left + right) / 2, right)]
    return {
        "strip": strip["number"], "left": lengths[0], "middle": lengths[1], "right": lengths[2],
        "from": 0.0, "odd": False, "bend": arm.bend((left + right) / 2, 0, strand.length),
        "ends": [end, end],
    }  # fmt: skip


def layers(job):
    """The strips that are cut, by offset: all of the lay-up, or it as one."""
    total = sum(s["thickness"] for s in job["strips"])
    if job["laid"] == "sandwich" and len(job["strips"]) > 1:
        return [{"number": 0, "left": total / 2, "right": -total / 2}]
    found, at = [], total / 2
    for i, s in enumerate(job["strips"]):
        found.append({"number": i + 1, "left": at, "right": at - s["thickness"]})
        at -= s["thickness"]
    return found


def all_pieces(job):
    """The pieces of all strips, by strand, arm and strip, and how many covers are shared."""
    strands = [Strand(s) for s in job["strands"]]
    half = sum(s["thickness"] for s in job["strips"]) / 2
    covers = []
    for kind in ("crossings", "tees"):
        for given in job[kind]:
            pair = {given["upper"]["strand"], given["lower"]["strand"]}
            others = [o for o in job["crossings"] if o is not given
                      and {o["upper"]["strand"], o["lower"]["strand"]} == pair]  # fmt: skip
            covers.append(Cover(strands, half, given, others))
    spans = [s.get("span", (None, None)) for s in job["strands"]]
    covers += [Beyond(i, math.inf, span) for i, span in enumerate(spans) if any(x is not None for x in span)]
    covers.sort(key=lambda c: c.s)
    found = []
    for i, strand in enumerate(strands):
        mine = [c for c in covers if c.lower == i]
        for arm in strand.arms:
            for strip in layers(job):
                if arm.ring and not mine:
                    parts = [ring_piece(arm, strip, strand)]
                else:
                    groups = split(arm, strip["left"], strip["right"], mine, strand)
                    parts = sorted((measured(arm, strip, g, spans[i]) for g in groups), key=lambda p: p["from"])
                section = job["strands"][i].get("section", "")
                found += [{"strand": strand.name, "section": section, **p} for p in parts]
    return found, sum(c.shared for c in covers)


# The verdict ----------------------------------------------------------------


NUMBERS = ("thickness_mm", "left_mm", "middle_mm", "right_mm", "end1_deg", "end2_deg", "bend_mm")


def read_list(path):
    try:
        with open(path, newline="", encoding="utf-8") as f:
            rows = list(csv.DictReader(f))
        for row in rows:
            for key in NUMBERS:
                row[key] = float(row[key])
            row["piece"], row["strip"] = int(row["piece"]), int(row["strip"])
    except (OSError, KeyError, ValueError, TypeError) as err:
        raise Fault(f"{path}: {err!r}") from err
    return rows


def turns(piece, row):
    """(length error, [angle errors]) of a row for a piece; angles None where not judged."""
    worst = max(abs(piece[k] - row[k + "_mm"]) for k in ("left", "middle", "right"))
    off = [None if piece["odd"] or e["deg"] is None else abs(math.remainder(e["deg"] - row[f"end{i}_deg"], 360))
           for i, e in enumerate(piece["ends"], 1)]  # fmt: skip
    return worst, off


def kind_fits(end, word):
    if end["kind"] in ("free", "square"):
        return word == end["kind"]
    plain = {"mitre": "mitre", "butt": "butt", "joint": "joint"}.get(end["kind"])
    if end["gap"] > COPE + UNSURE:
        return word == "cope"
    if end["gap"] > COPE - UNSURE:
        return word in ("cope", plain)
    return word == plain if plain else word in ("butt", "mitre", "joint")


def judge(job, found, rows):
    """What is wrong with the list, its worst errors with it."""
    faults, worst = [], [0.0, 0.0]
    if [r["piece"] for r in rows] != list(range(1, len(rows) + 1)):
        faults.append("the pieces are not numbered 1, 2, 3, ...")
    strips = {i + 1: (s["thickness"], s["material"]) for i, s in enumerate(job["strips"])}
    strips[0] = sum(s["thickness"] for s in job["strips"]), None
    for strand in job["strands"]:
        for strip in layers(job):
            key = strand["name"], strip["number"], strand.get("section", "")
            want = [p for p in found if (p["strand"], p["strip"], p["section"]) == key]
            got = [r for r in rows if (r["strand"], r["strip"], r["section"]) == key]
            if len(want) != len(got):
                faults.append(f"strand {key[0]} {key[2]}, strip {key[1]}: {len(got)} pieces, should be {len(want)}")
                continue
            if strand["closed"] and want:
                # A closed strand's list may begin with any of its pieces.
                turned = [want[i:] + want[:i] for i in range(len(want))]
                want = min(turned, key=lambda w: sum(turns(p, r)[0] for p, r in zip(w, got)))
            for piece, row in zip(want, got):
                faults += compare(piece, row, strips[strip["number"]], worst)
    known = {(s["name"], strip["number"], s.get("section", "")) for s in job["strands"] for strip in layers(job)}
    faults += [f"piece {r['piece']}: no strand {r['strand']} with a strip {r['strip']}"
               for r in rows if (r["strand"], r["strip"], r["section"]) not in known]  # fmt: skip
    return faults, worst


def compare(piece, row, strip, worst):
    faults = []
    length, angles = turns(piece, row)
    worst[0] = max(worst[0], length)
    if length > LENGTH:
        faults.append("{} / {} / {} mm, should be {:.6f} / {:.6f} / {:.6f}".format(
            row["left_mm"], row["middle_mm"], row["right_mm"], piece["left"], piece["middle"], piece["right"]))  # fmt: skip
    for i, (end, off) in enumerate(zip(piece["ends"], angles), 1):
        if off is None:
            continue
        worst[1] = max(worst[1], off)
        if off > ANGLE:
            faults.append(f"end {i} is {row[f'end{i}_deg']} degrees, should be {end['deg']:.6f}")
        if not kind_fits(end, row[f"end{i}"]):
            faults.append(f"end {i} is a {row[f'end{i}']}, should be {end['kind']} with a gap of {end['gap']:.6f} mm")
    if piece["bend"] is not None and abs(piece["bend"] - row["bend_mm"]) > LENGTH:
        faults.append(f"bend {row['bend_mm']} mm, should be {piece['bend']:.6f}")
    if abs(row["thickness_mm"] - strip[0]) > 1e-6 or strip[1] not in (None, row["material"]):
        faults.append(f"{row['thickness_mm']} mm of {row['material']}, should be {strip[0]} of {strip[1]}")
    where = f"piece {row['piece']} (strand {piece['strand']}, strip {piece['strip']}): "
    return [where + f for f in faults]


def run(path):
    with open(path, encoding="utf-8") as f:
        job = json.load(f)
    found, shared = all_pieces(job)
    out = {"pieces": found, "odd": sum(p["odd"] for p in found), "shared": shared}
    if "csv" in job:
        rows = read_list(os.path.join(os.path.dirname(path), job["csv"]))
        faults, worst = judge(job, found, rows)
        out.update(rows=len(rows), length_error=worst[0], angle_error=worst[1], faults=faults)
    return out


def main(args):
    if not args:
        raise Fault("usage: pieces.py INPUT.json...")
    for path in args:
        print(json.dumps(run(path)))


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except (Fault, OSError, ValueError, KeyError, TypeError) as err:
        print(f"pieces: {type(err).__name__}: {err}", file=sys.stderr)
        sys.exit(2)
