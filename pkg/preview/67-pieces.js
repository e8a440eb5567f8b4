// The pieces that the strips are cut to, in mm from the motif's origin, y up.

// PIECES are the pieces by their numbers, the first is number 1; CUT_ALIKE those that are cut
// alike, by the kinds' numbers, which are given as each is met.
const PIECES = piecesOf(COLUMNS);
const CUT_ALIKE = grouped(PIECES, (p) => p.kind);

function piecesOf(c) {
  let loop = 0, corner = 0;
  return Array.from(c["piece.strand"], (strand, i) => {
    const of = (name) => c[`piece.${name}`][i], ends = DATA.strips.ends, outline = [];
    for (let n = of("loops"); n > 0; n--) {
      const v = [];
      for (let k = c["loop.corners"][loop++]; k > 0; k--, corner++) v.push(c["loop.x"][corner], c["loop.y"][corner], c["loop.bulge"][corner]);
      outline.push({ closed: true, v });
    }
    return { number: i + 1, strand, stretch: of("stretch"), layer: DATA.strips.layers[of("layer")], kind: of("kind"), lengths: ["left", "middle", "right"].map(of), cut: of("cut"),
      bend: of("bend"), formed: of("formed") === 1, ends: [ends[of("from")], ends[of("to")]], at: { x: of("x"), y: of("y") }, along: of("along"), span: [of("start"), of("stop")], outline, box: outline.map(contourBox).reduce(joinBox, EMPTY) };
  });
}

const pieceOf = (number) => PIECES[number - 1];
const alikes = (p) => CUT_ALIKE[p.kind];

// grouped are lists of those with the same key, in the order in which each is met.
function grouped(list, key) {
  const groups = new Map();
  for (const e of list) {
    if (groups.has(key(e))) groups.get(key(e)).push(e);
    else groups.set(key(e), [e]);
  }
  return [...groups.values()];
}

// LAID are the strands that strips are laid along, and where the motif's origin lies in them:
// of a table those of its sections, apart, and else those of the program.
const LAID = DATA.along ? { strands: DATA.along, origin: [0, 0] } : { strands: DATA.strands, origin: DATA.origin };

const strandEdges = new Map();

// placesOf are places of a piece where its number may stand, the middle first, and the
// strand's direction there: as far beside its strand's line as the middle is.
function placesOf(p) {
  if (p.places) return p.places;
  if (!strandEdges.has(p.strand)) {
    const edges = measuredEdges(LAID.strands[p.strand].line);
    strandEdges.set(p.strand, { edges, length: edges.reduce((t, e) => t + e.length, 0) });
  }
  const { edges, length } = strandEdges.get(p.strand), [from, to] = p.span, [ox, oy] = LAID.origin;
  const on = (part) => onEdges(edges, (from + (to - from) * part) % (length || 1));
  const ring = to - from > length - 1e-3, m = on(ring ? 0 : 0.5); // a ring's middle is its joint
  const beside = (p.at.x + ox - m.x) * -m.dy + (p.at.y + oy - m.y) * m.dx;
  p.places = [{ at: p.at, along: p.along }, ...PARTS.map(on).map((q) => ({ at: { x: q.x - ox - q.dy * beside, y: q.y - oy + q.dx * beside }, along: Math.atan2(q.dy, q.dx) }))];
  return p.places;
}

const PARTS = [0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];

// pieceAt is the piece at a place, or nearest to it within reach; undefined: none.
function pieceAt(list, { x, y }, reach) {
  let best, least = reach;
  for (const p of list) {
    const b = p.box;
    if (x < b[0] - reach || y < b[1] - reach || x > b[2] + reach || y > b[3] + reach) continue;
    if (holds(p, x, y)) return p;
    const d = Math.min(...p.outline.flatMap(edgesOf).map((e) => edgeDistance(e, x, y)));
    if (d < least) { least = d; best = p; }
  }
  return best;
}

const tester = document.createElement("canvas").getContext("2d");

function holds(p, x, y) {
  p.path ??= contoursPath(p.outline);
  return tester.isPointInPath(p.path, x, y, "evenodd");
}
