// The sheet: the verdict, the first moves, the strands and the numbers. All
// words from outside go in as text, never as markup.

function el(tag, props = {}, ...children) {
  const e = Object.assign(document.createElement(tag), props);
  e.append(...children);
  return e;
}

const FEW = 12; // entries of a list that are shown before one asks for more
const PAPER_MOST = 500; // entries of a list that are printed
const unfolds = []; // show whole lists, for paper

// fill puts items into a list, few of them until one asks for all.
function fill(list, items, make, few = FEW) {
  const put = (n) => list.replaceChildren(...items.slice(0, n).map(make)), holder = list.closest("table") || list;
  if (holder.nextElementSibling?.matches(".more")) holder.nextElementSibling.remove();
  put(few);
  if (items.length <= few) return;
  const more = el("button", { type: "button", className: "more" }, `${few} of ${items.length} shown: show all`);
  const unfold = (n) => {
    put(n);
    if (n >= items.length) more.remove(); else more.textContent = `${n} of ${items.length} shown: show all`;
  };
  more.addEventListener("click", () => {
    unfold(items.length);
    list.children[few].querySelector("button")?.focus();
  });
  unfolds.push(() => { if (list.children.length < PAPER_MOST) unfold(Math.min(items.length, PAPER_MOST)); });
  holder.after(more);
}

// ---- may I cut?

const bySeverity = (s) => (PROGRAM ? PROGRAM.findings.filter((f) => f.severity === s) : []);
const biggest = (list) => list.reduce((a, b) => (a && a.amount >= b.amount ? a : b), null);

const BAND = 3; // faults and warnings that the band shows: the board is to be seen below it

function verdict() {
  const faults = bySeverity("error"), warnings = bySeverity("warning");
  const words = $("verdict-words");
  const against = faults.length || FAULT_MOVES.length || !COUNT;
  document.body.dataset.verdict = !PROGRAM ? "none" : against ? "no" : "yes";
  if (!PROGRAM) words.textContent = "There is no program in this job.";
  else if (faults.length) words.textContent = `No. The dry run finds ${count(faults.length, "fault", "faults")}.`;
  else if (FAULT_MOVES.length) words.textContent = `No. The dry run finds fault with ${count(FAULT_MOVES.length, "move", "moves")}.`;
  else if (!COUNT) words.textContent = "No. The program holds no move.";
  else words.textContent = "No fault found in the program.";
  const more = [];
  if (PROGRAM && !against) more.push("The board, bit, zero and clamps are taken from the job file: check them before you start the spindle.");
  if (PROGRAM) more.push(...PROGRAM.unseen);
  $("verdict-more").textContent = more.join(" ");
  if (COUNT) $("greatest").append(...greatest());
  fill($("faults"), [...faults, ...warnings], findingItem, BAND);
  const notes = bySeverity("note");
  $("notes-open").hidden = notes.length === 0;
  $("notes-count").textContent = sentence(count(notes.length, "note on the program", "notes on the program"));
  fill($("notes"), notes, findingItem);
}

function greatest() {
  const gouge = biggest(DATA.gouges), left = biggest(DATA.left.filter((s) => !s.chisel));
  const out = [];
  out.push(gouge ? el("li", {}, "Deepest overcut ", el("b", {}, long(gouge.amount)), `${ofStrand(gouge)}: `, placeButton(gouge)) : el("li", {}, "No overcut sideways."));
  if (left) out.push(el("li", {}, "Left within the bit\u2019s reach, at most ", el("b", {}, long(left.amount)), `${ofStrand(left)}: `, placeButton(left)));
  const chisel = biggest(DATA.left.filter((s) => s.chisel));
  if (chisel) out.push(el("li", {}, "Left for the chisel, at most ", el("b", {}, long(chisel.amount)), `${ofStrand(chisel)}: `, placeButton(chisel)));
  else if (!left) out.push(el("li", {}, "Nothing of the groove is left uncut."));
  return out;
}

