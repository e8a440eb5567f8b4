// The map of deviations: what is out and what is left, each as a disc at its
// place, many times as large as it is, and its true outline once one is near
// enough to see it; and the table of the same.

const DISC = 22; // pixels of the greatest disc's radius
const DISC_LEAST = 5;
const LABEL_HIGH = 13; // pixels

const SPOTS = [
  ...DATA.gouges.map((s) => ({ ...s, kind: "out" })),
  ...DATA.left.map((s) => ({ ...s, kind: s.chisel ? "chisel" : "left" })),
].map((s, i) => ({ ...s, number: i, path: contoursPath(s.loops) }));

const KINDS = {
  out: { words: "overcut", name: "overcut" },
  left: { words: "left within the bit\u2019s reach", name: "left" },
  chisel: { words: "left for the chisel", name: "for the chisel" },
};
const RANK = { out: 0, left: 1, chisel: 2 };

class DeviationMap {
  constructor(stage) {
    this.stage = stage;
    stage.paint = () => this.draw();
    this.greatest = {};
    for (const kind of Object.keys(KINDS)) this.greatest[kind] = biggest(SPOTS.filter((s) => s.kind === kind));
  }

  // factor is how many times as large a kind is drawn when all is in view.
  factor(kind) {
    const g = this.greatest[kind];
    if (!g || !(g.amount > 0)) return 0;
    const raw = DISC * this.stage.ratio / (g.amount * this.stage.fit().k), ten = 10 ** Math.floor(Math.log10(raw));
    return [5, 2, 1].find((m) => m * ten <= raw) * ten;
  }

  radius(s) { return Math.max(DISC_LEAST * this.stage.ratio, s.amount * this.factor(s.kind) * this.stage.fit().k); }

  draw() {
    const { stage } = this, ctx = stage.ctx;
    drawGround(stage, ctx);
    ctx.setLineDash([]);
    drawGroove(stage, ctx, 0.8);
    const order = [...SPOTS].sort((a, b) => RANK[b.kind] - RANK[a.kind] || a.amount - b.amount);
    for (const s of order) this.outline(s, ctx);
    for (const s of order) this.disc(s, ctx);
    this.labels(ctx);
    for (const kind of Object.keys(KINDS)) {
      const f = this.factor(kind), key = $(`key-${kind}`);
      key.hidden = !f;
      if (f) set(key.querySelector("span"), `${KINDS[kind].words}, ${count(SPOTS.filter((s) => s.kind === kind).length, "place", "places")}: circles drawn ${plain(f, 2)}x`);
    }
  }

  outline(s, ctx) {
    const { stage } = this;
    stage.world(ctx);
    ctx.lineWidth = 1.2 * stage.ratio / stage.view.k;
    ctx.strokeStyle = ctx.fillStyle = s.kind === "out" ? inks.fault : inks.left;
    ctx.globalAlpha = 0.45;
    ctx.fill(s.path, "evenodd");
    ctx.globalAlpha = 1;
    ctx.stroke(s.path);
  }

  disc(s, ctx) {
    const { stage } = this, q = stage.ratio, x = stage.toX(s.at[0]), y = stage.toY(s.at[1]), r = this.radius(s);
    stage.pixels(ctx);
    ctx.beginPath();
    ctx.arc(x, y, r, 0, 7);
    ctx.globalAlpha = 0.25;
    ctx.fillStyle = s.kind === "out" ? inks.fault : "#fff";
    ctx.fill();
    ctx.globalAlpha = 1;
    for (const [width, colour] of [[4.5, "#fff"], [s.kind === "chisel" ? 1.5 : 2.5, s.kind === "out" ? inks.fault : inks.left]]) {
      ctx.setLineDash(s.kind === "chisel" && colour !== "#fff" ? [3 * q, 3 * q] : []);
      ctx.lineWidth = width * q;
      ctx.strokeStyle = colour;
      ctx.stroke();
    }
    ctx.setLineDash([]);
    if (s.kind === "out") this.cross(ctx, x, y, Math.min(r, 5 * q), q);
  }

