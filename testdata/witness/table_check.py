#!/usr/bin/python3
"""Checks table.py against closed forms, on sections drawn by hand.

Two sections of 100 by 100 mm, and a leaf of 60 between them that may be left out. A straight
groove passes every joint at 30 degrees; two rings on each joint cross at closed-form places.
Each sound table has spoilt twins. Run it with unittest: python3 table_check.py [-v]
"""

import math
import os
import tempfile
import unittest

import ezdxf
import table

W, L, LEAF = 4.0, 100.0, 60.0
# Two rings of radius R about (0, 50 -+ D) cross where x = +-sqrt(R^2 - D^2).
R, D = 20.0, 12.0
X = math.sqrt(R * R - D * D)


def bar(length, y0=50.0, slope=math.tan(math.radians(30)), half=W / 2):
    """A straight groove across a section that passes both edges: its outline, and its middle."""
    up = half / math.cos(math.radians(30))
    y1 = y0 + slope * length
    return [(0, y0 - up), (length, y1 - up), (length, y1 + up), (0, y0 + up)], [(0, y0), (length, y1)]


def draw(dir_, name, loops, lines):
    doc = ezdxf.new("R2000")
    space = doc.modelspace()
    for points in loops:
        space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": "OPENING"})
    for points in lines:
        space.add_lwpolyline(points, format="xyb", dxfattribs={"layer": "MARK"})
    doc.saveas(os.path.join(dir_, name + ".dxf"))


def half_ring(y, right):
    """A half ring on a joint, on its right or its left: outline and middle as x, y, bulge."""
    s, x = (1, 0.0) if right else (-1, L)
    out, inn = R + W / 2, R - W / 2
    outline = [(x, y - out, s), (x, y + out, 0), (x, y + inn, -s), (x, y - inn, 0)]
    return outline, [(x, y - R, s), (x, y + R, 0)]


