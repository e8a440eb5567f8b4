// The page's data. DATA is the head: all but the moves, lengths in mm. MOVES
// are arrays with an element for each move of the program: where it ends (x, y,
// z; NaN: not known), when it ends (end, seconds), feed, line and flags; arcs
// have a centre and a sweep besides.
//
// All files but live.js are the body of one function, page(DATA, PACKED, KEPT, ENDED):
// PACKED is the text of the moves, KEPT what the page shown before it wants kept
// (null: nothing), and ENDED a signal that is aborted when another takes its place.
// What listens outside of <main> must listen with it.

const $ = (id) => document.getElementById(id);
const PROGRAM = DATA.program;

// Kinds of moves, as the flags have them.
const RAPID = 0, LINE = 1, ARC = 2, DWELL = 3, TURN = 4, STOP = 5, OPTIONAL_STOP = 6, END = 7;
const KIND = 0x07, FAULT = 0x08, JUMP = 0x10, SPIN_SHIFT = 5;

const MOVES = unpack(PACKED, DATA.arrays);
const COUNT = MOVES.end.length;
const TOTAL = COUNT ? MOVES.end[COUNT - 1] : 0;

// unpack gives the arrays that lie in a text.
function unpack(packed, index) {
  const text = atob(packed.trim());
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  const types = { f4: Float32Array, f8: Float64Array, i4: Int32Array, u1: Uint8Array };
  const arrays = {};
  for (const a of index) arrays[a.name] = new types[a.type](bytes.buffer, a.from, a.len);
  arrays.arcOf = new Int32Array(arrays.end.length).fill(-1);
  arrays.arc.forEach((move, i) => { arrays.arcOf[move] = i; });
  return arrays;
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
const SECTIONS = (PROGRAM ? PROGRAM.sections : []).map((s, index) => {
  const [first, after] = stepsOfLines(s.line, s.last);
  return { ...s, index, first, after, from: startTime(first), to: after > 0 ? MOVES.end[after - 1] : 0,
    name: DATA.strands[s.strand] ? DATA.strands[s.strand].name : "" };
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
