// The panels: each with a small picture of every set-up that it is laid in, drawn as it
// lies on the work, which leads to that set-up in the hand run.

// pathOf is the path of contours in a drawing whose y is up: d as SVG has it.
function pathOf(list) {
  return list.filter((c) => c.v.length).map((c) => `M ${c.v[0]} ${c.v[1]}` + edgesOf(c).map((e) => {
    if (!e.bulge) return ` L ${e.bx} ${e.by}`;
    const r = arcOfBulge(e).r.toFixed(4);
    return ` A ${r} ${r} 0 ${Math.abs(e.bulge) > 1 ? 1 : 0} ${e.bulge > 0 ? 1 : 0} ${e.bx} ${e.by}`;
  }).join("") + (c.closed ? " Z" : "")).join(" ");
}

// boxPath is a box as a contour.
const boxContour = (b) => ({ closed: true, v: [b[0], b[1], 0, b[2], b[1], 0, b[2], b[3], 0, b[0], b[3], 0] });

// setUpPicture draws a panel as it lies, with the numbers of the cuts in its openings:
// half of the way along a strand, whose track is gone there and back.
function setUpPicture(s, box) {
  const wide = box[2] - box[0], high = box[3] - box[1], room = 0.02 * Math.max(wide, high);
  const svg = shape("svg", { viewBox: `${box[0] - room} ${-box[3] - room} ${wide + 2 * room} ${high + 2 * room}`, "aria-hidden": "true", class: "set-up" });
  const up = shape("g", { transform: "scale(1 -1)" });
  const put = (kind, list) => { if (list.length) up.append(shape("path", { class: kind, d: pathOf(list), "fill-rule": "evenodd" })); };
  put("board-area", STATION.board ? [boxContour(STATION.board.box)] : []);
  put("frame-area", DATA.frame);
  put("groove-line", STATION.groove);
  put("panel-area", [s.outline, ...s.tracks.map((t) => t.opening)]);
  put("opening-line", s.tracks.filter((t) => !t.spare).map((t) => t.opening));
  put("spare-line", s.tracks.filter((t) => t.spare).map((t) => t.opening));
  svg.append(up);
  const size = 0.05 * Math.max(wide, high);
  for (const leg of LEGS.filter((l) => l.setup === s && l.track.number)) {
    const p = riderAt(leg, leg.length / 4), words = shape("text", { x: p.x, y: -p.y, "font-size": size, dy: "0.35em" });
    words.textContent = String(leg.track.number);
    svg.append(words);
  }
  return svg;
}

// trackWords names a track of a set-up: its cut's number, the opening, and the cut.
const trackWords = (t) => (t.spare ? `${t.id || t.name}: leave alone` : t.number ? `cut ${t.number}: ${t.id} (${t.name})` : t.name);

function panels() {
  let box = EMPTY;
  if (STATION.board) box = joinBox(box, STATION.board.box);
  for (const c of [...DATA.frame, ...DATA.setups.map((s) => s.outline)]) box = joinBox(box, contourBox(c));
  const names = [...new Set(DATA.setups.map((s) => s.panel))];
  $("panel-list").append(...names.map((panel) => {
    const list = DATA.setups.map((s, index) => ({ s, index })).filter(({ s }) => s.panel === panel);
    return el("section", {}, el("h3", {}, `Panel ${panel}, ${count(list.length, "set-up", "set-ups")}`), el("ul", { className: "cards" }, ...list.map(({ s, index }) => {
      const first = LEGS.find((l) => l.index === index);
      const b = el("button", { type: "button" }, setUpPicture(s, box), el("b", {}, `Set-up ${s.number}`), el("span", {}, s.lies), el("span", {}, s.tracks.map(trackWords).join(", ")));
      b.disabled = !first;
      b.addEventListener("click", () => {
        view("hand", true);
        if (hand.playing) pauseHand();
        seekHand(first.from);
        $("tab-hand").focus();
        sayHand();
      });
      return el("li", {}, b);
    })));
  }));
}
