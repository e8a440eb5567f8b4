#!/usr/bin/python3
"""Checks pieces.py against closed forms, and with lists that were spoilt.

Run it with unittest: python3 pieces_check.py [-v]
"""

import csv
import math
import os
import tempfile
import unittest

import pieces
from roll_check import arc, line

# 1 + 2 + 0.5 mm: a lay-up that tells left from right.
LAYUP = [
    {"material": "holly", "thickness": 1.0},
    {"material": "pear", "thickness": 2.0},
    {"material": "walnut", "thickness": 0.5},
]
# Middles of its strips and of the lay-up itself, to the left of the centre line.
MIDDLES = {1: 1.25, 2: -0.25, 3: -1.5, 0: 0.0}
SIDES = {1: (1.75, 0.75), 2: (0.75, -1.25), 3: (-1.25, -1.75), 0: (1.75, -1.75)}
H = 1.75
# A tenth of what is asked of the lists.
LENGTH, ANGLE = 0.001, 0.005


def strand(name, *elements, closed=False):
    return {"name": name, "closed": closed, "elements": list(elements)}


def path(name, *points, closed=False):
    """A strand of straights with a corner at every point."""
    ends = [*points, points[0]] if closed else points
    return strand(name, *(line(*p, *q, corner=True) for p, q in zip(ends, ends[1:])), closed=closed)


def meeting(at, upper, s, lower, t):
    return {"at": list(at), "upper": {"strand": upper, "s": s}, "lower": {"strand": lower, "s": t}}


def job(strands, crossings=(), tees=(), laid="strips"):
    return {"strands": strands, "crossings": list(crossings), "tees": list(tees), "strips": LAYUP, "laid": laid}


