#!/usr/bin/env python3
"""Prints points of the curves in DXF files, as ezdxf has them, and writes files to try.

usage: dxf_curves.py make DIR     write a drawing of all kinds of entity, in each release
       dxf_curves.py FILE...      print {"files": [[part, ...], ...], "colors": [...]}

A part is a list of points on a curve, in either direction: for each entity of the model
space, in order, with blocks taken apart, one, or one for each edge of a polyline. The
points lie on the curve, and chords leave it by up to a two-hundredth of its size. Colours are those of the table, by number.
"""
import json
import os
import sys

import ezdxf
from ezdxf.colors import DXF_DEFAULT_COLORS
from ezdxf.math import BoundingBox, closed_uniform_bspline, rational_bspline_from_arc

FLAT = 5e-3


def xy(points):
    return [[p.x, p.y] for p in points]


def parts(e):
    """The parts of one entity; none of one that draws no line."""
    kind = e.dxftype()
    if kind == "LINE":
        return [xy([e.dxf.start, e.dxf.end])]
    if kind in ("ARC", "CIRCLE"):
        return [xy(e.flattening(FLAT * e.dxf.radius))]
    if kind == "ELLIPSE":
        return [xy(e.flattening(FLAT * e.dxf.major_axis.magnitude))]
    if kind == "SPLINE":
        box = BoundingBox(e.construction_tool().control_points)
        return [xy(e.flattening(FLAT * box.size.magnitude))]
    if kind == "POLYLINE" and e.is_3d_polyline:
        vs = [v.dxf.location for v in e.vertices]
        return [xy(edge) for edge in zip(vs, vs[1:] + vs[:1] if e.is_closed else vs[1:])]
    if kind in ("LWPOLYLINE", "POLYLINE"):
        return [p for v in e.virtual_entities() for p in parts(v)]
    return []


def curves(entities):
    for e in entities:
        if e.dxftype() == "INSERT":
            for one in e.multi_insert() if e.mcount > 1 else [e]:
                yield from curves(one.virtual_entities())
        else:
            yield from parts(e)


def report(path):
    doc = ezdxf.readfile(path)
    for insert in doc.entitydb.query("INSERT"):
        insert.dxf.zscale = insert.dxf.zscale or 1  # a size of 0 in height means nothing here
    for fitted in doc.entitydb.query("POLYLINE"):
        # Of a fitted spline ezdxf draws the frame too, which isn't on it.
        fitted.vertices[:] = [v for v in fitted.vertices if not v.dxf.flags & 16]
    return list(curves(doc.modelspace()))


def behind(**attribs):
    return dict(attribs, extrusion=(0, 0, -1))


def draw_old(at):
    """Entities that release 12 has."""
    at.add_line((1, 2), (31, 12))
    at.add_line((1, 4), (31, 14), dxfattribs=behind())  # not turned over
    at.add_circle((60, 10), 9)
    at.add_circle((60, 10), 7, dxfattribs=behind())
    at.add_arc((90, 10), 9, 300, 40)
    at.add_arc((90, 10), 7, 20, 250, dxfattribs=behind())
    at.add_arc((90, 10), 5, -30, 725)
    bulged = [(0, 30, 0.5), (20, 30, -0.3), (30, 45, 0), (20, 50, 2.5), (5, 48, -1), (0, 40, 1e-5)]
    for closed, attribs in ((False, {}), (True, {}), (True, behind(elevation=(0, 0, 5)))):
        at.add_polyline2d(bulged, format="xyb", close=closed, dxfattribs=attribs)
    at.add_polyline3d([(40, 30, 7), (60, 35, 7), (55, 50, 7)], close=True)
    fitted = at.add_polyline2d([(70, 30), (75, 33), (80, 31), (90, 50), (95, 35)])
    fitted.dxf.flags |= 4
    for v, flags in zip(fitted.vertices, (8, 8, 8, 16, 8)):
        v.dxf.flags = flags
    smooth = at.add_polyline2d([(70, 60, 0.2), (80, 62, 0.4), (90, 55, 0)], format="xyb")
    smooth.dxf.flags |= 2
    smooth.vertices[1].dxf.flags = 1


