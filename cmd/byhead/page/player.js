"use strict";
// Playing, scrubbing and everything that follows the time.
(() => {
  const $ = id => document.getElementById(id);
  const slider = $("time"), play = $("play"), clockOut = $("clock");
  const duration = Math.max(...page.runs.map(r => r.duration));
  const speeds = {quarter: 0.25, full: 1 / Math.sqrt(page.scale), real: 1, ten: 10};
  const moments = [...new Set(page.runs.flatMap(r => r.moments.map(m => m.t)))].sort((a, b) => a - b);
  let time = 0, playing = false, last = 0, speed = "real", dirty = true, colours = paint(), said = -1;

  const lanes = [...document.querySelectorAll(".lane")].map(el => {
    const run = page.runs[el.dataset.run];
    const lane = {el, run, select: el.querySelector(".station"), head: el.querySelector("thead"), rows: el.querySelector("tbody"), latest: el.querySelector(".latest")};
    for (const kind of ["profile", "plan", "body"]) lane[kind] = el.querySelector("." + kind + " canvas");
    lane.select.addEventListener("change", () => together(lane));
    return lane;
  });
  const camera = newCamera(page.runs, duration);
  const outputs = [...document.querySelectorAll("output[data-key]")].map(el => ({el, run: page.runs[el.closest("[data-run]").dataset.run], key: el.dataset.key, kind: el.dataset.kind}));
  const plots = [...document.querySelectorAll("svg.fig[data-left]")].filter(s => s.closest(".panel")).map(el => {
    const n = k => Number(el.dataset[k]);
    return {el, run: page.runs[el.closest("[data-run]").dataset.run], cursor: el.querySelector(".cursor"), left: n("left"), right: n("right"), from: n("from"), to: n("to"), still: el.closest("#chart-strength") !== null};
  });
  const storyRows = [...document.querySelectorAll("tr[data-t]")].map(el => ({el, t: Number(el.dataset.t), run: Number(el.closest("[data-run]").dataset.run)}));

  // together shows the section at the same place in the other run.
  function together(lane) {
    const x = lane.run.shapes.stations[lane.select.value].x * lane.run.shapes.k;
    for (const l of lanes.filter(l => l !== lane)) {
      const off = l.run.shapes.stations.map(s => Math.abs(s.x * l.run.shapes.k - x));
      l.select.value = off.indexOf(Math.min(...off));
    }
    dirty = true;
  }

  // seek goes to a time; at rest to the sample nearest to it, so that what is read is what the run sampled.
  function seek(t, exact) {
    t = clamp(t, 0, duration);
    if (exact) {
      const times = page.runs[0].duration >= t ? page.runs[0].times : page.runs[page.runs.length - 1].times;
      const f = frameAt({times}, t);
      t = f + 1 < times.length && times[f + 1] - t < t - times[f] ? times[f + 1] : times[f];
    }
    time = t;
    dirty = true;
  }

  // step goes so many samples on, or back.
  function step(n) {
    const times = [...new Set(page.runs.flatMap(r => [...r.times]))].sort((a, b) => a - b);
    const f = frameAt({times}, time);
    pause();
    seek(times[clamp(f + n, 0, times.length - 1)]);
  }

  function jump(way) {
    pause();
    const to = way > 0 ? moments.find(t => t > time + 1e-3) : moments.findLast(t => t < time - 1e-3);
    seek(to === undefined ? (way > 0 ? duration : 0) : to, true);
  }

  function pause() { setPlaying(false); }
  function setPlaying(on) {
    if (playing === on) return;
    playing = on;
    if (on && time >= duration) time = 0;
    last = 0;
    play.textContent = on ? "Pause" : "Play";
    play.setAttribute("aria-pressed", on);
    if (!on) seek(time, true);
    dirty = true;
  }

  function loop(now) {
    if (playing) {
      if (last) {
        time += (now - last) / 1000 * speeds[speed];
        if (time >= duration) { time = duration; setPlaying(false); }
        dirty = true;
      }
      last = now;
    }
    if (dirty) { dirty = false; show(); }
    requestAnimationFrame(loop);
  }

  // show draws everything as it is at the present time.
  function show() {
    const states = page.runs.map(r => stateAt(r, Math.min(time, r.duration)));
    lanes.forEach((l, i) => showLane(l, states[i]));
    slider.value = time;
    clockOut.textContent = clock(time) + (page.scale > 1 ? " · full size " + clock(time * Math.sqrt(page.scale)) : "");
    slider.setAttribute("aria-valuetext", clock(time) + ", " + lanes.map(l => l.words).join("; "));
    for (const o of outputs) {
      const state = states[page.runs.indexOf(o.run)];
      o.el.textContent = written(o.kind, o.run.value(o.key, state.frame));
    }
    for (const p of plots) {
      if (p.still) continue;
      const x = p.left + (p.right - p.left) * clamp((time - p.from) / (p.to - p.from), 0, 1);
      p.cursor.setAttribute("x1", x.toFixed(1));
      p.cursor.setAttribute("x2", x.toFixed(1));
    }
    for (const r of storyRows) r.el.classList.toggle("past", r.t <= time + 1e-4);
    announce();
  }

  // announce tells those who do not look what happens while it plays.
  function announce() {
    const n = moments.findLastIndex(t => t <= time + 1e-4);
    if (n !== said && playing && n > said) {
      const texts = page.runs.flatMap(r => r.moments.filter(m => m.t === moments[n]).map(m => (page.runs.length > 1 ? r.name + ": " : "") + m.text));
      $("said").textContent = clock(moments[n]) + ": " + texts.join("; ");
    }
    said = n;
  }

  function showLane(l, state) {
    const {run, frame} = state;
    const size = canvas => [canvas.clientWidth, canvas.clientHeight];
    const reach = camera(time);
    const scale = viewScale(reach, ...size(l.profile));
    drawView(l.profile, state, reach, scale, ...size(l.profile), false, colours);
    drawView(l.plan, state, reach, Math.min(scale, (l.plan.clientHeight - 16) / (reach.far - reach.near)), ...size(l.plan), true, colours);
    drawSection(l.body, state, run.shapes.stations[l.select.value], ...size(l.body), colours);
    const rows = state.bodies.map(({body: b}) => {
      const v = (s, kind) => written(kind, run.value(b.name + s, frame));
      const trim = run.value(b.name + ".trim_deg", frame);
      return [b.name, v(".trim_deg", "trim"), Math.abs(trim) > 60 ? "–" : v(".heel_deg", "heel"), v(".draft_fore_m", "length"), v(".draft_aft_m", "length"), v(".freeboard_m", "length")];
    });
    const names = ["", "trim", "heel", "draft fore", "draft aft", "freeboard"];
    const row = (cells, head) => {
      const tr = document.createElement("tr");
      cells.forEach((text, i) => {
        const cell = document.createElement(head || !i ? "th" : "td");
        cell.scope = head ? "col" : "row";
        cell.textContent = text;
        tr.append(cell);
      });
      return tr;
    };
    l.head.replaceChildren(row(["", ...rows.map(r => r[0])], true));
    l.rows.replaceChildren(...names.slice(1).map((n, i) => row([n, ...rows.map(r => r[i + 1])])));
    const past = run.moments.filter(m => m.t <= time + 1e-4);
    l.latest.textContent = past.length ? clock(past[past.length - 1].t) + ": " + past[past.length - 1].text : "";
    l.words = rows.map(r => r[0] + " trim " + r[1] + ", heel " + r[2]).join("; ");
    const water = state.spaces.filter(isWet).map(s => s.name + " " + Math.round(100 * s.water / s.holds) + " %").join(", ");
    const words = (run.name ? run.name + ", " : "") + clock(time) + ". " + l.words + ". Water: " + (water || "none") + ".";
    l.profile.setAttribute("aria-label", "Profile, " + words);
    l.plan.setAttribute("aria-label", "Plan, " + words);
    l.body.setAttribute("aria-label", "Section " + l.select.selectedOptions[0].textContent + ", " + words);
  }

  // layOut gives the pictures their heights, by what there is to see.
  function layOut() {
    colours = paint();
    for (const l of lanes) {
      const wide = l.profile.clientWidth, start = camera(0);
      const high = clamp(wide * (wide < 450 ? 0.66 : 0.46), 160, window.innerHeight * 0.55);
      l.profile.style.height = high + "px";
      l.plan.style.height = clamp((start.far - start.near) * viewScale(start, wide, high) + 24, 80, 0.7 * high) + "px";
    }
    dirty = true;
  }

  function ticks() {
    const box = document.querySelector(".ticks");
    for (const t of moments) {
      const tick = document.createElement("i");
      tick.style.left = 100 * t / duration + "%";
      box.append(tick);
    }
  }

  // Keys work anywhere but where they mean something already.
  const keys = {
    " ": () => setPlaying(!playing), k: () => setPlaying(!playing),
    arrowright: e => step(e.shiftKey ? 10 : 1), arrowleft: e => step(e.shiftKey ? -10 : -1),
    pagedown: () => step(10), pageup: () => step(-10),
    home: () => { pause(); seek(0); }, end: () => { pause(); seek(duration, true); },
    n: () => jump(1), p: () => jump(-1),
    1: () => choose("quarter"), 2: () => choose("full"), 3: () => choose("real"), 4: () => choose("ten"),
  };
  function choose(name) {
    const input = document.querySelector(`input[name=speed][value=${name}]`);
    if (input) { input.checked = true; speed = name; last = 0; }
  }
  document.addEventListener("keydown", e => {
    const el = e.target, act = keys[e.key.toLowerCase()];
    const own = el.tagName === "SELECT" || el.type === "radio" && e.key.startsWith("Arrow") || (el.tagName === "BUTTON" || el.tagName === "A") && e.key === " ";
    const scrolls = (e.key.startsWith("Page") || e.key === "Home" || e.key === "End") && el !== slider;
    if (!act || own || scrolls && !e.altKey && el !== document.body && !el.closest("#player") || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    act(e);
  });
  slider.max = duration;
  slider.addEventListener("input", () => { const t = Number(slider.value); pause(); seek(t, true); });
  play.addEventListener("click", () => setPlaying(!playing));
  $("back").addEventListener("click", () => jump(-1));
  $("next").addEventListener("click", () => jump(1));
  $("speeds").addEventListener("change", e => { speed = e.target.value; last = 0; });
  for (const r of storyRows) r.el.querySelector(".go").addEventListener("click", () => { pause(); seek(r.t, true); $("pictures").scrollIntoView({block: "start"}); });
  for (const p of plots) {
    if (p.still) continue;
    const scrub = e => {
      const box = p.el.getBoundingClientRect(), x = (e.clientX - box.left) / box.width * p.el.viewBox.baseVal.width;
      pause();
      seek(p.from + (x - p.left) / (p.right - p.left) * (p.to - p.from), true);
    };
    p.el.addEventListener("pointerdown", e => { p.el.setPointerCapture(e.pointerId); scrub(e); });
    p.el.addEventListener("pointermove", e => { if (p.el.hasPointerCapture(e.pointerId)) scrub(e); });
  }
  const theme = $("theme"), root = document.documentElement, darkNow = matchMedia("(prefers-color-scheme: dark)");
  theme.hidden = false;
  theme.addEventListener("click", () => {
    const dark = root.dataset.theme ? root.dataset.theme === "dark" : darkNow.matches;
    root.dataset.theme = dark ? "light" : "dark";
    layOut();
  });
  darkNow.addEventListener("change", layOut);
  window.addEventListener("beforeprint", () => { root.classList.add("print"); layOut(); show(); });
  window.addEventListener("afterprint", () => { root.classList.remove("print"); layOut(); });
  new ResizeObserver(layOut).observe($("pictures"));
  $("player").hidden = false;
  ticks();
  layOut();
  show();
  requestAnimationFrame(loop);
})();
