"use strict";
// How bodies lie in the world: which way each is seen, and where it is drawn.

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const mix = (a, p, b, q) => [a[0] * p + b[0] * q, a[1] * p + b[1] * q, a[2] * p + b[2] * q];
const unit = a => mix(a, 1 / Math.hypot(a[0], a[1], a[2]), a, 0);

// carried takes the horizontal direction that a body is seen along from one attitude to the next: along with the body, and, where
// it does not stand on end, square to its length. Yaw is not reckoned with, so this is a choice; it lets a hull roll over and
// pitch past the vertical without a jump.
function carried(side, before, up) {
  const steep = Math.hypot(up[1], up[2]);
  const square = steep > 1e-9 ? [0, up[2] / steep, -up[1] / steep] : null;
  const turn = 1 + dot(before, up);
  if (turn < 1e-3) return square || side; // turned right over: a roll
  let next = mix(side, 1, mix(before, 1, up, 1), -dot(side, up) / turn);
  if (square) {
    const share = clamp((steep - 0.3) / 0.4, 0, 1);
    next = mix(next, 1 - share, square, dot(square, next) < 0 ? -share : share);
  }
  next = mix(next, 1, up, -dot(next, up));
  return unit(next);
}

// place finds for every frame of every body the direction that it is seen along, and fixes where its middle is drawn.
function placeBodies(run) {
  const frames = run.times.length, shapes = run.shapes;
  run.bodies = shapes.bodies.map(b => {
    const name = s => run.columns.get(b.name + s);
    const body = {...b, x: name(".up_x"), y: name(".up_y"), z: name(".up_z"), sea: name(".sea_m"), side: new Array(frames)};
    body.first_frame = body.x.findIndex(v => !Number.isNaN(v));
    body.up = f => [body.x[f], body.y[f], body.z[f]];
    body.present = f => !Number.isNaN(body.x[f]);
    body.pieces = shapes.pieces.slice(b.first, b.last + 1);
    const box = body.pieces.map(p => run.meshes[p.mesh]);
    body.low = [0, 1, 2].map(k => Math.min(...box.map(m => m.low[k])));
    body.high = [0, 1, 2].map(k => Math.max(...box.map(m => m.high[k])));
    body.middle = mix(body.low, 0.5, body.high, 0.5);
    return body;
  });
  for (const body of run.bodies) {
    const f0 = body.first_frame;
    if (f0 < 0) continue;
    const parent = run.bodies.find(b => b !== body && f0 > 0 && b.present(f0 - 1) && b.first <= body.first && b.last >= body.last);
    let before = parent ? parent.up(f0 - 1) : [0, 0, 1];
    let side = parent ? parent.side[f0 - 1] : [0, 1, 0];
    body.at = [0, 0];
    if (parent) {
      const v = viewOf(parent, before, side, parent.sea[f0 - 1]);
      const rank = body.middle[0] < parent.middle[0] ? -1 : 1;
      body.at = [v.across(body.middle) + rank * 0.02 * (parent.high[0] - parent.low[0]), v.depth(body.middle)];
    }
    for (let f = f0; f < frames && body.present(f); f++) {
      const up = body.up(f);
      body.side[f] = side = carried(side, before, up);
      before = up;
    }
  }
}

// viewOf makes the functions that say where a point of a body is seen: across (to the right), depth (away from whoever looks
// from the side) and height over the sea.
function viewOf(body, up, side, sea) {
  const right = cross(side, up), m = body.middle, at = body.at;
  return {
    up, side, right, sea,
    across: p => dot(right, p) - dot(right, m) + at[0],
    depth: p => dot(side, p) - dot(side, m) + at[1],
    height: p => dot(up, p) - sea,
  };
}

// viewAt is how a body is seen at a time between a frame and the next.
function viewAt(body, frame, share) {
  let up = body.up(frame), side = body.side[frame], sea = body.sea[frame];
  if (share > 0 && body.present(frame + 1)) {
    up = unit(mix(up, 1 - share, body.up(frame + 1), share));
    side = mix(side, 1 - share, body.side[frame + 1], share);
    side = unit(mix(side, 1, up, -dot(side, up)));
    sea = sea * (1 - share) + body.sea[frame + 1] * share;
  }
  return viewOf(body, up, side, sea);
}