def draw_new(at, degrees=(3,)):
    """Entities that release 2000 brought."""
    at.add_ellipse((20, 90), (15, 5), 0.3)
    at.add_ellipse((20, 90), (0, -12), 0.7, 1.0, 2.5)
    at.add_ellipse((20, 90), (9, 3), 0.5, 5.5, 7.0)
    at.add_ellipse((20, 90), (18, 6), 0.4, 0.5, 4, dxfattribs=behind())
    bulged = [(50, 80, 0, 0, 0.5), (70, 80, 0, 0, -0.4), (80, 95, 0, 0, 0), (60, 99, 0, 0, -3)]
    for closed, attribs in ((False, {}), (True, {"const_width": 2.5}), (True, behind(elevation=4))):
        at.add_lwpolyline(bulged, close=closed, dxfattribs=attribs)
    frame = [(0, 120), (12, 150), (25, 110), (40, 145), (55, 118), (70, 150), (90, 125)]
    for degree in degrees:
        at.add_open_spline(frame, degree)
        at.add_rational_spline(frame, [1, 2, 0.5, 3, 1, 0.25, 2], degree)
        knots = [0.5 * i * i for i in range(len(frame) - degree + 1)]  # uneven
        knots = [knots[0]] * degree + knots + [knots[-1]] * degree
        at.add_open_spline(frame, degree, knots)
        for weights in (None, [1, 2, 1, 2, 1, 2, 1]):
            closed_spline(at, frame, degree, weights)
    # Knots as often as the degree: the curve may have a corner.
    at.add_open_spline(frame, 3, [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2])
    at.add_open_spline(frame, 2, [-3, -3, -3, 1, 1, 2, 3, 7, 7, 7])
    at.add_spline(dxfattribs={}).apply_construction_tool(
        rational_bspline_from_arc((120, 130), 14, 30, 300, segments=4)
    )


def closed_spline(at, frame, degree, weights):
    """A spline whose knots go on beyond both ends, so that they meet smoothly."""
    curve = closed_uniform_bspline(frame, degree + 1, weights)
    at.add_spline().apply_construction_tool(curve)


def blocks(doc, draws):
    """Blocks, inserted turned, mirrored, squeezed, in rows and columns, nested."""
    part = doc.blocks.new("Part", base_point=(7, -3))
    for draw in draws:
        draw(part)
    holder = doc.blocks.new("HOLDER", base_point=(1, 1))
    holder.add_line((0, 0), (10, 5))
    holder.add_blockref("PART", (4, 6), dxfattribs={"xscale": 0.5, "yscale": 0.5, "rotation": 25})
    holder.add_blockref("Part", (40, 6), dxfattribs={"xscale": -0.3, "yscale": 0.3, "rotation": 90})
    msp = doc.modelspace()
    for name, at, attribs in (
        ("PART", (200, 0), {}),
        ("part", (400, 0), {"rotation": 33}),
        ("PART", (600, 0), {"xscale": -1}),
        ("PART", (800, 0), {"xscale": 2, "yscale": -0.6, "rotation": -20}),
        ("PART", (0, 300), behind(rotation=15)),
        ("PART", (0, 500), behind(xscale=0.5, yscale=1.5, rotation=200)),
        ("PART", (300, 300), {"xscale": 0.2, "yscale": 0.2, "rotation": 30, "column_count": 3,
                              "column_spacing": 40, "row_count": 2, "row_spacing": -50}),
        ("HOLDER", (500, 300), {"rotation": 270}),
        ("HOLDER", (700, 300), {"xscale": -2, "yscale": 2, "zscale": 2, "rotation": 10}),
        ("HOLDER", (900, 300), behind(xscale=0.5, yscale=0.5, zscale=0.5, column_count=2, column_spacing=80)),
    ):
        msp.add_blockref(name, at, dxfattribs=attribs)


def make(folder):
    for release in ("R12", "R2000", "R2010", "R2018"):
        doc = ezdxf.new(release)
        draw_old(doc.modelspace())
        if release != "R12":
            draw_new(doc.modelspace(), (2, 3, 4, 5))
        if release in ("R12", "R2018"):
            blocks(doc, [draw_old])
        else:
            blocks(doc, [draw_new])
        doc.saveas(os.path.join(folder, release + ".dxf"))


def main(args):
    if len(args) == 2 and args[0] == "make":
        make(args[1])
        return 0
    if not args:
        print(__doc__, file=sys.stderr)
        return 2
    colors = ["#%06x" % c for c in DXF_DEFAULT_COLORS]
    json.dump({"files": [report(path) for path in args], "colors": colors}, sys.stdout)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
