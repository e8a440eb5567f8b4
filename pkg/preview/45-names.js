// Names on the board: which strand is which, and where the program starts.

// FIRST_CUT is the move with which the program first goes into the work.
const FIRST_CUT = MOVES.z.findIndex((z, i) => z < 0 && kindOf(i) <= ARC && !Number.isNaN(MOVES.x[i] + MOVES.y[i]));

// PARTS are how far along its strand a name may stand, the best first.
const PARTS = [0.5, 0.38, 0.62, 0.27, 0.73, 0.15, 0.85];

const NAME_PLACES = DATA.strands.map((s) => {
  const edges = edgesOf(s.line).map((e) => ({ ...e, arc: e.bulge ? arcOfBulge(e) : null }));
  for (const e of edges) e.length = e.arc ? e.arc.r * Math.abs(e.arc.sweep) : Math.hypot(e.bx - e.ax, e.by - e.ay);
  return { name: s.name, at: edges.length ? PARTS.map((part) => along(edges, part)) : [] };
});

// along is the place at a part of a chain of edges, and the way there.
function along(edges, part) {
  let left = part * edges.reduce((sum, e) => sum + e.length, 0);
  const i = edges.findIndex((e) => { if (left <= e.length) return true; left -= e.length; return false; });
  return onEdge(edges[i < 0 ? edges.length - 1 : i], left);
}

// onEdge is the place so many mm along an edge, and the way there.
function onEdge(e, s) {
  const t = e.length ? Math.min(1, s / e.length) : 0;
  if (!e.arc) {
    const n = e.length || 1;
    return { x: e.ax + (e.bx - e.ax) * t, y: e.ay + (e.by - e.ay) * t, dx: (e.bx - e.ax) / n, dy: (e.by - e.ay) / n };
  }
  const angle = e.arc.start + e.arc.sweep * t, way = Math.sign(e.arc.sweep);
  return { x: e.arc.cx + e.arc.r * Math.cos(angle), y: e.arc.cy + e.arc.r * Math.sin(angle), dx: -way * Math.sin(angle), dy: way * Math.cos(angle) };
}

const NAME_HIGH = 15, LETTER_WIDE = 7.2; // pixels of a line of lettering, and of a letter of it at the most

const NAMES_MOST = 60; // strands beyond that many go without a name

// clearOfGrooves reports whether lettering in a box leaves all grooves free.
function clearOfGrooves(stage, box, groove) {
  const k = stage.view.k, least = (groove + box.high * 0.8) / k;
  const y = stage.view.y + (stage.canvas.height / 2 - box.y) / k;
  return [-1, -0.5, 0, 0.5, 1].every((part) => {
    const x = stage.view.x + (box.x + part * box.wide - stage.canvas.width / 2) / k;
    return ALL_EDGES.every((e) => edgeDistance(e, x, y) >= least);
  });
}

const ALL_EDGES = DATA.strands.flatMap((s) => edgesOf(s.line));

// drawNames writes the strands' names beside them and where the program starts,
// clear of crossings, marks and each other; a name without room is left out.
function drawNames(stage, ctx) {
  const s = stage.ratio, groove = (DATA.width || 0) / 2 * stage.view.k;
  const taken = [...DATA.crossings.map((c) => ({ x: stage.toX(c.at[0]), y: stage.toY(c.at[1]), wide: groove, high: groove })),
    ...faultPlaces.slice(0, 200).map((p) => ({ x: stage.toX(p.x), y: stage.toY(p.y) - FLAG * s / 2, wide: 10 * s, high: 26 * s }))];
  const put = (text, x, y, always = false) => {
    const box = { x, y, wide: LETTER_WIDE * s * text.length / 2 + 2 * s, high: NAME_HIGH * s / 2 };
    if (!always && taken.some((t) => Math.abs(t.x - x) < t.wide + box.wide && Math.abs(t.y - y) < t.high + box.high)) return false;
    if (!always && !clearOfGrooves(stage, box, groove)) return false;
    taken.push(box);
    stage.pixels(ctx);
    lettering(stage, ctx, text, x, y, 12, "center");
    return true;
  };
  if (FIRST_CUT >= 0) {
    const from = startOf(FIRST_CUT), to = endOf(FIRST_CUT), p = Number.isNaN(from.x + from.y) ? to : from;
    const x = stage.toX(p.x), y = stage.toY(p.y), off = 2 * groove + 12 * s, aside = off + 10 * s;
    [[0, off], [0, -off], [-aside, 0], [aside, 0]].some(([dx, dy]) => put("start", x + dx, y + dy)) || put("start", x, y + off, true);
  }
  for (const n of NAME_PLACES.slice(0, NAMES_MOST)) {
    const wide = LETTER_WIDE * s * n.name.length / 2;
    n.name && n.at.some((p) => [1, -1].some((side) => {
      const out = groove + 3 * s + Math.abs(p.dy) * wide + Math.abs(p.dx) * NAME_HIGH * s / 2 + s;
      return put(n.name, stage.toX(p.x) + side * p.dy * out, stage.toY(p.y) + side * p.dx * out);
    }));
  }
}
