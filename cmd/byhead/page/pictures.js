"use strict";
// The pictures: meshes seen from the side and from above, sections across, drawn on canvases.

// mesh readies a mesh: corners in m, its bounds, and its edges with the faces at them.
function mesh(stored, step) {
  const m = {corners: Float64Array.from(stored.c, c => c * step), faces: stored.f, edges: []};
  const n = m.corners.length / 3;
  m.low = [0, 1, 2].map(k => { let v = Infinity; for (let i = k; i < 3 * n; i += 3) v = Math.min(v, m.corners[i]); return v; });
  m.high = [0, 1, 2].map(k => { let v = -Infinity; for (let i = k; i < 3 * n; i += 3) v = Math.max(v, m.corners[i]); return v; });
  const corner = i => [m.corners[3 * i], m.corners[3 * i + 1], m.corners[3 * i + 2]];
  const normals = [], edges = new Map();
  for (let f = 0; 3 * f < m.faces.length; f++) {
    const [a, b, c] = [m.faces[3 * f], m.faces[3 * f + 1], m.faces[3 * f + 2]];
    const square = cross(mix(corner(b), 1, corner(a), -1), mix(corner(c), 1, corner(a), -1));
    const long = Math.max(...[[a, b], [b, c], [c, a]].map(([p, q]) => Math.hypot(...mix(corner(p), 1, corner(q), -1))));
    normals.push(Math.hypot(...square) > 6 * step * long ? unit(square) : null); // a sliver's normal says nothing
    for (const [p, q] of [[a, b], [b, c], [c, a]]) {
      const key = Math.min(p, q) * n + Math.max(p, q);
      if (edges.has(key)) edges.get(key).faces.push(f);
      else edges.set(key, {p, q, faces: [f]});
    }
  }
  for (const e of edges.values()) {
    const [f, g] = e.faces;
    e.sharp = g !== undefined && normals[f] !== null && normals[g] !== null && dot(normals[f], normals[g]) < 0.8; // 37°
    m.edges.push(e);
  }
  m.front = new Uint8Array(m.faces.length / 3);
  m.seen = new Float64Array(2 * n);
  m.heights = new Float64Array(n);
  return m;
}

for (const run of page.runs) {
  run.meshes = run.shapes.meshes.map(m => mesh(m, run.shapes.k));
  placeBodies(run);
}

// project sets where the corners of a mesh are seen, and which faces are turned to the viewer. screen gives [x, y] in pixels of
// across and upward on the picture.
function project(m, right, upward, screen, view) {
  const c = m.corners, s = m.seen;
  for (let i = 0, n = c.length / 3; i < n; i++) {
    const x = c[3 * i], y = c[3 * i + 1], z = c[3 * i + 2];
    s[2 * i] = screen.x(right[0] * x + right[1] * y + right[2] * z);
    s[2 * i + 1] = screen.y(upward[0] * x + upward[1] * y + upward[2] * z);
    m.heights[i] = view.up[0] * x + view.up[1] * y + view.up[2] * z;
  }
  const f = m.faces;
  for (let k = 0; 3 * k < f.length; k++) {
    const a = 2 * f[3 * k], b = 2 * f[3 * k + 1], d = 2 * f[3 * k + 2];
    m.front[k] = (s[b] - s[a]) * (s[d + 1] - s[a + 1]) - (s[b + 1] - s[a + 1]) * (s[d] - s[a]) < 0 ? 1 : 0; // y goes down
  }
}

// outline is the path of all that a mesh covers: its faces turned to the viewer.
function outline(m) {
  const p = new Path2D(), f = m.faces, s = m.seen;
  for (let k = 0; 3 * k < f.length; k++) {
    if (!m.front[k]) continue;
    const a = 2 * f[3 * k], b = 2 * f[3 * k + 1], c = 2 * f[3 * k + 2];
    p.moveTo(s[a], s[a + 1]);
    p.lineTo(s[b], s[b + 1]);
    p.lineTo(s[c], s[c + 1]);
    p.closePath();
  }
  return p;
}

