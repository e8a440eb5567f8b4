// The page begins with the data in it. A browser that is too old to unpack them says so.

const first = show(JSON.parse(taken("head")), taken("moves"));
first.catch((fault) => {
  const words = document.createElement("p");
  words.setAttribute("role", "alert");
  words.textContent = "This browser can\u2019t show the page: it needs one of 2023 or later. The program and its findings are in the files beside it.";
  document.querySelector("main").before(words);
  throw fault;
});
