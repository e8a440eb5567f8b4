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
      bend: of("bend"), ends: [ends[of("from")], ends[of("to")]], at: { x: of("x"), y: of("y") }, along: of("along"), outline, box: outline.map(contourBox).reduce(joinBox, EMPTY) };
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
