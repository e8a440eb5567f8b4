// The strips: the inlay with the piece that one asks for marked on it, by its number, in the
// list or on the inlay itself; how that piece is cut; and the list of all, strand by strand.

const stripFigure = new Figure($("strip-holder"));

// chosen is the piece that is asked for, the one that is pointed at, the strand without a
// piece, and what of the strips is listed; see STRIPS_OF.
const chosen = { piece: null, over: null, overAt: null, strand: -1, of: "" };

// cutLength is a length of a piece, with all its decimals, as a stop is set and as the
// strips' sheet has it.
const cutLength = (mm) => inUnits(mm).toFixed(INCH ? 3 : 1);

const strandName = (i) => (LAID.strands[i] && LAID.strands[i].name) || "no strand";

// layerWords names what a piece is of: "2 bronze"; a sandwich by its materials alone.
const layerWords = (l) => [l.strip || (l.material ? "" : "sandwich"), l.material].filter(Boolean).join(" ");

// STRIPS_OF is what may be listed: all, one strip, or all strips of a material.
const STRIPS_OF = [["", "all strips", () => true]];
{
  const layers = DATA.strips.layers.toSorted((a, b) => a.strip - b.strip);
  if (new Set(layers.map((l) => l.strip)).size > 1) for (const l of layers) STRIPS_OF.push([`strip ${l.strip}`, `strip ${layerWords(l)}`, (p) => p.layer === l]);
  for (const of of grouped(layers, (l) => l.material)) if (of.length > 1 && of[0].material) STRIPS_OF.push([`of ${of[0].material}`, `all of ${of[0].material}`, (p) => of.includes(p.layer)]);
}

const listed = () => PIECES.filter(STRIPS_OF.find(([key]) => key === chosen.of)[2]);

// ---- the list

const stripRows = new Map(); // by strand: makes its rows, once

function listStrips() {
  const open = new Set([...$("strips-list").querySelectorAll("details[open]")].map((d) => d.id)), first = $("strips-list").children.length === 0;
  stripRows.clear();
  $("strips-list").replaceChildren(...grouped(listed(), (p) => p.strand).map((list, n) => strandItem(list, first ? n === 0 : open.has(`strips-${list[0].strand}`))));
  markRows();
}

// strandItem is a strand with its pieces, whose rows are made when it is opened.
function strandItem(list, open) {
  const { strand } = list[0], body = el("tbody", {}), head = ["Piece", "Strip", `Left / middle / right, ${UNIT}`, "Ends", "Bend"];
  const summary = el("summary", {}, `${strandName(strand)}, ${count(list.length, "piece", "pieces")}, ${ranges(list)}`);
  const item = el("details", { id: `strips-${strand}` }, summary,
    el("table", { className: "stacked" }, el("caption", { className: "unseen" }, `Pieces of ${strandName(strand)}`),
      el("thead", {}, el("tr", {}, ...head.map((w) => el("th", { scope: "col" }, w)))), body));
  stripRows.set(strand, () => { if (!body.firstChild) body.append(...list.map(pieceRow)); });
  item.addEventListener("toggle", () => {
    if (!item.open) return;
    stripRows.get(strand)();
    markRows();
  });
  summary.addEventListener("click", () => { if (!item.open && chosen.piece?.strand !== strand) chooseStrand(strand); });
  if (open) { item.open = true; stripRows.get(strand)(); }
  return el("li", {}, item);
}

// ranges words numbers that mostly follow each other.
function ranges(list) {
  const first = list[0].number, last = list[list.length - 1].number;
  if (list.length === 1) return `number ${first}`;
  return `${last - first + 1 === list.length ? "numbers" : "between"} ${first} ${last - first + 1 === list.length ? "to" : "and"} ${last}`;
}

const bendRadius = (p) => plain(inUnits(p.bend), INCH ? 2 : 1);
const bendWords = (p) => (p.bend ? `R\u00a0${bendRadius(p)}` : "straight");

function pieceRow(p) {
  const cell = (label, text) => { const td = el("td", {}, text); td.dataset.label = label; return td; };
  const b = el("button", { type: "button", className: "place" }, String(p.number));
  b.setAttribute("aria-label", `Piece ${p.number}`);
  const row = el("tr", { className: "piece" }, el("th", { scope: "row" }, b), el("td", { className: "of" }, layerWords(p.layer) || "strip"),
    cell(`left / middle / right, ${UNIT}`, p.lengths.map(cutLength).join(" / ")), cell("ends", p.ends.map((e) => e[0]).join(", ")), cell("bend", bendWords(p)));
  row.dataset.piece = p.number;
  return row;
}

const rowOf = (p) => $("strips-list").querySelector(`[data-piece="${p.number}"]`);

// markRows marks the row of the piece that is chosen, and of the one that is pointed at.
function markRows() {
  for (const r of $("strips-list").querySelectorAll("[aria-current], .over")) { r.removeAttribute("aria-current"); r.classList.remove("over"); }
  if (chosen.piece) rowOf(chosen.piece)?.setAttribute("aria-current", "true");
  if (chosen.over) rowOf(chosen.over)?.classList.add("over");
}

