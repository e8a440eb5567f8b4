#!/usr/bin/python3
"""Follow a program's moves and judge what the bit removes.

An independent witness for the dry run: it shares no code with it, reads the words of
the program itself, and works out areas with shapely 1.8.5 by way of roll.py, its
neighbour.

    program.py INPUT.json     prints one JSON document; exit 0
    any fault in the input:   one line on standard error; exit 2

INPUT.json, lengths in mm:

    {
      "program": "groove.nc",       relative to INPUT.json's own directory
      "bit": 3.175,                 width of the slot the bit cuts
      "depth": 3.0,                 of the groove
      "groove_width": 5.08,
      "shift": [0, 0],              the motif's origin in the program's coordinates
      "strands": [...]              as roll.py takes them
    }

Output:

    {"groove_area", "cut_area",     cut_area: at full depth
     "overcut_max", "overcut_area", of all that is cut below the top of the work
     "uncut_max", "uncut_area",     at full depth
     "uncut": [{"area", "at", "reach"}],
     "lowest",                      z of the lowest place
     "length",                      mm of moves at a feed
     "moves"}                       how many of them

The program may hold G0 to G3 with X Y Z I J, G17 G20 G21 G40 G49 G54 G80 G90 G94,
and words that move nothing. Anything else is a fault: this is no interpreter.
"""

import json
import math
import os
import re
import sys
import warnings

from roll import Arc, Fault, Line, disc, groove, verdict
from shapely.affinity import translate
from shapely.ops import unary_union

# As in roll.py, whose import comes too late for a run of unittest.
warnings.filterwarnings("ignore", message="STRtree will be changed")

WORD = re.compile(r"([A-Z])([-+]?[0-9]*\.?[0-9]+|[-+]?[0-9]+\.)")
STILL = {"17", "40", "49", "54", "80", "90", "94", "61", "64"}
MODES = {"0", "1", "2", "3"}
# A place counts as at full depth within this (mm): the decimals of the program.
AT_DEPTH = 1e-3
# Ends (mm) that are one place, so that an arc is a full circle.
SAME = 1e-9


def words(line):
    """The words of a block, comments left out."""
    text = re.sub(r"\([^)]*\)", "", line.split(";")[0]).replace(" ", "").strip().upper()
    found = WORD.findall(text)
    if "".join(a + b for a, b in found) != text.replace("%", ""):
        raise Fault(f"not understood: {line.strip()}")
    return found


class Follower:
    """Where the bit is, and what it has done."""

    def __init__(self):
        self.at = {}
        self.mode, self.unit = None, None
        self.moves = []  # (curve or point, z from, z to, length)

    def block(self, line):
        target, center, dwells = {}, {}, False
        for letter, number in words(line):
            value = float(number)
            if letter == "G":
                name = number.lstrip("0") or "0"
                dwells = dwells or name == "4"
                if name in MODES:
                    self.mode = name
                elif name in ("20", "21"):
                    self.unit = 25.4 if name == "20" else 1.0
                elif name not in STILL and name != "4":
                    raise Fault(f"G{number}")
            elif letter in "XYZ":
                target[letter] = value
            elif letter in "IJ":
                center[letter] = value
            elif letter not in "FSMNTP":
                raise Fault(f"the word {letter}{number}")
        if target or center:
            if dwells:
                raise Fault(f"a dwell with places: {line.strip()}")
            self.go(target, center)

    def go(self, target, center):
        if self.mode is None or self.unit is None:
            raise Fault("a move before its mode or its units")
        start = dict(self.at)
        self.at.update({k: v * self.unit for k, v in target.items()})
        if self.mode == "0":
            return
        if set(start) != set("XYZ"):
            raise Fault("a cut from an unknown place")
        p, q = (start["X"], start["Y"]), (self.at["X"], self.at["Y"])
        rise = self.at["Z"] - start["Z"]
        if self.mode == "1":
            if center:
                raise Fault("a centre on a straight")
            curve, length = (Line(p, q), math.dist(p, q)) if p != q else (None, 0.0)
        else:
            at = (p[0] + center.get("I", 0.0) * self.unit, p[1] + center.get("J", 0.0) * self.unit)
            first = math.atan2(p[1] - at[1], p[0] - at[0])
            last = math.atan2(q[1] - at[1], q[0] - at[0])
            sweep = (last - first) % (2 * math.pi)
            if math.dist(p, q) < SAME:
                sweep = 0.0
            if self.mode == "2":
                sweep -= 2 * math.pi
            elif sweep == 0.0:
                sweep = 2 * math.pi
            curve = Arc(at, (math.dist(p, at) + math.dist(q, at)) / 2, first, sweep)
            length = curve.length
        self.moves.append((curve, p, q, start["Z"], self.at["Z"], math.hypot(length, rise)))


def swept(moves, radius):
    """What discs of that radius sweep along moves."""
    parts, seen = [], set()
    for curve, p, q, *_ in moves:
        for at in (p, q):
            key = (round(at[0], 5), round(at[1], 5))
            if key not in seen:
                seen.add(key)
                parts.append(disc(at, radius))
        if curve is None:
            continue
        # The same cut again, either way: its ends and its middle tell.
        middle = curve.part(curve.length / 2, curve.length).points()[0]
        ends = sorted([tuple(round(v, 5) for v in p), tuple(round(v, 5) for v in q)])
        key = (*ends, tuple(round(v, 5) for v in middle))
        if key in seen:
            continue
        seen.add(key)
        parts += [b.buffer(0) for b in curve.bands(radius)]
    return unary_union(parts)


def judge(job, base):
    follower = Follower()
    with open(os.path.join(base, job["program"]), encoding="ascii") as file:
        for line in file:
            follower.block(line)
    moves, depth = follower.moves, job["depth"]
    ideal = translate(groove(job["strands"], job["groove_width"]), *job["shift"])
    radius = job["bit"] / 2
    below = [m for m in moves if min(m[3], m[4]) < 0]
    full = [m for m in moves if max(m[3], m[4]) <= -depth + AT_DEPTH]
    if not full:
        raise Fault("nothing is cut to full depth")
    everything, cut = swept(below, radius), swept(full, radius)
    return {
        **verdict(ideal, everything, cut),
        "lowest": min(min(m[3], m[4]) for m in moves),
        "length": sum(m[5] for m in moves),
        "moves": len(moves),
    }


def main(args):
    if len(args) != 1:
        raise Fault("usage: program.py INPUT.json")
    with open(args[0], encoding="utf-8") as file:
        job = json.load(file)
    result = judge(job, os.path.dirname(os.path.abspath(args[0])))
    result = {k: None if v == math.inf else v for k, v in result.items()}
    json.dump(result, sys.stdout, indent=2, allow_nan=False)
    print()


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except (Fault, OSError, ValueError, KeyError, TypeError) as err:
        print(f"program: {type(err).__name__}: {err}", file=sys.stderr)
        sys.exit(2)
