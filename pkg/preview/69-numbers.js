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
  const { piece, over, strand } = chosen, [ox, oy] = LAID.origin, g = shape("g", { class: "marked", transform: "scale(1 -1)", "aria-hidden": "true" });
  const put = (kind, list) => { if (list.length) g.append(shape("path", { class: kind, d: pathOf(list.flatMap((p) => p.outline)), "fill-rule": "evenodd" })); };
  if (!piece && LAID.strands[strand]) {
    const line = pathOf([LAID.strands[strand].line]), transform = `translate(${-ox} ${-oy})`;
    for (const kind of ["marked-rim", "marked-line"]) g.append(shape("path", { class: kind, d: line, transform }));
  }
  if (piece) put("piece-alike", alikes(piece).filter((p) => p !== piece));
  for (const p of new Set([over, piece])) if (p) for (const kind of ["piece-rim", p === piece ? "piece-line" : "piece-over"]) put(kind, [p]);
  const place = piece && placesOf(piece).find((q) => sees(q.at));
  if (place) for (const kind of ["arrow-rim", "arrow"]) g.append(shape("path", { class: kind, d: arrowAt(place, String(piece.number), k) }));
  return g;
}

// arrowAt points along a piece's strand, beside its number.
function arrowAt({ at, along }, text, k) {
  const from = plateSize(text).w * 0.5 + 5, to = from + 24, q = (a, b) => `${at.x + (Math.cos(along) * a - Math.sin(along) * b) / k} ${at.y + (Math.sin(along) * a + Math.cos(along) * b) / k}`;
  return `M ${q(from, 0)} L ${q(to, 0)} M ${q(to - 7, 5)} L ${q(to, 0)} L ${q(to - 7, -5)}`;
}

const plateSize = (text) => ({ w: PLATE.letter * text.length + 2 * PLATE.side, h: PLATE.high });

// sees reports whether a place is in view.
function sees({ x, y }) {
  const [left, top, w, h] = stripFigure.view;
  return x >= left && x <= left + w && -y >= top && -y <= top + h;
}

// Plates are the numbers that are seen at a scale, none of which covers another.
class Plates {
  constructor(k) {
    this.k = k;
    this.view = stripFigure.view;
    this.taken = [];
    this.group = shape("g", { class: "plates", "aria-hidden": "true" });
  }

  // box is where a plate lies, in pixels, within the picture.
  box(text, { x, y }) {
    const s = plateSize(text), [left, top, w, h] = this.view.map((v) => v * this.k), inside = (v, lo, hi) => Math.min(Math.max(v, lo), hi);
    return [inside(x * this.k - s.w / 2, left + 1, left + w - s.w - 1), inside(-y * this.k - s.h / 2, top + 1, top + h - s.h - 1), s.w, s.h];
  }

  free([x, y, w, h]) { return this.taken.length < PLATES_MOST && !this.taken.some((b) => b[0] < x + w + 2 && b[0] + b[2] + 2 > x && b[1] < y + h + 2 && b[1] + b[3] + 2 > y); }

  put(text, at, now = false) {
    const box = this.box(text, at), [x, y, width, height] = box.map((v) => v / this.k), kind = now ? "now" : "";
    const words = shape("text", { class: kind, x: x + width / 2, y: y + height / 2, dy: "0.36em", "font-size": PLATE.size / this.k });
    words.textContent = text;
    this.taken.push(box);
    this.group.append(shape("rect", { class: `plate ${kind}`, x, y, width, height, rx: 3 / this.k }), words);
  }

  // apart puts a plate on each of some pieces side by side, where all have room in a row;
  // all says whether all of them have to be seen.
  apart(list, all) {
    return placesOf(list[0]).some((_, i) => {
      const row = list.map((p) => ({ p, text: String(p.number), ...placesOf(p)[i] })).filter((q) => sees(q.at));
      if (row.length < (all ? list.length : 1) || !row.every((q) => fits(q, q.text, q.p.lengths[1] * this.k, q.p.layer.thickness * this.k) && this.free(this.box(q.text, q.at)))) return false;
      for (const q of row) this.put(q.text, q.at);
      return true;
    });
  }

  // together puts one plate on pieces side by side, where it is no longer than they are, or
  // their strand is asked for.
  together(list, asked) {
    const middle = list[list.length >> 1], text = numbersOf(list);
    const q = placesOf(middle).find(({ at, along }) => sees(at) && (asked || fits({ along }, text, middle.lengths[1] * this.k, Infinity)) && this.free(this.box(text, at)));
    if (q) this.put(text, q.at);
  }
}

// numbersOf are the numbers of pieces side by side: 37–39, or each.
function numbersOf(list) {
  const first = list[0].number, last = list[list.length - 1].number;
  if (list.length > 1 && last - first + 1 === list.length) return `${first}\u2013${last}`;
  return list.map((p) => p.number).join(" ");
}

// plates are the numbers that can be read where one looks, those of the piece and the
// strand that are asked for first.
function plates(k) {
  const all = new Plates(k), { piece, over, overAt } = chosen, asked = piece?.strand ?? chosen.strand;
  for (const p of new Set([piece, over])) {
    const at = p && (placesOf(p).find((q) => sees(q.at))?.at ?? (p === over && sees(overAt) ? overAt : null));
    if (at) all.put(String(p.number), at, true);
  }
  const [x, y, w, h] = stripFigure.view, near = ({ box: b }) => b[0] < x + w && b[2] > x && -b[3] < y + h && -b[1] > y;
  const rows = grouped(listed().filter((p) => near(p) && p !== piece && p !== over), (p) => `${p.strand} ${p.stretch}`);
  for (const list of [...rows.filter((r) => r[0].strand === asked), ...rows.filter((r) => r[0].strand !== asked)]) {
    if (!all.apart(list, true) && !all.apart(list, false)) all.together(list, list[0].strand === asked);
  }
  return all.group;
}

// fits reports whether a plate lies within so many pixels along a strand, and across it.
function fits({ along }, text, long, wide) {
  const s = plateSize(text), c = Math.abs(Math.cos(along)), n = Math.abs(Math.sin(along));
  return c * s.w + n * s.h <= long && n * s.w + c * s.h <= wide;
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
