// The player: which moves are done, how much of the next, and the controls that
// change it. Who shows something of it adds itself to player.watchers.

const SPEEDS = [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500];
const WHOLE_IN = 40; // seconds that the first choice of speed takes for a whole program
const SAY_EVERY = 1000; // ms between two texts of the canvas while it plays

const player = {
  done: 0, // moves that are done
  part: 0, // of the move after them, 0 to below 1
  playing: false,
  speed: 1,
  painted: false,
  watchers: [],
};

const timeNow = () => (player.done < COUNT ? startTime(player.done) + player.part * (MOVES.end[player.done] - startTime(player.done)) : TOTAL);

// current is the move that is shown: the one under way, or the last one done.
const current = () => (player.part > 0 ? player.done : Math.max(0, player.done - 1));

function seekTime(t) {
  const time = Math.min(Math.max(t, 0), TOTAL);
  player.done = time >= TOTAL ? COUNT : time > 0 ? upper(MOVES.end, time) : 0; // what takes no time at the beginning is still to come then
  const long = player.done < COUNT ? MOVES.end[player.done] - startTime(player.done) : 0;
  player.part = long > 0 ? Math.min((time - startTime(player.done)) / long, 1 - 1e-9) : 0;
  changed();
}

function seekMove(done, part = 0) {
  player.done = Math.min(Math.max(done, 0), COUNT);
  player.part = player.done < COUNT && part < 1 ? part : 0;
  if (part >= 1) player.done = Math.min(player.done + 1, COUNT);
  changed();
}

function changed() {
  lines.asked = 0;
  for (const w of player.watchers) w();
}

function stepMove(by) {
  pause(false);
  if (by < 0 && player.part > 0) seekMove(player.done);
  else seekMove(player.done + by);
  follow();
  say();
}

// STRAND_STARTS are the moves at which another strand begins.
const STRAND_STARTS = SECTIONS.filter((s, i) => i === 0 || s.strand !== SECTIONS[i - 1].strand).map((s) => s.first);

function stepStrand(by) {
  pause(false);
  const next = by > 0 ? STRAND_STARTS.find((m) => m > player.done) : STRAND_STARTS.filter((m) => m < player.done).pop();
  seekMove(next === undefined ? (by > 0 ? COUNT : 0) : next);
  follow();
  say();
}

function stepFault(by) {
  const list = FAULT_MOVES, from = current();
  if (!list.length) return;
  const next = by > 0 ? list.find((m) => m > from) : list.filter((m) => m < from).pop();
  goToMove(next === undefined ? list[by > 0 ? 0 : list.length - 1] : next);
}

function play() {
  if (!COUNT) return;
  if (player.done >= COUNT) seekMove(0);
  player.playing = true;
  player.last = 0;
  shown();
  stage.redraw();
}

function pause(speak = true) {
  if (!player.playing) return;
  player.playing = false;
  shown();
  showAcross();
  if (speak) say();
}

// shown brings the play button up to date.
function shown() {
  const b = $("play");
  b.dataset.playing = player.playing;
  b.querySelector("span").textContent = player.playing ? "Pause" : "Play";
}

const words = () => (player.done === 0 && player.part === 0 ? "before the first move" : moveWords(current(), player.part > 0 ? player.part : 1));

// say speaks the place for those who can't see it, and only when things have come to rest.
function say() {
  const text = `${sentence(words())}. Line ${MOVES.line[current()]}, ${duration(timeNow())} of ${duration(TOTAL)}.`;
  $("said").textContent = text;
  pictureText();
}

function pictureText() {
  const p = place();
  $("board").setAttribute("aria-label", `The board with what is cut at ${duration(timeNow())} of ${duration(TOTAL)}: ${words()}. ` +
    `The bit is at ${Number.isNaN(p.x + p.y) ? "a place not yet known" : `${at(p.x, p.y)}, z ${short(p.z)}`}. ${count(faultPlaces.length, "fault", "faults")} marked.`);
}

