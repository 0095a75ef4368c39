// The desk put together: a text that was changed is kept, worked and shown.
(() => {
  let view = null;
  let size = 0;
  const line_here = () => {
    const line = writing.line();
    return view?.lines.find((one) => one.from <= line.to && one.to >= line.from);
  };
  const show_line = () => {
    const line = line_here();
    const told = [line?.told[size], line?.divides[size]].filter(Boolean).join(" · ");
    by("line").textContent = line ? `${line.label}: ${told}` : "";
    sheets.point(line);
  };
  const show_sizes = () => {
    const names = view.sizes.length > 1 ? view.sizes : [];
    const choose = (index) => {
      size = index;
      quick();
      slow();
    };
    by("sizes").hidden = !names.length;
    by("sizes").replaceChildren(
      ...names.map((name, index) =>
        make("label", {}, make("input", { type: "radio", name: "size", checked: index === size, onchange: () => choose(index) }), make("span", {}, name)),
      ),
    );
  };

  const seen = (seen_view, whole, of_this_text) => {
    const sizes = JSON.stringify(view?.sizes);
    view = seen_view;
    if (size >= view.sizes.length) size = 0;
    if (JSON.stringify(view.sizes) !== sizes) show_sizes();
    const empty = !writing.text().trim();
    if (of_this_text) {
      by("verdict").textContent = empty ? "" : view.verdict;
      by("ring").dataset.rings = empty ? "" : view.errors ? "open" : view.lines.length ? "true" : "";
    }
    by("title").textContent = shelf.title();
    show_line();
    hook.seen();
    if (!whole) return;
    sheets.seen(view);
    if (!view.errors && view.lines.length) shelf.rings_true();
  };

  // What was said of an earlier text must not stand beside this one.
  const unknown = (words) => {
    by("verdict").textContent = words;
    by("ring").dataset.rings = "";
  };
  const quick = () => writing.ask(engine.typing, false, "view").catch(() => unknown("being worked…"));
  const whole = () =>
    writing.ask(engine.slowly, true, "view").catch((error) => {
      unknown(error instanceof engine.Late ? "not checked: this takes too long for a browser" : "not checked: the engine stopped at this pattern");
    });
  const slow = after(350, whole);
  const keep = at_most_each(500, shelf.keep);

  const whole_text = async (question, done) => {
    const answer = await engine.slowly({ ...question, text: writing.text() });
    if (answer.refused) return say(sentence(answer.refused));
    await shelf.keep_version("before " + done);
    if (answer.text !== writing.text()) writing.replace(answer.text);
    say(sentence(done));
  };

  const begin_new = async (event) => {
    event.preventDefault();
    const answer = await engine.slowly({ do: "starter", what: by("new-what").value, title: by("new-title").value });
    by("new").close();
    await shelf.add(answer.text);
    writing.focus();
  };

  const hooks = {
    size: () => size,
    view: () => view,
    line: line_here,
    file: shelf.file,
    seen,
    typed: () => {
      quick();
      slow();
      keep();
    },
    moved: after(60, show_line),
    opened: () => {
      size = 0;
      quick();
      slow.now();
    },
    save: () => shelf.save(false),
    mend: () => sheets.lay("mend", true),
  };

  const buttons = {
    "at-the-hook": () => hook.toggle(),
    "open-shelf": () => shelf.show(),
    "open-new": () => by("new").showModal(),
    "open-file": () => shelf.pick(),
    "open-old": () => taking.show(),
    save: () => shelf.save(false),
    "save-as": () => shelf.save(true),
    undo: () => writing.undo(),
    find: () => writing.find(),
    tidy: () => whole_text({ do: "tidy" }, "laid out evenly"),
    fill: () => whole_text({ do: "fill" }, "counts filled in"),
    "to-us": () => whole_text({ do: "in_terms", terms: "us" }, "in US stitch names"),
    "to-uk": () => whole_text({ do: "in_terms", terms: "uk" }, "in UK stitch names"),
    about: () => by("about-desk").showModal(),
    "new-close": () => by("new").close(),
    "about-close": () => by("about-desk").close(),
  };

  const begin = async () => {
    for (const [id, does] of Object.entries(buttons)) by(id).addEventListener("click", does);
    const more = document.querySelector(".more");
    more.addEventListener("click", (event) => event.target.tagName === "BUTTON" && (more.open = false));
    more.addEventListener("keydown", (event) => event.key === "Escape" && (more.open = false));
    by("new-form").addEventListener("submit", begin_new);
    writing.begin(by("writing"), hooks);
    for (const part of [sheets, shelf, taking, hook, reader]) part.begin(hooks);
    document.addEventListener("dragover", (event) => event.preventDefault());
    document.addEventListener("drop", (event) => {
      event.preventDefault();
      if (event.dataTransfer.files[0]) shelf.open_file(event.dataTransfer.files[0]);
    });
    const known = await shelf.last();
    if (!known) {
      const answer = await engine.slowly({ do: "starter", what: "mat", title: "" });
      await shelf.add(answer.text);
    }
    document.body.dataset.ready = "yes";
  };
  begin().catch(() => say("This browser is too old for the desk; it needs WebAssembly and DecompressionStream."));
})();
