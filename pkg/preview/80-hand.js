// The hand run: set-up by set-up the panel as it lies, and the router's base
// going round its tracks with the wall on its left. It goes by distance and not by
// time, since a hand has no feed.

const STATION_GROOVE = contoursPath(STATION.groove);
const HAND_SPEEDS = [10, 20, 50, 100, 200]; // mm a second of the picture

// LEGS are the tracks of all set-ups in order, with where each begins, in mm.
const LEGS = [];
{
  let from = 0;
  DATA.setups.forEach((setup, index) => {
    for (const track of setup.tracks) {
      if (track.spare) continue;
      const edges = measuredEdges(track.ride), length = edges.reduce((t, e) => t + e.length, 0);
      LEGS.push({ setup, index, track, edges, length, from, path: contoursPath([track.ride]) });
      from += length;
    }
  });
}
const WAY = LEGS.length ? LEGS[LEGS.length - 1].from + LEGS[LEGS.length - 1].length : 0;
const hand = { along: 0, playing: false, speed: 50, last: 0, said: 0 };

// legNow is the leg under way.
function legNow() {
  let n = LEGS.length - 1;
  while (n > 0 && LEGS[n].from > hand.along) n--;
  return n;
}

// riderAt is where the rider's centre is when s mm of a leg are done, and which
// way it goes.
const riderAt = (leg, s) => onEdges(leg.edges, s);

// gone is the path of the first s mm of a leg.
function gone(leg, s) {
  const path = new Path2D();
  path.moveTo(leg.edges[0].ax, leg.edges[0].ay);
  for (const e of leg.edges) {
    if (s <= 0) break;
    const t = Math.min(1, s / (e.length || 1));
    if (e.arc) path.arc(e.arc.cx, e.arc.cy, e.arc.r, e.arc.start, e.arc.start + e.arc.sweep * t, e.arc.sweep < 0);
    else path.lineTo(e.ax + (e.bx - e.ax) * t, e.ay + (e.by - e.ay) * t);
    s -= e.length;
  }
  return path;
}

function handBox() {
  let box = EMPTY;
  if (STATION.board) box = joinBox(box, STATION.board.box);
  for (const c of [...DATA.frame, ...DATA.setups.map((s) => s.outline)]) box = joinBox(box, contourBox(c));
  for (const l of LEGS) {
    const b = contourBox(l.track.ride), r = DATA.base / 2;
    box = joinBox(box, [b[0] - r, b[1] - r, b[2] + r, b[3] + r]);
  }
  return box[0] <= box[2] ? box : [0, 0, 100, 60];
}

class HandPicture {
  constructor(stage) {
    this.stage = stage;
    stage.paint = (now) => this.frame(now);
  }

  frame(now) {
    if (hand.playing) {
      if (hand.last) seekHand(hand.along + Math.min(now - hand.last, 250) / 1000 * hand.speed);
      hand.last = now;
      if (hand.along >= WAY) pauseHand();
    }
    this.draw();
    if (hand.playing) this.stage.redraw();
  }

  draw() {
    const { stage } = this, ctx = stage.ctx, now = legNow(), leg = LEGS[now];
    drawGround(stage, ctx, STATION.board);
    if (!leg) return;
    const s = Math.min(leg.length, hand.along - leg.from);
    stage.world(ctx);
    ctx.lineCap = ctx.lineJoin = "round";
    ctx.setLineDash([]);
    const px = stage.ratio / stage.view.k;
    this.sheet(ctx, DATA.frame, [], inks.clamp, 1, px);
    ctx.lineWidth = Math.max(DATA.routerBit, px);
    LEGS.forEach((l, i) => {
      if (i > now) return;
      ctx.strokeStyle = shadeOf(l.index < leg.index ? Math.round(LEVELS * 0.55) : LEVELS);
      ctx.stroke(i < now ? l.path : gone(l, s));
    });
    drawGroove(stage, ctx, 0.7, STATION_GROOVE);
    const spare = leg.setup.tracks.filter((t) => t.spare).map((t) => t.opening);
    this.sheet(ctx, [leg.setup.outline], leg.setup.tracks.filter((t) => !t.spare).map((t) => t.opening), inks.panel, 0.62, px);
    if (spare.length) this.leftAlone(ctx, spare, px);
    ctx.lineWidth = 2.6 * px;
    ctx.stroke(contoursPath([leg.track.opening]));
    this.rideLine(ctx, leg, px);
    this.router(ctx, leg, s);
  }

