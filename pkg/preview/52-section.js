// A section across the groove where the bit is: what the moves of this strand have cut
// there so far. Each move sweeps the bit's disc, so what it cuts of the line across the
// strand is where that line is within the bit's radius of its way: between places that
// follow from lines and circles.

const WALL_SLACK = 0.02; // mm that may be left at a wall which is done: less than a shaving
const ALONG = 0.5; // cosine to the strand from which on a move runs along it and not across
const CHUNK = 64; // moves that share a box
const SLOPES = 12; // parts that the slanting floor of a sinking move is drawn in
const SECTION_EVERY = 120; // ms between two sections while it plays

// crosscut is where the groove is cut across: the place on the centre line, the unit
// vector to the strand's left, and which strand; null where the bit is over no groove.
function crosscut(p, s) {
  if (Number.isNaN(p.x + p.y)) return null;
  const only = s && s.strand >= 0 ? [s.strand] : DATA.strands.keys();
  let best = null;
  for (const strand of only) {
    const line = DATA.strands[strand]?.line;
    for (const e of line ? edgesOf(line) : []) {
      const n = nearestOnEdge(e, p.x, p.y), d = Math.hypot(n.x - p.x, n.y - p.y);
      if (!best || d < best.d) best = { x: n.x, y: n.y, ux: n.ux, uy: n.uy, d, strand };
    }
  }
  if (!best || best.d > (s ? NEAR : 1) * REACH) return null; // in a sharp corner the bit is as far off
  const v = DATA.strands[best.strand].line.v, n = v.length;
  const ends = DATA.strands[best.strand].line.closed ? [] : [[v[0], v[1]], [v[n - 3], v[n - 2]]];
  return { ...best, atEnd: ends.some(([x, y]) => Math.hypot(x - best.x, y - best.y) <= REACH), bit: (p.y - best.y) * best.ux - (p.x - best.x) * best.uy };
}

let chunks = null; // by strand: boxes of its moves in order

function chunksOf(strand) {
  if (!chunks) {
    chunks = new Map();
    for (const s of SECTIONS) {
      if (!chunks.has(s.strand)) chunks.set(s.strand, []);
      for (let from = s.first; from < s.after; from += CHUNK) {
        let box = EMPTY;
        const to = Math.min(s.after, from + CHUNK);
        for (let i = from; i < to; i++) box = joinBox(box, moveBox(i));
        chunks.get(s.strand).push({ from, to, box });
      }
    }
  }
  return chunks.get(strand) || [];
}

// moveBox holds a move's way in plan; an arc's whole circle.
function moveBox(i) {
  const a = startOf(i), b = endOf(i), k = MOVES.arcOf[i];
  if (Number.isNaN(a.x + a.y + b.x + b.y)) return null;
  if (k < 0) return [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y)];
  const r = Math.hypot(a.x - MOVES.cx[k], a.y - MOVES.cy[k]);
  return [MOVES.cx[k] - r, MOVES.cy[k] - r, MOVES.cx[k] + r, MOVES.cy[k] + r];
}

// reachOf is how far to both sides of the centre line the section goes, in mm.
const reachOf = () => DATA.width / 2 + (DATA.bit || 0) / 2;

// spansOf are what the moves done so far have cut of the line across, as {u0, u1, z}: u in
// mm to the strand's left from its centre line, z of the floor between.
function spansOf(cut) {
  const out = [], r = (DATA.bit || 0) / 2, half = reachOf();
  const box = [cut.x - half, cut.y - half, cut.x + half, cut.y + half];
  const apart = (b) => !b || b[0] > box[2] || b[1] > box[3] || b[2] < box[0] || b[3] < box[1];
  const until = player.part > 0 ? player.done : player.done - 1;
  for (const c of chunksOf(cut.strand)) {
    if (c.from > until) break;
    if (apart(c.box)) continue;
    for (let i = c.from; i < Math.min(c.to, until + 1); i++) {
      if (!apart(moveBox(i))) sweep(out, cut, i, i === player.done ? player.part : 1, r);
    }
  }
  return out;
}