const WIDE = matchMedia("(min-width: 62.01rem)"); // the list stands beside the picture

// toRow opens the list at a piece's row, where the list has a place of its own to scroll in.
function toRow(p) {
  const item = $(`strips-${p.strand}`), list = $("strips-list");
  if (!item || !WIDE.matches) return;
  stripRows.get(p.strand)();
  item.open = true;
  const row = rowOf(p)?.getBoundingClientRect(), box = list.getBoundingClientRect();
  if (!row) return;
  if (row.top < box.top) list.scrollTop -= box.top - row.top + row.height;
  if (row.bottom > box.bottom) list.scrollTop += row.bottom - box.bottom + row.height;
}

// ---- the piece that is asked for

// choose marks a piece in the list, on the inlay and says how it is cut. from is where it was asked
// for: find, list, picture, or empty.
function choose(p, from = "") {
  chosen.piece = p;
  chosen.strand = p ? p.strand : -1;
  if (from !== "find") $("find-piece").value = p ? p.number : "";
  $("find-none").textContent = p ? "" : $("find-none").textContent;
  if (p && from !== "list") toRow(p);
  markRows();
  pieceCard();
  if (p && from !== "picture") bringPiece(p);
  drawPieces();
  if (TOP) markTop();
}

function chooseStrand(strand) {
  choose(null);
  chosen.strand = strand;
  drawPieces();
}

// point marks the piece that is pointed at, at a place of it.
function point(p, at = p?.at) {
  chosen.overAt = at;
  if (chosen.over === (p || null)) return;
  chosen.over = p || null;
  markRows();
  drawPieces();
}

// find asks for the piece whose number is typed.
function find() {
  const text = $("find-piece").value.trim(), p = /^\d+$/.test(text) ? pieceOf(Number(text)) : null;
  choose(p || null, "find");
  $("find-none").textContent = p || !text ? "" : `No piece has the number ${text}: they go from 1 to ${PIECES.length}.`;
}

// stepPiece goes to the next piece of those listed, or the one before.
function stepPiece(by) {
  const list = listed(), n = list.findIndex((p) => p === chosen.piece);
  choose(list[n < 0 ? (by > 0 ? 0 : list.length - 1) : (n + by + list.length) % list.length]);
}

function pieceCard() {
  const p = chosen.piece;
  $("piece").hidden = !p;
  if (!p) return;
  const strip = p.layer.strip ? `${p.layer.strip} from the left` : "sandwich, its strips glued to one another first";
  const far = p.ends.some((e) => e[1].includes("long point")) ? ", from long point to long point" : "";
  const alike = alikes(p), show = (q) => {
    const b = el("button", { type: "button", className: "place" }, String(q.number));
    b.setAttribute("aria-label", `Piece ${q.number}`);
    if (q === p) b.setAttribute("aria-current", "true");
    b.addEventListener("click", () => { choose(q); $("piece-title").focus({ preventScroll: true }); });
    return b;
  };
  const rows = [
    ["Strand", strandName(p.strand)],
    ["Strip", [strip, p.layer.material, p.layer.thick].filter(Boolean).join(", ")],
    ["Left / middle / right", `${p.lengths.map(cutLength).join(" / ")}\u00a0${UNIT}`],
    ["Cut first to", `${cutLength(p.cut)}\u00a0${UNIT}${far}${p.formed ? "; trimmed once it is bent" : ""}`],
    ["First end", p.ends[0][1]],
    ["Second end", p.ends[1][1]],
    ["Bend", p.bend ? `R\u00a0${withUnit(bendRadius(p))} at its tightest${p.formed ? "" : "; it springs into the groove"}` : "straight"],
    ["Cut alike", alike.length === 1 ? "no other" : el("span", {}, `${alike.length} pieces: `, ...alike.slice(0, ALIKE_MOST).map(show), alike.length > ALIKE_MOST ? `and ${alike.length - ALIKE_MOST} more` : "")],
  ];
  $("piece-title").textContent = `Piece ${p.number}`;
  $("piece-facts").replaceChildren(...rows.map(([name, value]) => el("div", {}, el("dt", {}, name), el("dd", {}, value))));
  $("piece-said").textContent = `Piece ${p.number}, ${strandName(p.strand)}, strip ${layerWords(p.layer)}, ${p.lengths.map(cutLength).join(" / ")} ${UNIT}.`;
}

const ALIKE_MOST = 40; // buttons

// ---- all of it

function stripsWords() {
  const { sandwich, allowance } = DATA.strips;
  return [
    sandwich ? "Laid as a sandwich: the strips are glued to one another first, and cut as one." : "Laid strip by strip, each with pieces of its own.",
    `Finished lengths along the left side, the middle and the right side, looking along the strand as the arrow points${allowance ? `: cut each ${allowance.replace(" ", "\u00a0")} over and trim it to fit` : ""}.`,
    "Angles are from the strip, 90° is square; long points are left or right looking out at that end.",
  ].join(" ");
}

