#!/usr/bin/env python3
"""Measures the closed outlines of a DXF file with ezdxf and prints them as JSON.

usage: dxf_outlines.py FILE

Each is {"layer", "area", "edges"}: the area is taken from the outline flattened to a
thousandth of a millimetre, and each edge, as ezdxf explodes it into lines and arcs, is
[length, radius, heading at its start, heading at its end], the radius 0 for a line, headings in
degrees along the outline's own direction.
"""
import json
import math
import sys

import ezdxf
from ezdxf import path
from ezdxf.math import area, bulge_to_arc


def edge(a, b, bulge):
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.degrees(math.atan2(dy, dx))
    if not bulge:
        return [math.hypot(dx, dy), 0.0, chord, chord]
    _, start, end, radius = bulge_to_arc(a, b, bulge)
    sweep = (end - start) % (2 * math.pi)
    half = math.degrees(math.copysign(sweep / 2, bulge))
    return [radius * sweep, radius, chord - half, chord + half]


def outline(e):
    points = list(e.get_points("xyb"))
    edges = []
    for i, (x, y, bulge) in enumerate(points):
        u, v, _ = points[(i + 1) % len(points)]
        edges.append(edge((x, y), (u, v), bulge))
    flat = list(path.make_path(e).flattening(0.001))
    return {"layer": e.dxf.layer, "area": area(flat), "edges": edges}


doc = ezdxf.readfile(sys.argv[1])
json.dump([outline(e) for e in doc.modelspace().query("LWPOLYLINE") if e.closed], sys.stdout)