def cross(degrees, laid="strips"):
    """A straight of 120 mm, and one of 50 + 70 mm that goes under it at an angle."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return job([path("a", (-60, 0), (60, 0)), path("b", (-50 * c, -50 * s), (70 * c, 70 * s))],
               [meeting((0, 0), 0, 60, 1, 50)], laid=laid)  # fmt: skip


def bowed():
    """A straight that crosses a ring of radius 20 twice, under it and over it, and one that
    ends on it from inside."""
    ring = strand("ring", arc([0, 0], 20, 0, 180), arc([0, 0], 20, 180, 180), closed=True)
    reach = math.sqrt(20 * 20 - 5 * 5)
    turn = 20 * math.asin(5 / 20)
    crossings = [
        meeting((reach, 5), 0, turn, 1, 40 + reach),
        meeting((-reach, 5), 1, 40 - reach, 0, 20 * math.pi - turn),
    ]
    return job([ring, path("a", (-40, 5), (40, 5)), path("t", (-20, 0), (-8, 0))], crossings,
               [meeting((-20, 0), 0, 20 * math.pi, 2, 0)])  # fmt: skip


class Pieces(unittest.TestCase):
    def cut(self, given):
        """The pieces by strand and strip."""
        found = {}
        for p in pieces.all_pieces(given)[0]:
            self.assertFalse(p["odd"])
            found.setdefault((p["strand"], p["strip"]), []).append(p)
        return found

    def held(self, piece, kinds, degrees, **lengths):
        for key, want in lengths.items():
            self.assertAlmostEqual(piece[key], want, delta=LENGTH, msg=key)
        for end, kind, want in zip(piece["ends"], kinds, degrees):
            self.assertEqual(end["kind"], kind)
            self.assertAlmostEqual(end["deg"], want, delta=ANGLE)

    def test_ring(self):
        ring = strand("r", arc([3, 4], 40, 0, 180), arc([3, 4], 40, 180, 180), closed=True)
        for laid, strips in (("strips", 3), ("sandwich", 1)):
            found = self.cut(job([ring], laid=laid))
            self.assertEqual(len(found), strips)
            for (_, n), (p,) in found.items():
                left, right = (2 * math.pi * (40 - d) for d in SIDES[n])
                self.held(p, ["square"] * 2, [90, 90], left=left, right=right,
                          middle=2 * math.pi * (40 - MIDDLES[n]), bend=40 - MIDDLES[n])  # fmt: skip

    def test_polygons(self):
        """Regular ones: 180/n from square, and the side 2 r tan(180/n)."""
        for n in (3, 4, 5, 6, 8, 12):
            for turn in (1, -1):
                tan = math.tan(math.pi / n)
                r, far = 50, 50 / math.cos(math.pi / n)
                corners = [(far * math.cos(a), turn * far * math.sin(a))
                           for a in (2 * math.pi * i / n for i in range(n))]  # fmt: skip
                for laid in ("strips", "sandwich"):
                    found = self.cut(job([path("p", *corners, closed=True)], laid=laid))
                    for (_, strip), list_ in found.items():
                        self.assertEqual(len(list_), n)
                        for p in list_:
                            left, right = (2 * tan * (r - turn * d) for d in SIDES[strip])
                            off = turn * 180 / n
                            self.held(p, ["mitre"] * 2, [90 - off, 90 + off], left=left, right=right,
                                      middle=2 * tan * (r - turn * MIDDLES[strip]))  # fmt: skip

    def test_mitre_on_an_arc(self):
        """The parallels of y = 0 and of a circle of radius 30 about (0, 30) turned by 60
        degrees about the corner meet where the circle of radius 30 - d crosses y = d."""
        turn = math.radians(60)
        center = (-30 * math.sin(turn), 30 * math.cos(turn))
        bow = strand("s", line(-60, 0, 0, 0), arc(list(center), 30, math.degrees(-math.pi / 2 + turn), 70, True))
        found = self.cut(job([bow]))
        for n, (left, right) in SIDES.items():
            if n == 0:
                continue
            x = {d: center[0] + math.sqrt((30 - d) ** 2 - (center[1] - d) ** 2) for d in (left, right, MIDDLES[n])}
            one, _ = found["s", n]
            deg = math.degrees(math.atan2(left - right, x[left] - x[right]))
            self.held(one, ["free", "mitre"], [90, deg], left=60 + x[left], right=60 + x[right],
                      middle=60 + x[MIDDLES[n]], bend=0)  # fmt: skip

    def test_slight_turn(self):
        """A joint that turns by 0.4 degrees is no corner: the parallels meet at it, each d
        tan(0.2 degrees) short of it on the inner side."""
        turn = math.radians(0.4)
        bent = strand("s", line(-50, 0, 0, 0), line(0, 0, 50 * math.cos(turn), 50 * math.sin(turn)))
        found = self.cut(job([bent]))
        for n in (1, 2, 3):
            (p,) = found["s", n]
            left, right = (100 - 2 * d * math.tan(turn / 2) for d in SIDES[n])
            self.assertAlmostEqual(p["left"], left, delta=1e-4)
            self.assertAlmostEqual(p["right"], right, delta=1e-4)

    def test_crossing(self):
        for degrees in (10, 20, 35, 90, 120, 165):
            sin, cos = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
            for laid in ("strips", "sandwich"):
                found = self.cut(cross(degrees, laid))
                for (name, n), list_ in found.items():
                    if name == "a":
                        self.assertEqual(len(list_), 1)
                        self.held(list_[0], ["free"] * 2, [90, 90], middle=120)
                        continue
                    before, after = list_
                    left, right = SIDES[n]
                    cut = [(H + d * cos) / sin for d in (left, MIDDLES[n], right)]
                    self.held(before, ["free", "butt"], [90, 180 - degrees],
                              **{k: 50 - c for k, c in zip(("left", "middle", "right"), cut)})  # fmt: skip
                    cut = [(H - d * cos) / sin for d in (left, MIDDLES[n], right)]
                    self.held(after, ["butt", "free"], [180 - degrees, 90],
                              **{k: 70 - c for k, c in zip(("left", "middle", "right"), cut)})  # fmt: skip

    def test_arcs(self):
        found = self.cut(bowed())
        for n in (1, 2, 3):
            left, right = SIDES[n]
            # Under the ring's right side, through its left one.
            before, after = found["a", n]
            root = {k: math.sqrt((20 - H) ** 2 - (5 + d) ** 2) for k, d in (("left", left), ("right", right))}
            deg = math.degrees(math.atan2(left - right, root["left"] - root["right"]))
            self.held(before, ["free", "butt"], [90, deg], left=40 + root["left"], right=40 + root["right"])
            out = {k: math.sqrt((20 + H) ** 2 - (5 + d) ** 2) for k, d in (("left", left), ("right", right))}
            deg = math.degrees(math.atan2(left - right, out["left"] - out["right"]))
            self.held(after, ["butt", "free"], [deg, 90], left=40 - out["left"], right=40 - out["right"])
            # The gap is the sagitta of the chord.
            for end, radius, ends in ((before["ends"][1], 20 - H, root), (after["ends"][0], 20 + H, out)):
                chord = math.hypot(left - right, ends["left"] - ends["right"])
                self.assertAlmostEqual(end["gap"], radius - math.sqrt(radius**2 - chord**2 / 4), delta=1e-4)
            # The ring in one piece, from y = 5 - H on its left round to y = 5 + H.
            (whole,) = found["ring", n]
            angle = {k: [math.asin((5 + side) / (20 - d)) for side in (-H, H)] for k, d in
                     (("left", left), ("middle", MIDDLES[n]), ("right", right))}  # fmt: skip
            for (key, (low, high)), d in zip(angle.items(), (left, MIDDLES[n], right)):
                self.assertAlmostEqual(whole[key], (20 - d) * (2 * math.pi - high + low), delta=LENGTH)
            self.assertAlmostEqual(whole["bend"], 20 - MIDDLES[n], delta=LENGTH)
            # The tee: a chord of the ring's inner side.
            (tee,) = found["t", n]
            root = {k: math.sqrt((20 - H) ** 2 - d**2) for k, d in (("left", left), ("right", right))}
            deg = math.degrees(math.atan2(left - right, root["right"] - root["left"]))
            self.held(tee, ["butt", "free"], [deg, 90], left=root["left"] - 8, right=root["right"] - 8)

    def test_crowded(self):
        """Two uppers 4 mm apart leave 0.5 mm between them; and one of them turns where it
        is crossed, so that the piece below ends in a point of 120 degrees' half."""
        flat = [path(str(x), (x, -40), (x, 40)) for x in (-2, 2)]
        under = path("u", (-50, 0), (50, 0))
        found = self.cut(job([*flat, under], [meeting((x, 0), i, 40, 2, 50 + x) for i, x in enumerate((-2, 2))]))
        for n in (1, 2, 3):
            self.assertEqual([round(p["middle"], 5) for p in found["u", n]], [46.25, 0.5, 46.25])
        slope = math.tan(math.radians(30))
        bent = path("v", (40 * slope, -40), (0, 0), (40 * slope, 40))
        half = 40 / math.cos(math.radians(30))
        found = self.cut(job([bent, path("u", (-50, 0), (50, 0))], [meeting((0, 0), 0, half, 1, 50)], laid="sandwich"))
        before, after = found["u", 0]
        tip = H / math.cos(math.radians(30))
        # The lower's left side leaves where the bent one's side is at y = H.
        self.held(before, ["free", "butt"], [90, 90], left=50 - tip + H * slope, middle=50 - tip, right=50 - tip + H * slope)
        self.held(after, ["butt", "free"], [90, 90], left=50 - tip - H * slope, middle=50 - tip, right=50 - tip - H * slope)
        self.assertAlmostEqual(before["ends"][1]["gap"], H * slope, delta=LENGTH)
        self.assertAlmostEqual(after["ends"][0]["gap"], H * slope, delta=LENGTH)

    def test_only_what_is_above(self):
        """A hairpin over a straight and back under it: each is cut once."""
        pin = strand("h", line(-4, -40, -4, 20), arc([0, 20], 4, 180, -180), line(4, 20, 4, -40))
        found = self.cut(job([path("a", (-50, 0), (50, 0)), pin],
                             [meeting((-4, 0), 1, 40, 0, 46), meeting((4, 0), 0, 54, 1, 80 + 4 * math.pi)]))  # fmt: skip
        for n in (1, 2, 3):
            self.assertEqual([round(p["middle"], 5) for p in found["a", n]], [44.25, 52.25])
            d = MIDDLES[n]
            over = 20 + 40 + math.pi * (4 + d) + 20 - H
            self.assertAlmostEqual(found["h", n][0]["middle"], over, delta=LENGTH)
            self.assertAlmostEqual(found["h", n][1]["middle"], 40 - H, delta=LENGTH)

    def test_over_itself(self):
        """A loop of radius 12 with straight ends: over where it starts, under at its end."""
        loop = strand("l", line(-60, 0, 0, 0), arc([0, 12], 12, 270, 270), line(-12, 12, -12, -50))
        s = 60 + 18 * math.pi + 12
        for laid in ("strips", "sandwich"):
            found = self.cut(job([loop], [meeting((-12, 0), 0, 48, 0, s)], laid=laid))
            for (_, n), (one, two) in found.items():
                self.assertAlmostEqual(one["middle"], 60 + 1.5 * math.pi * (12 - MIDDLES[n]) + 12 - H, delta=LENGTH)
                self.assertAlmostEqual(two["middle"], 50 - H, delta=LENGTH)


