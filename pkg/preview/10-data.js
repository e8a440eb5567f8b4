// The page's data. DATA is the head: all but the moves, lengths in mm. MOVES
// are arrays with an element for each move of the program: where it ends (x, y,
// z; NaN: not known), when it ends (end, seconds), feed, line and flags; arcs
// have a centre and a sweep besides.
//
// All files but live.js are the body of one function, page(DATA, PACKED, KEPT, ENDED):
// PACKED is the bytes of the moves (pack.go), KEPT what the page shown before it wants kept
// (null: nothing), and ENDED a signal that is aborted when another takes its place.
// What listens outside of <main> must listen with it.

const $ = (id) => document.getElementById(id);
const PROGRAM = DATA.program;

// Kinds of moves, as the flags have them.
const RAPID = 0, LINE = 1, ARC = 2, DWELL = 3, TURN = 4, STOP = 5, OPTIONAL_STOP = 6, END = 7;
const KIND = 0x07, FAULT = 0x08, JUMP = 0x10, SPIN_SHIFT = 5;

const COLUMNS = unpack(PACKED, DATA.arrays);
const MOVES = movesOf(COLUMNS);
const COUNT = MOVES.end.length;
const TOTAL = COUNT ? MOVES.end[COUNT - 1] : 0;

// unpack gives the columns of a pack: whole numbers, seven bits a byte, lowest first,
// the sign in the lowest bit of all, and of those that rise the differences.
function unpack(bytes, index) {
  const columns = {};
  for (const a of index) {
    if (a.type === "bytes") { columns[a.name] = bytes.subarray(a.from, a.from + a.len); continue; }
    const list = columns[a.name] = new Float64Array(a.len);
    let at = a.from, sum = 0;
    for (let i = 0; i < a.len; i++) {
      let v = 0, weight = 1, byte;
      do { byte = bytes[at++]; v += (byte & 0x7f) * weight; weight *= 128; } while (byte & 0x80);
      v = v % 2 ? -(v + 1) / 2 : v / 2;
      sum = a.type === "rise" ? sum + v : v;
      list[i] = sum / a.per;
    }
  }
  return columns;
}

// movesOf makes columns what the page works with: places not known are NaN, centres are
// places of their own, and sweeps as exact as the ends of their arcs.
function movesOf(c) {
  const n = c.end.length, arcOf = new Int32Array(n).fill(-1);
  c.arc.forEach((i, k) => {
    arcOf[i] = k;
    c.cx[k] += c.x[i];
    c.cy[k] += c.y[i];
    if (i === 0 || c.flags[i] & JUMP || c.unknown[i - 1] & 3) return;
    const turns = (Math.atan2(c.y[i] - c.cy[k], c.x[i] - c.cx[k]) - Math.atan2(c.y[i - 1] - c.cy[k], c.x[i - 1] - c.cx[k])) / (2 * Math.PI);
    c.sweep[k] = 2 * Math.PI * (turns + Math.round(c.sweep[k] / (2 * Math.PI) - turns));
  });
  ["x", "y", "z"].forEach((axis, a) => { for (let i = 0; i < n; i++) if (c.unknown[i] >> a & 1) c[axis][i] = NaN; });
  return { ...c, arcOf };
}

const kindOf = (i) => MOVES.flags[i] & KIND;
const faulty = (i) => (MOVES.flags[i] & FAULT) !== 0;
const startTime = (i) => (i > 0 ? MOVES.end[i - 1] : 0);

// startOf is where a move begins; NaN where that isn't known.
function startOf(i) {
  if (i === 0 || MOVES.flags[i] & JUMP) return { x: NaN, y: NaN, z: NaN };
  return { x: MOVES.x[i - 1], y: MOVES.y[i - 1], z: MOVES.z[i - 1] };
}

const endOf = (i) => ({ x: MOVES.x[i], y: MOVES.y[i], z: MOVES.z[i] });

