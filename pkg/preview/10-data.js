// The page's data: DATA is the head, MOVES the arrays of the program's moves.
const DATA = JSON.parse(document.getElementById("head").textContent);
