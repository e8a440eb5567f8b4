// The views of a job, one at a time under a row of tabs (W3C, WAI-ARIA Authoring
// Practices, tabs pattern, chosen as the focus comes): its motif, the inlay in its
// woods, the panels, the work by machine and by hand, and the strips.
//
// While a job is watched they come one after another, and what is not of the last save
// is grey.

// STAGES are how far a job has come, and VIEWS what there is to see of it, with the
// stage that it comes with.
const STAGES = ["", "motif", "inlay", "planned", "done"];
const VIEWS = [
  { name: "motif", from: "motif", has: () => motifFigure.svg || given.findings.length > 0 },
  { name: "inlay", from: "inlay", has: () => inlayFigure.svg },
  { name: "top", from: "done", has: () => TOP && topFigure.svg },
  { name: "panels", from: "done", has: () => DATA.setups.length > 0 },
  { name: "machine", from: "done", has: () => COUNT > 0 },
  { name: "hand", from: "done", has: () => LEGS.length > 0 },
  { name: "strips", from: "done", has: () => PIECES.length > 0 },
];

// given is what is shown besides the page's data: what comes while a job is watched.
const given = { findings: DATA.findings, state: null };
const views = { shown: "", chosen: "" }; // chosen by hand, or ""

const motifFigure = new Figure($("motif-holder"));
const inlayFigure = new Figure($("inlay-holder"));

// best is the view that answers what one wants to know first: while a job is watched,
// how it looks; and what is wrong with it, if it can't be made; of a built job whether
// the program can be cut, as the verdict says.
function best() {
  const has = (name) => VIEWS.find((v) => v.name === name).has();
  const order = given.state ? ["inlay", "motif"] : ["machine", "hand", "inlay", "motif"];
  if (given.state && given.findings.some((f) => f.severity === "error")) order.reverse();
  return order.find(has) || VIEWS.find((v) => v.has())?.name || "";
}

// view shows a view, by hand where one pressed for it.
function view(name, chosen = false) {
  if (chosen) views.chosen = name;
  views.shown = name;
  for (const v of VIEWS) {
    const tab = $(`tab-${v.name}`), on = v.name === name;
    tab.setAttribute("aria-selected", on);
    tab.tabIndex = on ? 0 : -1;
    $(`view-${v.name}`).hidden = !on;
  }
  const tab = $(`tab-${name}`), row = $("views"); // on a phone the tabs are a row that scrolls
  if (tab) row.scrollLeft = Math.max(Math.min(row.scrollLeft, tab.offsetLeft), tab.offsetLeft + tab.offsetWidth - row.clientWidth);
  for (const s of [stage, mapStage, handStage]) s.measure();
}

// offer shows the tabs of the views that there are, and one of them.
function offer() {
  for (const v of VIEWS) $(`tab-${v.name}`).hidden = !v.has();
  const there = (name) => VIEWS.some((v) => v.name === name && v.has());
  $("views").hidden = VIEWS.filter((v) => v.has()).length < 2;
  view(there(views.chosen) ? views.chosen : best());
}

function wireViews() {
  const tabs = () => VIEWS.map((v) => $(`tab-${v.name}`)).filter((t) => !t.hidden);
  for (const v of VIEWS) {
    const tab = $(`tab-${v.name}`);
    tab.addEventListener("click", () => view(v.name, true));
    tab.addEventListener("keydown", (e) => {
      const all = tabs(), n = all.indexOf(tab);
      const to = { ArrowRight: (n + 1) % all.length, ArrowLeft: (n + all.length - 1) % all.length, Home: 0, End: all.length - 1 }[e.key];
      if (to === undefined || e.altKey || e.ctrlKey || e.metaKey || e.shiftKey) return;
      e.preventDefault();
      all[to].focus();
      all[to].click();
    });
  }
  for (const [name, figure] of [["motif", motifFigure], ["inlay", inlayFigure], ["strip", stripFigure]]) {
    for (const [id, act] of Object.entries(zooming(`${name}-in`, `${name}-out`, `${name}-whole`, figure))) $(id).addEventListener("click", act);
  }
}

// ---- what comes before the whole page

