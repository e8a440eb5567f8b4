// Words: numbers as a maker reads them, and where the bit is in strands and
// crossings.

const INCH = DATA.units === "in";
const UNIT = INCH ? "in" : "mm";
const inUnits = (mm) => (INCH ? mm / 25.4 : mm);

// plain writes a number with at most so many decimals, and a true minus.
function plain(v, decimals) {
  if (v === null || v === undefined || Number.isNaN(v)) return "not known";
  let s = v.toFixed(decimals);
  if (decimals > 0) s = s.replace(/\.?0+$/, "");
  return s === "-0" ? "0" : s.replace("-", "\u2212");
}

// travel is a distance that is gone, in metres or feet, as under the board.
const travel = (mm) => (INCH ? `${plain(mm / 304.8, 1)}\u00a0ft` : `${plain(mm / 1000, 1)}\u00a0m`);

const number = (mm) => plain(mm === null ? null : inUnits(mm), INCH ? 4 : 3);
const shortNumber = (mm) => plain(mm === null ? null : inUnits(mm), INCH ? 3 : 2);
const withUnit = (s) => (s === "not known" ? s : `${s}\u00a0${UNIT}`);
const long = (mm) => withUnit(number(mm));
const short = (mm) => withUnit(shortNumber(mm));
const at = (x, y) => `X\u00a0${shortNumber(x)}, Y\u00a0${short(y)}`;
const area = (mm2) => (INCH ? `${plain(mm2 / 645.16, 5)}\u00a0in²` : `${plain(mm2, 2)}\u00a0mm²`);

// fixed keeps its width while numbers run.
function fixed(mm) {
  if (Number.isNaN(mm)) return "?";
  const s = inUnits(mm).toFixed(INCH ? 4 : 3);
  return (Number(s) === 0 ? s.replace("-", "") : s).replace("-", "\u2212");
}

function clock(s) {
  const whole = Math.floor(s + 1e-9), h = Math.floor(whole / 3600), m = Math.floor(whole / 60) % 60;
  const two = (v) => String(v).padStart(2, "0");
  return h ? `${h}:${two(m)}:${two(whole % 60)}` : `${m}:${two(whole % 60)}`;
}

function duration(s) {
  if (s < 10) return `${plain(s, 1)}\u00a0s`;
  if (s < 60) return `${plain(s, 0)}\u00a0s`;
  const m = Math.floor(Math.round(s) / 60), rest = Math.round(s) % 60;
  if (m < 60) return rest ? `${m}\u00a0min ${rest}\u00a0s` : `${m}\u00a0min`;
  return `${Math.floor(m / 60)}\u00a0h ${m % 60}\u00a0min`;
}

const count = (n, one, many) => `${n === 0 ? "no" : n} ${n === 1 ? one : many}`;

// sentence begins with a capital, unless it begins with a strand's name.
const sentence = (s) => (DATA.strands.some((q) => q.name && s.startsWith(`${q.name},`)) ? s : s.charAt(0).toUpperCase() + s.slice(1));

// ---- depths

// depthsOf are the depths that a strand is cut at, shallow to deep.
const depthsOfStrand = new Map();
for (const s of SECTIONS) {
  if (!depthsOfStrand.has(s.strand)) depthsOfStrand.set(s.strand, []);
  const list = depthsOfStrand.get(s.strand);
  if (!list.some((d) => Math.abs(d - s.depth) < 1e-3)) list.push(s.depth);
}
for (const list of depthsOfStrand.values()) list.sort((a, b) => a - b);

const DEEPEST = Math.max(DATA.depth || 0, ...SECTIONS.map((s) => s.depth || 0), 1e-3);

function depthWords(s) {
  const n = depthsOfStrand.get(s.strand).findIndex((d) => Math.abs(d - s.depth) < 1e-3);
  return `depth pass ${n + 1}, ${short(s.depth)}`;
}

// ---- crossings along a section