  // sheet draws a panel or a frame with its openings, so that one sees the work
  // faintly through it and clearly in the openings.
  sheet(ctx, outlines, openings, colour, alpha, px) {
    if (!outlines.length) return;
    ctx.fillStyle = colour;
    ctx.globalAlpha = alpha;
    ctx.fill(contoursPath([...outlines, ...openings]), "evenodd");
    ctx.globalAlpha = 1;
    ctx.lineWidth = 1.2 * px;
    for (const [ink, lines] of [[inks.part, outlines], [inks.opening, openings]]) {
      ctx.strokeStyle = ink;
      ctx.stroke(contoursPath(lines));
    }
  }

  // leftAlone draws openings that nothing is cut through in this set-up: dashed,
  // and covered like the panel.
  leftAlone(ctx, openings, px) {
    ctx.setLineDash([7 * px, 5 * px]);
    ctx.stroke(contoursPath(openings));
    ctx.setLineDash([]);
  }

  rideLine(ctx, leg, px) {
    ctx.strokeStyle = inks.rapid;
    ctx.lineWidth = 1.2 * px;
    ctx.setLineDash([5 * px, 4 * px]);
    ctx.stroke(leg.path);
    ctx.setLineDash([]);
  }

  // router draws the base with its facing mark, which always looks up the work,
  // the rider in the track, the bit, and where the rider bears on the wall.
  router(ctx, leg, s) {
    const p = riderAt(leg, s), { stage } = this, px = stage.ratio / stage.view.k;
    if (Number.isNaN(p.x)) return;
    const disc = (r, fill, line, width) => {
      ctx.beginPath();
      ctx.arc(p.x, p.y, r, 0, 7);
      if (fill) { ctx.globalAlpha = 0.3; ctx.fillStyle = fill; ctx.fill(); ctx.globalAlpha = 1; }
      ctx.lineWidth = width * px;
      ctx.strokeStyle = line;
      ctx.stroke();
    };
    if (DATA.base > 0) disc(DATA.base / 2, inks.left, inks.line, 2);
    if (DATA.rider > 0 && DATA.rider < DATA.base) disc(DATA.rider / 2, null, inks.line, 1.4);
    disc(Math.max(DATA.routerBit / 2, 3 * px), null, "#fff", 4);
    disc(Math.max(DATA.routerBit / 2, 3 * px), null, inks.bit, 2);
    const top = p.y + (DATA.base || DATA.rider) / 2, m = 8 * px;
    ctx.beginPath();
    ctx.moveTo(p.x, top - 2 * px); ctx.lineTo(p.x - m * 0.7, top - 2 * px - m); ctx.lineTo(p.x + m * 0.7, top - 2 * px - m);
    ctx.closePath();
    ctx.fillStyle = inks.line;
    ctx.fill();
    const cx = p.x - p.dy * DATA.rider / 2, cy = p.y + p.dx * DATA.rider / 2;
    this.arrow(ctx, p, px);
    if (!bears(leg, cx, cy)) return;
    stage.pixels(ctx);
    drawPlunge(ctx, stage.toX(cx), stage.toY(cy), stage.ratio * 1.3);
    stage.world(ctx);
  }

  // arrow shows which way the hand pushes.
  arrow(ctx, p, px) {
    const from = 8 * px + DATA.routerBit / 2, to = from + 20 * px, h = 6 * px;
    const q = (a, b) => [p.x + p.dx * a - p.dy * b, p.y + p.dy * a + p.dx * b];
    ctx.beginPath();
    ctx.moveTo(...q(from, 0)); ctx.lineTo(...q(to, 0));
    ctx.moveTo(...q(to - h, h * 0.7)); ctx.lineTo(...q(to, 0)); ctx.lineTo(...q(to - h, -h * 0.7));
    for (const [w, c] of [[5, "#fff"], [2.2, inks.line]]) { ctx.lineWidth = w * px; ctx.strokeStyle = c; ctx.stroke(); }
  }
}

const BEARS = 0.05; // mm that a wall may be off the rider's rim, for roundings of what was written

