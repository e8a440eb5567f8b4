// The page begins with the data in it, and if it is watched asks for others.

const first = Promise.resolve(show(JSON.parse(taken("head")), taken("moves")));
if (document.documentElement.dataset.events) first.then(watch);
