// A Stage is a canvas on which one looks about: it keeps the view, follows the
// size of its box and the screen's pixels, and turns wheel, keys and pointers
// into another view. Who paints sets stage.paint; who knows a place that keys and
// buttons are to zoom about sets stage.anchor.

const STILL = matchMedia("(prefers-reduced-motion: reduce)");
const inks = {};

// readInks takes the page's colours for the canvases.
function readInks() {
  const style = getComputedStyle(document.documentElement);
  for (const name of ["ground", "line", "wood", "grain", "edge", "fault", "rapid", "cut", "clamp", "panel", "opening", "part", "left", "bit", "deep", "shallow", "uncut"]) {
    inks[name] = style.getPropertyValue(`--${name}`).trim();
  }
}

const ZOOM_STEP = 1.5, ZOOM_MOST = 400, EDGE_ROOM = 14;
const STILL_PRESS = 5; // CSS pixels that a finger may slide and still press a place

class Stage {
  constructor(canvas, box, rules = { left: 0, bottom: 0 }) {
    this.canvas = canvas;
    this.rules = rules; // CSS pixels that axes take of the picture
    this.holder = canvas.parentElement;
    this.ctx = canvas.getContext("2d");
    this.box = box;
    this.paint = () => {};
    this.anchor = () => null; // {x, y} in mm
    this.press = () => {}; // of a place of the work, without dragging
    this.view = null; // {x, y: the middle, in mm; k: device pixels to a mm}
    this.pointers = new Map();
    const ratio = Math.min(2.4, Math.max(0.8, (box[2] - box[0]) / Math.max(1e-6, box[3] - box[1])));
    canvas.style.aspectRatio = ratio.toFixed(3);
    const sizes = new ResizeObserver(() => this.measure());
    sizes.observe(canvas);
    ENDED.addEventListener("abort", () => sizes.disconnect());
    window.addEventListener("resize", () => this.measure(), { signal: ENDED }); // another screen may have other pixels
    this.measure();
    this.listen();
  }

  measure() {
    const ratio = window.devicePixelRatio || 1;
    const w = Math.max(1, Math.round(this.canvas.clientWidth * ratio)), h = Math.max(1, Math.round(this.canvas.clientHeight * ratio));
    if (this.view && w === this.canvas.width && h === this.canvas.height) return;
    const zoom = this.view ? this.view.k / this.fit().k : 1;
    this.ratio = ratio;
    this.canvas.width = w;
    this.canvas.height = h;
    this.canvas.style.setProperty("--shape", `${w} / ${h}`); // which paper keeps, where it isn't painted anew
    const fit = this.fit();
    this.view = this.view && zoom > 1.001 ? { ...this.view, k: fit.k * zoom } : fit;
    this.redraw();
  }

  // fit is the view of everything, beside the axes.
  fit() {
    const b = this.box, q = this.ratio || 1, room = 2 * EDGE_ROOM * q, left = this.rules.left * q, bottom = this.rules.bottom * q;
    const k = Math.max(1e-3, Math.min((this.canvas.width - room - left) / Math.max(1e-6, b[2] - b[0]), (this.canvas.height - room - bottom) / Math.max(1e-6, b[3] - b[1])));
    return { x: (b[0] + b[2]) / 2 - left / 2 / k, y: (b[1] + b[3]) / 2 - bottom / 2 / k, k };
  }

  toX(x) { return (x - this.view.x) * this.view.k + this.canvas.width / 2; }
  toY(y) { return this.canvas.height / 2 - (y - this.view.y) * this.view.k; }

  fromX(px) { return this.view.x + (px - this.canvas.width / 2) / this.view.k; }
  fromY(py) { return this.view.y - (py - this.canvas.height / 2) / this.view.k; }
  sees(p) { const x = this.toX(p.x), y = this.toY(p.y); return x >= 0 && y >= 0 && x <= this.canvas.width && y <= this.canvas.height; }

