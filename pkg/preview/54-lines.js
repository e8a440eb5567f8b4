// The program's lines round the current one, in step with the player; pressing a line
// goes there.

const AROUND = 5;
const lines = { text: new TextDecoder().decode(COLUMNS.text), starts: null, asked: 0, rows: [] };

function lineStarts() {
  if (lines.starts) return lines.starts;
  const starts = [0];
  for (let i = lines.text.indexOf("\n"); i >= 0; i = lines.text.indexOf("\n", i + 1)) starts.push(i + 1);
  lines.starts = starts;
  return starts;
}

function lineText(n) {
  const starts = lineStarts();
  return lines.text.slice(starts[n - 1], n < starts.length ? starts[n] - 1 : undefined).replace(/\r$/, "");
}

// lineRows makes the rows once, so that a row that has the focus keeps it.
function lineRows() {
  if (lines.rows.length) return lines.rows;
  lines.rows = Array.from({ length: 2 * AROUND + 1 }, () => {
    const n = el("span", { className: "n" }), code = el("code"), button = el("button", { type: "button" }, n, code), item = el("li", {}, button);
    const row = { n, code, button, item, line: 0 };
    button.addEventListener("click", () => {
      pause(false);
      toLine(row.line);
      lines.rows[AROUND].button.focus();
    });
    return row;
  });
  lines.rows[AROUND].item.setAttribute("aria-current", "true");
  $("lines").replaceChildren(...lines.rows.map((r) => r.item));
  return lines.rows;
}

// toLine goes to the end of a line's first move; a line that moves nothing is shown.
function toLine(line) {
  const [first, after] = stepsOfLines(line, line);
  seekMove(Math.min(first, COUNT), after > first ? 1 : 0);
  follow();
  say();
  lines.asked = line;
  showLines();
}

function showLines() {
  if (!$("lines-open").open) return;
  const now = lines.asked || MOVES.line[current()], last = lineStarts().length;
  lineRows().forEach((row, k) => {
    row.line = now - AROUND + k;
    const there = row.line >= 1 && row.line <= last;
    row.item.classList.toggle("void", !there);
    row.button.disabled = !there;
    set(row.n, there ? String(row.line) : "");
    set(row.code, there ? lineText(row.line) || " " : " ");
  });
}
