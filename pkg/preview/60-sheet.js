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
function fill(list, items, make) {
  const put = (n) => list.replaceChildren(...items.slice(0, n).map(make));
  put(FEW);
  if (items.length <= FEW) return;
  const more = el("button", { type: "button", className: "more" }, `${FEW} of ${items.length} shown: show all`);
  const unfold = (n) => {
    put(n);
    if (n >= items.length) more.remove(); else more.textContent = `${n} of ${items.length} shown: show all`;
  };
  more.addEventListener("click", () => {
    unfold(items.length);
    list.children[FEW].querySelector("button")?.focus();
  });
  unfolds.push(() => { if (list.children.length < PAPER_MOST) unfold(Math.min(items.length, PAPER_MOST)); });
  (list.closest("table") || list).after(more);
}

// ---- may I cut?

const bySeverity = (s) => (PROGRAM ? PROGRAM.findings.filter((f) => f.severity === s) : []);
const biggest = (list) => list.reduce((a, b) => (a && a.amount >= b.amount ? a : b), null);

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
  if (warnings.length) more.push(`${sentence(count(warnings.length, "thing", "things"))} to look at first.`);
  $("verdict-more").textContent = more.join(" ");
  if (COUNT) $("greatest").append(...greatest());
  fill($("faults"), [...faults, ...warnings], findingItem);
  const notes = bySeverity("note");
  $("notes-open").hidden = notes.length === 0;
  $("notes-count").textContent = count(notes.length, "note", "notes");
  fill($("notes"), notes, findingItem);
}

function greatest() {
  const gouge = biggest(DATA.gouges), left = biggest(DATA.left.filter((s) => !s.chisel));
  const out = [];
  out.push(gouge ? el("li", {}, el("b", {}, long(gouge.amount)), ` at the most beyond the groove${ofStrand(gouge)}: `, placeButton(gouge)) : el("li", {}, "No overcut sideways."));
  if (left) out.push(el("li", {}, el("b", {}, long(left.amount)), ` at the most left in the groove${ofStrand(left)} that the bit could have cut: `, placeButton(left)));
  const chisel = biggest(DATA.left.filter((s) => s.chisel));
  if (chisel) out.push(el("li", {}, el("b", {}, long(chisel.amount)), ` at the most left for the chisel in the groove${ofStrand(chisel)}, where this bit can\u2019t reach: `, placeButton(chisel)));
  else if (!left) out.push(el("li", {}, "Nothing of the groove is left uncut."));
  return out;
}

const ofStrand = (s) => { const n = strandNear(s.at[0], s.at[1]); return n ? ` of ${n}` : ""; };

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
    const b = el("button", { type: "button" }, sentence(tell(i, 1)));
    b.dataset.line = MOVES.line[i];
    b.addEventListener("click", () => { pause(false); seekMove(i, 1); follow(); say(); });
    list.append(el("li", {}, b));
    if (kindOf(i) <= ARC && MOVES.z[i] < 0) break;
  }
  $("clears").textContent = clears();
}

