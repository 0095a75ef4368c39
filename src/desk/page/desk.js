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
    sheets.point();
  };
  const show_sizes = () => {
    const names = view.sizes.length > 1 ? view.sizes : [];
    const choose = (index) => {
      size = index;
      quick();
      slow();
    };
    by("counts-for").hidden = !names.length;
    by("counts-for").lastElementChild.replaceChildren(
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
    document.title = shelf.title() + ": the desk";
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
  const quick = () => writing.ask(engine.typing, false, "view").catch(() => writing.is_told() || unknown("being worked…"));
  const whole = () =>
    writing.ask(engine.slowly, true, "view").catch((error) => {
      if (writing.is_told()) return;
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

  // What the pattern to start from has is offered to be changed.
  let offered;
  const offer = async () => {
    offered ??= await engine.slowly({ do: "starters" });
    const { sizes, hook, yarn } = offered[by("new-what").value];
    const entry = (name) =>
      make(
        "label",
        {},
        make("input", { type: "checkbox", checked: true, "aria-label": "in " + name }),
        make("input", { value: name, maxLength: 40, "aria-label": "what to call " + name }),
      );
    by("new-sizes").hidden = !sizes.length;
    by("new-sizes").lastElementChild.replaceChildren(...sizes.map(entry));
    by("new-hook").value = parseFloat(hook);
    by("new-colour").value = /"(.*)"/.exec(yarn)?.[1] ?? "";
    by("new-weight").value = /weight (\d)/.exec(yarn)?.[1] ?? "4";
    [, by("new-grams").value, by("new-metres").value] = /([\d.]+) g = ([\d.]+) m/.exec(yarn) ?? [];
  };
  const show_new = async () => {
    await offer();
    by("new").showModal();
  };
  const asked_for = () => {
    const { hook, yarn } = offered[by("new-what").value];
    const number = (id) => (by(id).value ? Number(by(id).value) : null);
    const sizes = [...by("new-sizes").querySelectorAll("label")].map(({ children: [wanted, name] }) => (wanted.checked ? name.value : null));
    const other = (id, old) => (number(id) === old ? null : number(id));
    return {
      what: by("new-what").value,
      title: by("new-title").value,
      sizes,
      hook: other("new-hook", parseFloat(hook)),
      colour: by("new-colour").value,
      weight: other("new-weight", Number(/weight (\d)/.exec(yarn)?.[1])),
      grams: number("new-grams"),
      metres: number("new-metres"),
    };
  };
  const begin_new = async (event) => {
    event.preventDefault();
    const answer = await engine.slowly({ do: "starter", ...asked_for() });
    by("new").close();
    if (answer.refused) return say(sentence(answer.refused));
    await shelf.add(answer.text);
    by("new-title").value = "";
    writing.go(writing.text().search(/^(?:rnd|row)/m));
  };

  const hooks = {
    size: () => size,
    view: () => view,
    line: line_here,
    // What the line with the cursor is called on the page; one that several pieces work has several names.
    on_page_here: () => {
      const line = writing.line().number - 1;
      return (view?.on_page ?? []).filter((one) => one.line === line).map((one) => one.id);
    },
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
      hook.opened();
      quick();
      slow.now();
    },
    save: () => shelf.save(false),
    mend: () => sheets.lay("mend", true),
    print: () => sheets.print(),
  };

  // Help is a sheet; on a phone the sheets lie below the text.
  const how = () => {
    sheets.lay("how", true);
    by("tab-how").scrollIntoView({ block: "start" });
  };
  const find_line = () => {
    const wanted = by("how-find").value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const entry of by("how-lines").children) {
      const words = entry.textContent.toLowerCase();
      entry.hidden = !wanted.every((word) => words.includes(word));
      shown += entry.hidden ? 0 : 1;
    }
    by("how-found").textContent = wanted.length ? (shown ? `${shown} found` : "Nothing found; try one word, such as “decrease”.") : "";
  };
  const put_in = (event) => {
    const line = event.target.dataset?.line;
    if (!line) return;
    writing.put(line);
    say(`Put in: ${line}`);
  };
  const pane_key = (event) => {
    if (event.key === "F6" && !document.querySelector("dialog[open]")) {
      event.preventDefault();
      if (by("writing").contains(document.activeElement)) sheets.focus();
      else writing.focus();
    }
    if (event.key.toLowerCase() === "p" && (event.ctrlKey || event.metaKey) && !event.altKey && !event.shiftKey) {
      event.preventDefault();
      sheets.print();
    }
  };

  const buttons = {
    "at-the-hook": () => hook.toggle(),
    "open-shelf": () => shelf.show(),
    "open-new": show_new,
    help: how,
    "to-text": (event) => {
      event.preventDefault();
      writing.focus();
    },
    "how-new": show_new,
    "how-old": () => taking.show(),
    "how-page": () => sheets.lay("page", true),
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
    by("new-what").addEventListener("change", offer);
    by("how-find").addEventListener("input", find_line);
    by("how-lines").addEventListener("click", put_in);
    document.addEventListener("keydown", pane_key);
    writing.begin(by("writing"), hooks);
    for (const part of [printing, drawing, sheets, shelf, taking, hook, reader]) part.begin(hooks);
    document.addEventListener("dragover", (event) => event.preventDefault());
    document.addEventListener("drop", (event) => {
      event.preventDefault();
      if (event.dataTransfer.files[0]) shelf.open_file(event.dataTransfer.files[0]);
    });
    const known = await shelf.last();
    if (!known) {
      const answer = await engine.slowly({ do: "starter", what: "mat" });
      await shelf.add(answer.text);
      sheets.lay("how");
    }
    document.body.dataset.ready = "yes";
  };
  begin().catch(() => say("This browser is too old for the desk; it needs WebAssembly and DecompressionStream."));
})();