  setView(view) {
    const fit = this.fit();
    const k = Math.min(Math.max(view.k, fit.k), fit.k * ZOOM_MOST);
    const inside = (v, lo, hi) => Math.min(Math.max(v, lo), hi);
    this.view = k <= fit.k * 1.001 ? fit : { k, x: inside(view.x, this.box[0], this.box[2]), y: inside(view.y, this.box[1], this.box[3]) };
    this.canvas.style.touchAction = k > fit.k * 1.001 ? "none" : "pan-y";
    this.redraw();
  }

  redraw() {
    if (this.waiting || ENDED.aborted) return;
    this.waiting = true;
    requestAnimationFrame((now) => { this.waiting = false; if (!ENDED.aborted) this.paint(now); });
  }

  // zoom changes the scale about a place of the canvas.
  zoom(by, px, py) {
    const x = this.fromX(px), y = this.fromY(py), fit = this.fit().k;
    const k = Math.min(Math.max(this.view.k * by, fit), fit * ZOOM_MOST);
    this.setView({ k, x: x - (px - this.canvas.width / 2) / k, y: y + (py - this.canvas.height / 2) / k });
  }

  // zoomHere zooms about the anchor, which comes into the middle where it isn't seen;
  // without one, about the middle.
  zoomHere(by) {
    const p = this.anchor();
    if (p && !this.sees(p)) this.setView({ ...p, k: this.view.k * by });
    else this.zoom(by, p ? this.toX(p.x) : this.canvas.width / 2, p ? this.toY(p.y) : this.canvas.height / 2);
  }

  pan(dx, dy) { this.setView({ ...this.view, x: this.view.x - dx / this.view.k, y: this.view.y + dy / this.view.k }); }
  whole() { this.setView(this.fit()); }

  // show brings a place into the middle, with so many mm round it.
  show(x, y, mm) {
    this.setView({ x, y, k: Math.min(this.canvas.width, this.canvas.height) / mm });
  }

  // reveal moves the view no more than is needed for a place to be seen.
  reveal(x, y) {
    const room = 0.1 * Math.min(this.canvas.width, this.canvas.height);
    const px = this.toX(x), py = this.toY(y);
    if (px < room || py < room || px > this.canvas.width - room || py > this.canvas.height - room) this.setView({ ...this.view, x, y });
  }

  // world lets one draw in mm, y up.
  world(ctx = this.ctx, v = this.view) {
    ctx.setTransform(v.k, 0, 0, -v.k, this.canvas.width / 2 - v.x * v.k, this.canvas.height / 2 + v.y * v.k);
  }

  pixels(ctx = this.ctx) { ctx.setTransform(1, 0, 0, 1, 0, 0); }

  listen() {
    this.canvas.addEventListener("wheel", (e) => {
      if (!e.ctrlKey && !this.holder.contains(document.activeElement)) return;
      e.preventDefault();
      this.zoom(Math.exp(-e.deltaY * (e.deltaMode ? 0.05 : 0.002)), e.offsetX * this.ratio, e.offsetY * this.ratio);
    }, { passive: false });
    this.canvas.addEventListener("pointerdown", (e) => {
      this.still = this.pointers.size === 0 ? { x: e.offsetX, y: e.offsetY } : null;
      this.pointers.set(e.pointerId, e);
      this.canvas.setPointerCapture(e.pointerId);
    });
    this.canvas.addEventListener("pointermove", (e) => this.moved(e));
    for (const name of ["pointerup", "pointercancel"]) this.canvas.addEventListener(name, (e) => this.pointers.delete(e.pointerId));
    this.canvas.addEventListener("pointerup", (e) => {
      if (this.still && e.button === 0) this.press(this.fromX(e.offsetX * this.ratio), this.fromY(e.offsetY * this.ratio));
    });
    this.holder.addEventListener("keydown", (e) => this.key(e));
  }

