"use strict";
// The run's numbers as the page holds them, and how they are written for people.
const page = JSON.parse(document.getElementById("data").textContent);

// column takes the differences that a column is stored as apart: values by frame, NaN where there is none.
function column(stored, frames) {
  const out = new Float64Array(frames).fill(NaN);
  let sum = 0;
  stored.d.forEach((d, i) => {
    if (d !== null) {
      sum += d;
      out[stored.s + i] = sum * stored.k;
    }
  });
  return out;
}

for (const run of page.runs) {
  const frames = run.t.d.length;
  run.times = column(run.t, frames);
  const stored = run.columns;
  run.columns = new Map(Object.entries(stored).map(([name, c]) => [name, column(c, frames)]));
  run.value = (name, frame) => run.columns.has(name) ? run.columns.get(name)[frame] : NaN;
}

// frameAt is the last frame at a time or before it.
function frameAt(run, time) {
  let low = 0, high = run.times.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (run.times[middle] <= time + 5e-5) low = middle; else high = middle - 1;
  }
  return low;
}

// The words are those of the story: what is read here and there is the same.
const decimals = (x, n) => {
  const text = x.toFixed(n);
  return Number(text) === 0 ? (0).toFixed(n) : text;
};

const threeDigits = x => x === 0 ? "0" : decimals(x, clamp(2 - Math.floor(Math.log10(Math.abs(x))), 0, 6));

const clamp = (x, low, high) => Math.max(low, Math.min(high, x));

// inches are fractions to 1/64, with the rest beside them where it is half a thousandth or more.
function inches(x) {
  let above = Math.round(Math.abs(x) * 64), below = 64;
  const shown = Math.sign(x) * above / 64, whole = Math.floor(above / 64);
  above %= 64;
  while (above > 0 && above % 2 === 0) { above /= 2; below /= 2; }
  const text = (shown < 0 ? "-" : "") + (above === 0 ? whole : whole === 0 ? `${above}/${below}` : `${whole} ${above}/${below}`) + " in";
  const rest = x - shown;
  return Math.abs(rest) >= 0.0005 ? text + " (" + (rest > 0 ? "+" : "") + rest.toFixed(3) + ")" : text;
}

function length(metres) {
  const x = metres * page.unit.per;
  if (page.unit.name === "in") return inches(x);
  const n = page.unit.name === "mm" && Math.abs(x) < 1 ? 2 : page.unit.decimals;
  return decimals(x, n) + " " + page.unit.name;
}

const clock = s => s < 119.95 ? decimals(s, 1) + " s"
  : s < 7199.5 ? Math.floor(Math.round(s) / 60) + " min " + String(Math.round(s) % 60).padStart(2, "0") + " s"
  : Math.floor(Math.round(s / 60) / 60) + " h " + String(Math.round(s / 60) % 60).padStart(2, "0") + " min";

const sided = (x, plus, minus) => {
  const text = Math.abs(x).toFixed(2) + "°";
  return Number(Math.abs(x).toFixed(2)) === 0 ? text : text + (x > 0 ? plus : minus);
};

// write gives a value in SI units or degrees as text, by its kind.
const write = {
  trim: x => sided(x, " by the head", " by the stern"),
  heel: x => sided(x, " to starboard", " to port"),
  length,
  volume: x => (Math.abs(x) >= 2e-3 ? decimals(x * 1e3, 3) + " l" : decimals(x * 1e6, 1) + " ml")
    + (page.unit.imperial ? " (" + decimals(x / 1.6387064e-5, 1) + " in3)" : ""),
  pressure: x => decimals(x / 1000, 3) + " kPa",
  moment: x => page.unit.imperial ? threeDigits(x / (0.45359237 * 9.80665 * 0.0254)) + " lbf.in" : threeDigits(x) + " N.m",
};
const written = (kind, x) => Number.isNaN(x) ? "–" : write[kind](x);