const ofStrand = (s) => { const n = strandNear(s.at[0], s.at[1]); return n ? `, ${n}` : ""; };

function placeButton(s) {
  const b = el("button", { type: "button", className: "place" }, at(s.at[0], s.at[1]) + (s.line ? `, line ${s.line}` : ""));
  if (s.line) b.dataset.line = s.line;
  b.addEventListener("click", () => showSpot(s));
  return b;
}

function showSpot(s) {
  if (views.shown !== "machine") view("machine", true);
  if (s.line) goToLine(s.line, s.at[0], s.at[1], s.amount);
  else {
    seekMove(COUNT);
    stage.show(s.at[0], s.at[1], closeTo(s.amount));
    stage.holder.focus({ preventScroll: true });
    stage.holder.scrollIntoView({ block: "nearest" });
  }
}

function findingItem(f) {
  const item = el("li", { className: f.severity });
  const label = (f.severity === "error" ? "fault" : f.severity) + (f.line ? `, line ${f.line}` : "");
  const body = el("span", { className: "finding" }, el("span", { className: "label" }, label), " ", sentence(f.message));
  if (COUNT && (f.line || f.at)) {
    const b = el("button", { type: "button" }, body);
    b.dataset.line = f.line;
    if (f.at) b.dataset.at = f.at.join(",");
    b.addEventListener("click", () => showSpot({ line: f.line, at: f.at || [NaN, NaN], amount: DATA.gouges.find((g) => g.line === f.line)?.amount }));
    item.append(b);
  } else item.append(body);
  if (f.hint) item.append(el("span", { className: "hint" }, sentence(f.hint)));
  return item;
}

// ---- the first moves

const FIRST_MOST = 9;

function firstMoves() {
  const list = $("first-moves");
  for (let i = 0, n = 0; i < COUNT && n < FIRST_MOST; i++, n++) {
    const b = el("button", { type: "button" }, sentence(moveWords(i, 1)));
    b.dataset.line = MOVES.line[i];
    b.addEventListener("click", () => { pause(false); seekMove(i, 1); follow(); say(); });
    list.append(el("li", {}, b));
    if (kindOf(i) <= ARC && MOVES.z[i] < 0) break;
  }
  $("clears").textContent = clears();
}

// clears says how near the bit comes to a clamp.
function clears() {
  if (!DATA.clamps.length) return "No clamps are in the job: check that the bit\u2019s path clears yours.";
  let least = Infinity, line = 0;
  for (let i = 0; i < COUNT; i++) {
    if (kindOf(i) > ARC) continue;
    for (const c of DATA.clamps) {
      const gap = clampGap(i, c, least);
      if (gap < least) { least = gap; line = MOVES.line[i]; }
    }
  }
  if (least === Infinity) return "";
  if (least <= 0) return `Meets a clamp, line ${line}.`;
  return `The bit comes no nearer to a clamp than ${short(least)}, line ${line}.`;
}

// clampGap is how far a move's bit stays from a clamp: beside it, or above it
// where it passes over. Arcs are taken as chords of a sixteenth.
function clampGap(i, clamp, enough) {
  const a = startOf(i), b = endOf(i);
  if (Number.isNaN(a.x + a.y + a.z + b.x + b.y + b.z)) return Infinity;
  const n = MOVES.arcOf[i] < 0 ? 1 : 16, r = (DATA.bit || 0) / 2;
  let least = Infinity, p = a;
  for (let k = 1; k <= n; k++) {
    const q = pointAt(i, k / n);
    const beside = boxGap(clamp.box, p, q, enough + r) - r;
    least = Math.min(least, Math.max(beside, Math.min(p.z, q.z) - clamp.height));
    p = q;
  }
  return least;
}