// sweep adds what a part of a move cuts of the line across.
function sweep(out, cut, i, part, r) {
  const a = startOf(i), b = part < 1 ? pointAt(i, part) : endOf(i);
  if (kindOf(i) > ARC || !(Math.min(a.z, b.z) < 0)) return;
  const still = a.x === b.x && a.y === b.y && MOVES.arcOf[i] < 0;
  if (!still && !cut.atEnd && runsAlong(i, nearestOn(i, cut.x, cut.y).part, [cut.ux, cut.uy]) < ALONG) return;
  const half = reachOf(), slant = a.z !== b.z && !still;
  const marks = [-half, half, ...sweepMarks(cut, i, part, a, b, r).filter((u) => Math.abs(u) < half)].sort((p, q) => p - q);
  for (let k = 1; k < marks.length; k++) {
    const n = slant ? SLOPES : 1;
    for (let m = 0; m < n; m++) {
      const u0 = marks[k - 1] + (marks[k] - marks[k - 1]) * m / n, u1 = marks[k - 1] + (marks[k] - marks[k - 1]) * (m + 1) / n, u = (u0 + u1) / 2;
      const x = cut.x - u * cut.uy, y = cut.y + u * cut.ux;
      if (u1 - u0 < 1e-9 || wayDistance(i, part, a, b, x, y) > r) continue;
      out.push({ u0, u1, z: still ? b.z : slant ? lowest(i, part, a, b, x, y, r) : b.z });
    }
  }
}

// wayDistance is how far a place is from the way of a part of a move.
function wayDistance(i, part, a, b, x, y) {
  const n = nearestOn(i, x, y);
  if (n.part <= part) return n.d;
  return Math.min(Math.hypot(x - a.x, y - a.y), Math.hypot(x - b.x, y - b.y));
}

// sweepMarks are the places on the line across at which a move's cut can begin or end:
// where the line is a radius from either end, and from the way between them.
function sweepMarks(cut, i, part, a, b, r) {
  const px = cut.x, py = cut.y, vx = -cut.uy, vy = cut.ux, out = [];
  const circle = (cx, cy, rad) => {
    if (!(rad > 0)) return;
    const along = (cx - px) * vx + (cy - py) * vy, off = (cx - px) * vy - (cy - py) * vx, h = rad * rad - off * off;
    if (h >= 0) out.push(along - Math.sqrt(h), along + Math.sqrt(h));
  };
  const line = (qx, qy, dx, dy) => { // through q, along d
    const det = vx * dy - vy * dx;
    if (Math.abs(det) > 1e-12) out.push(((qx - px) * dy - (qy - py) * dx) / det);
  };
  circle(a.x, a.y, r);
  circle(b.x, b.y, r);
  const k = MOVES.arcOf[i];
  if (k >= 0) {
    const cx = MOVES.cx[k], cy = MOVES.cy[k], rad = Math.hypot(a.x - cx, a.y - cy);
    circle(cx, cy, rad - r);
    circle(cx, cy, rad + r);
    line(cx, cy, a.x - cx, a.y - cy);
    line(cx, cy, b.x - cx, b.y - cy);
    return out;
  }
  const dx = b.x - a.x, dy = b.y - a.y, l = Math.hypot(dx, dy);
  if (!l) return out;
  for (const side of [-1, 1]) line(a.x - side * r * dy / l, a.y + side * r * dx / l, dx, dy);
  line(a.x, a.y, -dy, dx);
  line(b.x, b.y, -dy, dx);
  return out;
}

// lowest is how deep a sinking move goes over a place: as long as the bit's disc is over
// it, which on the way it is for a stretch to both sides of what is next to the place.
function lowest(i, part, a, b, x, y, r) {
  const long = MOVES.arcOf[i] < 0 ? Math.hypot(b.x - a.x, b.y - a.y) : Math.hypot(a.x - MOVES.cx[MOVES.arcOf[i]], a.y - MOVES.cy[MOVES.arcOf[i]]) * Math.abs(MOVES.sweep[MOVES.arcOf[i]]) * part;
  const n = nearestOn(i, x, y), at = Math.min(n.part, part) / part * long, reach = Math.sqrt(Math.max(0, r * r - n.d * n.d));
  const to = Math.min(1, Math.max(0, (b.z < a.z ? at + reach : at - reach) / (long || 1)));
  return a.z + (b.z - a.z) * to;
}

// floorOf is the floor that spans leave: from one place to the next its z, in order.
function floorOf(spans) {
  const marks = [...new Set(spans.flatMap((s) => [s.u0, s.u1]))].sort((a, b) => a - b), out = [];
  for (let k = 1; k < marks.length; k++) {
    const u0 = marks[k - 1], u1 = marks[k], u = (u0 + u1) / 2;
    const z = spans.reduce((low, s) => (s.u0 <= u && u <= s.u1 ? Math.min(low, s.z) : low), 0);
    const last = out[out.length - 1];
    if (z >= 0 || u1 - u0 < 1e-9) continue;
    if (last && Math.abs(last.u1 - u0) < 1e-9 && Math.abs(last.z - z) < 1e-6) last.u1 = u1;
    else out.push({ u0, u1, z });
  }
  return out;
}

