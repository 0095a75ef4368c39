// At the hook: press what the hands do, and the line writes itself, behind the last round of the piece in which the cursor is.
const hook = (() => {
  // The plain stitches from the lowest to the tallest, in the terms of the pattern (Craft Yarn Council, Standards & Guidelines for
  // Crochet and Knitting, 2018: a UK name stands one step above the US one), and the chain of a starting chain that each goes into
  // first (common practice, no source).
  const plain = { US: ["sc", "hdc", "dc", "tr"], UK: ["dc", "htr", "tr", "dtr"] };
  const first_chain = ["2nd", "3rd", "4th", "5th"];
  const terms = () => (/^\s*terms\s+UK\b/im.test(writing.text()) ? "UK" : "US");
  let given, panel_open = false;
  let steps = [];
  let base = "sc";
  // Where the line stands that is written, and what was written there last.
  let place, written;
  // Where the one before it ended, and the whole text then: the next one goes there, though no view has seen it yet.
  let ended;

  // `sc, sc` is `sc 2`.
  const counted = () => new RegExp(`^(${plain[terms()].join("|")}|sl st|ch|skip)(?: (\\d+))?$`);
  const add = (step) => {
    const last = counted().exec(steps.at(-1) ?? "");
    const one = counted().exec(step);
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
  // Stitches that were pressed before it go into the ring; else six do.
  const in_ring = () => {
    const [, stitch, number] = counted().exec(steps.at(-1) ?? "") ?? [];
    if (stitch) steps.pop();
    add(`${number ?? (stitch ? 1 : 6)} ${stitch ?? base} in ring`);
  };
  const to_end = () => {
    const last = steps.pop();
    if (!last) return;
    if (last.startsWith("[")) steps.push(last.replace(/ \d+ times$/, " to end"));
    else steps.push(/^\d/.test(last) ? `[${last}] to end` : last.replace(/ \d+$/, "") + " to end");
  };

  // The piece with the cursor; the last one where it stands in none.
  const piece_here = () => {
    const view = given.view();
    const pieces = view?.outline.filter((one) => one.kind === "piece") ?? [];
    const at = writing.at();
    const here = pieces.findIndex((one) => one.from <= at && at <= one.to);
    const index = here >= 0 ? here : pieces.length - 1;
    return { piece: pieces[index], lines: view?.lines.filter((one) => one.piece === index) ?? [] };
  };
  // Whether it is worked in rows, as its own line says.
  const in_rows = () => {
    const { piece } = piece_here();
    return piece !== undefined && /,\s*(?:in\s+)?(?:\w+\s+)?rows/i.test(writing.words_at(piece.from));
  };
  // Behind the last line that is worked; in a piece that has none behind its start.
  const behind_last = () => {
    const { piece, lines } = piece_here();
    const text = writing.text();
    if (lines.length) return lines.at(-1).to;
    if (!piece) return text.trimEnd().length;
    const own = text.slice(piece.from, piece.to);
    const start = /^[^\S\n]*start\b.*$/im.exec(own);
    return start ? piece.from + start.index + start[0].length : piece.from + own.trimEnd().length;
  };

  const label = () => (in_rows() ? "row" : "rnd");
  const forget = () => {
    steps = [];
    place = written = undefined;
  };
  const write = () => {
    let text = writing.text();
    // What was typed in between by hand is a line of its own.
    if (place !== undefined && !text.slice(place).startsWith(written)) {
      const last = steps.at(-1);
      forget();
      if (last) steps.push(last);
    }
    if (place === undefined) {
      place = ended?.text === text ? ended.at : behind_last();
      written = "";
    }
    const line = steps.length ? `\n${label()}: ${steps.join(", ")}` : "";
    text = text.slice(0, place) + line + text.slice(place + written.length);
    written = line;
    writing.replace(text);
    writing.show(place + line.length);
    by("hook-line").textContent = line.trim() || `${label()}: …`;
  };

  const line_written = (view) => view?.lines.find((one) => written && one.from > place && one.from <= place + written.length);
  // The count is asked for now: what was shown last may be one press behind.
  const end = async () => {
    if (!steps.length) return undefined;
    const question = { do: "view", text: writing.text(), repairs: false };
    const view = await engine.typing(question).catch(() => engine.slowly(question));
    // A key was pressed meanwhile: the count is another one.
    if (writing.text() !== question.text) return end();
    const count = line_written(view)?.counts[given.size()];
    const behind = place + written.length;
    const text = writing.text();
    const told = count ? ` = ${count.made}` : "";
    writing.replace(text.slice(0, behind) + told + text.slice(behind));
    ended = { at: behind + told.length, text: writing.text() };
    const what = in_rows() ? "row" : "round";
    say(count ? `That makes ${count.made}.` : `The ${what} is written.`);
    by("hook-line").textContent = `${label()}: …`;
    by("hook-count").textContent = by("hook-left").textContent = "";
    return forget();
  };

  const key = (words, does, way) => press(words, () => (does(), write()), { className: way ? "step way" : "step" });
  // The keys are those of a piece in rows or in rounds, and of the pattern's stitch names.
  let made_for;
  const sort = () => terms() + label();
  const buttons = () => {
    made_for = sort();
    const names = plain[terms()];
    if (!names.includes(base)) base = names[0];
    const rows = in_rows();
    const stitch = (name) => key(name, () => add((base = name)));
    const chain = () => add(`${base} in ${first_chain[plain[terms()].indexOf(base)]} ch from hook`);
    by("hook-steps").replaceChildren(
      ...names.map(stitch),
      key("ch", () => add("ch 1")),
      key("sl st", () => add("sl st")),
      key("2 in one", () => add(`2 ${base} in next`)),
      key("2 together", () => add(`${base}2tog`)),
      key("skip one", () => add("skip 1")),
      rows ? key("in the chain", chain) : key("in the ring", in_ring),
      key(rows ? "to the end of the row" : "all round", to_end),
      key("Same again", same_again, true),
      key("Take back", () => steps.pop(), true),
      press(rows ? "End of the row" : "End of the round", end, { className: "step way" }),
    );
    by("hook-line").textContent = `${label()}: …`;
  };

  return {
    begin: (hooks) => {
      given = hooks;
    },
    toggle: () => {
      panel_open = !panel_open;
      by("hook").hidden = !panel_open;
      by("at-the-hook").setAttribute("aria-pressed", String(panel_open));
      forget();
      if (panel_open) buttons();
    },
    seen: () => {
      if (panel_open && !steps.length && made_for !== sort()) buttons();
      const count = steps.length ? line_written(given.view())?.counts[given.size()] : undefined;
      by("hook-count").textContent = count ? `${count.made}` : "";
      by("hook-left").textContent = count ? (count.left ? `${count.left} left` : "all used") : "";
    },
    // Another pattern lies on the desk.
    opened: forget,
  };
})();