// boxGap is how far a line is from a box; some greater number if it is more
// than enough.
function boxGap(b, p, q, enough) {
  const apart = Math.max(b[0] - Math.max(p.x, q.x), Math.min(p.x, q.x) - b[2], b[1] - Math.max(p.y, q.y), Math.min(p.y, q.y) - b[3]);
  if (apart > enough) return apart;
  let t0 = 0, t1 = 1;
  for (const [o, d, lo, hi] of [[p.x, q.x - p.x, b[0], b[2]], [p.y, q.y - p.y, b[1], b[3]]]) {
    if (d === 0) { if (o < lo || o > hi) t0 = 2; continue; }
    const u = (lo - o) / d, v = (hi - o) / d;
    t0 = Math.max(t0, Math.min(u, v));
    t1 = Math.min(t1, Math.max(u, v));
  }
  if (t0 <= t1) return 0;
  let least = Infinity;
  for (const e of [p, q]) least = Math.min(least, Math.hypot(Math.max(b[0] - e.x, 0, e.x - b[2]), Math.max(b[1] - e.y, 0, e.y - b[3])));
  for (const [x, y] of [[b[0], b[1]], [b[2], b[1]], [b[2], b[3]], [b[0], b[3]]]) least = Math.min(least, edgeDistance({ ax: p.x, ay: p.y, bx: q.x, by: q.y }, x, y));
  return least;
}

// ---- the strands

const bars = [];

// runs groups sections that follow each other by a key.
function runs(list, key) {
  const out = [];
  for (const s of list) {
    const last = out[out.length - 1];
    if (last && last.key === key(s)) last.list.push(s);
    else out.push({ key: key(s), list: [s] });
  }
  return out;
}

// merged is a run of sections as one.
const merged = (list) => ({ ...list[0], after: list[list.length - 1].after, to: list[list.length - 1].to });

// strands lists the strands in the order of cutting, each as a line of bars, one for
// each depth pass, as wide as it takes long.
function strands() {
  const strips = runs(SECTIONS, (s) => s.strand).map((r) => ({ name: r.list[0].name, list: r.list, passes: runs(r.list, (s) => s.depth.toFixed(3)).map((d) => merged(d.list)) }));
  const spent = (s) => s.to - s.from, longest = Math.max(1e-9, ...strips.map((g) => g.passes.reduce((t, s) => t + spent(s), 0)));
  $("strand-list").append(...strips.map((g, n) => {
    const name = el("button", { type: "button", className: "name" }, g.name || "no strand");
    name.dataset.strand = g.name;
    name.addEventListener("click", () => goTo(g.list[0].first));
    const line = el("div", { className: "passes" }, ...g.passes.map(bar));
    line.style.width = `${100 * g.passes.reduce((t, s) => t + spent(s), 0) / longest}%`;
    const item = el("li", { className: "strand" }, name, line, el("span", { className: "spent" }, duration(g.list[g.list.length - 1].to - g.list[0].from)));
    if (g.name && DATA.crossings.some((c) => c.over.strand === g.name || c.under.strand === g.name)) item.append(weave(g, n));
    return item;
  }));
  $("strands").hidden = SECTIONS.length === 0;
  player.watchers.push(markBars);
}

// goTo leads to the beginning of a move.
function goTo(move) {
  pause(false);
  seekMove(move);
  follow();
  say();
}

// bar is a depth pass.
function bar(s) {
  const played = el("span", { className: "played" }), b = el("button", { type: "button", className: "bar" }, played);
  b.style.flexGrow = Math.max(s.to - s.from, 1e-3);
  const says = [s.name || "no strand", depthWords(s), duration(s.to - s.from)].join(", ");
  b.setAttribute("aria-label", says);
  b.title = says;
  b.dataset.line = s.line;
  b.addEventListener("click", () => goTo(s.first));
  bars.push({ ...s, element: b, played, shown: -1 });
  return b;
}