class Tables(unittest.TestCase):
    def judge(self, spec, arrangements, programs=None):
        job = {"width": 200.0, "groove": W, "bit": 3.0, "depth": 3.0, "layers": {"groove": "OPENING", "centre": "MARK"}, "arrangements": arrangements}
        with tempfile.TemporaryDirectory() as base:
            job["sections"] = {}
            for name, (length, loops, lines, crossings) in spec.items():
                draw(base, name, loops, lines)
                job["sections"][name] = {"length": length, "drawing": name + ".dxf", "crossings": crossings}
            for name, text in (programs or {}).items():
                with open(os.path.join(base, name + ".nc"), "w", encoding="ascii") as file:
                    file.write(text)
                job["sections"][name].update(program=name + ".nc", zero=[0, 0])
            return table.judge(job, base)

    def rise(self, spoil=0.0):
        """Sections whose bars go on across the joints: each edge at the same height."""
        y = L * math.tan(math.radians(30))
        left, right = bar(L, 50), bar(L, 50 + y + spoil)
        return {
            "left": (L, [left[0]], [left[1]], []),
            "right": (L, [right[0]], [right[1]], []),
        }

    PAIR = [[{"section": "left", "x": 0}, {"section": "right", "x": L}]]

    def test_bar_meets(self):
        got = self.judge(self.rise(), self.PAIR)
        self.assertEqual((got["joints"], got["strands"], got["breaks"]), (1, 1, []))
        self.assertLess(got["step_max"], 1e-3)

    def test_step_is_found(self):
        got = self.judge(self.rise(0.05), self.PAIR)
        self.assertAlmostEqual(got["step_max"], 0.05, delta=1e-3)

    def test_missing_groove_is_found(self):
        spec = self.rise()
        spec["right"] = (L, [[(40, 40), (60, 40), (60, 60)]], [], [])
        with self.assertRaises(table.Fault):
            self.judge(spec, self.PAIR)

    def test_apart_is_found(self):
        with self.assertRaises(table.Fault):
            self.judge(self.rise(), [[{"section": "left", "x": 0}, {"section": "right", "x": L + 1}]])

    def rings(self, over_right):
        """Two rings on the joint: alternating, the first is over on one side and under on the other."""
        a, b = half_ring(100 - D, False), half_ring(100 + D, False)
        c, d = half_ring(100 - D, True), half_ring(100 + D, True)
        # At (-X, 0) and (X, 0) from the rings' middle; the lower ring's tangent there.
        lower_left = math.degrees(math.atan2(D, -X)) - 90
        lower_right = math.degrees(math.atan2(D, X)) - 90
        upper_left, upper_right = -lower_left, -lower_right
        return {
            "left": (L, [a[0], b[0]], [a[1], b[1]], [{"at": [L - X, 100], "over_deg": lower_left}]),
            "right": (L, [c[0], d[0]], [c[1], d[1]], [{"at": [X, 100], "over_deg": upper_right if over_right else lower_right}]),
        }

    def test_rings_alternate(self):
        got = self.judge(self.rings(True), self.PAIR)
        self.assertEqual((got["strands"], got["passed"], got["breaks"]), (2, 4, []))
        self.assertLess(got["step_max"], 1e-3)

    def test_break_is_found(self):
        got = self.judge(self.rings(False), self.PAIR)
        self.assertEqual(len(got["breaks"]), 4)

    def test_turned(self):
        """A leaf end for end: its bar falls, and meets one that does too."""
        y = L * math.tan(math.radians(30))
        left, leaf = bar(L, 30), bar(LEAF, 200 - 30 - y - LEAF * math.tan(math.radians(30)))
        spec = {"left": (L, [left[0]], [left[1]], []), "leaf": (LEAF, [leaf[0]], [leaf[1]], [])}
        places = [{"section": "left", "x": 0}, {"section": "leaf", "x": L, "turned": True}]
        self.assertLess(self.judge(spec, [places])["step_max"], 1e-3)
        places[1]["turned"] = False
        self.assertGreater(self.judge(spec, [places])["step_max"], 1)

    def test_arcs_are_true(self):
        doc = ezdxf.new("R2000")
        ring = [(300, 0, 1), (-300, 0, -0.5), (0, 20, 0)]
        for closed in (False, True):
            line = doc.modelspace().add_lwpolyline(ring, format="xyb", close=closed)
            points = table.flattened(line, table.CHORD)
            self.assertEqual((points[0], points[-1]), ((300, 0), (0, 20)))
            first = points[: points.index((-300, 0)) + 1]
            self.assertLess(max(abs(math.hypot(x, y) - 300) for x, y in first), 1e-9)
            self.assertLess(max(math.dist(p, q) for p, q in zip(first, first[1:])), 2 * math.sqrt(2 * 300 * table.CHORD))
            self.assertGreater(min(y for _, y in first), -1e-9)

    def program(self, length, y0, off=0.0, short=0.0):
        """Both walls of a bar, run on past the edges, with a bit of 3."""
        t = math.radians(30)
        run = W / 2 * math.tan(t) + 1.5 + 1 - short
        u, n, k = (math.cos(t), math.sin(t)), (-math.sin(t), math.cos(t)), (W - 3) / 2
        a = (-(run - 1.5) * u[0], y0 + off - (run - 1.5) * u[1])
        b = (length + (run - 1.5) * u[0], y0 + off + length * math.tan(t) + (run - 1.5) * u[1])
        p = [(q[0] + s * k * n[0], q[1] + s * k * n[1]) for s, q in ((1, a), (1, b), (-1, b), (-1, a))]
        moves = "".join(f"G1 X{x:.4f} Y{y:.4f} F900\n" for x, y in p[1:] + p[:1])
        return f"G21 G17 G90 G94 G54\nG0 Z10\nG0 X{p[0][0]:.4f} Y{p[0][1]:.4f}\nM3 S9000\nG0 Z1\nG1 Z-3 F200\n{moves}G0 Z10\nM5\nM2\n"

    def test_programs(self):
        y = L * math.tan(math.radians(30))
        good = {"left": self.program(L, 50), "right": self.program(L, 50 + y)}
        got = self.judge(self.rise(), self.PAIR, good)
        self.assertLess(got["program_step_max"], 2e-3)
        self.assertLess(got["overcut_area"] + got["uncut_area"], 0.01)
        got = self.judge(self.rise(), self.PAIR, {**good, "right": self.program(L, 50 + y, off=0.2)})
        self.assertAlmostEqual(got["program_step_max"], 0.2, delta=2e-3)
        self.assertGreater(got["overcut_area"], 5)
        got = self.judge(self.rise(), self.PAIR, {**good, "right": self.program(L, 50 + y, short=2.6)})
        self.assertGreater(got["uncut_area"], 0.3)


if __name__ == "__main__":
    unittest.main()
