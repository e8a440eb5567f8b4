// geos FILE D QUADRANT: grows the area in FILE by D with GEOS, round joins of QUADRANT chords a
// quarter circle, and prints the best time of three in ms (the operation alone), the area and
// the vertices. The form of FILE: for each piece a line "P LOOPS", for each loop the number of
// its vertices and a line "x y" for each, the outer loop first.
#include <geos_c.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <vector>

static void quiet(const char*, ...) {}

static GEOSGeometry* ring(FILE* f) {
  int n;
  if (fscanf(f, "%d", &n) != 1) exit(1);
  std::vector<double> v(2 * n);
  for (double& x : v)
    if (fscanf(f, "%lf", &x) != 1) exit(1);
  GEOSCoordSequence* s = GEOSCoordSeq_create(n + 1, 2);
  for (int i = 0; i <= n; i++) GEOSCoordSeq_setXY(s, i, v[2 * (i % n)], v[2 * (i % n) + 1]);
  return GEOSGeom_createLinearRing(s);
}

int main(int argc, char** argv) {
  if (argc != 4) return 2;
  initGEOS(quiet, quiet);
  FILE* f = fopen(argv[1], "r");
  if (!f) return 1;
  std::vector<GEOSGeometry*> pieces;
  char p;
  int loops;
  while (fscanf(f, " %c %d", &p, &loops) == 2) {
    std::vector<GEOSGeometry*> rings;
    for (int i = 0; i < loops; i++) rings.push_back(ring(f));
    pieces.push_back(GEOSGeom_createPolygon(rings[0], rings.data() + 1, loops - 1));
  }
  GEOSGeometry* g = pieces.size() == 1 ? pieces[0] : GEOSGeom_createCollection(GEOS_MULTIPOLYGON, pieces.data(), pieces.size());
  double best = 1e300, area = 0;
  int vertices = 0;
  for (int run = 0; run < 3; run++) {
    auto from = std::chrono::steady_clock::now();
    GEOSGeometry* b = GEOSBuffer(g, atof(argv[2]), atoi(argv[3]));
    best = std::min(best, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - from).count());
    GEOSArea(b, &area);
    vertices = GEOSGetNumCoordinates(b);
    GEOSGeom_destroy(b);
  }
  printf("%.3f %.9g %d\n", best, area, vertices);
}