// weave says on asking what a strand meets along its way: what it goes over and under,
// in the order of cutting, each place once.
function weave(g, n) {
  const list = el("ol", {}), summary = el("summary", {}, "Weave"), open = el("details", { id: `weave-${n}`, className: "weave" }, summary, list);
  summary.setAttribute("aria-label", `Weave of ${g.name}`);
  open.addEventListener("toggle", () => {
    if (list.firstChild) return;
    const met = new Map();
    for (const c of g.list.flatMap(crossingsOf)) if (!met.has(`${c.over} ${c.x} ${c.y}`)) met.set(`${c.over} ${c.x} ${c.y}`, c);
    list.append(...[...met.values()].map((c) => {
      const b = el("button", { type: "button", className: c.over ? "over" : "under" }, `${c.over ? "over" : "under"} ${c.other}`);
      b.addEventListener("click", () => { pause(false); seekTime(c.t); follow(); say(); });
      return el("li", {}, b);
    }));
  });
  return open;
}

// shadeBars gives the bars the shades of their depths.
function shadeBars() {
  for (const b of bars) b.element.style.setProperty("--shade", shadeOf(levelOf(-b.depth)));
}

function markBars() {
  const t = timeNow(), now = current();
  for (const b of bars) {
    const part = Math.min(1, Math.max(0, (t - b.from) / Math.max(b.to - b.from, 1e-9)));
    if (b.shown !== part) { b.shown = part; b.played.style.width = `${(100 * part).toFixed(2)}%`; }
    const here = now >= b.first && now < b.after && player.done > 0;
    if (b.here !== here) {
      b.here = here;
      if (here) b.element.setAttribute("aria-current", "step"); else b.element.removeAttribute("aria-current");
    }
  }
}

// ---- numbers

function numbers() {
  const t = PROGRAM && PROGRAM.totals, rows = [];
  const box = (b) => (b ? `X\u00a0${shortNumber(b[0])} to ${shortNumber(b[2])}, Y\u00a0${shortNumber(b[1])} to ${shortNumber(b[3])} ${UNIT}` : "not known");
  if (t) {
    rows.push(["program", PROGRAM.path], ["moves", String(COUNT)], ["run time, pauses not counted", duration(t.seconds)], ["of it cutting", duration(t.cutting)],
      ["plunging", duration(t.plunging)], ["rapids", duration(t.rapids)], ["waiting", duration(t.dwells)],
      ["cutting distance", travel(t.length)], ["rapid distance", travel(t.rapidLength)], ["extents of the bit\u2019s tip", box(t.extents)], ["lowest and highest", `Z\u00a0${number(t.lowest)} and ${number(t.highest)} ${UNIT}`],
      ["left uncut in the groove", area(t.leftArea)], ["of that within the bit\u2019s reach", area(t.missedArea)]);
  }
  rows.push(["groove", `${long(DATA.width)} wide, ${long(DATA.depth)} deep`]);
  if (DATA.bit) rows.push(["slot that the bit cuts", long(DATA.bit)]);
  if (DATA.board) rows.push(["board", box(DATA.board.box)]);
  rows.push(["crossings", String(DATA.crossings.length)]);
  if (COUNT) rows.push(...deviationRows());
  if (PROGRAM) rows.push(...PROGRAM.facts);
  $("numbers").append(...rows.map(([name, value]) => el("tr", {}, el("th", { scope: "row" }, sentence(name)), el("td", {}, value))));
}

function deviationRows() {
  const places = (list) => {
    const g = biggest(list);
    return g ? `${count(list.length, "place", "places")}, at most ${long(g.amount)}, at ${at(g.at[0], g.at[1])}` : "nowhere";
  };
  return [["faults and warnings", `${bySeverity("error").length} and ${bySeverity("warning").length}`], ["overcuts", places(DATA.gouges)],
    ["left within the bit\u2019s reach", places(DATA.left.filter((s) => !s.chisel))], ["left for the chisel", places(DATA.left.filter((s) => s.chisel))]];
}
