// A maker asks: the count is another one than the pattern's. What probably happened is tried in the fabric.
const reader = (() => {
  let given;
  // The row in which the cursor stands is the likeliest one to be asked about.
  const from_cursor = () => {
    const line = given.line();
    if (!line || line.piece === null) return;
    by("maker-piece").value = String(line.piece);
    by("maker-row").value = line.label.match(/\d+/g)?.at(-1) ?? "";
  };
  const sizes = (view) => {
    by("maker-of-size").hidden = view.sizes.length < 2;
    by("maker-size").replaceChildren(...view.sizes.map((one, index) => make("option", { value: String(index) }, one)));
    by("maker-size").value = String(given.size());
  };
  const pieces = () => {
    const view = given.view();
    if (!view) return;
    sizes(view);
    const chosen = by("maker-piece").value;
    const names = view.outline.filter((one) => one.kind === "piece");
    by("maker-piece").replaceChildren(...names.map((one, index) => make("option", { value: String(index) }, one.name || "the pattern")));
    if (chosen && Number(chosen) < names.length) by("maker-piece").value = chosen;
    if (!by("maker-row").value) from_cursor();
    kinds();
  };
  // Of a row of several kinds she may have counted one alone.
  const place = () => ({
    text: writing.text(),
    piece: Number(by("maker-piece").value || 0),
    row: Number(by("maker-row").value),
    size: Number(by("maker-size").value || 0),
  });
  const kinds = async () => {
    const asked = place();
    const answer = await engine.slowly({ do: "kinds", ...asked }, "kinds").catch(() => null);
    if (!answer || asked.row !== place().row) return;
    const chosen = by("maker-kind").value;
    const named = answer.kinds ?? [];
    by("maker-of-kind").hidden = !named.length;
    by("maker-kind").replaceChildren(make("option", { value: "" }, "all stitches"), ...named.map((one) => make("option", { value: one }, one + " alone")));
    by("maker-kind").value = named.includes(chosen) ? chosen : "";
  };
  const ask = async (event) => {
    event.preventDefault();
    const answer = await engine.slowly({
      do: "count",
      ...place(),
      mine: Number(by("maker-count").value),
      kind: by("maker-kind").value || null,
    });
    const entry = (one) =>
      make("li", {}, make("p", {}, make("b", {}, one.happened)), make("p", {}, one.see), make("p", {}, one.go_on));
    const told = answer.refused ? make("p", {}, sentence(answer.refused)) : make("ol", {}, ...answer.likely.slice(0, 4).map(entry));
    by("maker-answer").replaceChildren(told);
  };
  const by_gauge = async (event) => {
    event.preventDefault();
    const value = (id) => Number(by(id).value);
    const answer = await engine.slowly({
      do: "own_gauge",
      text: writing.text(),
      stitches: value("gauge-stitches"),
      rows: value("gauge-rows"),
    });
    by("gauge-answer").textContent = answer.refused ? sentence(answer.refused) : answer.told;
  };
  return {
    begin: (hooks) => {
      given = hooks;
      by("gauge-form").addEventListener("submit", by_gauge);
      by("maker-form").addEventListener("submit", ask);
      for (const one of ["piece", "size", "row"]) by("maker-" + one).addEventListener("input", kinds);
    },
    show: pieces,
  };
})();
