// The strips: what is cut from each of them, strand by strand, and beside the list the
// inlay with the strand, and the pieces, that one asks for marked on it.

const stripFigure = new Figure($("strip-holder"));

// cutLength is the length of a piece, which is cut with something over and fitted: to a
// tenth of a millimetre, or a thousandth of an inch, as in setup.md.
const cutLength = (mm) => plain(inUnits(mm), INCH ? 3 : 1);

const strandName = (i) => (DATA.strands[i] && DATA.strands[i].name) || "no strand";

// alikes are the pieces of a strip, those with the same lengths, ends and bend together.
function alikes(strip) {
  const kinds = new Map();
  for (const p of strip.pieces) {
    const lengths = p.lengths.map(cutLength).join(" / "), bend = p.bend ? `R ${plain(inUnits(p.bend), INCH ? 3 : 1)}` : "straight";
    const key = [lengths, bend, ...p.ends].join("|");
    if (!kinds.has(key)) kinds.set(key, { lengths, bend, ends: p.ends, places: [] });
    kinds.get(key).places.push(p.at);
  }
  return [...kinds.values()];
}

// markStrips marks a strand's line, and places, in the picture of the inlay.
function markStrips(strand, places = []) {
  const { svg } = stripFigure, [ox, oy] = DATA.origin;
  if (!svg) return;
  svg.querySelector(".marked")?.remove();
  const g = shape("g", { class: "marked", transform: `scale(1 -1) translate(${-ox} ${-oy})` });
  if (DATA.strands[strand]) for (const kind of ["marked-rim", "marked-line"]) g.append(shape("path", { class: kind, d: pathOf([DATA.strands[strand].line]) }));
  for (const [x, y] of places) g.append(shape("circle", { class: "marked-place", cx: x + ox, cy: y + oy, r: stripFigure.box[2] / 90 }));
  svg.append(g);
}

function strips() {
  const strands = runs(DATA.strips, (s) => s.strand), layers = DATA.strips.some((s) => s.layer > 0);
  $("strips-list").append(...strands.map((r, n) => {
    const open = el("details", { id: `strips-${n}`, open: n === 0 });
    const pieces = r.list.reduce((k, s) => k + s.pieces.length, 0);
    open.append(el("summary", {}, `${strandName(r.key)}, ${count(pieces, "piece", "pieces")}`));
    open.addEventListener("toggle", () => { if (open.open) markStrips(r.key); });
    const body = el("tbody", {}, ...r.list.flatMap((s) => alikes(s).map((k) => {
      const show = el("button", { type: "button", className: "place" }, `${k.places.length}\u00a0\u00d7`);
      show.setAttribute("aria-label", `Show ${count(k.places.length, "piece", "pieces")} ${k.lengths} ${UNIT} in the picture`);
      show.addEventListener("click", () => markStrips(r.key, k.places));
      const cell = (label, text) => { const td = el("td", {}, text); td.dataset.label = label; return td; };
      return el("tr", {}, el("th", { scope: "row" }, layers || s.material ? `${s.layer + 1} ${s.material}` : "strip"), el("td", {}, show), cell(`left / middle / right, ${UNIT}`, k.lengths), cell("ends", k.ends.filter(Boolean).join(", ") || "ring"), cell("bend", k.bend));
    })));
    const head = el("tr", {}, ...["Strip", "Pieces", `Left / middle / right, ${UNIT}`, "Ends", "Bend"].map((w) => el("th", { scope: "col" }, w)));
    open.append(el("table", { className: "stacked" }, el("caption", { className: "unseen" }, `Pieces of ${strandName(r.key)}`), el("thead", {}, head), body));
    return el("li", {}, open);
  }));
}