// clears tells how near the bit comes to a clamp.
function clears() {
  if (!DATA.clamps.length) return "No clamps were told: see for yourself that the bit's way is clear of them.";
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

const BARS_MOST = 400; // bars of their own; with more sections a strand's depth is one bar
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

const merged = (list) => ({ ...list[0], role: list.length === 1 ? list[0].role : "", after: list[list.length - 1].after, to: list[list.length - 1].to, parts: list });

function strands() {
  const crowded = SECTIONS.length > BARS_MOST;
  const passes = (r) => (crowded ? [merged(r.list)] : r.list);
  const strips = runs(SECTIONS, (s) => s.strand).map((r) => ({ name: r.list[0].name, rows: runs(r.list, (s) => s.depth.toFixed(3)) }));
  const spent = (list) => list.reduce((t, s) => t + s.to - s.from, 0);
  const list = $("strand-list");
  for (const g of strips) {
    const all = g.rows.flatMap((r) => r.list);
    const name = el("button", { type: "button", className: "name" }, g.name || "no strand");
    name.dataset.strand = g.name;
    name.addEventListener("click", () => { pause(false); seekMove(all[0].first); follow(); say(); });
    // passes that are crossed often lie below each other, each with the whole width
    const stacked = g.rows.some((r) => passes(r).reduce((n, s) => n + ticksOf(s).length, 0) > TICKS_MOST);
    const longest = Math.max(1e-9, ...g.rows.flatMap((r) => (stacked ? passes(r).map((s) => s.to - s.from) : [spent(r.list)])));
    const item = el("li", { className: "strand" }, el("div", { className: "head" }, name, el("span", { className: "spent" }, duration(all[all.length - 1].to - all[0].from))));
    for (const r of g.rows) {
      const strip = el("div", { className: stacked ? "strip stacked" : "strip" });
      if (!stacked) strip.style.width = `${100 * spent(r.list) / longest}%`;
      for (const s of passes(r)) {
        const b = bar(s);
        if (stacked) b.style.width = `${100 * (s.to - s.from) / longest}%`;
        strip.append(b);
      }
      item.append(el("div", { className: "row" }, el("span", { className: "depth" }, short(r.list[0].depth)), el("div", { className: "lane" }, strip)));
    }
    list.append(item);
  }
  $("strands").hidden = SECTIONS.length === 0;
  player.watchers.push(markBars);
}

const TICKS_MOST = 14; // ticks that a row of the strip's width can hold

// ticksOf are the crossings of a bar.
const ticksOf = (s) => (s.parts || [s]).flatMap(crossingsOf);

// bar is one section as a piece of strip, with the strands that cross it.
function bar(s) {
  const fill = el("span", { className: "fill" }), played = el("span", { className: "played" });
  const b = el("button", { type: "button", className: "bar" }, fill);
  const passed = ticksOf(s), whole = Math.max(s.to - s.from, 1e-9);
  for (const c of passed) {
    const tick = el("span", { className: c.over ? "x over" : "x under" });
    tick.style.left = `${100 * (c.t - s.from) / whole}%`;
    tick.style.width = `clamp(2px, ${(60 / Math.max(passed.length, 1)).toFixed(1)}%, 7px)`;
    b.append(tick);
  }
  fill.append(played);
  b.style.flexGrow = Math.max(s.to - s.from, 1e-3);
  const says = [s.name || "no strand", depthWords(s), s.role, duration(s.to - s.from), ...passed.map((c) => `${c.over ? "over" : "under"} ${c.other}`)].filter(Boolean).join(", ");
  b.setAttribute("aria-label", says);
  b.title = says;
  b.dataset.line = s.line;
  b.addEventListener("click", (e) => {
    pause(false);
    const box = b.getBoundingClientRect();
    seekTime(e.detail ? s.from + (s.to - s.from) * Math.min(1, Math.max(0, (e.clientX - box.left) / box.width)) : s.from);
    if (!e.detail) seekMove(s.first);
    follow();
    say();
  });
  bars.push({ ...s, element: b, played, shown: -1 });
  return b;
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
  const box = (b) => (b ? `x\u00a0${shortNumber(b[0])} to ${shortNumber(b[2])}, y\u00a0${shortNumber(b[1])} to ${shortNumber(b[3])} ${UNIT}` : "not known");
  if (t) {
    rows.push(["program", PROGRAM.path], ["moves", String(COUNT)], ["time, without your stops", duration(t.seconds)], ["of it cutting", duration(t.cutting)],
      ["plunging", duration(t.plunging)], ["rapids", duration(t.rapids)], ["waiting", duration(t.dwells)],
      ["way at a feed", long(t.length)], ["way in rapids", long(t.rapidLength)], ["reach of the bit's tip", box(t.extents)], ["lowest and highest", `z\u00a0${number(t.lowest)} and ${number(t.highest)} ${UNIT}`],
      ["wood left in the groove", area(t.leftArea)], ["of it within the bit's reach", area(t.missedArea)]);
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
  const told = (list) => {
    const g = biggest(list);
    return g ? `${count(list.length, "place", "places")}, at most ${long(g.amount)}, at ${at(g.at[0], g.at[1])}` : "nowhere";
  };
  return [["faults and warnings", `${bySeverity("error").length} and ${bySeverity("warning").length}`], ["cut beyond the groove", told(DATA.gouges)],
    ["left, though the bit could reach it", told(DATA.left.filter((s) => !s.chisel))], ["left for the chisel", told(DATA.left.filter((s) => s.chisel))]];
}