// pointAt is where the bit's tip is when a part of a move is done, 0 to 1.
function pointAt(i, part) {
  const a = startOf(i), b = endOf(i);
  if (part >= 1) return b;
  const mix = (p, q) => (Number.isNaN(p) ? q : p + (q - p) * part);
  const at = { x: mix(a.x, b.x), y: mix(a.y, b.y), z: mix(a.z, b.z) };
  const k = MOVES.arcOf[i];
  if (k >= 0 && !Number.isNaN(a.x + a.y)) {
    const cx = MOVES.cx[k], cy = MOVES.cy[k], r = Math.hypot(a.x - cx, a.y - cy);
    const angle = Math.atan2(a.y - cy, a.x - cx) + MOVES.sweep[k] * part;
    at.x = cx + r * Math.cos(angle);
    at.y = cy + r * Math.sin(angle);
  }
  return at;
}

// upper is how many elements of a rising array are at most v.
function upper(array, v) {
  let lo = 0, hi = array.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (array[mid] <= v) lo = mid + 1; else hi = mid;
  }
  return lo;
}

// stepsOfLines are the first move of a run of lines and the one after its last.
const stepsOfLines = (first, last) => [upper(MOVES.line, first - 1), upper(MOVES.line, last)];

// SECTIONS are the program's sections with the moves and times they take.
const SECTIONS = Array.from(COLUMNS["section.line"], (line, index) => {
  const of = (name) => COLUMNS[`section.${name}`][index];
  const last = line + of("more"), [first, after] = stepsOfLines(line, last), strand = of("strand");
  return { line, last, strand, depth: of("depth"), role: PROGRAM.roles[of("role")], index, first, after,
    from: startTime(first), to: after > 0 ? MOVES.end[after - 1] : 0, name: DATA.strands[strand] ? DATA.strands[strand].name : "" };
}).filter((s) => s.after > s.first);

// sectionOf is the section that a move belongs to, if any.
function sectionOf(move) {
  let lo = 0, hi = SECTIONS.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (SECTIONS[mid].first <= move) lo = mid + 1; else hi = mid;
  }
  const s = SECTIONS[lo - 1];
  return s && move < s.after ? s : null;
}

// faultMoves are all moves that the dry run finds fault with.
const FAULT_MOVES = [];
for (let i = 0; i < COUNT; i++) if (faulty(i)) FAULT_MOVES.push(i);

// contourPath adds a contour to a path, in mm with y up: bulges are the tangent
// of a quarter of an arc's angle, positive counter-clockwise.
function contourPath(path, c) {
  const n = c.v.length / 3;
  if (n === 0) return path;
  path.moveTo(c.v[0], c.v[1]);
  for (const e of edgesOf(c)) {
    if (!e.bulge) { path.lineTo(e.bx, e.by); continue; }
    const a = arcOfBulge(e);
    path.arc(a.cx, a.cy, a.r, a.start, a.start + a.sweep, a.sweep < 0);
  }
  if (c.closed) path.closePath();
  return path;
}

function edgesOf(c) {
  const n = c.v.length / 3, out = [];
  for (let i = 0; i < (c.closed ? n : n - 1); i++) {
    const j = (i + 1) % n;
    out.push({ ax: c.v[3 * i], ay: c.v[3 * i + 1], bulge: c.v[3 * i + 2], bx: c.v[3 * j], by: c.v[3 * j + 1] });
  }
  return out;
}

// arcOfBulge is an edge's circle: with b the bulge, the centre lies (1/b - b)/4
// chords to the left of the chord's middle (DXF Reference, LWPOLYLINE, group 42).
function arcOfBulge(e) {
  const dx = e.bx - e.ax, dy = e.by - e.ay, h = (1 / e.bulge - e.bulge) / 4;
  const cx = (e.ax + e.bx) / 2 - dy * h, cy = (e.ay + e.by) / 2 + dx * h;
  return { cx, cy, r: Math.hypot(e.ax - cx, e.ay - cy), start: Math.atan2(e.ay - cy, e.ax - cx), sweep: 4 * Math.atan(e.bulge) };
}

