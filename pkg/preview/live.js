// The page is shown, and shown anew when there are other data: all that stands in
// <main> is put back as it was when it was loaded, and made again. What listened
// within it goes with it.

const blank = document.querySelector("main").cloneNode(true);
let shown = null; // the page that is to be seen, and what ends it
let asked = 0; // how often a page was asked for

// show makes the page of a head and the text of its moves. Time and view stay. It
// promises whether that page is shown: one that is asked for later takes its place.
async function show(head, moves) {
  const turn = ++asked, packed = await inflated(moves);
  if (turn !== asked) return false;
  let kept = null;
  if (shown) {
    kept = shown.page.kept();
    shown.ending.abort();
    document.querySelector("main").replaceWith(blank.cloneNode(true));
  }
  const ending = new AbortController();
  shown = { ending, page: page(head, packed, kept, ending.signal) };
  window.strapwork.show = show;
  return true;
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