// wetFloor is the path of what water up to a level covers, seen from above: the faces turned away, as far as they are under it.
function wetFloor(m, level) {
  const p = new Path2D(), f = m.faces, s = m.seen, h = m.heights;
  for (let k = 0; 3 * k < f.length; k++) {
    if (m.front[k]) continue;
    let begun = false;
    for (let e = 0; e < 3; e++) {
      const a = f[3 * k + e], b = f[3 * k + (e + 1) % 3];
      if (h[a] <= level) { begun ? p.lineTo(s[2 * a], s[2 * a + 1]) : p.moveTo(s[2 * a], s[2 * a + 1]); begun = true; }
      if (h[a] <= level !== h[b] <= level) {
        const t = (level - h[a]) / (h[b] - h[a]);
        const x = s[2 * a] + t * (s[2 * b] - s[2 * a]), y = s[2 * a + 1] + t * (s[2 * b + 1] - s[2 * a + 1]);
        begun ? p.lineTo(x, y) : p.moveTo(x, y);
        begun = true;
      }
    }
    if (begun) p.closePath();
  }
  return p;
}

// edgesOf is the path of a mesh's contour and, where asked for, of its sharp edges on the side that is seen.
function edgesOf(m, sharp) {
  const p = new Path2D(), s = m.seen;
  for (const e of m.edges) {
    const ahead = e.faces.filter(f => m.front[f]).length;
    if (ahead > 0 && (ahead < e.faces.length || sharp && e.sharp)) {
      p.moveTo(s[2 * e.p], s[2 * e.p + 1]);
      p.lineTo(s[2 * e.q], s[2 * e.q + 1]);
    }
  }
  return p;
}

// paint is the colours of the page as it is now.
function paint() {
  const style = getComputedStyle(document.documentElement);
  const of = name => style.getPropertyValue("--" + name).trim();
  return Object.fromEntries(["air", "sea", "seatop", "hull", "room", "ink", "soft", "water", "watertop", "accent", "ground", "halo"].map(n => [n, of(n)]));
}

// surface readies a canvas for drawing in CSS pixels, and clears it.
function surface(canvas, wide, high) {
  const dense = Math.min(3, window.devicePixelRatio || 1);
  const w = Math.round(wide * dense), h = Math.round(high * dense);
  if (canvas.width !== w || canvas.height !== h) { canvas.width = w; canvas.height = h; }
  const c = canvas.getContext("2d");
  c.setTransform(w / wide, 0, 0, h / high, 0, 0);
  c.clearRect(0, 0, wide, high);
  c.lineJoin = "round";
  return c;
}

// reachAt is how far the bodies of a run reach at a frame: across, in depth, and in height over the sea.
function reachAt(run, frame) {
  const e = {left: Infinity, right: -Infinity, near: Infinity, far: -Infinity, low: 0, high: 0};
  for (const b of run.bodies.filter(b => b.present(frame))) {
    const v = sunk(run, b, run.times[frame], viewAt(b, frame, 0));
    for (let k = 0; k < 8; k++) {
      const p = [0, 1, 2].map(i => k >> i & 1 ? b.high[i] : b.low[i]);
      const x = v.across(p), y = v.depth(p), z = v.height(p);
      e.left = Math.min(e.left, x); e.right = Math.max(e.right, x);
      e.near = Math.min(e.near, y); e.far = Math.max(e.far, y);
      e.low = Math.min(e.low, z); e.high = Math.max(e.high, z);
    }
  }
  if (page.depth !== null && e.low < -0.6 * page.depth) e.low = Math.min(e.low, -page.depth);
  return e;
}

// wider joins two reaches.
const wider = (a, b) => ({
  left: Math.min(a.left, b.left), right: Math.max(a.right, b.right), near: Math.min(a.near, b.near),
  far: Math.max(a.far, b.far), low: Math.min(a.low, b.low), high: Math.max(a.high, b.high),
});

// newCamera gives the reach to be shown at a time: of all runs, with what comes and what was in the next while, changing slowly.
function newCamera(runs, duration) {
  const n = 400, span = 12, at = [];
  for (let i = 0; i <= n; i++) {
    const t = duration * i / n;
    at.push(runs.map(r => reachAt(r, frameAt(r, Math.min(t, r.duration)))).reduce(wider));
  }
  const near = (list, i, by) => list.slice(Math.max(0, i - by), i + by + 1);
  const held = at.map((_, i) => near(at, i, span).reduce(wider));
  const smooth = held.map((_, i) => {
    const of = near(held, i, span), out = {};
    for (const k of Object.keys(held[0])) out[k] = of.reduce((s, e) => s + e[k], 0) / of.length;
    return out;
  });
  return t => {
    const x = duration > 0 ? clamp(t / duration * n, 0, n) : 0, i = Math.min(n - 1, Math.floor(x)), out = {};
    for (const k of Object.keys(smooth[0])) out[k] = smooth[i][k] + (x - i) * (smooth[i + 1][k] - smooth[i][k]);
    return out;
  };
}

