// The page is shown, and shown anew when there are other data: all that stands in
// <main> is put back as it was when it was loaded, and made again. What listened
// within it goes with it.

const blank = document.querySelector("main").cloneNode(true);
let shown = null; // the page that is to be seen, and what ends it
let asked = 0; // how often a page was asked for

// show makes the page of a head and the text of its moves, with the program of another
// section than the first where there are several. Time and view stay. It promises whether
// that page is shown: one that is asked for later takes its place.
async function show(head, moves, section = shown?.section || 0) {
  const turn = ++asked, other = head.others?.[section - 1];
  const [whole, own] = await Promise.all([inflated(moves), other && inflated(other.moves)]);
  if (turn !== asked) return false;
  const data = { ...withOther(head, other?.head, whole.length), section: other ? section : 0, first: head.of };
  const packed = own ? new Uint8Array([...whole, ...own]) : whole;
  let kept = null;
  if (shown) {
    kept = shown.page.kept();
    shown.ending.abort();
    document.querySelector("main").replaceWith(blank.cloneNode(true));
  }
  const ending = new AbortController();
  shown = { ending, page: page(data, packed, kept, ending.signal), section: data.section };
  window.strapwork.show = show;
  window.strapwork.section = (n) => show(head, moves, n);
  return true;
}

// OF_PROGRAM are what of a head has to do with its program.
const OF_PROGRAM = ["board", "groove", "strands", "crossings", "clamps", "program", "gouges", "left", "setups", "frame", "station", "labels", "origin", "of"];

// withOther is a head with another section's program, whose columns lie in the pack from
// a place on. The strips are the same.
function withOther(head, other, from) {
  if (!other) return head;
  const strips = /^(piece|loop)\./, arrays = other.arrays.filter((a) => !strips.test(a.name)).map((a) => ({ ...a, from: a.from + from }));
  return { ...head, ...Object.fromEntries(OF_PROGRAM.map((name) => [name, other[name]])), arrays: [...head.arrays.filter((a) => strips.test(a.name)), ...arrays] };
}

// inflated are the bytes of a text in base64 that was deflated (RFC 1951).
async function inflated(text) {
  const bytes = Uint8Array.from(atob(text.trim()), (c) => c.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

// taken is the text of an element, which is emptied: the moves of a long program are large.
function taken(id) {
  const element = document.getElementById(id), text = element.textContent;
  element.textContent = "";
  return text;
}
