// The board's picture: the ground, the layers of what is done, lines and words over
// them, faults, the axes, and at last the bit and what one measures.

class BoardPicture {
  constructor(stage) {
    this.stage = stage;
    this.now = null; // layers as they are shown
    this.next = null; // layers of another view, being painted
    this.frames = new Float32Array(240);
    this.frame = 0;
  }

  refresh() { this.fixed = this.now = this.next = null; this.stage.redraw(); }

  // draw paints the board with moves done and a part of the next; it
  // reports whether all of it is painted.
  draw(done, part, until) {
    const began = performance.now(), stage = this.stage;
    this.fixLayers();
    const there = this.work(done, until ?? began + SLICE);
    const ctx = stage.ctx, w = this.now;
    stage.pixels();
    ctx.drawImage(this.ground.canvas, 0, 0);
    const s = stage.view.k / w.view.k;
    const x = (w.view.x - stage.view.x) * stage.view.k + stage.canvas.width / 2 - w.wood.canvas.width / 2 * s;
    const y = stage.canvas.height / 2 - (w.view.y - stage.view.y) * stage.view.k - w.wood.canvas.height / 2 * s;
    for (const layer of [w.wood, w.way]) ctx.drawImage(layer.canvas, x, y, layer.canvas.width * s, layer.canvas.height * s);
    if (there && part > 0 && done < COUNT) this.rest(done, part);
    ctx.drawImage(this.over.canvas, 0, 0);
    this.bit(done, part);
    ctx.drawImage(this.faults.canvas, 0, 0);
    drawGauge(stage, ctx);
    this.frames[this.frame++ % this.frames.length] = performance.now() - began;
    return there;
  }

  work(done, until) {
    const stage = this.stage;
    if (!this.now) this.now = new Work(stage);
    if (this.now.fits(stage)) { this.next = null; return this.now.go(done, until); }
    if (!this.next || !this.next.fits(stage)) this.next = new Work(stage);
    if (!this.next.go(done, until)) return false;
    this.now = this.next;
    this.next = null;
    return true;
  }

  // rest paints the move that is under way, on the canvas itself.
  rest(i, part) {
    const ctx = this.stage.ctx, w = this.now, home = w.way, pens = [w.woodPen, w.wayPen];
    ctx.save();
    ctx.lineCap = ctx.lineJoin = "round";
    ctx.globalCompositeOperation = "darken";
    for (const pen of pens) pen.ctx = ctx;
    w.way = ctx;
    w.move(i, part);
    for (const pen of pens) pen.flush();
    w.woodPen.ctx = w.wood;
    w.way = w.wayPen.ctx = home;
    ctx.restore();
  }

  fixLayers() {
    const v = this.stage.view, key = `${v.x},${v.y},${v.k},${this.stage.canvas.width},${this.stage.canvas.height}`;
    if (this.fixed === key) return;
    this.fixed = key;
    for (const name of ["ground", "over", "faults"]) {
      const canvas = document.createElement("canvas");
      canvas.width = this.stage.canvas.width;
      canvas.height = this.stage.canvas.height;
      this[name] = canvas.getContext("2d");
    }
    drawGround(this.stage, this.ground);
    drawUncut(this.stage, this.ground);
    drawGroove(this.stage, this.over);
    drawClamps(this.stage, this.over);
    drawNames(this.stage, this.over);
    drawFaults(this.stage, this.faults);
    drawScale(this.stage, this.faults);
  }

  // bit draws the bit where it is: as wide as it cuts, with a cross to find it by.
  bit(done, part) {
    const p = part > 0 ? pointAt(done, part) : done > 0 ? endOf(done - 1) : { x: NaN, y: NaN, z: NaN };
    if (Number.isNaN(p.x + p.y)) return;
    const stage = this.stage, ctx = stage.ctx, s = stage.ratio, x = stage.toX(p.x), y = stage.toY(p.y);
    const r = Math.max(4 * s, (DATA.bit || 0) / 2 * stage.view.k);
    stage.pixels();
    for (const [width, colour] of [[4, "#fff"], [1.8, inks.bit]]) {
      ctx.strokeStyle = colour;
      ctx.lineWidth = width * s;
      ctx.setLineDash([]);
      ctx.beginPath();
      ctx.arc(x, y, r, 0, 7);
      for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
        ctx.moveTo(x + dx * (r + 3 * s), y + dy * (r + 3 * s));
        ctx.lineTo(x + dx * (r + 9 * s), y + dy * (r + 9 * s));
      }
      ctx.stroke();
    }
  }
}

// drawUncut draws the groove that is to be cut, lighter than the board, for the shades of
// what is cut to be seen against.
function drawUncut(stage, ctx) {
  stage.world(ctx);
  ctx.fillStyle = inks.uncut;
  ctx.fill(GROOVE, "evenodd");
}

// drawClamps draws clamps as hatched blocks with their height.
function drawClamps(stage, ctx) {
  for (const c of DATA.clamps) {
    const x0 = stage.toX(c.box[0]), x1 = stage.toX(c.box[2]), y0 = stage.toY(c.box[3]), y1 = stage.toY(c.box[1]), s = stage.ratio;
    stage.pixels(ctx);
    ctx.save();
    ctx.beginPath();
    ctx.rect(x0, y0, x1 - x0, y1 - y0);
    ctx.fillStyle = inks.clamp;
    ctx.fill();
    ctx.clip();
    ctx.strokeStyle = inks.line;
    ctx.lineWidth = 0.7 * s;
    ctx.beginPath();
    for (let d = x0 - (y1 - y0); d < x1; d += 6 * s) { ctx.moveTo(d, y1); ctx.lineTo(d + (y1 - y0), y0); }
    ctx.stroke();
    ctx.restore();
    ctx.strokeStyle = inks.line;
    ctx.lineWidth = 1.2 * s;
    ctx.strokeRect(x0, y0, x1 - x0, y1 - y0);
    if (x1 - x0 > 24 * s) lettering(stage, ctx, short(c.height), (x0 + x1) / 2, (y0 + y1) / 2, 11, "center");
  }
}


// legend has a swatch for what is uncut, and one for each depth, as they are on the board.
function legend() {
  const most = 8, each = Math.ceil(DEPTHS.length / most), last = DEPTHS[DEPTHS.length - 1];
  const entry = (colour, words) => {
    const swatch = el("span", { className: "swatch" });
    swatch.style.background = colour;
    return el("li", {}, swatch, words);
  };
  $("depths").replaceChildren(entry(inks.uncut, "uncut"), ...DEPTHS.filter((_, i) => (DEPTHS.length - 1 - i) % each === 0)
    .map((d) => entry(shadeOf(levelOf(-d)), d === last ? `${long(d)}, full depth` : `${long(d)} deep`)));
}