// showMotif shows the motif as it is drawn, and what was found on it: the findings with
// a place have their number in it, in their order.
function showMotif(svg, findings) {
  motifFigure.put(svg || "");
  given.findings = findings || [];
  let n = 0;
  const numbered = given.findings.map((f) => ({ ...f, number: f.at ? ++n : 0 }));
  const loud = numbered.filter((f) => f.severity !== "note"), notes = numbered.filter((f) => f.severity === "note");
  fill($("motif-findings"), loud, motifFinding);
  $("motif-notes-open").hidden = notes.length === 0;
  $("motif-notes-count").textContent = count(notes.length, "note", "notes");
  fill($("motif-notes"), notes, motifFinding);
  $("motif-none").hidden = numbered.length > 0;
  $("motif-figure").hidden = !motifFigure.svg;
  offer();
}

function showInlay(svg) {
  inlayFigure.put(svg || "");
  showStrips(svg || "");
  showTop(svg && svg === DATA.pictures?.inlay ? svg : "");
  offer();
}

// motifFinding is a finding on the job; if it has a place, a button that shows it.
function motifFinding(f) {
  const item = el("li", { className: f.severity });
  const label = f.severity + (f.line ? `, ${f.file && f.file !== DATA.job ? `${f.file} ` : ""}line ${f.line}` : "");
  const body = el("span", { className: "finding" }, f.number ? el("b", { className: "number" }, String(f.number)) : "", el("span", { className: "label" }, label), " ", sentence(f.message));
  if (f.number && motifFigure.svg) {
    const b = el("button", { type: "button" }, body);
    b.dataset.line = f.line;
    b.addEventListener("click", () => showMark(f));
    item.append(b);
  } else item.append(el("div", { className: "said" }, body));
  if (f.hint) item.append(el("span", { className: "hint" }, sentence(f.hint)));
  return item;
}

const MARK_SHOWN = 4; // how much of the motif's width is seen round a mark: a quarter

// showMark brings a finding's mark in the motif's picture into the middle.
function showMark(f) {
  const name = `${f.severity} ${f.number}`, svg = motifFigure.svg;
  const titled = (words) => [...svg.querySelectorAll("title")].find((t) => t.textContent === words && t.parentNode !== svg)?.parentNode;
  const mark = titled(`place of ${name}`) || titled(name);
  if (!mark) return;
  const b = mark.getBBox(), x = b.x + b.width / 2, y = b.y + b.height / 2;
  motifFigure.show(x, y, motifFigure.box[2] / MARK_SHOWN);
  svg.querySelector(".shown-mark")?.remove();
  svg.append(shape("circle", { class: "shown-mark", cx: x, cy: y, r: Math.max(b.width, b.height) * 0.8 }));
  motifFigure.holder.focus({ preventScroll: true });
  motifFigure.holder.scrollIntoView({ block: "nearest", behavior: STILL.matches ? "auto" : "smooth" });
}

// showState says how far the job has come since it was saved:
//   stage    what is of this save: motif, inlay, planned or done; "": nothing yet
//   working  in words, what is being worked on; "": nothing
//   stale    whether something is wrong, so that what is grey is of an earlier save
//   wrong    findings that say what, where there is no motif to show them in
//   ended    whether nothing more comes
function showState(s) {
  given.state = { stage: "", working: "", stale: false, wrong: [], ended: false, ...s };
  const { stage: now, working, stale, wrong, ended } = given.state, reached = STAGES.indexOf(now);
  let grey = false;
  for (const v of VIEWS) {
    const old = STAGES.indexOf(v.from) > reached && (stale || Boolean(working));
    $(`view-${v.name}`).classList.toggle("stale", old);
    $(`tab-${v.name}`).classList.toggle("stale", old);
    grey = grey || (old && v.has());
  }
  $("verdict").classList.toggle("stale", reached < STAGES.indexOf("done") && (stale || Boolean(working)));
  const words = [];
  if (stale) words.push(grey ? "The job can\u2019t be made as it is saved now. What is grey is of an earlier save." : "The job can\u2019t be made as it is saved now.");
  if (working) words.push(`Working on: ${working}.`);
  if (ended) words.push("strapwork watch has ended: what is saved from now on is not shown.");
  set($("live-words"), words.join(" "));
  fill($("live-wrong"), wrong, motifFinding);
  // findings on an earlier save may be fixed by now: those above are all there are
  $("motif-findings").hidden = stale && wrong.length > 0;
  $("live").hidden = words.length === 0 && wrong.length === 0;
  $("live").classList.toggle("error", stale);
  if (!views.chosen) offer();
}
