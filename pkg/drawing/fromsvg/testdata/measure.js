const shapes = "path,rect,circle,ellipse,line,polyline,polygon";
const apart = "defs,symbol,mask,clipPath,pattern,marker";

// hidden reports whether an element or one that it is in is not drawn at all.
function hidden(page, e) {
  for (; e.parentElement; e = e.parentElement) {
    const style = page.getComputedStyle(e);
    if (style.display === "none" || style.opacity === "0") return true;
  }
  return false;
}

// measure(address) shows an SVG in a frame and returns what the browser makes of each
// shape that stands there to be seen: its box and points along it in the outermost user
// space, and how it is painted.
async function measure(address) {
  const frame = document.createElement("iframe");
  frame.width = 600;
  frame.height = 400;
  const loaded = new Promise((done) => { frame.onload = done; });
  frame.src = address;
  document.body.append(frame);
  await loaded;
  const page = frame.contentWindow, root = frame.contentDocument.documentElement;
  if (root.tagName !== "svg") return { fault: root.textContent };
  const back = root.getScreenCTM().inverse();
  const found = [];
  for (const e of root.querySelectorAll(shapes)) {
    if (e.closest(apart) || !e.checkVisibility() || hidden(page, e)) continue;
    const style = page.getComputedStyle(e), box = e.getBBox(), length = e.getTotalLength();
    const m = back.multiply(e.getScreenCTM());
    const points = [];
    for (let i = 0; i < 12; i++) {
      const p = e.getPointAtLength(length * (i + 0.37) / 12).matrixTransform(m);
      points.push([p.x, p.y]);
    }
    found.push({
      id: e.id, box: [box.x, box.y, box.width, box.height], map: [m.a, m.b, m.c, m.d, m.e, m.f], length, points,
      seen: style.visibility === "visible", fill: style.fill, stroke: style.stroke,
      fillOpacity: Number(style.fillOpacity), strokeOpacity: Number(style.strokeOpacity),
      width: style.strokeWidth, dashes: style.strokeDasharray,
    });
  }
  frame.remove();
  return { shapes: found };
}

// pixels(address) is how dark an SVG is at each place of a grid, drawn so many pixels wide
// and high on white.
async function pixels(address, width, height) {
  const image = new Image();
  image.src = address;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = height;
  const draw = canvas.getContext("2d");
  draw.fillStyle = "white";
  draw.fillRect(0, 0, width, height);
  draw.drawImage(image, 0, 0, width, height);
  const data = draw.getImageData(0, 0, width, height).data, dark = [];
  for (let i = 0; i < data.length; i += 4) dark.push(255 * 3 - data[i] - data[i + 1] - data[i + 2]);
  return dark;
}

// unlike(one, other) is the share of what is drawn by either that the other draws
// otherwise, edges and all.
async function unlike(one, other, width, height) {
  const a = await pixels(one, width, height), b = await pixels(other, width, height);
  let drawn = 0, wrong = 0;
  a.forEach((v, i) => {
    if (v > 0 || b[i] > 0) drawn++;
    if (Math.abs(v - b[i]) > 255) wrong++;
  });
  return drawn ? wrong / drawn : 0;
}

// look is measure, and beside it how unlike another picture of the same is, where a width
// is given.
async function look(address, again, width, height) {
  const found = await measure(address);
  if (width) found.unlike = await unlike(address, again, width, height);
  return found;
}
