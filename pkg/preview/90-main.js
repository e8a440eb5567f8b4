// The page is put together. window.strapwork is for tests and for whoever wants
// to drive the page: view(name) chooses one, live are the functions of what comes before
// the whole page, seek(t) goes to a time in seconds, seekHand(mm) along the
// hand run, piece(number) chooses a piece of the strips and pieces() are all of them,
// state() gives all that is to be known, pixel(x, y) where a place
// of the work is on the board's canvas, in its own pixels; move(i) is a move
// as it was unpacked.
//
// What else may be relied on: the ids in page.html; data-ready="true" on the
// root element once the page can be used; data-verdict on the body: yes, no or
// none; data-line, and data-at as "x,y" in mm, on the buttons of findings;
// data-line on a strand's bars, data-strand on its name, data-index on set-ups; data-piece on
// the rows of the strips' pieces.

readInks();
const stage = new Stage($("board"), workBox(), RULES);
const picture = new BoardPicture(stage);
stage.paint = tick;
const mapStage = new Stage($("map"), workBox());
const map = new DeviationMap(mapStage);
const handStage = new Stage($("hand"), handBox());
const handPicture = new HandPicture(handStage);

function masthead() {
  document.body.dataset.blank = Boolean(document.documentElement.dataset.events) && !DATA.job; // a job is watched, and none of it is here yet
  $("title").textContent = DATA.title || "Untitled";
  $("origin").textContent = [DATA.job, DATA.revision && `revision ${DATA.revision}`, PROGRAM && PROGRAM.path].filter(Boolean).join(" \u00b7 ");
  $("cautions").append(...DATA.cautions.map((c) => el("li", {}, c)));
  $("cautions-box").hidden = DATA.cautions.length === 0;
  for (const e of document.querySelectorAll("[data-unit]")) e.textContent = e.dataset.unit === "feed" ? `${UNIT}/min` : UNIT;
}

function colours() {
  readInks();
  shadeBars();
  legend();
  picture.refresh();
  mapStage.redraw();
  handStage.redraw();
}

// sections lets one choose the section of a table whose program is watched.
function sections() {
  const names = DATA.others ? [DATA.first, ...DATA.others.map((o) => o.head.of)] : [];
  $("section-box").hidden = names.length < 2;
  $("program-of").append(...names.map((name, n) => el("option", { value: n, selected: n === DATA.section }, name)));
  $("program-of").addEventListener("change", (e) => window.strapwork.section(Number(e.target.value)));
}

const folded = []; // what was opened for print alone

// paper lays the page out for print: light, all views and lists whole, and all pictures
// painted through. What comes before the whole page, the motif, is printed with what was
// found on it, where that is more than notes.
function paper(on) {
  if (on) {
    document.documentElement.dataset.ink = "print";
    for (const unfold of unfolds) unfold();
    for (const v of VIEWS) $(`view-${v.name}`).hidden = !v.has() || v.name === "hand" || (v.name === "motif" && given.findings.every((f) => f.severity === "note"));
    folded.push(...document.querySelectorAll("#strips-list details:not([open]):not(.left-out), #verdict details:not([open])"));
    for (const s of [stage, mapStage]) s.measure();
  } else {
    delete document.documentElement.dataset.ink;
    view(views.shown);
  }
  for (const d of folded) d.open = on;
  if (!on) folded.length = 0;
  colours();
  while (!picture.draw(player.done, player.part, performance.now() + 1000));
  map.draw();
  handPicture.draw();
}

wireViews();
wireTop();
sections();
if (KEPT) {
  views.chosen = KEPT.chosen;
  given.state = KEPT.state;
}
masthead();
verdict();
strands();
numbers();
mapText();
spotTable();
panels();
for (const words of document.querySelectorAll(".of-program")) words.hidden = !PROGRAM;
strips();
colours();
showInlay(DATA.pictures?.inlay);
showMotif(DATA.pictures?.motif || "", DATA.findings);
if (given.state) showState(given.state);
if (COUNT) {
  wirePlayer();
  firstMoves();
  seekMove(0);
  pictureText();
}
if (LEGS.length) {
  wireHand();
  seekHand(0);
  sayHand();
}
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", colours, { signal: ENDED });
window.addEventListener("beforeprint", () => paper(true), { signal: ENDED });
window.addEventListener("afterprint", () => paper(false), { signal: ENDED });

const live = { motif: showMotif, inlay: showInlay, state: showState };
window.strapwork = {
  live,
  seek(t) { pause(false); seekTime(t); say(); },
  seekHand(mm) { if (hand.playing) pauseHand(); seekHand(mm); sayHand(); },
  move: (i) => ({ ...endOf(i), end: MOVES.end[i], feed: MOVES.feed[i], line: MOVES.line[i], flags: MOVES.flags[i],
    arc: MOVES.arcOf[i] < 0 ? null : ["cx", "cy", "sweep"].map((n) => MOVES[n][MOVES.arcOf[i]]) }),
  view: (name) => view(name, true),
  piece: (number) => choose(pieceOf(number) || null),
  pieces: () => PIECES,
  pixel: (x, y) => [stage.toX(x), stage.toY(y)],
  state() {
    const p = place(), i = current(), s = COUNT ? sectionOf(i) : null, leg = LEGS[legNow()];
    return {
      ready: true, playing: player.playing, painted: player.painted && !stage.waiting, time: timeNow(), total: TOTAL, moves: COUNT, done: player.done, part: player.part,
      line: COUNT ? MOVES.line[i] : 0, strand: s ? s.name : "", depth: s ? s.depth : 0, x: p.x, y: p.y, z: p.z, told: COUNT ? words() : "",
      across: acrossWords(across()), faults: FAULT_MOVES.length, shown: views.shown, view: { ...stage.view }, frames: Array.from(picture.frames),
      hand: leg ? { playing: hand.playing, along: hand.along, way: WAY, setup: leg.setup.number, track: leg.track.name, ...riderAt(leg, hand.along - leg.from) } : null,
    };
  },
};
if (KEPT) {
  for (const [id, open] of KEPT.open) if ($(id)) $(id).open = open;
  if (KEPT.strips) keepStrips(KEPT.strips);
  if (TOP?.arrangements[KEPT.put] && topFigure.svg) arrange(KEPT.put);
  $(KEPT.focus)?.focus({ preventScroll: true });
  window.scrollTo({ top: KEPT.scroll, behavior: "instant" });
  if (COUNT && KEPT.time) seekTime(Math.min(KEPT.time, TOTAL));
  if (KEPT.view && String(KEPT.box) === String(stage.box)) stage.setView(KEPT.view);
}
document.documentElement.dataset.ready = "true";

// What the next page is to keep of this one, and how to show what comes before it.
return {
  kept: () => ({
    time: timeNow(), view: stage.view, box: stage.box, chosen: views.chosen, state: given.state, put: put.arrangement, strips: keptStrips(),
    open: [...document.querySelectorAll("main details[id]")].map((e) => [e.id, e.open]), focus: document.activeElement?.id, scroll: window.scrollY,
  }),
  ...live,
};
