// Remembers what is ticked, in this browser only, and says where the maker is. The page works without it.
"use strict";
(() => {
  const name = "ringtrue: " + document.body.dataset.page;
  const title = document.title;
  const all = (wanted, from = document) => Array.from(from.querySelectorAll(wanted));
  const kept = all("[data-kept]");
  const sizes = all(".switch input");
  const copies = all("[data-copies]");
  const here = document.querySelector(".here");
  const undo = here.querySelector(".undo");
  const clear = document.querySelector(".clear");

  // What is ticked, by the name of its box; of the second copy of a piece and of those after it with the number behind.
  let done = {};
  const before = [];
  const copyOf = new Map();
  for (const choice of copies) {
    const piece = document.getElementById(choice.dataset.copies);
    for (const box of all("[data-kept]", piece)) copyOf.set(box, choice);
  }
  const key = (box) => {
    const choice = copyOf.get(box);
    return box.dataset.kept + (choice && choice.value !== "1" ? " " + choice.value : "");
  };

  // Storage may be forbidden or full; then nothing is remembered, and all else goes on.
  const recall = () => {
    try { return JSON.parse(localStorage.getItem(name)) || {}; } catch { return {}; }
  };
  const remember = () => {
    try { localStorage.setItem(name, JSON.stringify(done)); } catch { /* see above */ }
  };
  const show = () => {
    for (const box of kept) {
      const value = done[key(box)];
      if (box.type === "checkbox") box.checked = value === "1";
      else box.value = /^[0-9]{1,6}$/.test(value || "") ? value : "0";
    }
  };
  const put = (box, value) => {
    if (value && value !== "0") done[key(box)] = value;
    else delete done[key(box)];
  };
  const took = () => {
    before.push(JSON.stringify(done));
    if (before.length > 200) before.shift();
  };

  const isShown = (line) => line.getClientRects().length > 0;
  const boxOf = (line) => line.querySelector(".tick");
  const counterOf = (line) => line.querySelector(".counter input");
  const rowsOf = (line) => all(".rows input", line).filter((box) => box.closest("li").dataset.for === undefined || picked() === undefined || box.closest("li").dataset.for.split(" ").includes(picked()));
  const picked = () => {
    const size = sizes.find((one) => one.checked);
    return size && size.value !== "all" ? size.value : undefined;
  };
  const most = (line) => {
    const told = line.querySelector(".many").innerText.match(/[0-9]+/g) || ["0"];
    return Math.max(...told.map(Number));
  };
  const named = (line) => {
    const piece = line.closest("section").querySelector("h3");
    const words = document.getElementById(boxOf(line).getAttribute("aria-labelledby")).innerText.replace(/:$/, "");
    const what = words.split(" ").length > 8 ? words.split(" ").slice(0, 8).join(" ") + "…" : words;
    return piece ? what + " (" + piece.innerText + ")" : what;
  };

  // A full counter, or the last of the rows of a line, ticks the line; a line that is ticked has all of them.
  const fill = (line, by) => {
    const box = boxOf(line);
    const counter = counterOf(line);
    const rows = rowsOf(line);
    if (by === box) {
      if (counter) counter.value = box.checked ? String(most(line)) : "0";
      for (const row of rows) row.checked = box.checked;
    } else {
      if (counter) {
        const value = Math.min(Math.max(0, Math.floor(Number(counter.value)) || 0), most(line));
        counter.value = String(value);
        box.checked = value === most(line);
      }
      if (rows.length) box.checked = rows.every((row) => row.checked);
    }
    for (const one of [box, counter, ...all(".rows input", line)]) {
      if (one) put(one, one.type === "checkbox" ? (one.checked ? "1" : "") : one.value);
    }
  };

  const rowsDone = (line) => {
    const counter = counterOf(line);
    const rows = rowsOf(line);
    if (counter) return [Number(counter.value), most(line)];
    if (rows.length) return [rows.filter((row) => row.checked).length, rows.length];
    return [boxOf(line).checked ? 1 : 0, 1];
  };
  // ---- Charts

  const charts = all(".chart").map((chart) => ({
    chart,
    svg: chart.querySelector("svg"),
    rows: all(".stitches > [data-line]", chart),
    stitches: all("[data-stitch]", chart),
    scale: 1,
    at: -1,
  }));
  // A line that is written out row by row is several.
  const linesOf = (name) => {
    const whole = document.getElementById(name);
    return whole ? [whole] : all('.line[id^="' + name + '-"]');
  };
  // The rows of a chart that are done are grey, and the one at hand is dark; nothing is ticked, and it is a still picture.
  const follow = (isBegun) => {
    for (const { chart, rows } of charts) {
      const done = new Map();
      let atHand = isBegun;
      chart.classList.toggle("followed", isBegun);
      for (const row of rows) {
        const name = row.dataset.line;
        if (!done.has(name)) done.set(name, linesOf(name).reduce((sum, line) => sum + rowsDone(line)[0], 0));
        const isDone = isBegun && done.get(name) > 0;
        done.set(name, done.get(name) - 1);
        row.classList.toggle("worked", isDone);
        row.classList.toggle("at-hand", !isDone && atHand);
        if (!isDone) atHand = false;
      }
    }
  };
  const stands = {
    top: "in the top of", lead: "in", space: "in the space of", post: "round the post of", gap: "between stitches, after",
    "row-end": "in the end of the row, at", "other-side": "in the other side of", ring: "in",
  };
  const rowOf = (stitch, chart) => {
    const number = stitch.closest("[data-row]").dataset.row;
    return number === "0" ? "of the start" : "of " + chart.dataset.rowWord + " " + number;
  };
  const tell = (one, at) => {
    const { chart, stitches } = one;
    const stitch = stitches[at];
    if (!stitch) return;
    if (stitches[one.at]) stitches[one.at].classList.remove("picked-out");
    one.at = at;
    stitch.classList.add("picked-out");
    const feet = (stitch.dataset.on || "").split(", ").map((foot) => {
      const [how, number] = foot.split(" ");
      const below = stitches.find((other) => other.dataset.stitch === number);
      return stands[how] && below ? stands[how] + " " + below.dataset.is + " " + rowOf(below, chart) : "";
    });
    const on = Array.from(new Set(feet.filter((foot) => foot)));
    const told = chart.querySelector(".pressed");
    told.hidden = false;
    told.textContent = stitch.dataset.is + " " + rowOf(stitch, chart) + (on.length ? ", " + on.join(" and ") : "") + ". ";
    const row = stitch.closest("[data-line]");
    const line = row && linesOf(row.dataset.line).filter(isShown)[0];
    if (!line) return;
    const link = document.createElement("a");
    link.href = "#" + line.id;
    const label = line.querySelector(".label");
    link.textContent = (label ? label.innerText + " " : "") + line.querySelector(".do").innerText;
    told.append(link);
  };
  const nearest = (one, event) => {
    const far = (stitch) => {
      const box = stitch.getBoundingClientRect();
      return Math.hypot(box.x + box.width / 2 - event.clientX, box.y + box.height / 2 - event.clientY);
    };
    const all = one.stitches.map(far);
    const least = all.reduce((a, b) => Math.min(a, b), Infinity);
    return least < 40 * one.scale ? all.indexOf(least) : -1;
  };
  const zoom = (one, by) => {
    one.scale = Math.min(8, Math.max(1, one.scale * (by > 0 ? 1.5 : 1 / 1.5)));
    const [, , wide, high] = one.svg.getAttribute("viewBox").split(" ").map(Number);
    const room = one.chart.querySelector(".scroll").clientWidth;
    const width = Math.min(wide, room) * one.scale;
    one.chart.classList.toggle("zoomed", one.scale > 1.01);
    one.svg.setAttribute("width", one.scale > 1.01 ? width : wide);
    one.svg.setAttribute("height", one.scale > 1.01 ? (width * high) / wide : high);
    one.chart.querySelector('[data-zooms="-1"]').disabled = one.scale <= 1.01;
  };
  for (const one of charts) {
    const { chart, svg, stitches } = one;
    chart.querySelector(".turns").hidden = false;
    svg.addEventListener("click", (event) => tell(one, nearest(one, event)));
    for (const button of all("[data-steps]", chart)) {
      button.addEventListener("click", () => {
        const count = stitches.length;
        const first = button.dataset.steps === "1" ? 0 : count - 1;
        tell(one, one.at < 0 ? first : (one.at + Number(button.dataset.steps) + count) % count);
      });
    }
    for (const button of all("[data-zooms]", chart)) button.addEventListener("click", () => zoom(one, Number(button.dataset.zooms)));
  }

  const mark = () => {
    const size = sizes.find((one) => one.checked && one.value !== "all");
    document.title = size ? title + " – " + size.parentElement.innerText.trim() : title;
    const lines = all(".line").filter(isShown);
    const next = lines.find((line) => !boxOf(line).checked);
    const [ticked, there] = lines.map(rowsDone).reduce(([a, b], [c, d]) => [a + c, b + d], [0, 0]);
    for (const line of all(".line[aria-current]")) line.removeAttribute("aria-current");
    here.hidden = ticked === 0;
    undo.disabled = before.length === 0;
    clear.hidden = Object.keys(done).every((one) => one === "size" || one.startsWith("copy "));
    follow(ticked > 0);
    if (here.hidden) return;
    const share = ticked === there ? 100 : Math.min(99, Math.floor((100 * ticked) / there));
    here.querySelector(".done").textContent = share + " % done";
    here.querySelector("p").classList.toggle("finished", !next);
    if (!next) return;
    next.setAttribute("aria-current", "step");
    const link = here.querySelector("a");
    link.href = "#" + next.id;
    link.textContent = named(next);
  };

  // A screen that goes dark while both hands are full.
  const awake = here.querySelector(".awake input");
  let lock;
  const keepAwake = async () => {
    try {
      if (awake.checked && !document.hidden) lock = await navigator.wakeLock.request("screen");
      else if (lock) { await lock.release(); lock = undefined; }
    } catch { awake.checked = false; }
  };
  if (navigator.wakeLock) {
    awake.parentElement.hidden = false;
    awake.addEventListener("change", keepAwake);
    document.addEventListener("visibilitychange", () => { if (awake.checked) keepAwake(); });
  }

  done = recall();
  const chosen = sizes.find((one) => one.value === done.size);
  if (chosen) chosen.checked = true;
  for (const choice of copies) {
    choice.closest(".copies").hidden = false;
    const last = done["copy " + choice.dataset.copies];
    if (last) choice.value = last;
    if (choice.selectedIndex < 0) choice.value = "1";
  }
  const openCharts = () => {
    for (const { chart } of charts) if (picked() !== undefined && chart.dataset.size === picked()) chart.open = true;
  };
  show();
  openCharts();
  for (const row of all(".rows input:checked")) row.closest(".rows").open = true;

  for (const button of all("[data-adds]")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const line = button.closest(".line");
      took();
      counterOf(line).value = String(Number(counterOf(line).value) + Number(button.dataset.adds));
      fill(line);
      remember();
      mark();
    });
  }
  undo.addEventListener("click", () => {
    const last = before.pop();
    if (last === undefined) return;
    const size = done.size;
    done = JSON.parse(last);
    if (size) done.size = size;
    show();
    remember();
    mark();
  });
  clear.querySelector("button").addEventListener("click", () => {
    took();
    done = done.size ? { size: done.size } : {};
    show();
    clear.open = false;
    remember();
    mark();
  });
  // A last sheet with a few lines on it is a nuisance: the letters grow or shrink a little on paper, until a good third of it is filled.
  const sheets = (fit) => {
    const letter = /-(US|CA|MX)$/.test(navigator.language);
    const [width, height] = letter ? [188, 253] : [182, 271];
    document.body.style.width = width + "mm";
    document.documentElement.style.setProperty("--fit", fit);
    return document.body.getBoundingClientRect().height * 25.4 / 96 / height;
  };
  const fitSheets = () => {
    const rules = Array.from(document.styleSheets).flatMap((sheet) => Array.from(sheet.cssRules));
    const printed = rules.filter((rule) => rule.media && rule.media.mediaText === "print");
    for (const rule of printed) rule.media.mediaText = "all";
    // What is kept together leaves room at the end of each sheet but the last, more or less.
    const few = (filled) => filled > 0.985 && (filled % 1 < 0.19 || filled % 1 > 0.985);
    const badly = (filled) => [0, 0.02, 0.04].some((room) => few(filled + room * Math.floor(filled)));
    const fits = [1, 1.02, 0.98, 1.04, 0.96, 1.06, 1.08, 1.1, 1.12, 1.14, 1.16];
    const best = fits.find((fit) => !badly(sheets(fit))) || 1;
    document.documentElement.style.setProperty("--fit", best);
    document.body.style.removeProperty("width");
    for (const rule of printed) rule.media.mediaText = "print";
  };
  window.addEventListener("beforeprint", fitSheets);

  document.addEventListener("change", (event) => {
    const box = event.target;
    if (box === awake) return;
    if (copies.includes(box)) {
      done["copy " + box.dataset.copies] = box.value;
      show();
    } else if (sizes.includes(box)) {
      if (picked() === undefined) delete done.size;
      else done.size = picked();
      openCharts();
    } else if (box.dataset.kept) {
      took();
      fill(box.closest(".line"), box);
    }
    remember();
    mark();
  });
  mark();
})();