function place() {
  if (player.part > 0) return pointAt(player.done, player.part);
  return player.done > 0 ? endOf(player.done - 1) : { x: NaN, y: NaN, z: NaN };
}

// follow keeps the bit in sight.
function follow() {
  const p = place();
  if (!Number.isNaN(p.x + p.y)) stage.reveal(p.x, p.y);
}

// goToMove leads to a faulty move: to the place where it is at fault, closely seen.
function goToMove(i, x = NaN, y = NaN, amount = 0) {
  pause(false);
  const placed = !Number.isNaN(x + y);
  seekMove(i, placed ? Math.max(nearestOn(i, x, y).part, 1e-6) : 1);
  const p = placed ? { x, y } : endOf(i);
  if (!Number.isNaN(p.x + p.y)) stage.show(p.x, p.y, closeTo(amount));
  stage.holder.focus({ preventScroll: true });
  stage.holder.scrollIntoView({ block: "nearest", behavior: STILL.matches ? "auto" : "smooth" });
  say();
}

const CLOSE = Math.max(25, 10 * REACH); // mm that are seen of a place
const ENLARGED = 150; // how many times a deviation's amount is seen around it

// closeTo is how much is seen of a place, in mm: little enough for a deviation
// of that amount to be made out, where there is one.
const closeTo = (amount) => (amount > 0 ? Math.min(CLOSE, Math.max(3 * (DATA.bit || 1), ENLARGED * amount)) : CLOSE);

// goToLine leads to a line of the program: to its move at fault, or to a move of
// it, or of the lines after it.
function goToLine(line, x, y, amount) {
  const [first, after] = stepsOfLines(line, line);
  const moves = Array.from({ length: after - first }, (_, i) => first + i);
  goToMove(moves.find(faulty) ?? moves.find((i) => kindOf(i) <= ARC) ?? Math.min(first, COUNT - 1), x, y, amount);
  if (moves.length === 0) $("lines-open").open = true; // a line that moves nothing is to be read
  lines.asked = line;
  showLines();
}

// ---- what is read off

const OUT = Object.fromEntries(["x", "y", "z", "feed", "time", "line", "strand"].map((n) => [n, $(`out-${n}`)]));

