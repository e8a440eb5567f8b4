// Painting what the program has done so far. Removed wood and the bit's way are
// kept on layers and painted on from move to move; going back begins at the
// nearest checkpoint. What is smaller than half a pixel is merged. Faults are
// no part of that: they lie on a layer of their own, above, each with its mark.

const LEVELS = 12; // shades of depth
const SLICE = 9; // ms of painting in one frame
const LOOK = 512; // moves painted between two looks at the clock
const CHECKPOINTS = 10, CHECK_LEAST = 400; // how many are kept, and for how many moves it is worth it
const MERGE = 0.5; // pixels

// DEPTHS are those that the program goes to, shallow to deep; the last is the whole
// depth of the groove, or what is deeper.
const DEPTHS = [...new Set([...SECTIONS.map((s) => s.depth), DEEPEST].map((d) => Math.round(d * 1000) / 1000))].filter((d) => d > 0).sort((a, b) => a - b);
const DEPTH_SLACK = 0.005; // mm: less than any bit is set to

// levelOf is the shade of what is cut down to z: as many steps from one depth of the
// program to the next, whatever they are apart, and the darkest for the last alone.
function levelOf(z) {
  const n = DEPTHS.length, k = DEPTHS.findIndex((d) => -z <= d + DEPTH_SLACK);
  if (k < 0 || -z >= DEPTHS[n - 1] - DEPTH_SLACK) return LEVELS;
  const from = k > 0 ? DEPTHS[k - 1] : 0, part = Math.min(1, Math.max(0, (-z - from) / (DEPTHS[k] - from)));
  return Math.min(LEVELS - 1, Math.max(1, Math.ceil((k + part) / n * LEVELS - 1e-6)));
}

function hex(c) {
  const v = parseInt(c.slice(1), 16);
  return [v >> 16, (v >> 8) & 255, v & 255];
}

// shadeOf is the colour of a level: deeper is darker in every channel, so that
// of two cuts at a place the deeper is seen, whichever came first.
function shadeOf(level) {
  const a = hex(inks.shallow), b = hex(inks.deep), t = (level - 1) / (LEVELS - 1);
  return `rgb(${a.map((v, i) => Math.round(v + (b[i] - v) * t)).join(",")})`;
}

// A Pen draws lines and arcs one after the other as one stroke, as long as they
// join and look alike, and leaves out ends that lie within MERGE of the last.
class Pen {
  constructor(ctx, dress) {
    this.ctx = ctx;
    this.dress = dress;
    this.style = -1;
  }

  begin(style, x, y) {
    if (style === this.style && Math.abs(x - this.x) < 0.01 && Math.abs(y - this.y) < 0.01) return;
    this.flush();
    this.style = style;
    this.dress(this.ctx, style);
    this.ctx.beginPath();
    this.ctx.moveTo(x, y);
    this.x = this.drawnX = x;
    this.y = this.drawnY = y;
    this.dirty = false;
  }

  line(x, y) {
    this.x = x;
    this.y = y;
    this.dirty = true;
    if (Math.abs(x - this.drawnX) + Math.abs(y - this.drawnY) >= MERGE) this.emit();
  }

  emit() {
    // a line of no length would not be drawn at all
    this.ctx.lineTo(this.x + (this.x === this.drawnX && this.y === this.drawnY ? 0.01 : 0), this.y);
    this.drawnX = this.x;
    this.drawnY = this.y;
    this.dirty = false;
  }

  arc(cx, cy, r, start, sweep, x, y) {
    if (r * Math.abs(sweep) < MERGE) { this.line(x, y); return; }
    if (this.dirty) this.emit();
    this.ctx.arc(cx, cy, r, -start, -start - sweep, sweep > 0);
    this.x = this.drawnX = x;
    this.y = this.drawnY = y;
  }

  flush() {
    if (this.style < 0) return;
    if (this.dirty) this.emit();
    if (this.rim) this.rim(this.ctx, this.style);
    this.ctx.stroke();
    this.style = -1;
  }
}

const WAY_RAPID = 100, WAY_CUT = 200;
const WAY_LEAST = 8; // pixels that a slot is wide before a cut's way is drawn in it: a narrower one is its own way