// viewScale is how many pixels a metre has in the profile.
function viewScale(reach, wide, high) {
  return Math.min((wide - 24) / (reach.right - reach.left), (high - 40) / (reach.high - reach.low));
}

// sunk is the view of a body that has foundered at a plunge: under the surface, for it is not reckoned where it goes.
function sunk(run, body, time, view) {
  const when = run.gone[body.name];
  if (when === undefined || time < when - 1e-4) return view;
  let top = -Infinity, foot = Infinity;
  for (let k = 0; k < 8; k++) {
    const z = view.height([0, 1, 2].map(i => k >> i & 1 ? body.high[i] : body.low[i]));
    top = Math.max(top, z);
    foot = Math.min(foot, z);
  }
  const under = -0.06 * (body.high[0] - body.low[0]);
  let down = Math.max(0, top - under);
  if (page.depth !== null) down = Math.min(down, Math.max(0, foot + page.depth));
  return down > 0 && top > 0.01 ? {...viewOf(body, view.up, view.side, view.sea + down), ghost: true} : view;
}

// state is all that is shown of a run at a time: its frame, and every present body with its view.
function stateAt(run, time) {
  const frame = frameAt(run, time), next = frame + 1;
  let share = 0;
  if (next < run.times.length && run.times[next] > run.times[frame]) {
    share = clamp((time - run.times[frame]) / (run.times[next] - run.times[frame]), 0, 1);
    if (share < 1e-6) share = 0;
  }
  const bodies = run.bodies.filter(b => b.present(frame)).map(b => ({body: b, view: sunk(run, b, time, viewAt(b, frame, share))}));
  const level = name => {
    const c = run.columns.get(name + ".level_m"), a = c[frame], b = next < c.length ? c[next] : NaN;
    return share > 0 && !Number.isNaN(b) ? a * (1 - share) + b * share : a;
  };
  const spaces = run.shapes.spaces.map((s, index) => ({...s, index, water: run.value(s.name + ".water_m3", frame)}))
    .filter(s => !Number.isNaN(s.water)).map(s => ({...s, level: level(s.name), on: bodies.find(b => b.body.first <= s.piece && b.body.last >= s.piece)}))
    .filter(s => s.on);
  return {run, time, frame, bodies, spaces};
}

const isWet = s => s.water > 1e-6 * s.holds;
const on = (state, piece) => state.bodies.find(b => b.body.first <= piece && b.body.last >= piece);

// loops is the path of figures in space.
function loops(list, step, at) {
  const p = new Path2D();
  for (const l of list) {
    for (let i = 0; i < l.length; i += 3) {
      const [x, y] = at([l[i] * step, l[i + 1] * step, l[i + 2] * step]);
      i ? p.lineTo(x, y) : p.moveTo(x, y);
    }
    p.closePath();
  }
  return p;
}

function say(c, text, x, y, colours, align = "center") {
  c.textAlign = align;
  c.textBaseline = "middle";
  c.lineWidth = 3;
  c.strokeStyle = colours.halo;
  c.strokeText(text, x, y);
  c.fillStyle = colours.ink;
  c.fillText(text, x, y);
}

