// A maker asks: her count is another one than the pattern's. What probably happened is tried in the fabric.
const reader = (() => {
  let given;
  const rows = () => {
    const view = given.view();
    if (!view) return;
    const piece = Number(by("maker-piece").value || 0);
    const chosen = by("maker-row").value;
    const lines = view.lines.filter((one) => one.piece === piece);
    by("maker-row").replaceChildren(...lines.map((one) => make("option", { value: String((one.label.match(/\d+/g) ?? [0]).at(-1)) }, one.label)));
    if ([...by("maker-row").options].some((one) => one.value === chosen)) by("maker-row").value = chosen;
  };
  const pieces = () => {
    const view = given.view();
    if (!view) return;
    const chosen = by("maker-piece").value;
    const names = view.outline.filter((one) => one.kind === "piece");
    by("maker-piece").replaceChildren(...names.map((one, index) => make("option", { value: String(index) }, one.name || "the pattern")));
    if (chosen && Number(chosen) < names.length) by("maker-piece").value = chosen;
    rows();
  };
  const ask = async (event) => {
    event.preventDefault();
    const answer = await engine.slowly({
      do: "count",
      text: writing.text(),
      piece: Number(by("maker-piece").value || 0),
      row: Number(by("maker-row").value),
      size: given.size(),
      mine: Number(by("maker-count").value),
    });
    const entry = (one) =>
      make("li", {}, make("p", {}, make("b", {}, one.happened)), make("p", {}, one.see), make("p", {}, one.go_on));
    const told = answer.refused ? make("p", {}, sentence(answer.refused)) : make("ol", {}, ...answer.likely.slice(0, 4).map(entry));
    by("maker-answer").replaceChildren(told);
  };
  return {
    begin: (hooks) => {
      given = hooks;
      by("maker-piece").addEventListener("change", rows);
      by("maker-form").addEventListener("submit", ask);
    },
    show: pieces,
  };
})();
