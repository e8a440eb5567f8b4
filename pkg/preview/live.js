// The page is shown, and shown anew when there are other data: all that stands in
// <main> is put back as it was when it was loaded, and made again. What listened
// within it goes with it.

const blank = document.querySelector("main").cloneNode(true);
let shown = null; // the page that is to be seen, and what ends it

// show makes the page of a head and the text of its moves. Time and view stay.
function show(head, moves) {
  let kept = null;
  if (shown) {
    kept = shown.page.kept();
    shown.ending.abort();
    document.querySelector("main").replaceWith(blank.cloneNode(true));
  }
  const ending = new AbortController();
  shown = { ending, page: page(head, moves, kept, ending.signal) };
  window.strapwork.show = show;
}

// taken is the text of an element, which is emptied: the moves of a long program are large.
function taken(id) {
  const element = document.getElementById(id), text = element.textContent;
  element.textContent = "";
  return text;
}

show(JSON.parse(taken("head")), taken("moves"));