  // moved drags with one finger; of two, what is between them is dragged and drawn apart.
  moved(e) {
    const before = this.pointers.get(e.pointerId);
    if (!before) return;
    if (this.still && Math.hypot(e.offsetX - this.still.x, e.offsetY - this.still.y) <= STILL_PRESS) return;
    this.still = null;
    this.pointers.set(e.pointerId, e);
    const q = this.ratio, other = [...this.pointers.values()].find((p) => p.pointerId !== e.pointerId);
    const share = other ? 2 : 1;
    this.pan((e.offsetX - before.offsetX) * q / share, (e.offsetY - before.offsetY) * q / share);
    if (!other) return;
    const gap = (p) => Math.hypot(p.offsetX - other.offsetX, p.offsetY - other.offsetY) || 1;
    this.zoom(gap(e) / gap(before), (e.offsetX + other.offsetX) / 2 * q, (e.offsetY + other.offsetY) / 2 * q);
  }

  // key zooms with the signs on the buttons, and pans with Shift and the arrows:
  // the arrows alone belong to what is played (slides).
  key(e) {
    const step = 0.15 * Math.min(this.canvas.width, this.canvas.height);
    const pans = {
      ArrowLeft: () => this.pan(step, 0), ArrowRight: () => this.pan(-step, 0), ArrowUp: () => this.pan(0, step), ArrowDown: () => this.pan(0, -step),
    };
    const zooms = {
      "+": () => this.zoomHere(ZOOM_STEP), "=": () => this.zoomHere(ZOOM_STEP), "-": () => this.zoomHere(1 / ZOOM_STEP), "0": () => this.whole(),
    };
    pressed(e, this.holder, e.shiftKey ? { ...zooms, ...pans } : zooms);
  }
}

// pressed does what a key stands for, when the holder itself has the focus.
function pressed(e, holder, acts) {
  if (e.target !== holder || e.altKey || e.ctrlKey || e.metaKey || !acts[e.key]) return;
  e.preventDefault();
  acts[e.key]();
}

// slides gives what a stage plays the keys of a slider (W3C, WAI-ARIA Authoring
// Practices, slider pattern): right and up go a step on, left and down a step
// back, the page keys a greater one, Home and End to the ends. Space plays, as it
// presses a button.
function slides(stage, { step, leap, first, last, play }) {
  const acts = {
    ArrowRight: () => step(1), ArrowUp: () => step(1), ArrowLeft: () => step(-1), ArrowDown: () => step(-1),
    PageUp: () => leap(1), PageDown: () => leap(-1), Home: first, End: last, " ": play,
  };
  stage.holder.addEventListener("keydown", (e) => { if (!e.shiftKey) pressed(e, stage.holder, acts); });
}

// zooming are the acts of a stage's buttons.
const zooming = (nearer, farther, whole, s) => ({
  [nearer]: () => s.zoomHere(ZOOM_STEP), [farther]: () => s.zoomHere(1 / ZOOM_STEP), [whole]: () => s.whole(),
});

// ---- what all stages show

const GROOVE = contoursPath(DATA.groove);
// STATION is what panels are laid on: of a table the sections of its first station.
const STATION = DATA.station || { board: DATA.board, groove: DATA.groove };
const GRAIN_GAP = 7; // mm between lines of the grain

// drawGround draws paper, board and its grain.
function drawGround(stage, ctx, board = DATA.board) {
  stage.pixels(ctx);
  ctx.fillStyle = inks.ground;
  ctx.fillRect(0, 0, ctx.canvas.width, ctx.canvas.height);
  stage.world(ctx);
  const b = board ? board.box : stage.box;
  ctx.fillStyle = inks.wood;
  ctx.fillRect(b[0], b[1], b[2] - b[0], b[3] - b[1]);
  ctx.save();
  ctx.beginPath();
  ctx.rect(b[0], b[1], b[2] - b[0], b[3] - b[1]);
  ctx.clip();
  drawGrain(ctx, b, board ? board.grain : 0, stage);
  ctx.restore();
  if (!board) return;
  ctx.strokeStyle = inks.edge;
  ctx.lineWidth = stage.ratio / stage.view.k;
  ctx.strokeRect(b[0], b[1], b[2] - b[0], b[3] - b[1]);
}

