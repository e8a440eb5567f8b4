// Words on the pictures, at the places that the page's data have for them.

// labelAt is where a label's middle is on the canvas at the scale of the view: at the
// last of its places that is for no greater one; null where it has none.
function labelAt(stage, places) {
  const p = places.findLast((q) => q.from <= stage.view.k / stage.ratio);
  return p && p.at ? { x: stage.toX(p.at[0]) + p.off[0] * stage.ratio, y: stage.toY(p.at[1]) - p.off[1] * stage.ratio } : null;
}

// drawNames writes where the program starts, and the strands' names beside them.
function drawNames(stage, ctx) {
  stage.pixels(ctx);
  const write = (text, places) => {
    const p = labelAt(stage, places);
    if (p) lettering(stage, ctx, text, p.x, p.y, 12, "center");
  };
  write("start", DATA.labels.start);
  DATA.labels.names.forEach((places, i) => write(DATA.strands[i].name, places));
}
