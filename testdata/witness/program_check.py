#!/usr/bin/python3
"""Checks program.py against closed forms, on programs written by hand.

Groove 5.08, bit 3.175, as in the geometry notes. Each sound program has spoilt twins, so
that a witness that always says yes is found out. Run it with unittest:
python3 program_check.py [-v]
"""

import math
import os
import tempfile
import unittest

import program

W, B, DEPTH = 5.08, 3.175, 3.0
K = (W - B) / 2
# A free end leaves two fillets of the bit's radius: (1 - pi/4)(b/2)^2 * 2 an end.
TWO_ENDS = 2.1633
# The witness's promise for a distance (mm), and what a wall of 20 mm makes of it (mm2).
NEAR, NEAR_AREA = 0.005, 0.002
BAR = [{"closed": False, "elements": [{"kind": "line", "from": [-10, 0], "to": [10, 0]}]}]
RING = [{"closed": True, "elements": [{"kind": "arc", "center": [0, 0], "radius": 20, "start": 0, "sweep": 360}]}]
X = 10 - B / 2
HEAD = "(a bar)\nG21 G17 G90 G94 G54\nG0 Z10\n"


def bar(y=K, z=-DEPTH, head=HEAD):
    return (
        f"{head}G0 X{-X:.4f} Y{y:.4f}\nM3 S18000\nG4 P2\nG0 Z1\nG1 Z{z:.4f} F300\n"
        f"X{X:.4f} F1000\nY{-K:.4f}\nX{-X:.4f}\nY{y:.4f}\nG0 Z10\nM5\nM2\n"
    )


def ring(way="G3"):
    out, inner = 20 + K, 20 - K
    return (
        f"{HEAD}G0 X{out:.4f} Y0\nM3 S18000\nG1 Z-3 F300\n{way} I{-out:.4f} F1000\n"
        f"G1 X{inner:.4f}\n{way} X{-inner:.4f} I{-inner:.4f}\n{way} X{inner:.4f} I{inner:.4f}\nG0 Z10\nM5\nM2\n"
    )


class Programs(unittest.TestCase):
    def judge(self, text, strands=None, **more):
        with tempfile.TemporaryDirectory() as base:
            with open(os.path.join(base, "p.nc"), "w", encoding="ascii") as file:
                file.write(text)
            job = {"program": "p.nc", "bit": B, "depth": DEPTH, "groove_width": W, "shift": [0, 0]}
            return program.judge({**job, "strands": strands or BAR, **more}, base)

    def test_bar(self):
        got = self.judge(bar())
        self.assertLess(got["overcut_max"], NEAR)
        self.assertAlmostEqual(got["uncut_area"], TWO_ENDS, delta=NEAR_AREA)
        # In a fillet's corner: b/2 (sqrt 2 - 1).
        self.assertAlmostEqual(got["uncut_max"], B / 2 * (math.sqrt(2) - 1), delta=NEAR)
        self.assertEqual((got["lowest"], got["moves"]), (-3.0, 5))
        self.assertAlmostEqual(got["length"], 4 + 4 * X + 4 * K, delta=1e-3)

    def test_beyond_the_wall(self):
        got = self.judge(bar(y=K + 0.05))
        self.assertAlmostEqual(got["overcut_max"], 0.05, delta=NEAR)
        self.assertAlmostEqual(got["overcut_area"], 0.05 * 2 * X, delta=0.3)

    def test_a_wall_missed(self):
        got = self.judge(bar(y=-K))
        # From the groove's corner to the round end of the wall that was cut.
        self.assertAlmostEqual(got["uncut_max"], math.hypot(B / 2, W / 2 + K) - B / 2, delta=NEAR)

    def test_too_shallow(self):
        with self.assertRaises(program.Fault):
            self.judge(bar(z=-2.9))

    def test_inches(self):
        with self.assertRaises(program.Fault):
            self.judge(bar(head=HEAD.replace("G21 ", "")))
        got = self.judge(bar(head=HEAD.replace("G21", "G20")))
        self.assertGreater(got["overcut_max"], 100)

    def test_ring(self):
        for way in ("G2", "G3"):
            got = self.judge(ring(way), RING)
            self.assertLess(got["overcut_max"], NEAR)
            self.assertLess(got["uncut_area"], NEAR_AREA)
            self.assertAlmostEqual(got["cut_area"], 2 * math.pi * 20 * W, delta=0.01)

    def test_shift(self):
        got = self.judge(ring(), RING, shift=[0.1, 0])
        self.assertAlmostEqual(got["overcut_max"], 0.1, delta=NEAR)

    def test_not_understood(self):
        for line in ("G91", "G2 X1 R3", "G41", "#1=3", "X1 Y", "G1 X1 I3"):
            with self.assertRaises(program.Fault, msg=line):
                self.judge(bar().replace("M5", line + "\nM5"))


if __name__ == "__main__":
    unittest.main(warnings="ignore")
