"""geos.py FILE D QUADRANT: what geos.cpp does, through shapely."""

import sys
import time

from shapely.geometry import MultiPolygon, Polygon


def read(path):
    words = iter(open(path).read().split())
    pieces = []
    for word in words:
        loops = []
        for _ in range(int(next(words))):
            n = int(next(words))
            loops.append([(float(next(words)), float(next(words))) for _ in range(n)])
        pieces.append(Polygon(loops[0], loops[1:]))
    return pieces[0] if len(pieces) == 1 else MultiPolygon(pieces)


def count(area):
    parts = getattr(area, "geoms", [area])
    return sum(len(r.coords) for p in parts for r in [p.exterior, *p.interiors] if not p.is_empty)


area, d, quadrant = read(sys.argv[1]), float(sys.argv[2]), int(sys.argv[3])
best = 1e300
for _ in range(3):
    start = time.perf_counter()
    grown = area.buffer(d, quadrant)
    best = min(best, (time.perf_counter() - start) * 1e3)
print(f"{best:.3f} {grown.area:.9g} {count(grown)}")
