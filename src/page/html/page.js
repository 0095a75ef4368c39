// Remembers what is ticked, in this browser only, and says where the maker is. The page works without it.
"use strict";
(() => {
  const name = "ringtrue: " + document.body.dataset.page;
  const all = (wanted) => Array.from(document.querySelectorAll(wanted));
  const kept = all("[data-kept]");
  const sizes = all(".switch input");
  const here = document.querySelector(".here");
  const clear = document.querySelector(".clear");

  // Storage may be forbidden or full; then nothing is remembered, and all else goes on.
  const recall = () => {
    try { return JSON.parse(localStorage.getItem(name)) || {}; } catch { return {}; }
  };
  const remember = () => {
    const done = {};
    for (const box of kept) {
      const value = box.type === "checkbox" ? (box.checked ? "1" : "") : box.value;
      if (value && value !== "0") done[box.dataset.kept] = value;
    }
    const size = sizes.find((one) => one.checked);
    if (size && size.value !== "all") done.size = size.value;
    try { localStorage.setItem(name, JSON.stringify(done)); } catch { /* see above */ }
  };

  const isShown = (line) => line.getClientRects().length > 0;
  const isDone = (line) => line.querySelector(".tick").checked;
  const named = (line) => {
    const piece = line.closest("section").querySelector("h3");
    const label = line.querySelector(".label");
    const box = line.querySelector(".tick");
    const what = label ? label.innerText.replace(/:$/, "") : box.getAttribute("aria-label").replace(/^Done: /, "");
    return piece ? what + " (" + piece.innerText + ")" : what;
  };
  const mark = () => {
    const lines = all(".line").filter(isShown);
    const next = lines.find((line) => !isDone(line));
    const begun = lines.some(isDone);
    for (const line of all(".line[aria-current]")) line.removeAttribute("aria-current");
    here.hidden = !(begun && next);
    clear.hidden = !kept.some((box) => box.type === "checkbox" ? box.checked : Number(box.value) > 0);
    if (here.hidden) return;
    next.setAttribute("aria-current", "step");
    const link = here.querySelector("a");
    link.href = "#" + next.id;
    link.textContent = named(next);
  };

  const before = recall();
  for (const box of kept) {
    const value = before[box.dataset.kept];
    if (box.type === "checkbox") box.checked = value === "1";
    else box.value = /^[0-9]{1,6}$/.test(value || "") ? value : "0";
  }
  const chosen = sizes.find((one) => one.value === before.size);
  if (chosen) chosen.checked = true;
  for (const row of all(".rows input:checked")) row.closest(".rows").open = true;

  for (const button of all("[data-adds]")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const box = kept.find((one) => one.dataset.kept === button.dataset.adds);
      box.value = String(Number(box.value) + 1);
      remember();
      mark();
    });
  }
  clear.querySelector("button").addEventListener("click", () => {
    for (const box of kept) {
      if (box.type === "checkbox") box.checked = false;
      else box.value = "0";
    }
    clear.open = false;
    remember();
    mark();
  });
  document.addEventListener("change", () => { remember(); mark(); });
  mark();
})();
