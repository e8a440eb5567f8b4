// A page that is watched is sent what changes, as soon as it is known (server-sent
// events): the motif and what was found, the inlay, that there is a whole new page, and
// the state of it all. Each message names its save. Those that are known last are kept,
// since a whole page that is shown anew doesn't have what came after it.

const TRIES = 20; // to reach the server, some seconds apart, before it is given up

function watch() {
  const { events, whole } = document.documentElement.dataset;
  const source = new EventSource(events), last = {};
  let wanted = 0, here = 0, missed = 0; // saves whose pages are asked for and shown; tries that failed

  const takes = {
    motif(m) {
      if (m.title) heading(m.title);
      shown.page.motif(m.picture, m.findings);
    },
    inlay(m) { shown.page.inlay(m.picture); },
    state(m) {
      const ready = m.stage !== "done" || m.save === here;
      shown.page.state(ready ? m : { ...m, stage: "inlay", working: "the page" });
    },
  };
  const take = (kind) => {
    if (!last[kind]) return;
    takes[kind](last[kind]);
    document.documentElement.dataset[kind] = last[kind].save; // for tests
  };

  for (const kind of Object.keys(takes)) source.addEventListener(kind, (e) => {
    last[kind] = JSON.parse(e.data);
    take(kind);
  });
  source.addEventListener("page", async (e) => {
    const save = wanted = Number(e.data), answer = await fetch(whole).catch(() => null);
    if (!answer?.ok) return;
    const text = await answer.text();
    if (save !== wanted || !await showWhole(text)) return;
    here = Number(JSON.parse(answer.headers.get("ETag")));
    for (const kind of Object.keys(takes)) take(kind);
    document.documentElement.dataset.page = here;
  });
  shown.page.state({ working: "the job" });
  const end = () => {
    source.close();
    shown.page.state({ ...last.state, working: "", ended: true });
    document.documentElement.dataset.state = "ended";
  };
  source.addEventListener("end", end);
  source.addEventListener("open", () => { missed = 0; });
  source.addEventListener("error", () => { if (++missed > TRIES || source.readyState === EventSource.CLOSED) end(); });
}

// heading is the title that the job has now.
function heading(title) {
  document.title = document.getElementById("title").textContent = title;
}

// showWhole shows the data of a whole page, with its colours. It promises whether that
// is what is seen then.
async function showWhole(text) {
  const other = new DOMParser().parseFromString(text, "text/html");
  const read = (id) => other.getElementById(id).textContent;
  const style = document.querySelector("style"), colours = other.querySelector("style").textContent;
  if (style.textContent !== colours) style.textContent = colours;
  document.title = other.title;
  return await show(JSON.parse(read("head")), read("moves"));
}

first.then(watch);