// nearestOnEdge is the place of an edge next to another, and which way the edge runs
// there: a unit vector.
function nearestOnEdge(e, x, y) {
  const dx = e.bx - e.ax, dy = e.by - e.ay;
  if (!e.bulge) {
    const l = Math.hypot(dx, dy) || 1, t = Math.min(l, Math.max(0, ((x - e.ax) * dx + (y - e.ay) * dy) / l)) / l;
    return { x: e.ax + t * dx, y: e.ay + t * dy, ux: dx / l, uy: dy / l };
  }
  const a = arcOfBulge(e), part = partOfArc(a, x, y), to = a.start + a.sweep * part, way = Math.sign(a.sweep);
  return { x: a.cx + a.r * Math.cos(to), y: a.cy + a.r * Math.sin(to), ux: -way * Math.sin(to), uy: way * Math.cos(to) };
}

// partOfArc is how much of an arc, 0 to 1, leads to its place next to another.
function partOfArc(a, x, y) {
  const turn = 2 * Math.PI, size = Math.abs(a.sweep), way = Math.sign(a.sweep);
  const to = (((Math.atan2(y - a.cy, x - a.cx) - a.start) * way) % turn + turn) % turn;
  if (to <= size) return to / size;
  return to - size < turn - to ? 1 : 0; // beyond it: the end that is next in angle is so in distance
}

// measuredEdges are a contour's edges with their lengths and circles.
function measuredEdges(c) {
  return edgesOf(c).map((e) => {
    const arc = e.bulge ? arcOfBulge(e) : null;
    return { ...e, arc, length: arc ? arc.r * Math.abs(arc.sweep) : Math.hypot(e.bx - e.ax, e.by - e.ay) };
  });
}

// onEdges is the place s mm along measured edges, and the way there: a unit vector.
function onEdges(edges, s) {
  for (const e of edges) {
    if (s > e.length && e !== edges[edges.length - 1]) { s -= e.length; continue; }
    return onEdge(e, s);
  }
  return { x: NaN, y: NaN, dx: 1, dy: 0 };
}

// onEdge is the place so many mm along an edge, and the way there.
function onEdge(e, s) {
  const t = e.length ? Math.min(1, s / e.length) : 0;
  if (!e.arc) {
    const n = e.length || 1;
    return { x: e.ax + (e.bx - e.ax) * t, y: e.ay + (e.by - e.ay) * t, dx: (e.bx - e.ax) / n, dy: (e.by - e.ay) / n };
  }
  const angle = e.arc.start + e.arc.sweep * t, way = Math.sign(e.arc.sweep);
  return { x: e.arc.cx + e.arc.r * Math.cos(angle), y: e.arc.cy + e.arc.r * Math.sin(angle), dx: -way * Math.sin(angle), dy: way * Math.cos(angle) };
}

function edgeDistance(e, x, y) {
  const n = nearestOnEdge(e, x, y);
  return Math.hypot(x - n.x, y - n.y);
}

function contoursPath(list) {
  const path = new Path2D();
  for (const c of list) contourPath(path, c);
  return path;
}

// ---- boxes, as [least x, least y, greatest x, greatest y]

const EMPTY = [Infinity, Infinity, -Infinity, -Infinity];
const joinBox = (a, b) => (b ? [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])] : a);

function contourBox(c) {
  let box = EMPTY;
  for (const e of edgesOf(c)) {
    box = joinBox(box, [Math.min(e.ax, e.bx), Math.min(e.ay, e.by), Math.max(e.ax, e.bx), Math.max(e.ay, e.by)]);
    if (!e.bulge) continue;
    const a = arcOfBulge(e);
    for (let t = 1; t < 8; t++) {
      const x = a.cx + a.r * Math.cos(a.start + a.sweep * t / 8), y = a.cy + a.r * Math.sin(a.start + a.sweep * t / 8);
      box = joinBox(box, [x, y, x, y]);
    }
  }
  return box;
}

// workBox holds the board, the groove, the clamps and where the bit goes.
function workBox() {
  let box = EMPTY;
  if (DATA.board) box = joinBox(box, DATA.board.box);
  for (const c of DATA.groove) box = joinBox(box, contourBox(c));
  for (const c of DATA.clamps) box = joinBox(box, c.box);
  for (const s of DATA.strands) box = joinBox(box, contourBox(s.line));
  for (let i = 0; i < COUNT; i++) {
    const x = MOVES.x[i], y = MOVES.y[i];
    if (x === x && y === y) box = joinBox(box, [x, y, x, y]);
  }
  return box[0] <= box[2] ? box : [0, 0, 100, 60];
}