// showStrips shows the inlay that pieces are marked on, which has to be theirs: while a job is
// watched the next one comes before its pieces do.
function showStrips(svg) {
  const all = PIECES.reduce((box, p) => joinBox(box, p.box), EMPTY), room = 0.02 * Math.max(all[2] - all[0], all[3] - all[1]);
  stripFigure.own = Boolean(svg) && svg === DATA.pictures?.inlay;
  stripFigure.put(svg, PIECES.length && stripFigure.own ? [all[0] - room, -all[3] - room, all[2] - all[0] + 2 * room, all[3] - all[1] + 2 * room] : null);
  $("strip-figure").hidden = !stripFigure.svg;
  drawPieces();
}

function strips() {
  if (!PIECES.length) return;
  $("strips-words").textContent = stripsWords();
  $("strips-of").append(...STRIPS_OF.map(([value, words]) => el("option", { value }, words)));
  $("strips-of-box").hidden = STRIPS_OF.length < 2;
  $("strips-of").addEventListener("change", () => { chosen.of = $("strips-of").value; listStrips(); drawPieces(); });
  listStrips();
  chosen.strand = -1;
  wireList();
  wirePicture();
  $("find-piece").addEventListener("input", find);
  $("find-piece").addEventListener("focus", () => $("find-piece").select());
  $("prev-piece").addEventListener("click", () => stepPiece(-1));
  $("next-piece").addEventListener("click", () => stepPiece(1));
  for (const id of ["view-strips", "tab-strips"]) $(id).addEventListener("keydown", typed);
  unfolds.push(printStrips);
}

// typed leads digits to the field for a piece's number from wherever one is in the view.
function typed(e) {
  if (e.altKey || e.ctrlKey || e.metaKey || !/^[1-9]$/.test(e.key) || e.target.matches("input, select")) return;
  $("find-piece").value = "";
  $("find-piece").focus({ preventScroll: true });
}

function wireList() {
  const list = $("strips-list"), of = (e) => pieceOf(Number(e.target.closest("[data-piece]")?.dataset.piece));
  list.addEventListener("click", (e) => { if (of(e)) choose(of(e), "list"); });
  list.addEventListener("pointerover", (e) => point(of(e)));
  list.addEventListener("pointerleave", () => point(null));
  list.addEventListener("focusin", (e) => point(of(e)));
  list.addEventListener("focusout", () => point(null));
  list.addEventListener("keydown", (e) => {
    const by = { ArrowDown: 1, ArrowUp: -1 }[e.key], row = e.target.closest(".piece");
    if (!by || !row || e.altKey || e.ctrlKey || e.metaKey || e.shiftKey) return;
    e.preventDefault();
    const rows = [...list.querySelectorAll("details[open] .piece")];
    rows[rows.indexOf(row) + by]?.querySelector("button").focus();
  });
}

function wirePicture() {
  stripFigure.anchor = () => chosen.piece && { x: chosen.piece.at.x, y: -chosen.piece.at.y };
  const at = ({ x, y }) => pieceAt(listed(), { x, y: -y }, NEAR_PIECE / (stripFigure.scale() || 1));
  stripFigure.press = (q) => { if (stripFigure.own) choose(at(q) || null, "picture"); };
  stripFigure.over = (q) => {
    const p = stripFigure.own && q && at(q);
    point(p, p && { x: q.x, y: -q.y });
  };
  stripFigure.looked = later(drawPieces);
  stripFigure.holder.addEventListener("keydown", (e) => pressed(e, stripFigure.holder, { PageDown: () => stepPiece(1), PageUp: () => stepPiece(-1), Escape: () => choose(null) }));
}

const NEAR_PIECE = 6; // CSS pixels beside a piece that still mean it

// later does something once, with the next frame.
function later(act) {
  let waiting = false;
  return () => {
    if (waiting || ENDED.aborted) return;
    waiting = true;
    requestAnimationFrame(() => { waiting = false; if (!ENDED.aborted) act(); });
  };
}

// printStrips makes the rows of the strands that are printed.
function printStrips() {
  let rows = 0;
  for (const [strand, make] of stripRows) {
    rows += listed().filter((p) => p.strand === strand).length;
    $(`strips-${strand}`).classList.toggle("left-out", rows > PAPER_MOST);
    if (rows <= PAPER_MOST) make();
  }
  $("strips-left-out").hidden = rows <= PAPER_MOST;
}

// keptStrips is what the page that is shown next is to keep, which keepStrips takes.
const keptStrips = () => ({ piece: chosen.piece?.number, of: chosen.of, view: stripFigure.view, box: stripFigure.box });

function keepStrips({ piece, of, view, box }) {
  if (STRIPS_OF.some(([key]) => key === of)) {
    $("strips-of").value = chosen.of = of;
    if (of) listStrips();
  }
  if (pieceOf(piece)) choose(pieceOf(piece), "list");
  if (view && stripFigure.svg && String(box) === String(stripFigure.box)) stripFigure.look(view);
}
