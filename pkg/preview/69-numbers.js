// What is drawn over the inlay: the piece that is asked for, those that are cut alike, and
// the pieces' numbers, as many as can be read. Where there is no room for the numbers of
// pieces side by side, they have one plate: 37–39.

const PLATE = { letter: 6.8, side: 4, high: 15, size: 11 }; // CSS pixels: a letter, beside them, the plate, the type
const PLATES_MOST = 500;
const SEEN = 30; // CSS pixels that a piece has to be long to be found
const BROUGHT = 5; // times its size is seen round a piece that is brought nearer

// drawPieces marks what is chosen, and writes numbers.
function drawPieces() {
  const { svg } = stripFigure, k = stripFigure.scale();
  if (!svg) return;
  for (const e of svg.querySelectorAll(".marked, .plates")) e.remove();
  if (!stripFigure.own || !k) return;
  svg.append(pieceMarks(k), plates(k));
}

function pieceMarks(k) {
  const { piece, over, strand } = chosen, [ox, oy] = DATA.origin, g = shape("g", { class: "marked", transform: "scale(1 -1)", "aria-hidden": "true" });
  const put = (kind, list) => { if (list.length) g.append(shape("path", { class: kind, d: pathOf(list.flatMap((p) => p.outline)), "fill-rule": "evenodd" })); };
  if (!piece && DATA.strands[strand]) {
    const line = pathOf([DATA.strands[strand].line]), transform = `translate(${-ox} ${-oy})`;
    for (const kind of ["marked-rim", "marked-line"]) g.append(shape("path", { class: kind, d: line, transform }));
  }
  if (piece) put("piece-alike", alikes(piece).filter((p) => p !== piece));
  for (const p of new Set([over, piece])) if (p) for (const kind of ["piece-rim", p === piece ? "piece-line" : "piece-over"]) put(kind, [p]);
  if (piece) for (const kind of ["arrow-rim", "arrow"]) g.append(shape("path", { class: kind, d: arrowAt(piece, k) }));
  return g;
}

// arrowAt points along a piece's strand, beside its number.
function arrowAt({ at, along, number }, k) {
  const from = plateSize(String(number)).w * 0.5 + 5, to = from + 24, q = (a, b) => `${at.x + (Math.cos(along) * a - Math.sin(along) * b) / k} ${at.y + (Math.sin(along) * a + Math.cos(along) * b) / k}`;
  return `M ${q(from, 0)} L ${q(to, 0)} M ${q(to - 7, 5)} L ${q(to, 0)} L ${q(to - 7, -5)}`;
}

const plateSize = (text) => ({ w: PLATE.letter * text.length + 2 * PLATE.side, h: PLATE.high });

// plates are the numbers that can be read where one looks, those of the piece and the strand that are
// asked for first.
function plates(k) {
  const [x, y, w, h] = stripFigure.view, g = shape("g", { class: "plates", "aria-hidden": "true" }), taken = [];
  const seen = (p) => p.at.x >= x && p.at.x <= x + w && -p.at.y >= y && -p.at.y <= y + h;
  const inside = (v, lo, hi) => Math.min(Math.max(v, lo), hi);
  const put = (p, text, now, at = p.at) => {
    const s = plateSize(text), left = inside(at.x * k - s.w / 2, x * k + 1, (x + w) * k - s.w - 1), top = inside(-at.y * k - s.h / 2, y * k + 1, (y + h) * k - s.h - 1), box = [left - 1, top - 1, left + s.w + 1, top + s.h + 1];
    if (!now && (taken.length >= PLATES_MOST || taken.some((b) => b[0] < box[2] && b[2] > box[0] && b[1] < box[3] && b[3] > box[1]))) return;
    taken.push(box);
    const words = shape("text", { x: (left + s.w / 2) / k, y: (top + s.h / 2) / k, dy: "0.36em", "font-size": PLATE.size / k });
    words.textContent = text;
    g.append(shape("rect", { class: now ? "plate now" : "plate", x: left / k, y: top / k, width: s.w / k, height: s.h / k, rx: 3 / k }), words);
    if (now) words.setAttribute("class", "now");
  };
  const { piece, over, overAt } = chosen;
  if (piece && seen(piece)) put(piece, String(piece.number), true);
  if (over && over !== piece && (seen(over) || overAt !== over.at)) put(over, String(over.number), true, seen(over) ? over.at : overAt);
  const asks = piece?.strand ?? chosen.strand;
  const order = (list) => (list[0].strand === asks ? 0 : 1);
  for (const list of grouped(listed().filter(seen), (p) => `${p.strand} ${p.stretch}`).sort((a, b) => order(a) - order(b))) {
    if (list.every((p) => fits(p, String(p.number), p.layer.thickness, k))) for (const p of list) put(p, String(p.number), false);
    else together(list, k, asks, put);
  }
  return g;
}

// together is one plate for pieces side by side, where it is no longer than they are, or
// their strand is asked for.
function together(list, k, asks, put) {
  const middle = list[list.length >> 1], first = list[0].number, last = list[list.length - 1].number;
  const text = first === last ? String(first) : last - first + 1 === list.length ? `${first}\u2013${last}` : list.map((p) => p.number).join(" ");
  if (list[0].strand === asks || fits(middle, text, Infinity, k)) put(middle, text, false);
}

// fits reports whether a plate lies within a piece: along it, and across what is so wide.
function fits(p, text, wide, k) {
  const s = plateSize(text), c = Math.abs(Math.cos(p.along)), n = Math.abs(Math.sin(p.along));
  return c * s.w + n * s.h <= p.lengths[1] * k && n * s.w + c * s.h <= wide * k;
}

// bringPiece moves the view so far that a piece is seen, and zooms in on one too small to be found.
function bringPiece(p) {
  const k = stripFigure.scale();
  if (!k || !stripFigure.own) return;
  const [x, y, w, h] = stripFigure.view, [x0, y0, x1, y1] = p.box, size = Math.max(x1 - x0, y1 - y0);
  const inside = x0 >= x && -y1 >= y && x1 <= x + w && -y0 <= y + h;
  if (inside && size * k >= SEEN) return;
  stripFigure.show((x0 + x1) / 2, -(y0 + y1) / 2, inside || size > w || size * k < SEEN ? size * BROUGHT * Math.max(1, w / h) : w);
}