// drawView draws the profile (above false) or the plan (above true) of a state.
function drawView(canvas, state, reach, scale, wide, high, above, colours) {
  const c = surface(canvas, wide, high), run = state.run, step = run.shapes.k;
  const midX = (reach.left + reach.right) / 2, midY = above ? (reach.far + reach.near) / 2 : (reach.high + reach.low) / 2;
  const X = x => wide / 2 + (x - midX) * scale, Y = y => high / 2 - (y - midY) * scale;
  c.fillStyle = above ? colours.sea : colours.air;
  c.fillRect(0, 0, wide, high);
  if (!above) {
    c.fillStyle = colours.sea;
    c.fillRect(0, Y(0), wide, high);
    if (page.depth !== null && Y(-page.depth) < high) ground(c, Y(-page.depth), wide, high, colours);
  }
  c.font = "12px system-ui, sans-serif";
  const byDepth = [...state.bodies].sort((a, b) => above ? 0 : b.body.at[1] - a.body.at[1]);
  for (const b of byDepth) {
    const v = b.view, upward = above ? v.side : v.up, m = b.body.middle;
    const dx = b.body.at[0] - dot(v.right, m), dy = above ? b.body.at[1] - dot(v.side, m) : -v.sea;
    const screen = {x: q => X(q + dx), y: q => Y(q + dy)};
    const at = p => [screen.x(dot(v.right, p)), screen.y(dot(upward, p))];
    c.globalAlpha = v.ghost ? 0.3 : 1;
    fillHull(c, run, b, v, upward, screen, colours);
    drawSpaces(c, state, b, v, upward, screen, above, wide, high, colours);
    edgeHull(c, run, b, v, upward, screen, colours);
    drawFittings(c, state, b, at, step, above, colours);
    drawNames(c, state, b, at, above, colours);
    c.globalAlpha = 1;
  }
  if (!above) {
    c.strokeStyle = colours.seatop;
    c.lineWidth = 1.5;
    c.setLineDash([]);
    c.beginPath(); c.moveTo(0, Y(0)); c.lineTo(wide, Y(0)); c.stroke();
    c.font = "12px system-ui, sans-serif";
    say(c, "sea", 6, Y(0) - 9, colours, "left");
    if (page.depth !== null && Y(-page.depth) >= high) say(c, "floor " + written("length", page.depth) + " down", 6, high - 12, colours, "left");
  }
  measure(c, scale, wide, high, colours);
}

function fillHull(c, run, b, v, upward, screen, colours) {
  c.fillStyle = colours.hull;
  for (const piece of b.body.pieces) {
    const m = run.meshes[piece.mesh];
    project(m, v.right, upward, screen, v);
    c.fill(outline(m), "nonzero");
  }
}

function edgeHull(c, run, b, v, upward, screen, colours) {
  c.strokeStyle = colours.ink;
  for (const piece of b.body.pieces) {
    const m = run.meshes[piece.mesh];
    c.lineWidth = 1.7;
    c.stroke(edgesOf(m, false));
    c.lineWidth = 0.6;
    c.stroke(edgesOf(m, true));
  }
}

// inDepth is the spaces of a body, the farthest from the viewer first.
function inDepth(state, b, above) {
  const far = s => {
    const m = state.run.meshes[s.mesh], mid = mix(m.low, 0.5, m.high, 0.5);
    return above ? -b.view.height(mid) : b.view.depth(mid);
  };
  return state.spaces.filter(s => s.on === b).sort((p, q) => far(q) - far(p));
}

// drawSpaces fills the spaces of a body, the farther before the nearer.
function drawSpaces(c, state, b, v, upward, screen, above, wide, high, colours) {
  for (const s of inDepth(state, b, above)) {
    const m = state.run.meshes[s.mesh];
    project(m, v.right, upward, screen, v);
    const wet = isWet(s);
    if (!wet && !s.boxed) continue; // dry, it looks like the hull about it
    const whole = outline(m);
    if (s.boxed) {
      c.fillStyle = colours.room;
      c.fill(whole, "nonzero");
    }
    if (wet && above) {
      c.fillStyle = colours.water;
      c.fill(wetFloor(m, s.level), "nonzero");
    } else if (wet) {
      fillBelow(c, m, whole, screen.y(s.level), wide, high, colours);
    }
    if (!s.boxed) continue; // hull and bulkheads show the walls of the others
    c.strokeStyle = colours.ink;
    c.lineWidth = 0.9;
    c.stroke(edgesOf(m, true));
  }
}

// fillBelow fills the part of an outline below the row y, and draws the surface there. A level plane is seen as a row, so that
// the part of the picture below it is the picture of the part below.
function fillBelow(c, m, whole, y, wide, high, colours) {
  c.save();
  c.beginPath();
  c.rect(0, y, wide, Math.max(0, high - y));
  c.clip();
  c.fillStyle = colours.water;
  c.fill(whole, "nonzero");
  c.restore();
  let left = Infinity, right = -Infinity;
  for (const e of m.edges) {
    const a = m.seen[2 * e.p + 1], b = m.seen[2 * e.q + 1];
    if (a <= y === b <= y) continue;
    const x = m.seen[2 * e.p] + (y - a) / (b - a) * (m.seen[2 * e.q] - m.seen[2 * e.p]);
    left = Math.min(left, x);
    right = Math.max(right, x);
  }
  if (left < right) {
    c.strokeStyle = colours.watertop;
    c.lineWidth = 2;
    c.beginPath(); c.moveTo(left, y); c.lineTo(right, y); c.stroke();
  }
}

