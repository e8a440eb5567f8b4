#!/usr/bin/python3
"""Checks roll.py against closed forms, on openings drawn by hand with ezdxf.

Values are from the geometry notes: groove 5.08, bit 3.175, rider radius 50 unless told.
Each sound case has a spoilt twin, so that a witness that always says yes is found out.
Run it with unittest: python3 roll_check.py [-v]
"""

import json
import math
import os
import subprocess
import sys
import tempfile
import unittest

import ezdxf
from shapely.affinity import affine_transform
from shapely.geometry import LineString, polygon

import roll

W, B, R = 5.08, 3.175, 50.0
K = (W - B) / 2
# A free end leaves two fillets of the bit's radius: (1 - pi/4)(b/2)^2 * 2 an end.
TWO_ENDS = 2.1633
# 0.005 mm is the witness's promise for a distance.
NEAR = 0.005
# Areas in the notes are given to four digits; a fillet's own sides are some 5 mm long and
# off by far less than the promise.
NEAR_AREA = 0.002

QUARTER = math.tan(math.pi / 8)


def bar(length, play=K, rider=R):
    """The opening for a straight cut along x: a rectangle grown by the rider, corners
    from the lower left, counter-clockwise."""
    x, y = length / 2 - B / 2, play
    if play == 0:
        return [(-x, -rider, 0), (x, -rider, 1), (x, rider, 0), (-x, rider, 1)]
    return [
        (-x, -y - rider, 0), (x, -y - rider, QUARTER),
        (x + rider, -y, 0), (x + rider, y, QUARTER),
        (x, y + rider, 0), (-x, y + rider, QUARTER),
        (-x - rider, y, 0), (-x - rider, -y, QUARTER),
    ]  # fmt: skip


def bow(radius, half):
    """The opening for an arc about the origin from -half to half (radians), its ends radial
    and b/2 short along the arc."""
    end = half - B / 2 / radius

    def at(rad, angle, out):
        c, s = math.cos(angle), math.sin(angle)
        side = math.copysign(1, angle)
        return rad * c - side * out * s, rad * s + side * out * c

    inner, outer = radius - K, radius + K
    if inner >= R:
        inside = [(*at(inner, end, R), QUARTER), (*at(inner - R, end, 0), -math.tan(end / 2)),
                  (*at(inner - R, -end, 0), QUARTER)]  # fmt: skip
    else:
        # The inner wall is gone: the arcs about the inner ends meet on the axis.
        x, y = inner * math.cos(end), inner * math.sin(end)
        sweep = math.atan2(-y, -math.sqrt(R * R - y * y)) + 2 * math.pi - end - math.pi / 2
        inside = [(*at(inner, end, R), math.tan(sweep / 4)),
                  (x - math.sqrt(R * R - y * y), 0, math.tan(sweep / 4))]  # fmt: skip
    return [
        (*at(outer + R, -end, 0), math.tan(end / 2)), (*at(outer + R, end, 0), QUARTER),
        (*at(outer, end, R), 0), *inside,
        (*at(inner, -end, R), 0), (*at(outer, -end, R), QUARTER),
    ]  # fmt: skip


def grown(area):
    """The opening for a stretch between straights: its edges shifted outwards by the
    rider, joined by arcs where it is convex, by their meeting where it is not."""
    area = polygon.orient(area.simplify(1e-6))
    ring = list(area.exterior.coords)[:-1]
    found = []
    for before, at, after in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1]):
        u, v = roll.Line(before, at).u, roll.Line(at, after).u
        turn = math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
        if turn > 0:
            found.append((at[0] + R * u[1], at[1] - R * u[0], math.tan(turn / 4)))
            found.append((at[0] + R * v[1], at[1] - R * v[0], 0))
        else:
            scale = R / (1 + u[0] * v[0] + u[1] * v[1])
            found.append((at[0] + (u[1] + v[1]) * scale, at[1] - (u[0] + v[0]) * scale, 0))
    return found


def line(x0, y0, x1, y1, corner=False):
    return {"kind": "line", "from": [x0, y0], "to": [x1, y1], "corner": corner}


def arc(center, radius, start, sweep, corner=False):
    return {
        "kind": "arc", "center": center, "radius": radius,
        "start": start, "sweep": sweep, "corner": corner,
    }  # fmt: skip


UNTURNED = [{"turn_deg": 0, "flip": False}]