// Work is the layers of one view: the wood removed and the way gone up to a move.
class Work {
  constructor(stage) {
    this.stage = stage;
    this.view = { ...stage.view };
    this.wood = this.layer();
    this.way = this.layer();
    this.wide = (DATA.bit || 0) * this.view.k >= WAY_LEAST * stage.ratio;
    this.at = 0;
    this.checks = [];
    this.spacing = Math.max(CHECK_LEAST, Math.ceil(COUNT / CHECKPOINTS));
    this.woodPen = new Pen(this.wood, (ctx, level) => {
      ctx.lineWidth = Math.max(1, (DATA.bit || 1) * this.view.k);
      ctx.strokeStyle = shadeOf(level);
    });
    this.wayPen = new Pen(this.way, (ctx, style) => dressWay(ctx, style, stage.ratio));
    this.wayPen.rim = (ctx, style) => { if (style === WAY_RAPID) rimRapid(ctx, stage.ratio); };
  }

  layer() {
    const canvas = document.createElement("canvas");
    canvas.width = this.stage.canvas.width;
    canvas.height = this.stage.canvas.height;
    const ctx = canvas.getContext("2d");
    ctx.lineCap = ctx.lineJoin = "round";
    ctx.globalCompositeOperation = "darken";
    return ctx;
  }

  fits(stage) {
    const v = stage.view;
    return this.wood.canvas.width === stage.canvas.width && this.wood.canvas.height === stage.canvas.height &&
      v.k === this.view.k && v.x === this.view.x && v.y === this.view.y;
  }

  px(x) { return (x - this.view.x) * this.view.k + this.wood.canvas.width / 2; }
  py(y) { return this.wood.canvas.height / 2 - (y - this.view.y) * this.view.k; }

  // go paints up to a move, or until time is over; it reports whether it is there.
  go(to, until) {
    if (to < this.at) this.back(to);
    while (this.at < to) {
      const stop = Math.min(to, this.at + LOOK, (Math.floor(this.at / this.spacing) + 1) * this.spacing);
      for (; this.at < stop; this.at++) this.move(this.at, 1);
      if (this.at % this.spacing === 0) this.keep();
      if (performance.now() > until) break;
    }
    this.woodPen.flush();
    this.wayPen.flush();
    return this.at === to;
  }

  keep() {
    if (this.at === 0 || this.checks.some((c) => c.at === this.at)) return;
    this.woodPen.flush();
    this.wayPen.flush();
    const copy = (ctx) => { const c = this.layer(); c.drawImage(ctx.canvas, 0, 0); return c.canvas; };
    this.checks.push({ at: this.at, wood: copy(this.wood), way: copy(this.way) });
  }

  back(to) {
    let best = null;
    for (const c of this.checks) if (c.at <= to && (!best || c.at > best.at)) best = c;
    for (const [ctx, name] of [[this.wood, "wood"], [this.way, "way"]]) {
      ctx.clearRect(0, 0, ctx.canvas.width, ctx.canvas.height);
      if (best) ctx.drawImage(best[name], 0, 0);
    }
    this.at = best ? best.at : 0;
  }

  // move paints a part of a move.
  move(i, part) {
    const kind = kindOf(i);
    if (kind > ARC) return;
    const a = startOf(i), b = part < 1 ? pointAt(i, part) : endOf(i);
    if (Number.isNaN(a.x + a.y + b.x + b.y)) return;
    const z = (a.z + b.z) / 2, cuts = z < 0 && b.z < 1e-9;
    const still = a.x === b.x && a.y === b.y && MOVES.arcOf[i] < 0;
    if (cuts) this.stroke(this.woodPen, levelOf(still ? b.z : z), i, part, a, b);
    if (part < 1) this.woodPen.flush(); // both pens draw on one canvas then
    if (still && kind !== RAPID && b.z < a.z) this.plunge(b);
    else if (!still && (!cuts || kind === RAPID || this.wide)) this.stroke(this.wayPen, kind === RAPID ? WAY_RAPID : WAY_CUT + (cuts ? levelOf(z) : 0), i, part, a, b);
  }

  stroke(pen, style, i, part, a, b) {
    const bx = this.px(b.x), by = this.py(b.y), k = MOVES.arcOf[i];
    pen.begin(style, this.px(a.x), this.py(a.y));
    if (k < 0) { pen.line(bx, by); return; }
    const cx = MOVES.cx[k], cy = MOVES.cy[k];
    const r = Math.hypot(a.x - cx, a.y - cy);
    pen.arc(this.px(cx), this.py(cy), r * this.view.k, Math.atan2(a.y - cy, a.x - cx), MOVES.sweep[k] * part, bx, by);
  }