const bears = (leg, x, y) => edgesOf(leg.track.opening).some((e) => edgeDistance(e, x, y) <= BEARS);

function handWords() {
  const leg = LEGS[legNow()];
  if (!leg) return "";
  const s = Math.min(leg.length, hand.along - leg.from);
  return `Set-up ${leg.setup.number}, panel ${leg.setup.panel}, ${leg.setup.lies}; ${trackWords(leg.track)}, ${withUnit(plain(inUnits(s), INCH ? 1 : 0))} of ${withUnit(plain(inUnits(leg.length), INCH ? 1 : 0))} round its track, clockwise, wall on the left`;
}

function seekHand(along) {
  hand.along = Math.min(Math.max(along, 0), WAY);
  const now = legNow();
  $("hand-scrub").value = hand.along;
  $("hand-scrub").style.setProperty("--gone", `${100 * hand.along / (WAY || 1)}%`);
  set($("hand-told"), handWords() + ".");
  if (hand.leg !== now) {
    hand.leg = now;
    for (const b of $("setups").querySelectorAll("button")) {
      if (Number(b.dataset.index) === LEGS[now].index) b.setAttribute("aria-current", "step"); else b.removeAttribute("aria-current");
    }
  }
  handStage.redraw();
}

function sayHand() {
  $("hand-said").textContent = handWords() + ".";
  $("hand").setAttribute("aria-label", `The hand run: ${handWords()}.`);
  $("hand-scrub").setAttribute("aria-valuetext", handWords());
}

function pauseHand() {
  hand.playing = false;
  $("hand-play").dataset.playing = false;
  $("hand-play").querySelector("span").textContent = "Play";
  sayHand();
}

function playHand() {
  if (hand.along >= WAY) seekHand(0);
  hand.playing = true;
  hand.last = 0;
  $("hand-play").dataset.playing = true;
  $("hand-play").querySelector("span").textContent = "Pause";
  handStage.redraw();
}

// stepHand leads to the beginning of another set-up, or of another track.
function stepHand(by, bySetUp) {
  const starts = LEGS.filter((l, i) => !bySetUp || i === 0 || l.index !== LEGS[i - 1].index).map((l) => l.from);
  const next = by > 0 ? starts.find((s) => s > hand.along) : starts.filter((s) => s < hand.along).pop();
  if (hand.playing) pauseHand();
  seekHand(next ?? (by > 0 ? WAY : 0));
  sayHand();
}

function wireHand() {
  DATA.setups.forEach((s, index) => {
    const first = LEGS.find((l) => l.index === index);
    const b = el("button", { type: "button" }, el("b", {}, `${s.number} \u2002panel ${s.panel}`), el("span", {}, s.lies), el("span", {}, s.tracks.map(trackWords).join(", ")));
    b.dataset.index = index;
    b.disabled = !first;
    b.addEventListener("click", () => { if (hand.playing) pauseHand(); seekHand(first.from); sayHand(); });
    $("setups").append(el("li", {}, b));
  });
  const scrub = $("hand-scrub");
  scrub.max = WAY;
  scrub.step = WAY / 1000 || 1;
  scrub.addEventListener("input", () => { if (hand.playing) pauseHand(); seekHand(Number(scrub.value)); });
  scrub.addEventListener("change", sayHand);
  for (const v of HAND_SPEEDS) $("hand-speed").append(el("option", { value: v, selected: v === hand.speed }, `${plain(inUnits(v), 1)} ${UNIT}/s`));
  $("hand-speed").addEventListener("change", (e) => { hand.speed = Number(e.target.value); });
  const acts = {
    "hand-play": () => (hand.playing ? pauseHand() : playHand()), "next-setup": () => stepHand(1, true), "prev-setup": () => stepHand(-1, true),
    "next-track": () => stepHand(1, false), "prev-track": () => stepHand(-1, false),
    ...zooming("hand-in", "hand-out", "hand-whole", handStage),
  };
  for (const [id, act] of Object.entries(acts)) $(id).addEventListener("click", act);
  const to = (way) => () => { seekHand(way); sayHand(); };
  slides(handStage, { step: (by) => stepHand(by, false), leap: (by) => stepHand(by, true), first: to(0), last: to(WAY), play: acts["hand-play"] });
}