function ground(c, y, wide, high, colours) {
  c.fillStyle = colours.ground;
  c.fillRect(0, y, wide, Math.max(0, high - y));
  c.strokeStyle = colours.ink;
  c.lineWidth = 1;
  c.beginPath();
  c.moveTo(0, y); c.lineTo(wide, y);
  for (let x = -8; x < wide; x += 12) { c.moveTo(x, y + 8); c.lineTo(x + 8, y); }
  c.stroke();
}

// isOpen tells whether an opening lets through what comes.
function isOpen(o, time) {
  let open = !o.shut;
  for (const [t, to] of o.turns || []) if (t <= time + 5e-5) open = to === 1;
  return open;
}

// drawFittings draws bulkheads, joints and openings.
function drawFittings(c, state, b, at, step, above, colours) {
  const shapes = state.run.shapes, mine = x => x.piece >= b.body.first && x.piece <= b.body.last;
  c.strokeStyle = colours.ink;
  c.lineWidth = 1.4;
  for (const w of shapes.walls.filter(mine)) c.stroke(loops(w.loops, step, at));
  c.strokeStyle = colours.accent;
  c.lineWidth = 1.6;
  c.setLineDash([6, 4]);
  for (const j of shapes.joints.filter(j => j.piece >= b.body.first && j.piece < b.body.last)) c.stroke(loops(j.loops, step, at));
  c.setLineDash([]);
  for (const o of shapes.openings.filter(mine)) {
    const flow = state.run.value(o.name + ".water_m3_per_s", state.frame);
    if (Number.isNaN(flow)) continue;
    const [x, y] = at(o.at.map(q => q * step));
    ring(c, x, y, isOpen(o, state.time), Math.abs(flow) > 2e-9, o, colours);
  }
}

function ring(c, x, y, open, flows, o, colours) {
  const r = o.sea ? 4.5 : 3.5;
  c.beginPath();
  o.pump ? c.rect(x - r, y - r, 2 * r, 2 * r) : c.arc(x, y, r, 0, 7);
  c.fillStyle = open && flows ? colours.accent : colours.halo;
  c.fill();
  c.strokeStyle = colours.accent;
  c.lineWidth = 1.5;
  if (!open) { c.moveTo(x - r, y - r); c.lineTo(x + r, y + r); c.moveTo(x - r, y + r); c.lineTo(x + r, y - r); }
  c.stroke();
}

// drawNames writes the name of a space and how full it is, where there is room on the picture.
function drawNames(c, state, b, at, above, colours) {
  const taken = [];
  for (const s of inDepth(state, b, above).reverse()) {
    const m = state.run.meshes[s.mesh], xs = [];
    for (let k = 0; k < 8; k++) xs.push(at([0, 1, 2].map(i => k >> i & 1 ? m.high[i] : m.low[i])));
    const [x, y] = at(mix(m.low, 0.5, m.high, 0.5));
    const wide = Math.max(...xs.map(p => p[0])) - Math.min(...xs.map(p => p[0]));
    const share = Math.round(100 * s.water / s.holds) + " %";
    const text = [s.name, share].filter(t => c.measureText(t).width < wide - 4);
    const tall = 15 * text.length, breadth = Math.max(0, ...text.map(t => c.measureText(t).width));
    if (!text.length || taken.some(t => Math.abs(t[0] - x) < (t[2] + breadth) / 2 && Math.abs(t[1] - y) < (t[3] + tall) / 2)) continue;
    taken.push([x, y, breadth, tall]);
    text.forEach((t, i) => say(c, t, x, y + 15 * (i - (text.length - 1) / 2), colours));
  }
}

// measure draws a bar of a round length.
function measure(c, scale, wide, high, colours) {
  const want = 70 / scale * page.unit.per, power = 10 ** Math.floor(Math.log10(want));
  const round = [5, 2, 1].map(k => k * power).find(k => k <= want) || power;
  const long = round / page.unit.per * scale, x = wide - 10 - long, y = high - 9;
  c.strokeStyle = colours.ink;
  c.lineWidth = 1;
  c.beginPath(); c.moveTo(x, y - 4); c.lineTo(x, y); c.lineTo(x + long, y); c.lineTo(x + long, y - 4); c.stroke();
  c.font = "11px system-ui, sans-serif";
  say(c, round + " " + page.unit.name, x + long / 2, y - 9, colours);
}

