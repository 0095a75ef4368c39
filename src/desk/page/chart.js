// The chart of a piece follows the text, and the text the chart: the row of the line that is written is the dark one, and a stitch
// that is pressed goes to the line that says it.
const drawing = (() => {
  let given, stitches = [], at = -1;
  const place = () => by("chart-place");
  // A row of a chart has the name that its line has on the page.
  const line_of = (row) => given.view()?.on_page.find((one) => one.id === row?.dataset.line);

  // The row in which somebody writes stands out, and is in sight.
  const point = () => {
    const names = new Set(given.on_page_here());
    const rows = [...place().querySelectorAll(".stitches > [data-line]")];
    const here = rows.filter((row) => names.has(row.dataset.line));
    for (const row of rows) row.classList.toggle("here", names.has(row.dataset.line));
    place().querySelector("svg")?.classList.toggle("follows", here.length > 0);
  };

  // Tells what a stitch is, and which line says it.
  const pick = (number) => {
    stitches[at]?.classList.remove("picked");
    at = number;
    const stitch = stitches[at];
    if (!stitch) return undefined;
    stitch.classList.add("picked");
    const line = line_of(stitch.closest("[data-line]"));
    const told = line ? [": ", press(writing.words_at(line.from), () => writing.go(line.from), { className: "place" })] : [];
    by("chart-told").replaceChildren(make("b", {}, stitch.dataset.is), ...told);
    return line;
  };
  const step = (by_one) => {
    const first = by_one > 0 ? 0 : stitches.length - 1;
    if (stitches.length) pick(at < 0 ? first : (at + by_one + stitches.length) % stitches.length);
  };

  // A stitch is thin, and a finger thick: the nearest one is meant.
  const nearest = (event) => {
    const far = (stitch) => {
      const box = stitch.getBoundingClientRect();
      return Math.hypot(box.x + box.width / 2 - event.clientX, box.y + box.height / 2 - event.clientY);
    };
    const all = stitches.map(far);
    const least = Math.min(...all);
    return least < 40 ? all.indexOf(least) : -1;
  };
  const pressed = (event) => {
    const line = pick(nearest(event));
    if (line) writing.go(line.from);
  };

  return {
    begin: (hooks) => {
      given = hooks;
      by("chart-before").onclick = () => step(-1);
      by("chart-next").onclick = () => step(1);
    },
    show: (figure) => {
      place().replaceChildren(figure);
      stitches = [...place().querySelectorAll("[data-stitch]")];
      at = -1;
      by("chart-told").textContent = "Press a stitch to see what it is, and the line that says it.";
      by("chart-steps").hidden = !stitches.length;
      place().querySelector("svg")?.addEventListener("click", pressed);
      point();
    },
    point,
  };
})();
