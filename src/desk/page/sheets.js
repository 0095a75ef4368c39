// What lies beside the text: what is to be mended, the page, the stitches, the counts. Only the sheet on top is made.
const sheets = (() => {
  const titles = { how: "How to write", mend: "To mend", page: "Page", stitches: "Stitches", papers: "Numbers", reader: "Makers" };
  let given, top = "mend";
  const tab = (name) => by("tab-" + name);
  const sheet = (name) => by("sheet-" + name);

  const lay = (name, focus) => {
    top = name;
    for (const one of Object.keys(titles)) {
      tab(one).setAttribute("aria-selected", String(one === name));
      tab(one).tabIndex = one === name ? 0 : -1;
      sheet(one).hidden = one !== name;
    }
    if (focus) tab(name).focus();
    refresh();
  };

  const arrows = (event) => {
    const names = Object.keys(titles);
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!step) return;
    event.preventDefault();
    lay(names[(names.indexOf(top) + step + names.length) % names.length], true);
  };

  const mend = (view) => {
    const list = view.findings.map((one) => {
      const where = press("line " + (one.line + 1), () => writing.go(one.from), { className: "place" });
      const entry = message(one, view.of);
      entry.prepend(where);
      return make("li", { className: one.severity }, entry);
    });
    const none = make(
      "p",
      { className: "none" },
      ...(view.lines.length
        ? ["Nothing to mend. ", press("Look at the page for makers", () => lay("page", true))]
        : ["Nothing is worked yet. ", press("How to write", () => lay("how", true))]),
    );
    by("findings").replaceChildren(...(list.length ? list : [make("li", {}, none)]));
    tab("mend").textContent = titles.mend + (list.length ? ` (${list.length})` : "");
  };

  const choice = (name) => by("page-" + name).value;
  const edition = () => ({
    terms: choice("terms") || null,
    size: choice("size") === "" ? null : Number(choice("size")),
    words: choice("words"),
    letters: choice("letters"),
    left_handed: choice("hand") === "left",
    brief: choice("telling") === "brief",
    beside: choice("beside") || null,
  });
  // What is read aloud is for one size: the one that is looked at, where none is chosen.
  const edition_chosen = () => {
    if (choice("words") === "aloud" && choice("size") === "") by("page-size").value = String(given.size());
    refresh();
  };
  const asked_page = (form) => engine.slowly({ do: "page", text: writing.text(), edition: edition(), form }, "page " + form);

  // The page as it is shown; its script remembers ticks, which is nothing for a desk.
  const still = (whole) => "<!DOCTYPE html>" + printing.read(whole).documentElement.outerHTML;

  const make_page = async () => {
    const text = writing.text();
    const answer = await asked_page("html");
    if (answer) printing.made(text, answer.page);
    return answer;
  };
  const page = async () => {
    const answer = await make_page();
    if (!answer) return;
    const frame = by("page-frame");
    const at = frame.contentDocument?.scrollingElement?.scrollTop ?? 0;
    frame.onload = () => {
      frame.contentDocument.scrollingElement.scrollTop = at;
      frame.contentDocument.addEventListener("click", (event) => follow(event.target));
      point();
    };
    frame.srcdoc = still(answer.page);
    by("page-told").textContent = answer.draft
      ? "A draft: the pattern doesn’t ring true yet, and the page says so."
      : sentence(answer.told);
  };
  const print = async () => {
    lay("page");
    const answer = await make_page();
    if (answer) printing.print();
  };

  // A line of the page has the name of what it says; the view knows the line of the text that says that.
  const point = () => {
    if (top === "stitches") return follow_piece();
    const doc = by("page-frame").contentDocument;
    if (top !== "page" || !doc?.body) return;
    for (const old of doc.querySelectorAll("[data-here]")) {
      old.style.outline = "";
      delete old.dataset.here;
    }
    const rows = given.on_page_here().map((name) => doc.getElementById(name) ?? doc.getElementById(name + "-1")).filter(Boolean);
    for (const row of rows) {
      row.style.outline = "2px solid currentColor";
      row.dataset.here = "";
    }
    rows[0]?.scrollIntoView({ block: "nearest" });
  };
  const follow = (target) => {
    if (target.closest?.("a, input, label, summary, button, select")) return;
    const name = /^p\d+-(?:start|l\d+)/.exec(target.closest?.("[id^=p]")?.id ?? "")?.[0];
    const line = given.view()?.on_page.find((one) => one.id === name);
    if (line) writing.go(line.from);
  };

  const picture = (svg, told) => {
    const drawn = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
    return make("figure", { className: "drawn" }, document.adoptNode(drawn), told ? make("figcaption", {}, told) : null);
  };
  const stitches = async () => {
    const view = given.view();
    const piece = Number(by("chart-piece").value || 0);
    const answer = await engine.slowly(
      { do: "chart", text: writing.text(), piece, size: given.size(), left_handed: choice("hand") === "left" },
      "chart",
    );
    if (!answer || !view) return;
    drawing.show(answer.refused ? make("p", {}, sentence(answer.refused)) : picture(answer.svg, answer.told));
    by("chart-save").onclick = () => answer.svg && hand_out(given.file("-chart.svg"), answer.svg + "\n", "image/svg+xml");
  };

  // The chart is that of the piece in which somebody writes.
  let followed;
  const follow_piece = () => {
    const piece = given.line()?.piece;
    if (piece === undefined || piece === null || piece === followed) return drawing.point();
    followed = piece;
    if (by("chart-piece").value === String(piece)) return drawing.point();
    by("chart-piece").value = String(piece);
    refresh();
  };

  const papers = async () => {
    const answer = await engine.slowly({ do: "papers", text: writing.text(), size: null }, "papers");
    if (!answer) return;
    for (const one of ["counts", "measures", "yarn", "shape"]) by("papers-" + one).textContent = answer[one];
    by("papers-outlines").replaceChildren(...answer.outlines.map((one) => picture(one.svg, one.name)));
  };

  const pieces = (view) => {
    const chosen = by("chart-piece").value;
    const names = view.outline.filter((one) => one.kind === "piece").map((one, index) => make("option", { value: String(index) }, one.name || "the pattern"));
    by("chart-piece").replaceChildren(...names);
    if ([...by("chart-piece").options].some((one) => one.value === chosen)) by("chart-piece").value = chosen;
    const size = by("page-size").value;
    const sizes = view.sizes.length > 1 ? view.sizes : [];
    by("page-size").replaceChildren(make("option", { value: "" }, "all sizes"), ...sizes.map((one, index) => make("option", { value: String(index) }, one)));
    if ([...by("page-size").options].some((one) => one.value === size)) by("page-size").value = size;
  };

  const refresh = () => {
    const make_sheet = { page, stitches, papers, reader: reader.show }[top];
    Promise.resolve(make_sheet?.()).catch((error) => {
      say(error instanceof engine.Late ? "This takes too long for a browser; take a part of the pattern." : "This sheet could not be made.");
    });
  };

  return {
    begin: (hooks) => {
      given = hooks;
      for (const name of Object.keys(titles)) {
        tab(name).addEventListener("click", () => lay(name));
        tab(name).addEventListener("keydown", arrows);
      }
      for (const one of ["terms", "size", "words", "letters", "hand", "telling", "beside"]) by("page-" + one).addEventListener("change", edition_chosen);
      by("chart-piece").addEventListener("change", refresh);
      by("page-print").onclick = print;
      by("page-save").onclick = () => give("html", ".html", "text/html");
      by("page-markdown").onclick = () => give("markdown", ".md", "text/markdown");
      by("page-plain").onclick = () => give("plain", ".txt", "text/plain");
      by("page-proof").onclick = async () => {
        const answer = await engine.slowly({ do: "proof", text: writing.text(), name: given.file(".rnd") });
        hand_out(given.file("-proof.html"), answer.proof, "text/html");
      };
      lay("mend");
    },
    seen: (view) => {
      mend(view);
      pieces(view);
      refresh();
    },
    refresh,
    lay,
    point,
    print,
    // From the text to the sheet on top.
    focus: () => sheet(top).focus(),
  };

  async function give(form, ending, kind) {
    const answer = await asked_page(form);
    if (!answer) return;
    hand_out(given.file(ending), answer.page, kind);
    say(answer.draft ? "Saved as a draft: the pattern doesn’t ring true yet." : "Saved. " + sentence(answer.told));
  }
})();

const sentence = (words) => (words ? words[0].toUpperCase() + words.slice(1).replace(/\.?$/, ".") : "");