  // plunge marks where the bit goes straight down: a ring with a point in it.
  plunge(p) {
    this.wayPen.flush();
    const ctx = this.way, x = this.px(p.x), y = this.py(p.y), s = this.stage.ratio;
    ctx.save();
    ctx.globalCompositeOperation = "source-over";
    drawPlunge(ctx, x, y, s);
    ctx.restore();
  }
}

function drawPlunge(ctx, x, y, s) {
  const ring = (r, colour) => { ctx.beginPath(); ctx.arc(x, y, r * s, 0, 7); ctx.fillStyle = colour; ctx.fill(); };
  ring(4.6, inks.line);
  ring(3.2, "#fff");
  ring(1.5, inks.line);
}

// dressWay sets how a way is drawn: rapids light and dashed, cuts solid and
// dark, or light where the wood under them is dark.
function dressWay(ctx, style, ratio) {
  const rapid = style === WAY_RAPID;
  ctx.globalCompositeOperation = "source-over";
  ctx.setLineDash(rapid ? [7 * ratio, 5 * ratio] : []);
  ctx.lineWidth = (rapid ? 1.6 : 1) * ratio;
  ctx.strokeStyle = rapid ? inks.rapid : style - WAY_CUT > LEVELS / 2 ? inks.shallow : inks.cut;
}

// rimRapid draws a light rim under a rapid, which crosses cut wood and uncut.
function rimRapid(ctx, ratio) {
  ctx.setLineDash([]);
  ctx.strokeStyle = "#fff";
  ctx.lineWidth = 3.2 * ratio;
  ctx.stroke();
  dressWay(ctx, WAY_RAPID, ratio);
}

// ---- faults

// faultPlaces are where marks go: the places that findings have, and every
// faulty move's end unless one of those is near.
const faultPlaces = [];
for (const f of PROGRAM ? PROGRAM.findings : []) {
  if (f.severity === "error" && f.at) faultPlaces.push({ x: f.at[0], y: f.at[1], line: f.line });
}
const flagged = new Set(faultPlaces.map((p) => p.line));
for (const i of FAULT_MOVES) {
  if (!flagged.has(MOVES.line[i]) && !Number.isNaN(MOVES.x[i] + MOVES.y[i])) faultPlaces.push({ x: MOVES.x[i], y: MOVES.y[i], line: MOVES.line[i] });
}

// drawFaults draws every faulty move as it is, a point at each place, and the
// flags; of flags that would cover each other one stands for all.
function drawFaults(stage, ctx) {
  stage.world(ctx);
  ctx.beginPath();
  for (const i of FAULT_MOVES) {
    const a = startOf(i), k = MOVES.arcOf[i];
    if (Number.isNaN(a.x + a.y + MOVES.x[i] + MOVES.y[i])) continue;
    ctx.moveTo(a.x, a.y);
    if (k < 0) { ctx.lineTo(MOVES.x[i], MOVES.y[i]); continue; }
    const start = Math.atan2(a.y - MOVES.cy[k], a.x - MOVES.cx[k]);
    ctx.arc(MOVES.cx[k], MOVES.cy[k], Math.hypot(a.x - MOVES.cx[k], a.y - MOVES.cy[k]), start, start + MOVES.sweep[k], MOVES.sweep[k] < 0);
  }
  ctx.lineCap = "round";
  for (const [width, colour] of [[5, "#fff"], [2.5, inks.fault]]) {
    ctx.lineWidth = width * stage.ratio / stage.view.k;
    ctx.strokeStyle = colour;
    ctx.stroke();
  }
  stage.pixels(ctx);
  drawPoints(stage, ctx);
  const cell = 14 * stage.ratio, taken = new Set();
  for (const p of faultPlaces) {
    const x = stage.toX(p.x), y = stage.toY(p.y), key = `${Math.floor(x / cell)},${Math.floor(y / cell)}`;
    if (taken.has(key)) continue;
    taken.add(key);
    drawFlag(ctx, x, y, stage.ratio);
  }
}

// drawPoints draws a point at every place of a fault and every end of a faulty
// move, so that also one without length in plan is seen.
function drawPoints(stage, ctx) {
  const ends = FAULT_MOVES.map((i) => ({ x: MOVES.x[i], y: MOVES.y[i] })).filter((p) => !Number.isNaN(p.x + p.y));
  const r = 2.6 * stage.ratio;
  ctx.beginPath();
  for (const p of [...ends, ...faultPlaces]) {
    const x = stage.toX(p.x), y = stage.toY(p.y);
    ctx.moveTo(x + r, y);
    ctx.arc(x, y, r, 0, 7);
  }
  ctx.fillStyle = inks.fault;
  ctx.fill();
}