class Judge(unittest.TestCase):
    """A list must be found sound as it is, and out with anything in it changed."""

    def setUp(self):
        keep = tempfile.TemporaryDirectory()
        self.addCleanup(keep.cleanup)
        self.path = os.path.join(keep.name, "strips.csv")
        self.job = cross(60)
        self.job["strands"].append(strand("r", arc([0, 90], 30, 0, 180), arc([0, 90], 30, 180, 180), closed=True))
        self.found = pieces.all_pieces(self.job)[0]
        self.rows = []
        for i, p in enumerate(self.found, 1):
            strip = LAYUP[p["strip"] - 1]
            row = {"piece": i, "strand": p["strand"], "strip": p["strip"], "material": strip["material"],
                   "thickness_mm": strip["thickness"], "section": ""}  # fmt: skip
            row.update({k + "_mm": p[k] for k in ("left", "middle", "right", "bend")})
            for k, e in enumerate(p["ends"], 1):
                row.update({f"end{k}": e["kind"], f"end{k}_deg": e["deg"]})
            self.rows.append(row)

    def faults(self, rows):
        with open(self.path, "w", newline="", encoding="utf-8") as f:
            out = csv.DictWriter(f, sorted(self.rows[0]))
            out.writeheader()
            out.writerows(rows)
        return pieces.judge(self.job, self.found, pieces.read_list(self.path))[0]

    def test_sound(self):
        self.assertEqual(self.faults(self.rows), [])

    def test_numbers(self):
        for key, by in (("left_mm", 0.011), ("middle_mm", -0.011), ("right_mm", 0.011), ("bend_mm", 0.011),
                        ("end1_deg", 0.051), ("end2_deg", -0.051), ("thickness_mm", 0.01)):  # fmt: skip
            for i, row in enumerate(self.rows):
                spoilt = [*self.rows[:i], {**row, key: row[key] + by}, *self.rows[i + 1 :]]
                self.assertEqual(len(self.faults(spoilt)), 1, (key, row))

    def test_words(self):
        for key, word in (("end1", "cope"), ("end2", "cope"), ("material", "elm"), ("strand", "z"), ("strip", 4)):
            for i, row in enumerate(self.rows):
                spoilt = [*self.rows[:i], {**row, key: word}, *self.rows[i + 1 :]]
                self.assertTrue(self.faults(spoilt), (key, row))

    def test_whole_lists(self):
        def changed(change):
            return [{**row, **change(row)} for row in self.rows]

        mirrored = changed(lambda r: {"end1_deg": 180 - r["end1_deg"], "end2_deg": 180 - r["end2_deg"]})
        by_the_groove = changed(lambda r: {"middle_mm": r["middle_mm"] - 0.05})
        backward = changed(lambda r: {"left_mm": r["right_mm"], "right_mm": r["left_mm"]})
        numbered = changed(lambda r: {"piece": r["piece"] + 1})
        for spoilt in (mirrored, by_the_groove, backward, numbered, self.rows[1:], [*self.rows, self.rows[-1]]):
            self.assertTrue(self.faults(spoilt))


if __name__ == "__main__":
    unittest.main()
