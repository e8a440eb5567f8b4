// The page begins with the data in it.

const first = show(JSON.parse(taken("head")), taken("moves"));