// drawGrain draws long, slightly waving lines; the same ones every time.
function drawGrain(ctx, b, angle, stage) {
  const cx = (b[0] + b[2]) / 2, cy = (b[1] + b[3]) / 2, half = Math.hypot(b[2] - b[0], b[3] - b[1]) / 2;
  ctx.translate(cx, cy);
  ctx.rotate(angle);
  ctx.strokeStyle = inks.grain;
  ctx.lineWidth = 0.8 * stage.ratio / stage.view.k;
  ctx.beginPath();
  const gap = Math.max(GRAIN_GAP, half / 60);
  for (let y = -half, n = 0; y < half; n++) {
    const sway = gap * 0.5 * Math.sin(n * 1.7), sway2 = gap * 0.5 * Math.sin(n * 2.3 + 1);
    ctx.moveTo(-half, y);
    ctx.bezierCurveTo(-half / 3, y + sway, half / 3, y + sway2, half, y + sway / 2);
    y += gap * (0.45 + 0.55 * Math.abs(Math.sin(n * 12.9898)));
  }
  ctx.stroke();
  stage.world(ctx);
}

function drawGroove(stage, ctx, width = 1, groove = GROOVE) {
  stage.world(ctx);
  ctx.strokeStyle = inks.line;
  ctx.lineWidth = width * stage.ratio / stage.view.k;
  ctx.lineJoin = "round";
  ctx.stroke(groove);
}

const FLAG = 30; // pixels that a flag stands from its place, so that it hides neither place nor bit

// drawFlag draws the mark of a fault at a place of the canvas: a white lozenge
// with a heavy rim and a bar in it, known by its shape as well as by colour, on a
// stem that ends in the place.
function drawFlag(ctx, x, y, ratio) {
  const r = 9 * ratio, px = x, py = y - FLAG * ratio > r ? y - FLAG * ratio : y + FLAG * ratio;
  ctx.lineCap = "butt";
  for (const [width, colour] of [[4.5, "#fff"], [2, inks.fault]]) {
    ctx.strokeStyle = colour;
    ctx.lineWidth = width * ratio;
    ctx.beginPath();
    ctx.moveTo(x, y);
    ctx.lineTo(px, py);
    ctx.stroke();
  }
  ctx.fillStyle = inks.fault;
  ctx.beginPath();
  ctx.arc(x, y, 2.6 * ratio, 0, 7);
  ctx.fill();
  ctx.beginPath();
  ctx.moveTo(px, py - r);
  ctx.lineTo(px + r, py);
  ctx.lineTo(px, py + r);
  ctx.lineTo(px - r, py);
  ctx.closePath();
  ctx.fillStyle = "#fff";
  ctx.fill();
  ctx.lineJoin = "miter";
  ctx.strokeStyle = inks.fault;
  ctx.lineWidth = 2.5 * ratio;
  ctx.stroke();
  ctx.fillStyle = inks.fault;
  ctx.fillRect(px - ratio, py - 4.5 * ratio, 2 * ratio, 5.5 * ratio);
  ctx.fillRect(px - ratio, py + 2.2 * ratio, 2 * ratio, 2 * ratio);
}

// letters is the font of words of a size.
const letters = (stage, size) => `${size * stage.ratio}px ${getComputedStyle(document.body).fontFamily}`;

// lettering draws words with a rim of paper, so that they can be read on wood.
function lettering(stage, ctx, text, px, py, size = 12, align = "left") {
  ctx.font = letters(stage, size);
  ctx.textAlign = align;
  ctx.textBaseline = "middle";
  ctx.lineJoin = "round";
  ctx.lineWidth = 3.5 * stage.ratio;
  ctx.strokeStyle = "rgba(255,255,255,0.8)";
  ctx.strokeText(text, px, py);
  ctx.fillStyle = inks.line;
  ctx.fillText(text, px, py);
}