// drawSection draws the cut at a station, upright as the world is there.
function drawSection(canvas, state, station, wide, high, colours) {
  const c = surface(canvas, wide, high), step = state.run.shapes.k, found = on(state, station.piece);
  c.fillStyle = colours.air;
  c.fillRect(0, 0, wide, high);
  if (!found) return;
  const u = found.view.up, x0 = station.x * step, n = Math.hypot(u[1], u[2]);
  const up = n > 1e-6 ? [u[1] / n, u[2] / n] : [0, 1], right = [-up[1], up[0]];
  let mid = [0, 0], count = 0, reach = 0;
  for (const l of station.hull) for (let i = 0; i < l.length; i += 2) { mid[0] += l[i] * step; mid[1] += l[i + 1] * step; count++; }
  mid = mid.map(v => v / Math.max(1, count));
  for (const l of station.hull) for (let i = 0; i < l.length; i += 2) reach = Math.max(reach, Math.hypot(l[i] * step - mid[0], l[i + 1] * step - mid[1]));
  const scale = (Math.min(wide, high) / 2 - 12) / reach;
  const at = (y, z) => [wide / 2 + scale * (right[0] * (y - mid[0]) + right[1] * (z - mid[1])), high / 2 - scale * (up[0] * (y - mid[0]) + up[1] * (z - mid[1]))];
  // height, along the world's up, of a level as it is met in the plane: far off where the plane lies flat
  const rowOf = level => high / 2 - scale * ((n > 1e-6 ? (level - u[0] * x0) / n : Math.sign(level - u[0] * x0) * 1e6) - (up[0] * mid[0] + up[1] * mid[1]));
  const path = list => {
    const p = new Path2D();
    for (const l of list) {
      for (let i = 0; i < l.length; i += 2) { const [x, y] = at(l[i] * step, l[i + 1] * step); i ? p.lineTo(x, y) : p.moveTo(x, y); }
      p.closePath();
    }
    return p;
  };
  const below = (level, draw) => {
    c.save();
    c.beginPath();
    const y = clamp(rowOf(level), -10, high + 10);
    c.rect(-10, y, wide + 20, high + 30 - y);
    c.clip();
    draw();
    c.restore();
  };
  const sea = found.view.sea;
  below(sea, () => { c.fillStyle = colours.sea; c.fillRect(0, 0, wide, high); });
  const hull = path(station.hull);
  c.fillStyle = colours.hull;
  c.fill(hull, "evenodd");
  for (const x of station.spaces) {
    const s = state.spaces.find(s => s.index === x.space && s.on === found);
    if (!s) continue;
    const room = path(x.loops);
    c.fillStyle = colours.ground;
    c.fill(path(x.bare), "evenodd");
    c.fillStyle = colours.hull;
    c.fill(room, "evenodd");
    c.fillStyle = colours.room;
    c.fill(room, "evenodd");
    if (isWet(s)) {
      below(s.level, () => { c.fillStyle = colours.water; c.fill(room, "evenodd"); });
      c.save();
      c.clip(room, "evenodd");
      c.strokeStyle = colours.watertop;
      c.lineWidth = 2;
      c.beginPath(); c.moveTo(0, rowOf(s.level)); c.lineTo(wide, rowOf(s.level)); c.stroke();
      c.restore();
    }
    c.strokeStyle = colours.ink;
    c.lineWidth = 0.8;
    c.stroke(room);
  }
  c.strokeStyle = colours.ink;
  c.lineWidth = 1.6;
  c.stroke(hull);
  const y = rowOf(sea);
  if (y > -2 && y < high + 2) {
    c.strokeStyle = colours.seatop;
    c.lineWidth = 1.5;
    c.beginPath(); c.moveTo(0, y); c.lineTo(wide, y); c.stroke();
  }
  for (const o of state.run.shapes.openings.filter(o => Math.abs(o.at[0] - station.x) * step < 0.03 * (found.body.high[0] - found.body.low[0]))) {
    const flow = state.run.value(o.name + ".water_m3_per_s", state.frame);
    if (!Number.isNaN(flow)) ring(c, ...at(o.at[1] * step, o.at[2] * step), isOpen(o, state.time), Math.abs(flow) > 2e-9, o, colours);
  }
  c.font = "12px system-ui, sans-serif";
  say(c, "port", 6, 12, colours, "left");
  say(c, "starboard", wide - 6, 12, colours, "right");
  if (n < 0.5) say(c, "on end: this cut lies nearly level", wide / 2, high - 12, colours);
  else measure(c, scale, wide, high, colours);
}