  cross(ctx, x, y, r, q) {
    ctx.beginPath();
    ctx.moveTo(x - r, y - r); ctx.lineTo(x + r, y + r);
    ctx.moveTo(x + r, y - r); ctx.lineTo(x - r, y + r);
    ctx.lineWidth = 2 * q;
    ctx.strokeStyle = inks.fault;
    ctx.stroke();
  }

  // labels writes the greatest of each kind near its disc.
  labels(ctx) {
    const { stage } = this, q = stage.ratio;
    Object.keys(KINDS).forEach((kind, i) => {
      const s = this.greatest[kind], at = s && labelAt(stage, DATA.labels.spots[i]);
      if (!at) return;
      const text = `${long(s.amount)} ${KINDS[kind].name}`;
      ctx.font = letters(stage, LABEL_HIGH);
      const wide = ctx.measureText(text).width / 2;
      const x = Math.max(wide, Math.min(stage.canvas.width - wide, at.x)); // what is at the picture's side
      this.leader(ctx, s, { x, y: at.y, wide, high: LABEL_HIGH * q / 2 });
      lettering(stage, ctx, text, x, at.y, LABEL_HIGH, "center");
    });
  }

  // leader joins a label to its disc.
  leader(ctx, s, box) {
    const { stage } = this, x = stage.toX(s.at[0]), y = stage.toY(s.at[1]);
    const toX = Math.max(box.x - box.wide, Math.min(box.x + box.wide, x)), toY = Math.max(box.y - box.high, Math.min(box.y + box.high, y));
    const far = Math.hypot(toX - x, toY - y), r = this.radius(s);
    if (far <= r) return;
    stage.pixels(ctx);
    ctx.setLineDash([]);
    for (const [width, colour] of [[3, "#fff"], [1, inks.left]]) {
      ctx.beginPath();
      ctx.moveTo(x + (toX - x) * r / far, y + (toY - y) * r / far);
      ctx.lineTo(toX, toY);
      ctx.lineWidth = width * stage.ratio;
      ctx.strokeStyle = colour;
      ctx.stroke();
    }
  }
}

function mapText() {
  const parts = Object.keys(KINDS).map((kind) => {
    const of = SPOTS.filter((s) => s.kind === kind), g = biggest(of);
    return g ? `${count(of.length, "place", "places")} ${KINDS[kind].words}, at most ${long(g.amount)} at ${at(g.at[0], g.at[1])}` : "";
  }).filter(Boolean);
  const text = parts.length ? sentence(parts.join("; ")) + "." : PROGRAM ? "No overcut, and nothing is left." : "There is no program to hold against the groove.";
  $("map").setAttribute("aria-label", `The groove and where the program leaves it. ${text}`);
  $("map-words").textContent = text;
}

function spotTable() {
  for (const [id, act] of Object.entries(zooming("map-in", "map-out", "map-whole", mapStage))) $(id).addEventListener("click", act);
  $("spots-box").hidden = SPOTS.length === 0;
  const rows = [...SPOTS].sort((a, b) => RANK[a.kind] - RANK[b.kind] || b.amount - a.amount);
  fill($("spots"), rows, (s) => {
    const show = placeButton(s), strand = strandNear(s.at[0], s.at[1]);
    show.addEventListener("click", () => mapStage.show(s.at[0], s.at[1], closeTo(s.amount)));
    const cell = (label, ...content) => { const td = el("td", {}, ...content); td.dataset.label = label; return td; };
    return el("tr", { className: s.kind }, el("th", { scope: "row" }, sentence(KINDS[s.kind].words)), cell("how much", long(s.amount) + (s.thick > 0 ? `, ${long(s.thick)} thick` : "")),
      cell("depth", s.kind === "out" ? short(s.depth) : s.depth > 0 ? `cut to ${short(s.depth)}` : "not cut"), cell("area", area(s.area)), cell("strand", strand || "none"), cell("place", show));
  });
}