const REACH = Math.max(DATA.width || 0, DATA.bit || 0, 1);

// nearestOn is how near a move comes to a place in plan, and when, 0 to 1.
function nearestOn(i, px, py) {
  const a = startOf(i), b = endOf(i);
  if (Number.isNaN(a.x + a.y + b.x + b.y)) return { d: Infinity, part: 0 };
  const k = MOVES.arcOf[i];
  let part;
  if (k < 0) {
    const dx = b.x - a.x, dy = b.y - a.y, l2 = dx * dx + dy * dy;
    part = l2 ? Math.min(1, Math.max(0, ((px - a.x) * dx + (py - a.y) * dy) / l2)) : 0;
  } else {
    const sweep = MOVES.sweep[k], turn = 2 * Math.PI;
    const from = Math.atan2(a.y - MOVES.cy[k], a.x - MOVES.cx[k]);
    let to = Math.atan2(py - MOVES.cy[k], px - MOVES.cx[k]) - from;
    to = sweep > 0 ? ((to % turn) + turn) % turn : -(((-to % turn) + turn) % turn);
    part = to / sweep;
    if (part > 1) part = Math.hypot(px - a.x, py - a.y) < Math.hypot(px - b.x, py - b.y) ? 0 : 1;
  }
  const q = pointAt(i, part);
  return { d: Math.hypot(px - q.x, py - q.y), part };
}

// runsAlong is how nearly a move at a part of its way runs in a direction,
// either way: 1 is along it.
function runsAlong(i, part, [ux, uy]) {
  const a = pointAt(i, Math.max(0, part - 0.01)), b = pointAt(i, Math.min(1, part + 0.01));
  const l = Math.hypot(b.x - a.x, b.y - a.y);
  return l ? Math.abs((b.x - a.x) * ux + (b.y - a.y) * uy) / l : 0;
}

// partWords names what passes at a crossing: the element, and its strand.
function partWords(p, own) {
  if (!p.part || p.part === p.strand) return p.strand === own ? "itself" : p.strand;
  return p.strand === own ? `${p.part} (same strand)` : `${p.part} of ${p.strand}`;
}

// passing is a crossing as a section meets it there: whether it is over, and what the
// other is. Which way it runs says that of a strand that crosses itself.
function passing(s, c, i, part) {
  const self = c.over.strand === c.under.strand;
  const over = self ? runsAlong(i, part, c.over.along) >= runsAlong(i, part, c.under.along) : c.over.strand === s.name;
  return { over, other: partWords(over ? c.under : c.over, s.name) };
}

const crossingCache = new Map();

// crossingsOf are the crossings that a section passes, in order: when, which
// strand crosses, and whether this one is over.
function crossingsOf(s) {
  if (crossingCache.has(s.index)) return crossingCache.get(s.index);
  const out = [];
  for (const c of DATA.crossings) {
    if (c.over.strand !== s.name && c.under.strand !== s.name) continue;
    let best = null;
    const close = () => { if (best) out.push(best); best = null; };
    for (let i = s.first; i < s.after; i++) {
      const n = nearestOn(i, c.at[0], c.at[1]);
      if (n.d > REACH) { close(); continue; }
      if (best && n.d >= best.d) continue;
      best = { d: n.d, t: startTime(i) + n.part * (MOVES.end[i] - startTime(i)), x: c.at[0], y: c.at[1],
        ...passing(s, c, i, n.part) };
    }
    close();
  }
  out.sort((a, b) => a.t - b.t);
  crossingCache.set(s.index, out);
  return out;
}

