// A Figure shows a drawing that came as an SVG file, and looks about in it: with the
// keys, wheel and fingers of a Stage, and at a place of it.

// DRAWN are the elements that a drawing may have: nothing that runs, asks for
// anything or holds what is not drawn.
const DRAWN = new Set(["svg", "g", "title", "desc", "defs", "clipPath", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "tspan"]);
let drawings = 0;

// drawing is an SVG file as an element of the page; null if it can't be read. It is read
// as XML, so that no word in it becomes markup of the page, and its ids become its own.
function drawing(text) {
  const read = new DOMParser().parseFromString(text, "image/svg+xml");
  if (read.querySelector("parsererror") || read.documentElement.localName !== "svg") return null;
  const svg = read.documentElement, own = `drawing-${++drawings}-`;
  for (const e of [svg, ...svg.querySelectorAll("*")]) {
    if (!DRAWN.has(e.localName)) { e.remove(); continue; }
    for (const a of [...e.attributes]) {
      if (/^on|href$/i.test(a.name)) e.removeAttribute(a.name);
      else if (a.name === "id") e.id = own + a.value;
      else e.setAttribute(a.name, a.value.replace(/(url\()#/g, `$1#${own}`));
    }
  }
  for (const name of ["width", "height"]) svg.removeAttribute(name);
  return document.importNode(svg, true);
}

// shape is an element of a drawing.
function shape(name, attributes) {
  const e = document.createElementNS(document.querySelector("svg").namespaceURI, name);
  for (const [key, value] of Object.entries(attributes)) e.setAttribute(key, value);
  return e;
}

class Figure {
  // holder is an empty box that can have the focus.
  constructor(holder) {
    this.holder = holder;
    this.text = "";
    this.svg = null;
    this.pointers = new Map();
    this.looked = () => {}; // another part of the drawing, or at another scale
    this.anchor = () => null; // a place that keys and buttons zoom about
    this.press = () => {}; // of a place of the drawing, without dragging
    this.over = () => {}; // a place of the drawing, or null
    const sizes = new ResizeObserver(() => this.looked());
    sizes.observe(holder);
    ENDED.addEventListener("abort", () => sizes.disconnect());
    this.listen();
  }

  // put shows a drawing, or a part of it, and keeps the view if it is as large as the one
  // before.
  put(text, part = null) {
    if (text === this.text) return;
    const svg = text ? drawing(text) : null;
    this.text = text;
    this.set(svg, svg ? part || svg.getAttribute("viewBox").split(/[ ,]+/).map(Number) : null);
  }

  // set shows an element as put shows a drawing.
  set(svg, box) {
    const view = this.svg && String(box) === String(this.box) ? this.view : box;
    this.holder.querySelector("svg")?.remove();
    this.svg = svg;
    this.box = box;
    if (!svg) return;
    this.holder.prepend(svg);
    this.look(view);
  }

  // look shows a part of the drawing: [x, y, width, height] in its own lengths, y down.
  look(view) {
    const [x, y, w, h] = this.box, inside = (v, lo, hi) => Math.min(Math.max(v, lo), hi);
    const wide = inside(view[2], w / ZOOM_MOST, w), high = wide * h / w;
    this.view = [inside(view[0], x, x + w - wide), inside(view[1], y, y + h - high), wide, high];
    this.svg.setAttribute("viewBox", this.view.map((v) => +v.toFixed(4)).join(" "));
    this.holder.style.touchAction = wide < w ? "none" : "pan-y";
    this.looked();
  }

  // scale is how many CSS pixels there are to a length of the drawing; 0: it isn't seen.
  scale() { return (this.svg?.clientWidth && this.svg.getScreenCTM()?.a) || 0; }

  // at is the place of the drawing under a pointer.
  at(e) { return new DOMPoint(e.clientX, e.clientY).matrixTransform(this.svg.getScreenCTM().inverse()); }

  // zoom changes the scale about a place of the picture, 0 to 1 across and down.
  zoom(by, across = 0.5, down = 0.5) {
    if (!this.svg) return;
    const [x, y, w, h] = this.view, wide = Math.min(w / by, this.box[2]), high = wide * h / w;
    this.look([x + (w - wide) * across, y + (h - high) * down, wide, high]);
  }

  // zoomHere zooms about the anchor, which comes into the middle where it isn't seen;
  // without one, about the middle.
  zoomHere(by) {
    const p = this.svg && this.anchor();
    if (!p) { this.zoom(by); return; }
    const [x, y, w, h] = this.view, across = (p.x - x) / w, down = (p.y - y) / h;
    if (across >= 0 && across <= 1 && down >= 0 && down <= 1) this.zoom(by, across, down);
    else this.show(p.x, p.y, w / by);
  }

  // pan moves what is shown by parts of the picture.
  pan(across, down) {
    if (this.svg) this.look([this.view[0] - across * this.view[2], this.view[1] - down * this.view[3], this.view[2], this.view[3]]);
  }

  whole() { if (this.svg) this.look(this.box); }

  // show brings a place of the drawing into the middle, and so much round it.
  show(x, y, wide) {
    const high = wide * this.box[3] / this.box[2];
    this.look([x - wide / 2, y - high / 2, wide, high]);
  }

  listen() {
    const { holder } = this, part = (e) => {
      const b = holder.getBoundingClientRect();
      return [(e.clientX - b.left) / b.width, (e.clientY - b.top) / b.height];
    };
    holder.addEventListener("wheel", (e) => {
      if (!e.ctrlKey && !holder.contains(document.activeElement)) return;
      e.preventDefault();
      this.zoom(Math.exp(-e.deltaY * (e.deltaMode ? 0.05 : 0.002)), ...part(e));
    }, { passive: false });
    let still = null; // where the only pointer went down, while it stays there
    holder.addEventListener("pointerdown", (e) => {
      still = this.pointers.size === 0 ? e : null;
      this.pointers.set(e.pointerId, part(e));
      holder.setPointerCapture(e.pointerId);
    });
    holder.addEventListener("pointerup", (e) => { if (still && this.svg && e.button === 0) this.press(this.at(e)); });
    holder.addEventListener("pointerleave", () => this.over(null));
    holder.addEventListener("pointermove", (e) => {
      const was = this.pointers.get(e.pointerId), now = part(e);
      if (!was && this.svg) this.over(this.at(e));
      if (!was || (still && Math.hypot(e.clientX - still.clientX, e.clientY - still.clientY) <= STILL_PRESS)) return;
      still = null;
      const other = [...this.pointers].find(([id]) => id !== e.pointerId)?.[1];
      const gap = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
      if (other) this.zoom(gap(now) / gap(was), (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
      else this.pan(now[0] - was[0], now[1] - was[1]);
      this.pointers.set(e.pointerId, now);
    });
    for (const name of ["pointerup", "pointercancel"]) holder.addEventListener(name, (e) => this.pointers.delete(e.pointerId));
    const pans = { ArrowLeft: () => this.pan(0.15, 0), ArrowRight: () => this.pan(-0.15, 0), ArrowUp: () => this.pan(0, 0.15), ArrowDown: () => this.pan(0, -0.15) };
    const zooms = { "+": () => this.zoomHere(ZOOM_STEP), "=": () => this.zoomHere(ZOOM_STEP), "-": () => this.zoomHere(1 / ZOOM_STEP), "0": () => this.whole() };
    holder.addEventListener("keydown", (e) => pressed(e, holder, { ...zooms, ...pans }));
  }
}
