// Reads the programs named on the command line with npm's gcode-toolpath and
// prints what each moves, as JSON on a line of its own: [{"motion", "to": [x, y, z],
// "center": [x, y], "length"}]. The centre is there for arcs only. Lengths are
// worked out here, from the library's points, in mm.
"use strict";

const Toolpath = require("gcode-toolpath");

const samePlace = 2e-9; // equal ends make a full circle

function arcLength(clockwise, from, to, center) {
  const radius = Math.hypot(from.x - center.x, from.y - center.y);
  let turn = 2 * Math.PI;
  if (Math.hypot(to.x - from.x, to.y - from.y) > samePlace) {
    turn = Math.atan2(to.y - center.y, to.x - center.x) - Math.atan2(from.y - center.y, from.x - center.x);
    if (clockwise) turn = -turn;
    while (turn <= 0) turn += 2 * Math.PI;
    while (turn > 2 * Math.PI) turn -= 2 * Math.PI;
  }
  return Math.hypot(radius * turn, to.z - from.z);
}

function read(file) {
  const moves = [];
  const toolpath = new Toolpath({
    addLine: (modal, from, to) =>
      moves.push({
        motion: modal.motion,
        to: [to.x, to.y, to.z],
        length: Math.hypot(to.x - from.x, to.y - from.y, to.z - from.z),
      }),
    addArcCurve: (modal, from, to, center) =>
      moves.push({
        motion: modal.motion,
        to: [to.x, to.y, to.z],
        center: [center.x, center.y],
        length: arcLength(modal.motion === "G2", from, to, center),
      }),
  });
  return new Promise((resolve, reject) => {
    toolpath.loadFromFile(file, (err) => (err ? reject(err) : resolve(moves)));
  });
}

async function main() {
  for (const file of process.argv.slice(2)) {
    process.stdout.write(JSON.stringify(await read(file)) + "\n");
  }
}

main();