// where words a place along a section by the crossings next to it.
function where(s, t, p) {
  const list = crossingsOf(s);
  const n = list.filter((c) => c.t <= t).length;
  const last = list[n - 1], next = list[n];
  const far = (c) => (c ? Math.hypot(c.x - p.x, c.y - p.y) : Infinity);
  const near = far(last) <= far(next) ? last : next;
  const how = (c) => (c.other === "itself" ? `where it goes ${c.over ? "over" : "under"} itself` : `where ${c.other} goes ${c.over ? "under" : "over"}`);
  if (!near) return "";
  if (far(near) <= 0.75 * REACH) return `at the crossing ${how(near)}`;
  if (far(near) <= 6 * REACH) return `${near === last ? "just past" : "coming to"} the crossing ${how(near)}`;
  if (last && next) return last.other === next.other ? `between two crossings with ${next.other}` : `between the crossings with ${pair(last.other, next.other)}`;
  return last ? `past the crossing ${how(last)}` : `before the crossing ${how(next)}`;
}

// pair names two things, and says once what holds of both.
function pair(a, b) {
  const same = " (same strand)";
  return a.endsWith(same) && b.endsWith(same) ? `${a.slice(0, -same.length)} and ${b}` : `${a} and ${b}`;
}

const NEAR = 5; // widths of the groove: the tip of a sharp corner lies as far from the centre line

// strandNear names the strand whose groove a place is on or beside.
function strandNear(x, y) {
  let best = null, least = Infinity;
  for (const s of DATA.strands) {
    for (const e of edgesOf(s.line)) {
      const d = edgeDistance(e, x, y);
      if (d < least) { least = d; best = s.name; }
    }
  }
  return least <= NEAR * REACH ? best : null;
}

// ---- what a move does

function spindleAt(i) {
  let speed = 0;
  for (let k = 0; k < PROGRAM.speeds.length && PROGRAM.speeds[k] <= i; k += 2) speed = PROGRAM.speeds[k + 1];
  return { way: ["off", "clockwise", "counter-clockwise"][MOVES.flags[i] >> SPIN_SHIFT & 3], speed };
}

const LEVEL = 0.01; // mm that a move may sink and still count as level

// moveWords says what a move does, a part of it done.
function moveWords(i, part) {
  const s = sectionOf(i), p = pointAt(i, part), a = startOf(i), b = endOf(i);
  switch (kindOf(i)) {
    case DWELL: return `waits ${duration(MOVES.end[i] - startTime(i))}`;
    case TURN: {
      const spin = spindleAt(i);
      return spin.way === "off" ? "the spindle stops" : `spindle ${spin.way}, ${spin.speed} rpm`;
    }
    case STOP: return "waits for you";
    case OPTIONAL_STOP: return "waits for you, if the machine\u2019s switch says so";
    case END: return "the program ends";
    case RAPID: return tellRapid(i, s, a, b);
    default: break;
  }
  const still = a.x === b.x && a.y === b.y && MOVES.arcOf[i] < 0;
  const words = s ? [s.name || "no strand", depthWords(s)] : [];
  if (still) words.push(b.z < a.z ? `plunges to Z\u00a0${short(b.z)}` : `straight up to Z\u00a0${short(b.z)}`);
  else {
    if (s && s.role) words.push(s.role);
    if (b.z < a.z - LEVEL && b.z < 0) words.push(`ramps down to Z\u00a0${short(b.z)}`);
  }
  if (s && !still) words.push(where(s, startTime(i) + part * (MOVES.end[i] - startTime(i)), p));
  else if (!s && !still) words.push(b.z < 0 ? "cuts outside any strand" : "moves at a feed, above the work");
  return words.filter(Boolean).join(", ");
}

function tellRapid(i, s, a, b) {
  const plan = a.x !== b.x || a.y !== b.y, known = !Number.isNaN(b.x + b.y);
  if (!known || (!plan && a.z !== b.z)) return `rapid to Z\u00a0${short(b.z)} (Z only)`;
  const next = s || SECTIONS.find((q) => q.first > i);
  const height = b.z > 0 ? `${short(b.z)} above the work` : `at Z\u00a0${short(b.z)}`;
  return `rapid to ${at(b.x, b.y)}, ${height}${next && next.name ? `, towards ${next.name}` : ""}`;
}