function set(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

function readout() {
  const i = current(), p = place(), s = sectionOf(i), t = timeNow();
  set(OUT.x, fixed(p.x));
  set(OUT.y, fixed(p.y));
  set(OUT.z, fixed(p.z));
  set(OUT.feed, kindOf(i) === RAPID ? "rapid" : kindOf(i) <= ARC ? plain(inUnits(MOVES.feed[i]), INCH ? 1 : 0) : "still");
  set(OUT.time, `${clock(t)} of ${clock(Math.round(TOTAL))}`);
  set(OUT.line, String(MOVES.line[i]));
  set(OUT.strand, s && s.name ? s.name : "none");
  set($("gone-cut"), travelled(GONE.cut));
  set($("gone-rapid"), travelled(GONE.rapid));
  set($("told"), sentence(words()));
  const scrub = $("scrub");
  scrub.value = t;
  if (!player.playing) scrub.setAttribute("aria-valuetext", timeText(t, p, s));
  scrub.style.setProperty("--gone", `${TOTAL ? 100 * t / TOTAL : 0}%`);
}

// timeText is the time, the strand and the depth, in words.
function timeText(t, p, s) {
  const depth = Number.isNaN(p.z) ? "" : p.z < 0 ? `${long(-p.z)} deep` : "above the work";
  return [`${duration(t)} of ${duration(TOTAL)}`, s && s.name ? s.name : player.done > 0 ? "between strands" : "before the first move", depth].filter(Boolean).join(", ");
}

// ---- how far it has gone

// GONE are the mm that all moves up to one, and it, go at a feed and as rapids.
const GONE = (() => {
  const cut = new Float64Array(COUNT + 1), rapid = new Float64Array(COUNT + 1);
  for (let i = 0; i < COUNT; i++) {
    const l = lengthOf(i);
    cut[i + 1] = cut[i] + (kindOf(i) === LINE || kindOf(i) === ARC ? l : 0);
    rapid[i + 1] = rapid[i] + (kindOf(i) === RAPID ? l : 0);
  }
  return { cut, rapid };
})();

// lengthOf is how long a move's way is; of an axis whose place wasn't known, nothing.
function lengthOf(i) {
  const a = startOf(i), b = endOf(i), k = MOVES.arcOf[i], or0 = (v) => (Number.isNaN(v) ? 0 : v);
  if (kindOf(i) > ARC) return 0;
  const plan = k < 0 ? Math.hypot(or0(b.x - a.x), or0(b.y - a.y)) : or0(Math.hypot(a.x - MOVES.cx[k], a.y - MOVES.cy[k]) * Math.abs(MOVES.sweep[k]));
  return Math.hypot(plan, or0(b.z - a.z));
}

// travelled says how far of its whole way the bit has gone, in metres or feet.
function travelled(way) {
  const [per, unit] = INCH ? [304.8, "ft"] : [1000, "m"], whole = way[COUNT];
  const now = player.done < COUNT ? way[player.done] + player.part * (way[player.done + 1] - way[player.done]) : whole;
  return `${(now / per).toFixed(1)} of ${(whole / per).toFixed(1)}\u00a0${unit}`;
}

// ---- wiring

function speedChoices() {
  const wanted = TOTAL / WHOLE_IN;
  player.speed = SPEEDS.reduce((a, b) => (Math.abs(Math.log(b / wanted)) < Math.abs(Math.log(a / wanted)) ? b : a));
  for (const s of SPEEDS) {
    const name = s === 1 ? "real time" : `${s === 0.5 ? "½" : s}×`;
    $("speed").append(el("option", { value: s, selected: s === player.speed }, name));
  }
  $("speed").addEventListener("change", (e) => { player.speed = Number(e.target.value); });
}

function wirePlayer() {
  speedChoices();
  const scrub = $("scrub");
  scrub.max = TOTAL;
  scrub.step = TOTAL / 1000 || 1;
  scrub.addEventListener("input", () => { pause(false); seekTime(Number(scrub.value)); });
  scrub.addEventListener("change", () => { follow(); say(); });
  const acts = {
    play: () => (player.playing ? pause() : play()), "next-move": () => stepMove(1), "prev-move": () => stepMove(-1),
    "next-strand": () => stepStrand(1), "prev-strand": () => stepStrand(-1), "next-fault": () => stepFault(1),
    ...zooming("zoom-in", "zoom-out", "whole", stage),
  };
  for (const [id, act] of Object.entries(acts)) $(id).addEventListener("click", act);
  $("next-fault").hidden = FAULT_MOVES.length === 0;
  const to = (move) => () => { pause(false); seekMove(move); say(); };
  slides(stage, { step: stepMove, leap: stepStrand, first: to(0), last: to(COUNT), play: acts.play });
  $("lines-open").addEventListener("toggle", showLines);
  wireGauge();
  stage.anchor = () => {
    const p = gauge.on ? gauge.at : place();
    return Number.isNaN(p.x + p.y) ? null : p;
  };
  player.watchers.push(() => stage.redraw(), readout, showLines, showAcross);
}

// tick is a frame of the board.
function tick(now) {
  if (player.playing) {
    if (player.last) seekTime(timeNow() + Math.min(now - player.last, 250) / 1000 * player.speed);
    player.last = now;
    if (player.done >= COUNT) pause();
    else if (!(now - player.said < SAY_EVERY)) { player.said = now; pictureText(); }
  }
  player.painted = picture.draw(player.done, player.part);
  if (!player.painted || player.playing) stage.redraw();
}
