package preview

// Mark stands within the first kilobyte of every page that Write wrote, so that
// a page can be distinguished from somebody's own file.
const Mark = `<meta name="generator" content="strapwork">`
