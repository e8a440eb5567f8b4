// The top of a table that comes apart: its sections put together, leaves in and out. Each is
// shown by what lies within its outline in the inlay's picture, which has them all; pieces are
// marked in place.

const TOP = DATA.top || null;
const topFigure = new Figure($("top-holder"));
const put = { arrangement: TOP ? TOP.arrangements.length - 1 : 0, groups: [], over: null }; // what is put together

const TOP_MARGIN = 0.03; // of the top's length, round it
const TOP_LETTERS = 13; // CSS pixels
const FEW_ARRANGED = 8; // more are chosen from a list
const AWAY = 0.3; // of its width, that a leaf goes away by

const AT_JOINT = 0.01; // mm that a piece reaches into a section by at least, to be of it

const longest = () => Math.max(...TOP.arrangements.map((a) => a.length));

// showTop draws the sections, from the picture in which all are.
function showTop(svg) {
  const from = TOP && svg ? drawing(svg) : null;
  put.groups = [];
  if (!from) { topFigure.set(null, null); return; }
  const all = shape("g", { id: `top-all-${++drawings}` }), defs = shape("defs", {});
  all.append(...[...from.children].filter((e) => e.localName !== "title" && e.localName !== "desc"));
  defs.append(all);
  const room = TOP_MARGIN * longest(), box = [-room, -TOP.width - room, longest() + 2 * room, TOP.width + 3.2 * room];
  const top = shape("svg", { viewBox: box.join(" ") });
  top.append(defs);
  put.groups = TOP.sections.map((s, i) => sectionGroup(s, i, all.id, defs));
  top.append(...put.groups.map((g) => g.outer));
  topFigure.set(top, box);
  arrange(put.arrangement);
}

// sectionGroup is a section with its front left corner at the origin.
function sectionGroup(s, i, all, defs) {
  const clip = shape("clipPath", { id: `${all}-${i}` }), d = pathOf([s.outline]);
  clip.append(shape("path", { d, transform: "scale(1 -1)" }));
  defs.append(clip);
  // written apart, since a page that asks for nothing is known by no address standing in it
  const within = shape("g", { "clip-path": `${"url"}(#${clip.id})` }), turn = shape("g", {}), outer = shape("g", { class: "top-section" });
  within.append(shape("use", { href: `#${all}`, x: -s.left }));
  const marks = shape("g", { class: "marked", transform: `scale(1 -1) translate(${-s.left} 0)`, "aria-hidden": "true" });
  within.append(marks);
  turn.append(within, shape("path", { class: "top-edge", d, transform: "scale(1 -1)" }));
  const name = shape("text", { class: "top-name" });
  name.textContent = s.name;
  outer.append(turn, name);
  return { outer, turn, marks, name };
}

// arrange puts sections together. Leaves that are out go away to the back.
function arrange(n) {
  put.arrangement = n;
  const a = TOP.arrangements[n], shift = (longest() - a.length) / 2, at = new Map(a.placed.map((p) => [p.section, p]));
  let end = shift;
  TOP.sections.forEach((s, i) => {
    const g = put.groups[i], p = at.get(i);
    if (!g) return;
    g.outer.classList.toggle("out", !p);
    g.outer.style.transform = p ? `translate(${shift + p.x}px, 0px)` : `translate(${end - s.length / 2}px, ${-AWAY * TOP.width}px)`;
    g.turn.setAttribute("transform", p?.turned ? `rotate(180 ${s.length / 2} ${-TOP.width / 2})` : "");
    if (p) end = shift + p.x + s.length;
  });
  const names = a.placed.map((p) => TOP.sections[p.section].name + (p.turned ? " (turned)" : ""));
  set($("top-words"), `${withUnit(`${shortNumber(a.length)}\u00a0\u00d7\u00a0${shortNumber(TOP.width)}`)}: ${inWords(names)}`);
  for (const b of $("arrangements").querySelectorAll("input")) b.checked = Number(b.value) === n;
  $("arrangement").value = n;
  $("top-holder").setAttribute("aria-label", `Table top, ${a.name}`);
  nameSections();
  markTop();
}

const inWords = (words) => (words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`);

// nameSections writes their names under the front edge, as large as they can be read.
function nameSections() {
  const k = topFigure.scale();
  if (!k) return;
  TOP.sections.forEach((s, i) => {
    const { name } = put.groups[i] || {};
    if (!name) return;
    for (const [key, v] of Object.entries({ x: s.length / 2, y: TOP_LETTERS * 1.4 / k, "font-size": TOP_LETTERS / k })) name.setAttribute(key, v);
  });
}

// onTop is the piece at a place of the picture; undefined: none.
function onTop({ x, y }) {
  const a = TOP.arrangements[put.arrangement], from = x - (longest() - a.length) / 2;
  const p = a.placed.find((q) => from >= q.x && from <= q.x + TOP.sections[q.section].length);
  if (!p) return undefined;
  const s = TOP.sections[p.section], at = p.turned ? { x: s.length - (from - p.x), y: TOP.width + y } : { x: from - p.x, y: -y };
  return pieceAt(PIECES, { x: at.x + s.left, y: at.y }, NEAR_PIECE / (topFigure.scale() || 1));
}

// markTop marks the piece that is chosen and the one that is pointed at.
function markTop() {
  for (const g of put.groups) g.marks.replaceChildren();
  for (const p of new Set([put.over, chosen.piece])) {
    if (!p) continue;
    TOP.sections.forEach((s, i) => {
      if (p.box[2] < s.left + AT_JOINT || p.box[0] > s.left + s.length - AT_JOINT || !put.groups[i]) return;
      for (const kind of ["piece-rim", p === chosen.piece ? "piece-line" : "piece-over"]) put.groups[i].marks.append(shape("path", { class: kind, d: pathOf(p.outline), "fill-rule": "evenodd" }));
    });
  }
  const p = put.over || chosen.piece;
  set($("top-piece-words"), p ? `Piece ${p.number}, ${strandName(p.strand)}, strip ${layerWords(p.layer)}: ${p.lengths.map(cutLength).join(" / ")}\u00a0${UNIT}` : PIECES.length ? "Press a piece to see how it is cut." : "");
  $("top-piece-go").hidden = !chosen.piece;
}

function wireTop() {
  if (!TOP) return;
  const few = TOP.arrangements.length <= FEW_ARRANGED;
  $("arrangements").hidden = !few;
  $("arrangement-box").hidden = few;
  TOP.arrangements.forEach((a, n) => {
    $("arrangement").append(el("option", { value: n }, a.name));
    const radio = el("input", { type: "radio", name: "arrangement", value: n });
    if (few) $("arrangements").append(el("label", {}, radio, el("span", {}, a.name)));
  });
  for (const id of ["arrangements", "arrangement"]) $(id).addEventListener("change", (e) => arrange(Number(e.target.value)));
  const step = (by) => () => arrange((put.arrangement + by + TOP.arrangements.length) % TOP.arrangements.length);
  topFigure.holder.addEventListener("keydown", (e) => pressed(e, topFigure.holder, { PageDown: step(1), PageUp: step(-1), Escape: () => choose(null) }));
  topFigure.looked = later(nameSections);
  topFigure.press = (q) => choose(onTop(q) || null, "top");
  topFigure.over = (q) => {
    const p = (q && onTop(q)) || null;
    if (p === put.over) return;
    put.over = p;
    markTop();
  };
  $("top-piece-go").addEventListener("click", () => { view("strips", true); choose(chosen.piece); $("tab-strips").focus(); });
  for (const [id, act] of Object.entries(zooming("top-in", "top-out", "top-whole", topFigure))) $(id).addEventListener("click", act);
}
