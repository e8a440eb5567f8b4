// Measuring on the board: where the pointer is, and from one place to another. Both
// places take hold of what is near: ends, corners and crossings rather than lines.

const HOLD = 10; // CSS pixels from which a place takes hold of what is there
const CORNER = 0.02; // radians that lines turn by at a corner
const STRIDE = 12; // CSS pixels that an arrow moves the cross-hair by, or a little more

const gauge = {
  on: false,
  at: null, // {x, y} in mm: of the pointer, or of the cross-hair that the arrows move
  points: [], // one or two, {x, y, what}
};

// marks are the places that one measures from, in mm, and edges the lines.
let marks = null, edges = null;

function features() {
  if (marks) return;
  marks = [{ x: 0, y: 0, what: "zero" }];
  edges = [];
  const along = (e, atEnd) => {
    const chord = Math.atan2(e.by - e.ay, e.bx - e.ax), half = 2 * Math.atan(e.bulge);
    return atEnd ? chord + half : chord - half;
  };
  const add = (c, line, end, corner) => {
    const list = edgesOf(c);
    list.forEach((e, i) => {
      const reach = e.bulge ? Math.hypot(e.bx - e.ax, e.by - e.ay) * Math.max(0.5, Math.abs(e.bulge)) : 0;
      edges.push({ ...e, what: line, box: [Math.min(e.ax, e.bx) - reach, Math.min(e.ay, e.by) - reach, Math.max(e.ax, e.bx) + reach, Math.max(e.ay, e.by) + reach] });
      const before = list[i - 1] || (c.closed ? list[list.length - 1] : null);
      if (!before) marks.push({ x: e.ax, y: e.ay, what: end });
      else if (Math.abs(Math.sin((along(e, false) - along(before, true)) / 2)) > CORNER / 2) marks.push({ x: e.ax, y: e.ay, what: corner });
      if (!c.closed && i === list.length - 1) marks.push({ x: e.bx, y: e.by, what: end });
    });
  };
  for (const c of DATA.crossings) marks.push({ x: c.at[0], y: c.at[1], what: `crossing of ${c.over.strand} over ${c.under.strand === c.over.strand ? "itself" : c.under.strand}` });
  for (const s of DATA.strands) add(s.line, `centre line of ${s.name}`, `end of ${s.name}`, `corner of ${s.name}`);
  for (const c of DATA.groove) add(c, "wall of the groove", "wall of the groove", "corner of the groove");
  if (DATA.board) {
    const [x0, y0, x1, y1] = DATA.board.box;
    add({ closed: true, v: [x0, y0, 0, x1, y0, 0, x1, y1, 0, x0, y1, 0] }, "edge of the board", "", "corner of the board");
  }
}

// held is the place that a place takes hold of, or itself.
function held(p) {
  features();
  const reach = HOLD * stage.ratio / stage.view.k;
  let best = null, least = reach;
  for (const m of marks) {
    const d = Math.hypot(m.x - p.x, m.y - p.y);
    if (d < least) { least = d; best = m; }
  }
  if (best) return best;
  for (const e of edges) {
    if (p.x < e.box[0] - reach || p.y < e.box[1] - reach || p.x > e.box[2] + reach || p.y > e.box[3] + reach) continue;
    const n = nearestOnEdge(e, p.x, p.y), d = Math.hypot(n.x - p.x, n.y - p.y);
    if (d < least) { least = d; best = { x: n.x, y: n.y, what: e.what }; }
  }
  return best || { ...p, what: "" };
}

const gaugeLength = (a, b) => Math.hypot(b.x - a.x, b.y - a.y);

// measured says what is between the two places, or what is to be done for it.
function measured() {
  const [a, b] = gauge.points;
  if (b) return `distance ${long(gaugeLength(a, b))}, dx ${long(b.x - a.x)}, dy ${long(b.y - a.y)}`;
  if (a) return `from ${at(a.x, a.y)}${a.what ? ` (${a.what})` : ""}: set the other point`;
  return gauge.on ? "set the first point" : "";
}

function showGauge() {
  const p = gauge.at && (gauge.on ? held(gauge.at) : gauge.at);
  set($("cursor"), p ? at(p.x, p.y) + (p.what ? `, ${p.what}` : "") : "");
  set($("measured"), sentence(measured()));
  $("measure").setAttribute("aria-pressed", gauge.on);
  stage.holder.dataset.measuring = gauge.on;
  stage.redraw();
}

function setPoint(p) {
  if (gauge.points.length === 2) gauge.points = [];
  gauge.points.push(held(p));
  showGauge();
  $("said").textContent = `${sentence(measured())}.`;
}