// across is the section at the place of the bit: its cut, its floor, and what is done.
function across() {
  const cut = COUNT ? crosscut(place(), player.done > 0 || player.part > 0 ? sectionOf(current()) : null) : null;
  if (!cut) return null;
  const floor = floorOf(spansOf(cut)), half = DATA.width / 2;
  const deep = floor.reduce((d, f) => Math.max(d, -f.z), 0), full = DATA.depth || DEEPEST;
  const wide = floor.filter((f) => -f.z > deep - DEPTH_SLACK && f.u0 < half && f.u1 > -half).reduce((w, f) => w + f.u1 - f.u0, 0);
  const done = (u) => floor.some((f) => -f.z > full - WALL_SLACK && f.u0 <= u && u <= f.u1);
  return { cut, floor, deep, wide, full, left: done(half - WALL_SLACK), right: done(WALL_SLACK - half) };
}

function acrossWords(c) {
  if (!c) return player.done > 0 ? "The bit is over no groove" : "Nothing is cut yet";
  const walls = c.left && c.right ? "both walls done" : c.left ? "left wall done" : c.right ? "right wall done" : "no wall done";
  if (!c.deep) return `Nothing of ${long(c.full)} depth and ${long(DATA.width)} width is cut here yet`;
  return `${number(c.deep)} of ${long(c.full)} deep, ${number(c.wide)} of ${long(DATA.width)} wide, ${walls}`;
}

// ---- its drawing

const SECTION = { width: 340, height: 150, top: 54, side: 22, low: 18 }; // CSS pixels: the work's top from the drawing's, and what is kept free

function svg(tag, attributes, text) {
  const e = document.createElementNS($("across").namespaceURI, tag);
  for (const [name, value] of Object.entries(attributes)) e.setAttribute(name, typeof value === "number" ? value.toFixed(2) : value);
  if (text) e.textContent = text;
  return e;
}

// drawAcross draws the section, the strand's left on the left, true to proportion.
function drawAcross(c) {
  const { width, height, top, side, low } = SECTION, half = DATA.width / 2 || 1, full = DATA.depth || DEEPEST;
  const k = Math.min((width - 2 * side) / (2.9 * half), (height - top - low) / full), middle = width / 2;
  const x = (u) => middle - u * k, y = (z) => top - z * k;
  const parts = [svg("rect", { x: 0, y: top, width, height: height - top, class: "stock" }),
    svg("rect", { x: x(half), y: top, width: 2 * half * k, height: full * k, class: "to-cut" })];
  for (const f of c ? c.floor : []) {
    const u1 = Math.min(f.u1, middle / k), u0 = Math.max(f.u0, -middle / k);
    if (u1 > u0) parts.push(svg("rect", { x: x(u1), y: top, width: (u1 - u0) * k, height: -f.z * k, fill: shadeOf(levelOf(f.z)) }));
  }
  parts.push(svg("path", { d: `M${x(half)} ${top}V${y(-full)}H${x(-half)}V${top}`, class: "outline-rim" }), svg("path", { d: `M${x(half)} ${top}V${y(-full)}H${x(-half)}V${top}`, class: "outline" }),
    svg("path", { d: `M0 ${top}H${width}`, class: "surface" }));
  const p = place();
  if (c && DATA.bit && !Number.isNaN(p.z) && Math.abs(c.cut.bit) < half + DATA.bit) {
    const r = DATA.bit / 2, tip = Math.max(12, Math.min(y(p.z), height));
    parts.push(svg("rect", { x: x(c.cut.bit + r), y: -4, width: 2 * r * k, height: tip + 4, class: "bit" }), svg("path", { d: `M${x(c.cut.bit)} 2V${tip}`, class: "bit-axis" }));
  }
  parts.push(svg("text", { x: 6, y: top - 8, "text-anchor": "start" }, "left"), svg("text", { x: width - 6, y: top - 8, "text-anchor": "end" }, "right"),
    svg("text", { x: middle, y: height - 4, "text-anchor": "middle" }, `${long(DATA.width)} wide, ${long(full)} deep`));
  $("across").replaceChildren(...parts);
}

const acrossShown = { at: 0, late: 0 };

// showAcross brings the section up to date; while it plays, now and then.
function showAcross() {
  const now = performance.now();
  if (player.playing && now - acrossShown.at < SECTION_EVERY) return;
  acrossShown.at = now;
  const c = across(), name = c ? DATA.strands[c.cut.strand].name : "";
  drawAcross(c);
  set($("across-words"), `${acrossWords(c)}.`);
  set($("across-of"), c ? `Section across ${name || "the groove"} at the bit, looking the way the strand runs` : "Section across the groove at the bit");
}
