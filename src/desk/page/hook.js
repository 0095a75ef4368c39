// At the hook: press what the hands do, and the line writes itself.
const hook = (() => {
  const stitches = [
    ["sc", "sc"], ["hdc", "hdc"], ["dc", "dc"], ["tr", "tr"], ["ch", "ch 1"], ["sl st", "sl st"],
    ["2 in one", "2 sc in next"], ["2 together", "sc2tog"], ["skip one", "skip 1"], ["turn", null],
  ];
  let steps = [];
  let base = "sc";

  // `sc, sc` is `sc 2`.
  const counted = /^(sc|hdc|dc|tr|sl st|ch|skip)(?: (\d+))?$/;
  const add = (step) => {
    const last = counted.exec(steps.at(-1) ?? "");
    const one = counted.exec(step);
    if (last && one && last[1] === one[1]) steps[steps.length - 1] = `${last[1]} ${Number(last[2] ?? 1) + Number(one[2] ?? 1)}`;
    else steps.push(step);
  };
  // All since the last brackets is done once more; brackets themselves are done once more, too.
  const same_again = () => {
    const from = steps.findLastIndex((one) => one.startsWith("[")) + 1;
    const last = /^\[(.*)\] (\d+) times$/.exec(steps.at(-1) ?? "");
    if (last) steps[steps.length - 1] = `[${last[1]}] ${Number(last[2]) + 1} times`;
    else if (from < steps.length) steps.push(`[${steps.splice(from).join(", ")}] 2 times`);
  };

  let given;
  const last_row = (view = given.view()) => {
    const pieces = view?.outline.filter((one) => one.kind === "piece") ?? [];
    return { piece: pieces.at(-1), line: view?.lines.filter((one) => one.piece === pieces.length - 1).at(-1) };
  };
  // Whether the piece is worked in rows, as its own line says.
  const in_rows = () => /,\s*(?:in\s+)?(?:\w+\s+)?rows/i.test(last_row().piece ? writing.text().slice(last_row().piece.from, last_row().piece.to + 80).split("\n")[0] : "");
  let began;
  const write = () => {
    const text = writing.text();
    const body = steps.join(", ");
    if (began === undefined) began = text.replace(/\s*$/, "\n").length;
    const label = in_rows() ? "row" : "rnd";
    const line = steps.length ? `${label}: ${body}` : "";
    writing.replace(text.slice(0, began).replace(/\s*$/, "\n") + line);
    writing.go(writing.text().length);
    by("hook-line").textContent = line || `${label}: …`;
  };
  const press_step = (does) => {
    does();
    write();
  };

  // The count is asked for now: what was shown last may be one press behind.
  const end = async () => {
    if (!steps.length) return;
    const view = await engine.slowly({ do: "view", text: writing.text(), repairs: false });
    const count = last_row(view).line?.counts[given.size()];
    if (count) writing.replace(writing.text() + ` = ${count.made}`);
    steps = [];
    began = undefined;
    say(count ? `That makes ${count.made}.` : "The round is written.");
    by("hook-line").textContent = "";
  };

  const buttons = () => {
    const step = ([words, writes]) => {
      const text = writes === null ? words : writes.replace(/^sc2tog$/, base + "2tog").replace(/^2 sc/, "2 " + base);
      const does = () => {
        if (["sc", "hdc", "dc", "tr"].includes(text)) base = text;
        add(text);
      };
      return press(words, () => press_step(does), { className: "step" });
    };
    by("hook-steps").replaceChildren(
      ...stitches.filter(([, writes]) => writes !== null).map(step),
      press("in the ring", () => press_step(() => add(`6 ${base} in ring`)), { className: "step" }),
      press(in_rows() ? "to the end of the row" : "all round", () => press_step(() => {
        const last = steps.pop();
        if (last) steps.push(last.startsWith("[") ? last.replace(/ \d+ times$/, " to end") : /^\d/.test(last) ? `[${last}] to end` : last.replace(/ \d+$/, "") + " to end");
      }), { className: "step" }),
      press("Same again", () => press_step(same_again), { className: "step way" }),
      press("Take back", () => press_step(() => steps.pop()), { className: "step way" }),
      press(in_rows() ? "End of the row" : "End of the round", end, { className: "step way" }),
    );
  };

  return {
    begin: (hooks) => {
      given = hooks;
    },
    toggle: () => {
      const panel = by("hook");
      panel.hidden = !panel.hidden;
      by("at-the-hook").setAttribute("aria-pressed", String(!panel.hidden));
      steps = [];
      began = undefined;
      if (!panel.hidden) buttons();
    },
    seen: () => {
      const count = last_row().line?.counts[given.size()];
      by("hook-count").textContent = steps.length && count ? `${count.made}` : "";
      by("hook-left").textContent = steps.length && count ? (count.left ? `${count.left} left` : "all used") : "";
    },
  };
})();