// measuring begins and ends it.
function measuring(on) {
  gauge.on = on;
  gauge.points = [];
  if (on) {
    const p = place();
    gauge.at = Number.isNaN(p.x + p.y) || !stage.sees(p) ? { x: stage.view.x, y: stage.view.y } : { x: p.x, y: p.y };
    stage.holder.focus({ preventScroll: true });
    $("said").textContent = "Measuring: arrows move the cross-hair, with Shift a tenth as far, Enter sets a point, Escape ends it.";
  }
  showGauge();
}

// moveHair moves the cross-hair by so many strides, on round places.
function moveHair(dx, dy, fine) {
  const step = roundStep(STRIDE * stage.ratio / stage.view.k) / (fine ? 10 : 1);
  const go = (v, by) => (by ? (Math.round(v / step) + by) * step : v);
  gauge.at = { x: go(gauge.at.x, dx), y: go(gauge.at.y, dy) };
  stage.reveal(gauge.at.x, gauge.at.y);
  showGauge();
  $("said").textContent = $("cursor").textContent;
}

// gaugeKey takes the keys that are the cross-hair's while one measures.
function gaugeKey(e) {
  if (!gauge.on) return;
  const f = e.shiftKey, acts = {
    ArrowLeft: () => moveHair(-1, 0, f), ArrowRight: () => moveHair(1, 0, f), ArrowUp: () => moveHair(0, 1, f), ArrowDown: () => moveHair(0, -1, f),
    Enter: () => setPoint(gauge.at), " ": () => setPoint(gauge.at),
    Escape: () => { if (gauge.points.length) { gauge.points = []; showGauge(); } else measuring(false); },
  };
  if (e.target === stage.holder && acts[e.key] && !e.altKey && !e.ctrlKey && !e.metaKey) e.stopImmediatePropagation();
  pressed(e, stage.holder, acts);
}

function wireGauge() {
  $("measure").addEventListener("click", () => measuring(!gauge.on));
  stage.holder.addEventListener("keydown", gaugeKey, { capture: true });
  stage.press = (x, y) => { if (gauge.on) { gauge.at = { x, y }; setPoint(gauge.at); } };
  stage.canvas.addEventListener("pointermove", (e) => {
    gauge.at = { x: stage.fromX(e.offsetX * stage.ratio), y: stage.fromY(e.offsetY * stage.ratio) };
    showGauge();
  });
  stage.canvas.addEventListener("pointerleave", () => { if (!gauge.on) { gauge.at = null; showGauge(); } });
}

// drawGauge draws the cross-hair, the two places, and what is between them.
function drawGauge(stage, ctx) {
  if (!gauge.on || !gauge.at) return;
  const q = stage.ratio, hair = held(gauge.at), [a, b = hair] = gauge.points;
  const x = stage.toX(hair.x), y = stage.toY(hair.y);
  stage.pixels(ctx);
  ctx.setLineDash([]);
  ctx.lineCap = "butt";
  cased(ctx, q, 1, () => { ctx.moveTo(0, y); ctx.lineTo(ctx.canvas.width, y); ctx.moveTo(x, 0); ctx.lineTo(x, ctx.canvas.height); });
  if (hair.what) cased(ctx, q, 2, () => ctx.arc(x, y, 7 * q, 0, 7));
  if (!a) return;
  const ax = stage.toX(a.x), ay = stage.toY(a.y), bx = stage.toX(b.x), by = stage.toY(b.y);
  cased(ctx, q, 2, () => { ctx.moveTo(ax, ay); ctx.lineTo(bx, by); });
  for (const [px, py] of gauge.points.map((p) => [stage.toX(p.x), stage.toY(p.y)])) {
    cased(ctx, q, 2, () => { ctx.moveTo(px - 6 * q, py - 6 * q); ctx.lineTo(px + 6 * q, py + 6 * q); ctx.moveTo(px - 6 * q, py + 6 * q); ctx.lineTo(px + 6 * q, py - 6 * q); });
  }
  if (gaugeLength(a, b) * stage.view.k > 30 * q) lettering(stage, ctx, long(gaugeLength(a, b)), (ax + bx) / 2, (ay + by) / 2 - 12 * q, 13, "center");
}

// cased strokes a path in a dark line with a light rim, which is seen on any ground.
function cased(ctx, q, width, path) {
  for (const [wide, colour] of [[width + 2.4, "#fff"], [width, inks.bit]]) {
    ctx.lineWidth = wide * q;
    ctx.strokeStyle = colour;
    ctx.beginPath();
    path();
    ctx.stroke();
  }
}