class Roll(unittest.TestCase):
    def setUp(self):
        keep = tempfile.TemporaryDirectory()
        self.addCleanup(keep.cleanup)
        self.dir = keep.name

    def draw(self, name, contours, version="R2000", units=4):
        drawing = ezdxf.new(version)
        drawing.header["$INSUNITS"] = units
        space = drawing.modelspace()
        for points in contours:
            points = [(x / roll.UNIT[units], y / roll.UNIT[units], b) for x, y, b in points]
            add = space.add_polyline2d if version == "R12" else space.add_lwpolyline
            add(points, format="xyb", close=True, dxfattribs={"layer": "OPENING"})
        drawing.saveas(os.path.join(self.dir, name))

    def judge(self, elements, contours, closed=False, positions=UNTURNED, draw=None, **changes):
        self.draw("a.dxf", contours, **(draw or {}))
        job = {
            "rider_radius": R, "bit": B, "groove_width": W,
            "walls": [{"dxf": "a.dxf", "positions": positions}],
            "strands": [{"closed": closed, "elements": e} for e in elements],
        }  # fmt: skip
        job.update(changes)
        return roll.judge(job, self.dir)

    def sound(self, got, area=TWO_ENDS, count=4):
        self.assertLess(got["overcut_max"], NEAR)
        self.assertAlmostEqual(got["uncut_area"], area, delta=NEAR_AREA)
        self.assertEqual(len(got["uncut"]), count)

    STRAIGHT = [[line(-100, 0, 100, 0)]]

    def test_straight(self):
        got = self.judge(self.STRAIGHT, [bar(200)])
        self.sound(got)
        # The far point of a square corner from its fillet.
        self.assertAlmostEqual(got["uncut_max"], (math.sqrt(2) - 1) * B / 2, delta=NEAR)

    def test_r12_and_inches(self):
        self.sound(self.judge(self.STRAIGHT, [bar(200)], draw={"version": "R12"}))
        self.sound(self.judge(self.STRAIGHT, [bar(200)], draw={"units": 1}))

    def test_rider_too_small_overcuts(self):
        got = self.judge(self.STRAIGHT, [bar(200)], rider_radius=R - 1)
        # Along the sides it is 1; off the square end's rounded corner no more than that.
        self.assertAlmostEqual(got["overcut_max"], 1, delta=NEAR)

    def test_rider_too_large_undercuts(self):
        got = self.judge(self.STRAIGHT, [bar(200)], rider_radius=R + 0.5)
        self.assertLess(got["overcut_max"], NEAR)
        # 0.5 mm is left along both sides and at both ends.
        self.assertAlmostEqual(got["uncut_area"], 0.5 * 2 * (200 + W - 1) + TWO_ENDS, delta=0.05)

    def test_nothing_cut(self):
        got = self.judge(self.STRAIGHT, [bar(200)], rider_radius=R + 10)
        self.assertEqual(got["cut_area"], 0)
        self.assertEqual(got["uncut_max"], math.inf)

    def test_kerf(self):
        drawn = [bar(200, rider=R - 0.09)]
        self.sound(self.judge(self.STRAIGHT, drawn, kerf=0.18, kerf_by="me"))
        shop = self.judge(self.STRAIGHT, drawn, kerf=0.18, kerf_by="shop")
        self.assertGreater(shop["uncut_area"], TWO_ENDS + 0.09 * 400)

    def test_no_play(self):
        changes = {"groove_width": B}
        # The relief shaves 0.001 mm off each fillet's arc.
        left = TWO_ENDS - roll.RELIEF * 4 * math.pi / 2 * B / 2
        self.sound(self.judge(self.STRAIGHT, [bar(200, play=0)], **changes), area=left)
        wide = self.judge(self.STRAIGHT, [bar(200, play=0, rider=R + 0.2)], **changes)
        self.assertAlmostEqual(wide["overcut_max"], 0.2, delta=NEAR)

    def test_bow(self):
        bent = [[arc([0, 0], 80, -60, 120)]]
        opening = bow(80, math.radians(60))
        # Its cut's ends are radial lines, not quite parallel to the groove's: the
        # difference is under k^2/R = 0.011 at each of four corners.
        got = self.judge(bent, [opening])
        self.assertLess(got["overcut_max"], 0.03)
        self.assertAlmostEqual(got["uncut_area"], TWO_ENDS, delta=0.08)
        # A radius taken 2.7e-4 too long, as arcs turned into cubics are, must show.
        grown = self.judge(bent, [[(x * 1.00027, y * 1.00027, b) for x, y, b in opening]])
        self.assertGreater(grown["overcut_max"], 0.02)

    def test_inner_wall_gone(self):
        for radius, want in ((50.9, 0.1282), (50, 2.0531), (48, 5.1342), (40, 10.7654)):
            elements = [[arc([0, 0], radius, -75, 150)]]
            got = self.judge(elements, [bow(radius, math.radians(75))])
            self.assertAlmostEqual(got["overcut_max"], want, delta=NEAR, msg=f"R {radius}")

    def test_positions(self):
        off = [(x + 90, y + 70, b) for x, y, b in bar(100)]
        at = line(40, 70, 140, 70)
        turned = line(-70, 40, -70, 140)
        flipped = line(-40, 70, -140, 70)
        flip_then_turn = line(-70, -40, -70, -140)
        for turn, flip, element in (
            (0, False, at), (90, False, turned), (0, True, flipped), (90, True, flip_then_turn),
        ):  # fmt: skip
            place = [{"turn_deg": turn, "flip": flip}]
            self.sound(self.judge([[element]], [off], positions=place))
        self.sound(
            self.judge([[at], [turned]], [off], positions=[{"turn_deg": 0}, {"turn_deg": 90}]),
            area=2 * TWO_ENDS, count=8,
        )  # fmt: skip
        shifted = line(-70 + 300, -40 - 7, -70 + 300, -140 - 7)
        self.sound(self.judge([[shifted]], [off], positions=[{"turn_deg": 90, "flip": True, "shift": [300, -7]}]))
        wrong = self.judge([[flipped]], [off], positions=[{"turn_deg": 90, "flip": True}])
        self.assertGreater(wrong["overcut_area"], 300)

    def corner(self, t):
        """A corner of included angle t at the origin: its elements and both stretches,
        each by definition the shrunk groove within the stretch's own band."""
        elements = [
            line(-160, 0, 0, 0),
            line(0, 0, -160 * math.cos(t), 160 * math.sin(t), corner=True),
        ]
        ideal = roll.groove([{"closed": False, "elements": elements}], W)
        shrunk = ideal.buffer(-B / 2, join_style=2, mitre_limit=20)
        # To the normal through the meeting of the outer curves, k cot(t/2) past the corner.
        own = LineString([(-160, 0), (K / math.tan(t / 2), 0)]).buffer(K, cap_style=2)
        first = shrunk.intersection(own)
        # The other arm is the first one mirrored in the corner's bisector.
        d = 2 * math.pi - t
        mirror = [math.cos(d), math.sin(d), math.sin(d), -math.cos(d), 0, 0]
        return elements, first, affine_transform(first, mirror)

    def test_corner_in_two_cuts(self):
        # What the mitre's rounded tip leaves: (b/2)^2 (cot(t/2) - (pi - t)/2).
        for degrees, tip in ((30, 6.107), (45, 3.115), (60, 1.726), (90, 0.5408), (120, 0.1355)):
            elements, first, second = self.corner(math.radians(degrees))
            self.draw("b.dxf", [grown(first)])
            self.draw("c.dxf", [grown(second)])
            walls = [{"dxf": f, "positions": UNTURNED} for f in ("b.dxf", "c.dxf")]
            with self.subTest(degrees=degrees):
                got = self.judge([elements], [bar(9)], walls=walls)
                self.sound(got, area=tip + TWO_ENDS, count=5)

    def test_corner_in_one_cut(self):
        # A sharp corner made as one cut is rounded by the rider: r' = r - b/2,
        # area r'^2 (cot(t/2) - (pi - t)/2).
        for degrees, want in ((90, 502.98), (60, 1605.14), (120, 125.98)):
            elements, first, second = self.corner(math.radians(degrees))
            whole = first.union(second)
            with self.subTest(degrees=degrees):
                got = self.judge([elements], [grown(whole)])
                self.assertAlmostEqual(got["overcut_area"], want, delta=0.05)

    def test_faults_are_told(self):
        with self.assertRaisesRegex(roll.Fault, "touch, overlap"):
            self.judge(self.STRAIGHT, [bar(200), bar(100)])
        with self.assertRaisesRegex(roll.Fault, "don't meet"):
            self.judge([[line(0, 0, 9, 0), line(9, 1, 20, 1)]], [bar(200)])
        with self.assertRaisesRegex(roll.Fault, "nothing on layer"):
            self.judge(self.STRAIGHT, [bar(200)], layer="EDGE")

    def test_from_a_file(self):
        self.draw("a.dxf", [bar(200)])
        job = {
            "rider_radius": R, "bit": B, "groove_width": W,
            "walls": [{"dxf": "a.dxf", "positions": UNTURNED}],
            "strands": [{"closed": False, "elements": self.STRAIGHT[0]}],
        }  # fmt: skip

        def run():
            path = os.path.join(self.dir, "job.json")
            with open(path, "w", encoding="utf-8") as file:
                json.dump(job, file)
            return subprocess.run(
                [sys.executable, roll.__file__, path], capture_output=True, text=True, check=False
            )

        done = run()
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        self.sound(json.loads(done.stdout))
        job["walls"][0]["dxf"] = "b.dxf"
        done = run()
        self.assertEqual((done.returncode, done.stdout), (2, ""))
        self.assertIn("b.dxf", done.stderr)


if __name__ == "__main__":
    # The runner would bring back what roll.py silences.
    unittest.main(warnings="ignore")
