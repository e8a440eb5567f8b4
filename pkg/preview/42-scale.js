// The board's scale: the program's zero, axes with figures along the left and lower
// edges, and a bar of round length.

const RULES = { left: 38, bottom: 20 }; // CSS pixels that the axes take of the picture
const FIGURE_GAP = 52; // CSS pixels from one figure to the next at the least
const BAR_LEAST = 70; // CSS pixels that the scale bar is long

// roundStep is the least length of 1, 2 or 5, or those times a power of ten, in the
// page's units, that is as long as so many mm; in mm.
function roundStep(mm) {
  const ten = 10 ** Math.floor(Math.log10(inUnits(mm)) + 1e-9), most = inUnits(mm) / ten;
  return [1, 2, 5, 10].find((m) => m >= most - 1e-9) * ten * (INCH ? 25.4 : 1);
}

// roundFigure is a place on an axis, with as many decimals as its step has.
function roundFigure(mm, step) {
  return plain(inUnits(mm), Math.max(0, Math.ceil(-Math.log10(inUnits(step)) - 1e-9)));
}

function drawScale(stage, ctx) {
  const q = stage.ratio, w = ctx.canvas.width, h = ctx.canvas.height, left = stage.rules.left * q, low = h - stage.rules.bottom * q;
  stage.pixels(ctx);
  drawZero(stage, ctx);
  ctx.fillStyle = inks.ground;
  ctx.fillRect(0, 0, left, h);
  ctx.fillRect(0, low, w, h - low);
  ctx.strokeStyle = inks.line;
  ctx.lineWidth = q;
  ctx.setLineDash([]);
  ctx.beginPath();
  ctx.moveTo(left, 0);
  ctx.lineTo(left, low);
  ctx.lineTo(w, low);
  const step = roundStep(FIGURE_GAP * q / stage.view.k), small = step / (/^2/.test(inUnits(step).toExponential()) ? 4 : 5);
  const ticks = (from, to, tick) => { for (let n = Math.ceil(from / small); n * small <= to; n++) tick(n * small, Math.abs(n * small / step - Math.round(n * small / step)) < 1e-6); };
  const xs = [], ys = [];
  ticks(stage.fromX(left), stage.fromX(w), (v, full) => {
    const x = stage.toX(v);
    ctx.moveTo(x, low);
    ctx.lineTo(x, low + (full ? 6 : 3) * q);
    if (full) xs.push([v, x]);
  });
  ticks(stage.fromY(low), stage.fromY(0), (v, full) => {
    const y = stage.toY(v);
    ctx.moveTo(left, y);
    ctx.lineTo(left - (full ? 6 : 3) * q, y);
    if (full) ys.push([v, y]);
  });
  ctx.stroke();
  ctx.fillStyle = inks.line;
  ctx.font = letters(stage, 11);
  ctx.textBaseline = "middle";
  ctx.textAlign = "center";
  for (const [v, x] of xs) if (x > left + 8 * q && x < w - 14 * q) ctx.fillText(roundFigure(v, step), x, low + 13 * q);
  ctx.textAlign = "right";
  for (const [v, y] of ys) if (y > 8 * q && y < low - 4 * q) ctx.fillText(roundFigure(v, step), left - 8 * q, y);
  ctx.fillText(UNIT, left - 8 * q, low + 12 * q);
  drawBar(stage, ctx, w - 12 * q, low - 10 * q);
}

// drawBar draws the scale bar, with its right end at a place.
function drawBar(stage, ctx, x, y) {
  const q = stage.ratio, long = roundStep(BAR_LEAST * q / stage.view.k), from = x - long * stage.view.k;
  for (const [width, colour] of [[5, "rgba(255,255,255,0.8)"], [2, inks.line]]) {
    ctx.lineWidth = width * q;
    ctx.strokeStyle = colour;
    ctx.lineCap = "square";
    ctx.beginPath();
    ctx.moveTo(from, y - 4 * q);
    ctx.lineTo(from, y);
    ctx.lineTo(x, y);
    ctx.lineTo(x, y - 4 * q);
    ctx.stroke();
  }
  lettering(stage, ctx, `${roundFigure(long, long)}\u00a0${UNIT}`, (from + x) / 2, y - 10 * q, 11, "center");
}

// drawZero marks the program's zero: a disc quartered in dark and light, and which way
// x and y run from it.
function drawZero(stage, ctx) {
  if (!stage.sees({ x: 0, y: 0 })) return;
  const q = stage.ratio, x = stage.toX(0), y = stage.toY(0), r = 6.5 * q, arm = 30 * q, head = 4 * q;
  const arrows = () => {
    ctx.beginPath();
    ctx.moveTo(x, y - arm);
    ctx.lineTo(x, y);
    ctx.lineTo(x + arm, y);
    ctx.moveTo(x + arm - head, y - head);
    ctx.lineTo(x + arm, y);
    ctx.lineTo(x + arm - head, y + head);
    ctx.moveTo(x - head, y - arm + head);
    ctx.lineTo(x, y - arm);
    ctx.lineTo(x + head, y - arm + head);
    ctx.stroke();
  };
  ctx.lineJoin = ctx.lineCap = "round";
  for (const [width, colour] of [[4.5, "#fff"], [1.8, inks.line]]) { ctx.lineWidth = width * q; ctx.strokeStyle = colour; arrows(); }
  ctx.beginPath();
  ctx.arc(x, y, r, 0, 7);
  ctx.fillStyle = "#fff";
  ctx.fill();
  ctx.lineWidth = 1.5 * q;
  ctx.stroke();
  ctx.fillStyle = inks.line;
  for (const turn of [0, Math.PI]) {
    ctx.beginPath();
    ctx.moveTo(x, y);
    ctx.arc(x, y, r, turn, turn + Math.PI / 2);
    ctx.fill();
  }
  lettering(stage, ctx, "x0 y0", x + 9 * q, y - 14 * q, 11);
}
