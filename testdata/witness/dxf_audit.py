#!/usr/bin/env python3
"""Reads DXF files with ezdxf, audits them and prints what it found as JSON.

usage: dxf_audit.py FILE...

Exit status 1 when any file has an error, or something that the audit had to
fix. Arcs are given by centre, radius and angles as ezdxf works them out of a
bulge, so that they can be held against what was meant.
"""
import json
import sys

import ezdxf
from ezdxf.math import bulge_to_arc


def segments(points, closed):
    """The arcs among a polyline's edges: [index, cx, cy, start, end, radius]."""
    arcs = []
    count = len(points) if closed else len(points) - 1
    for i in range(count):
        x, y, bulge = points[i]
        if bulge:
            u, v, _ = points[(i + 1) % len(points)]
            center, start, end, radius = bulge_to_arc((x, y), (u, v), bulge)
            arcs.append([i, center[0], center[1], start, end, radius])
    return arcs


def entity(e):
    kind = e.dxftype()
    out = {"type": kind, "layer": e.dxf.layer}
    if kind == "CIRCLE":
        out["center"] = [e.dxf.center.x, e.dxf.center.y]
        out["radius"] = e.dxf.radius
        return out
    if kind == "LWPOLYLINE":
        points = [list(p) for p in e.get_points("xyb")]
        closed = bool(e.closed)
    elif kind == "POLYLINE":
        points = [[v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)] for v in e.vertices]
        closed = bool(e.is_closed)
        out["mode"] = e.get_mode()
    else:
        return out
    out["closed"] = closed
    out["points"] = points
    out["arcs"] = segments(points, closed)
    return out


def header(doc):
    values = {}
    for name in ("$ACADVER", "$INSUNITS", "$MEASUREMENT", "$DWGCODEPAGE", "$EXTMIN", "$EXTMAX"):
        value = doc.header.get(name, None)
        values[name] = list(value) if isinstance(value, (tuple, list)) or hasattr(value, "xyz") else value
    return values


def audit(path):
    doc = ezdxf.readfile(path)
    auditor = doc.audit()
    return {
        "file": path,
        "errors": [str(e.message) for e in auditor.errors],
        "fixes": [str(e.message) for e in auditor.fixes],
        "header": header(doc),
        "layers": [
            {"name": l.dxf.name, "color": abs(l.dxf.color), "off": l.is_off()} for l in doc.layers
        ],
        "entities": [entity(e) for e in doc.modelspace()],
    }


def main(paths):
    if not paths:
        print(__doc__, file=sys.stderr)
        return 2
    reports = []
    bad = False
    for path in paths:
        try:
            report = audit(path)
        except (OSError, ezdxf.DXFError) as err:
            report = {"file": path, "errors": [str(err)], "fixes": []}
        bad = bad or bool(report["errors"] or report["fixes"])
        reports.append(report)
    json.dump(reports, sys.stdout, indent=1)
    print()
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
